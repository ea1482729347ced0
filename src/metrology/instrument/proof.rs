//! Whether an instrument can prove a tolerance.

use crate::quantity::Fault;
use crate::quantity::fault::{above, not_negative, positive};

/// The ratio of tolerance to uncertainty at which a bench is at ease.
///
/// Source (from memory): ANSI/NCSL Z540.3, test uncertainty ratio 4 : 1.
pub const COMFORTABLE_RATIO: f64 = 4.0;

/// How well a tolerance can be proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ability {
    /// The tolerance is at least four times the uncertainty.
    Comfortable,
    /// Some room is left inside a guard band w = U.
    Narrow,
    /// The guard band leaves nothing to accept.
    None,
    /// There is one limit only, and a reading must be clear of it by the uncertainty.
    OneSided,
}

impl Ability {
    /// The ability in a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Ability::Comfortable => "Yes: the tolerance is at least four times the uncertainty",
            Ability::Narrow => "Narrowly: the guard band takes much of the tolerance away",
            Ability::None => "No: the uncertainty is as large as the tolerance",
            Ability::OneSided => "Where the reading is clear of the limit by the uncertainty",
        }
    }
}

/// Whether an uncertainty can prove a tolerance, and what would.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// The expanded uncertainty, in the unit without prefix.
    pub expanded: f64,
    /// Half-width of the tolerance over the expanded uncertainty; `None` with one limit only.
    pub ratio: Option<f64>,
    /// How well it can be proved.
    pub ability: Ability,
    /// The accuracy ±a that would be comfortable, in the unit without prefix; `None` when the
    /// resolution alone is too coarse, and with one limit only.
    pub accuracy_needed: Option<f64>,
}

/// Compares the half-width of a tolerance with an expanded uncertainty and works out which
/// accuracy ±a would be comfortable next to a resolution step.
///
/// a = √3·√((T/(4·k))² − δ²/12) with k = 1.96 for 95 %.
/// Source: JCGM 100:2008, 4.3.7 and F.2.2.1, solved for a.
pub fn prove(half_width: f64, expanded: f64, step: f64) -> Result<Proof, Fault> {
    let half_width = positive("The tolerance", half_width)?;
    let expanded = above("The expanded uncertainty", expanded, 0.0)?;
    let step = not_negative("The resolution", step)?;
    let ratio = half_width / expanded;
    let ability = match ratio {
        r if r >= COMFORTABLE_RATIO => Ability::Comfortable,
        r if r > 1.0 => Ability::Narrow,
        _ => Ability::None,
    };
    let coverage = crate::metrology::distribution::normal::quantile(0.975)?;
    let room = (half_width / COMFORTABLE_RATIO / coverage).powi(2) - step * step / 12.0;
    Ok(Proof {
        expanded,
        ratio: Some(ratio),
        ability,
        accuracy_needed: (room > 0.0).then(|| (3.0 * room).sqrt()),
    })
}
