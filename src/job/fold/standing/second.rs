//! What the second route of a step says.

use crate::job::fold::standing::group::Read;
use crate::metrology::Verdict;
use crate::metrology::inference::agreement::Agreement;
use crate::procedure::Id;
use crate::quantity::Quantity;

/// What the other route of a step showed.
#[derive(Clone, Debug, PartialEq)]
pub struct CrossReading {
    /// The event that brought it.
    pub event: Id,
    /// As it was indicated, and corrected.
    pub read: Read,
    /// Its place in the log.
    pub(in crate::job) order: usize,
    /// What it says of the step's reading, once there is one.
    pub opinion: Option<SecondOpinion>,
}

/// What a second route says of a step's reading.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondOpinion {
    /// The figure by the second route, in the step's own unit where the two are compared.
    pub figure: Quantity,
    /// Second figure less first, where they are compared.
    pub difference: Option<Quantity>,
    /// What that means.
    pub opinion: Opinion,
}

/// Whether two routes agree.
#[derive(Clone, Debug, PartialEq)]
pub enum Opinion {
    /// Judged with both uncertainties: the normalised error Eₙ and what it says.
    Judged(f64, Agreement),
    /// The second figure is plausible in itself, or isn't.
    Plausible(Verdict),
    /// Both were read with one instrument, so what it is off by would not show.
    SameInstrument,
    /// The uncertainty of at least one is not known, so only the difference can be shown.
    Unjudged,
}

impl Opinion {
    /// Whether the second route speaks against the reading.
    pub fn is_against(&self) -> bool {
        match self {
            Opinion::Judged(_, agreement) => *agreement == Agreement::Disagree,
            Opinion::Plausible(verdict) => !verdict.is_inside(),
            Opinion::SameInstrument | Opinion::Unjudged => false,
        }
    }
}
