//! Where a fault of a procedure is.

use crate::procedure::{Field, Id};
use std::collections::HashSet;
use std::fmt;

/// Something that is wrong, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where it is.
    pub place: Place,
    /// The field there.
    pub field: Field,
    /// What it is, as a sentence.
    pub sentence: String,
}

/// What is wrong with a field.
pub(super) type Wrong = (Field, String);

/// A place in a procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The procedure as a whole.
    Whole,
    /// The lists of adjusters, test points and instruments.
    Parts,
    /// A step, by its number from 1.
    Step(usize),
    /// A table of readings, by its number from 1.
    Table(usize),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.place {
            Place::Whole | Place::Parts => f.write_str(&self.sentence),
            Place::Step(number) => write!(f, "Step {number}: {}", self.sentence),
            Place::Table(number) => write!(f, "Table {number}: {}", self.sentence),
        }
    }
}

pub(in crate::procedure) fn twice<'a>(ids: impl Iterator<Item = &'a Id>) -> Vec<&'a Id> {
    let mut seen = HashSet::new();
    ids.filter(|id| !seen.insert(*id)).collect()
}
