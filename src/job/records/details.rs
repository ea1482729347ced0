//! The details of a job without those that were not asked for.

use crate::job::entries::header::HeaderPart;
use crate::job::{Job, Log, Progress};
use crate::procedure::Id;

impl Job {
    /// The parts of the header that taking an event back changes.
    pub fn details_without(&self, event: &Id) -> Vec<HeaderPart> {
        let others = self.log.events().filter(|other| other.id != *event);
        let Ok(log) = Log::from_events(others.cloned()) else {
            return Vec::new();
        };
        let without = Progress::of(&self.procedure, &log);
        self.progress().header.differs(&without.header)
    }
}
