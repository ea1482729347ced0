//! One adjustment pulls another: which steps need another look, and why.

use super::progress::{LookAgain, Status, StepProgress};
use super::{Phase, Taken};
use crate::procedure::{Id, Procedure, Step, Target, Work};

/// An adjuster was turned.
struct Turn {
    adjuster: Id,
    step: usize,
    order: usize,
}

/// Marks every settled step whose reading an adjuster moves that was turned afterwards, also
/// by way of the step that its target refers to.
pub(super) fn mark(procedure: &Procedure, steps: &mut [StepProgress]) {
    let turns: Vec<Turn> = procedure
        .steps()
        .zip(&*steps)
        .filter_map(|(step, standing)| last_turn(step, standing))
        .collect();
    for (step, standing) in procedure.steps().zip(steps) {
        let Some(settled) = standing.touched else {
            continue;
        };
        let because = turns
            .iter()
            .filter(|turn| turn.order > settled && turn.step != standing.number)
            .filter(|turn| disturbs(procedure, &turn.adjuster, step))
            .max_by_key(|turn| turn.order);
        standing.look_again = because.map(|turn| LookAgain {
            adjuster: turn.adjuster.clone(),
            turned_in: turn.step,
        });
        let was_settled = matches!(standing.status, Status::Done | Status::Waived);
        if standing.look_again.is_some() && was_settled {
            standing.status = Status::LookAgain;
        }
    }
}

/// Whether turning the adjuster moves what the step reads, directly or through the step that
/// its target refers to.
fn disturbs(procedure: &Procedure, adjuster: &Id, step: &Step) -> bool {
    let Some(adjuster) = procedure.adjuster(adjuster) else {
        return false;
    };
    // The chain of references is no longer than the procedure, even in a circular one.
    let mut at = Some(step);
    for _ in procedure.steps() {
        let Some(step) = at else {
            return false;
        };
        if adjuster.disturbs.contains(&step.id) {
            return true;
        }
        at = match step.work.target() {
            Some(Target::Relative { to, .. }) => procedure.step(to),
            _ => None,
        };
    }
    false
}

/// When the step's adjuster was turned last: with any reading taken after turning.
fn last_turn(step: &Step, standing: &StepProgress) -> Option<Turn> {
    let adjuster = match &step.work {
        Work::Set { adjuster, .. } | Work::Peak { adjuster, .. } | Work::Dip { adjuster, .. } => {
            adjuster
        }
        _ => return None,
    };
    let mut turned = false;
    let mut order = None;
    let mut before: Option<&Taken> = None;
    for taken in &standing.readings {
        // Left as it was found, nothing was turned.
        let moved = before.is_some_and(|before| before.value != taken.value);
        if taken.phase == Phase::Try || (taken.phase == Phase::AsLeft && (moved || turned)) {
            turned = taken.phase == Phase::Try;
            order = Some(taken.order);
        }
        before = Some(taken);
    }
    Some(Turn {
        adjuster: adjuster.clone(),
        step: standing.number,
        order: order?,
    })
}
