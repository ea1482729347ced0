//! What keeps events from being a log.

use crate::procedure::Id;
use std::fmt;

/// Why a list of events is no log, or not the log of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LogFault {
    /// Two events have the same id.
    Twice(Id),
    /// So many events stand in it once more as damaged copies, which no log is written with.
    Copied(usize),
    /// A sequence number that no honest log reaches.
    Sequence(Id),
    /// A sequence number that leaves no room for further entries.
    NoRoom(Id),
    /// No event opens the job.
    Unopened,
    /// The event that opens the job is damaged, and nothing else says what is known of the set
    /// and how readings are judged.
    OpeningDamaged,
    /// An event is sound, but of a kind that only a later version of the app knows.
    Newer,
    /// What is wrong with something that the job took on.
    Unsound(String),
    /// An event is about a step that the procedure does not have.
    NoStep {
        /// The event.
        event: Id,
        /// The step.
        step: Id,
    },
}

impl fmt::Display for LogFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogFault::Twice(id) => write!(f, "two events have the id “{id}”"),
            LogFault::Copied(1) => write!(
                f,
                "one entry is in it twice, the second time changed: nothing is saved so, take the file as it was saved"
            ),
            LogFault::Copied(count) => write!(
                f,
                "{count} entries are in it twice, the second time changed: nothing is saved so, take the file as it was saved"
            ),
            LogFault::Sequence(id) => write!(f, "event “{id}” has an impossible sequence number"),
            LogFault::NoRoom(id) => write!(
                f,
                "event “{id}” has so high a sequence number that no entry can follow it: export the job again from where it was written"
            ),
            LogFault::Unopened => write!(f, "no event opens the job"),
            LogFault::OpeningDamaged => write!(
                f,
                "the event which opens the job is damaged: bring in another copy of the job"
            ),
            LogFault::Newer => write!(
                f,
                "an event in it was written by a later version of the app: update the app to open it"
            ),
            LogFault::Unsound(fault) => write!(f, "of what it took on: {fault}"),
            LogFault::NoStep { event, step } => write!(
                f,
                "event “{event}” is about a step “{step}”, which the procedure does not have"
            ),
        }
    }
}
