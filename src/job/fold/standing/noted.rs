//! What else is noted in a job: answers, remarks, changes, its end.

use crate::job::{Change, Finding};
use crate::procedure::Id;
use crate::procedure::Removable;

/// Why a step needs another look.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LookAgain {
    /// Something was turned that moves its reading.
    Turned {
        /// The adjuster.
        adjuster: Id,
        /// The number of the step in which it was turned.
        turned_in: usize,
    },
    /// It is gone through once more.
    Pass {
        /// Which pass it is, from 1.
        pass: usize,
        /// The number of the step that repeats it.
        repeated_by: usize,
    },
}

/// A part that was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// Its name, the same through all its entries: that of the first.
    pub name: Id,
    /// In which step, if in one.
    pub step: Option<Id>,
    /// What was changed.
    pub change: Change,
    /// When, by the device's clock.
    pub at: i64,
}

/// An inspection's answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// What was found.
    pub finding: Finding,
    /// In words.
    pub note: String,
    /// When, by the device's clock.
    pub at: i64,
}

/// A remark or a reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// In words.
    pub text: String,
    /// When, by the device's clock.
    pub at: i64,
    /// Its place in the log.
    pub(in crate::job::fold) order: usize,
}

/// The end of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignOff {
    /// Who answers for it.
    pub by: String,
    /// In words.
    pub remarks: String,
    /// When, by the device's clock.
    pub at: i64,
    /// Its place in the log.
    pub(in crate::job::fold) order: usize,
}

/// Something on the put-back list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Off {
    /// Its name on the list, by which it is put back.
    pub key: String,
    /// What it is, where it belongs and how it sits.
    pub item: Removable,
    /// Whether it is back.
    pub state: OffState,
    /// The step that it came off in, if in one.
    pub step: Option<Id>,
    /// Where in the log it came off.
    pub order: usize,
}

/// Whether something on the put-back list is back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OffState {
    /// Still off.
    Off,
    /// Back in its place.
    Back,
    /// Off on purpose, for this reason.
    StaysOff(String),
}
