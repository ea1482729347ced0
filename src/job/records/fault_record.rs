//! What was wrong with the set: as seen, what showed it, the cause, the cure, and what proves it.

use crate::job::entries::event::fault::{FaultRecord, Outcome};
use crate::procedure::Id;

/// A record as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Its name, the same through all its entries: that of the first.
    pub name: Id,
    /// What was last written of it.
    pub record: FaultRecord,
    /// When, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
}

/// What is missing in a record for what it says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsaid {
    /// A cause is found, and not named.
    Cause,
    /// It is cured, and nothing says how.
    Cure,
    /// Nothing at all is said.
    All,
    /// It did not show, and yet a cause or a cure is named.
    Contradicts,
}

impl FaultRecord {
    /// What it says in words.
    pub fn texts(&self) -> [&str; 4] {
        [&self.seen, &self.place, &self.cause, &self.cure]
    }

    /// What it lacks, if anything.
    pub fn unsaid(&self) -> Option<Unsaid> {
        let blank = |text: &str| text.trim().is_empty();
        match self.outcome {
            Outcome::Found if blank(&self.cause) => Some(Unsaid::Cause),
            Outcome::Cured if blank(&self.cure) => Some(Unsaid::Cure),
            Outcome::NotSeen if !blank(&self.cause) || !blank(&self.cure) => {
                Some(Unsaid::Contradicts)
            }
            Outcome::Open if self.texts().iter().all(|text| blank(text)) => Some(Unsaid::All),
            _ => None,
        }
    }
}

impl Fault {
    /// Whether something is still to be done about it: it is looked for, or found and not cured.
    pub fn is_at_no_end(&self) -> bool {
        matches!(self.record.outcome, Outcome::Open | Outcome::Found)
    }
}
