//! What the readings so far advise at a step: where to stop, what pulls what, whether two routes
//! agree, whether something was a slip. All of it follows from the log; nothing is stored.

mod aim;
mod chase;
mod slip;

pub use self::aim::{AimOff, KnownBy, aim_off};
pub(in crate::job) use self::chase::coupling;
pub use self::chase::{ChaseAim, KnownFrom, NextAims, Rounds, Visit, rounds};
pub use self::slip::{corrections, odd_one_out, slips};
pub use crate::job::fold::judging::null::{SharedNull, Side, is_null_outside, shared_null};
pub use crate::job::fold::standing::second::{Opinion, SecondOpinion};

use crate::procedure::{Procedure, Step, Work};

/// Whether a step adjusts with a tool that may pull the reading.
pub fn has_tool(procedure: &Procedure, step: &Step) -> bool {
    use crate::procedure::AdjusterKind;
    let Work::Set { adjuster, .. } = &step.work else {
        return false;
    };
    let kind = procedure.adjuster(adjuster).map(|adjuster| adjuster.kind);
    matches!(kind, Some(AdjusterKind::Core | AdjusterKind::Trimmer))
}
