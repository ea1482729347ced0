//! The job that was written last, as it then was.

use crate::job::{Job, Log};
use crate::store::records::{self, END};

/// The job saved last, and what was found out about it, so that a reading costs no more than
/// its own writing.
pub(in crate::store) struct Last {
    pub(in crate::store) job: Job,
    /// The digest of its procedure.
    pub(in crate::store) digest: String,
    /// The size of its procedure's text.
    pub(in crate::store) procedure: usize,
    /// The number by which the storage knows its text.
    pub(in crate::store) number: u64,
    /// Whether it is written as the list of its events; one that is signed off is packed.
    pub(in crate::store) is_open: bool,
}

impl Last {
    /// Whether a job is this one, perhaps with more in its log.
    pub(super) fn is_before(&self, job: &Job) -> bool {
        self.job.id == job.id && job.log.holds(&self.job.log)
    }

    /// What its text ends with, in the place of [`END`], once a log that adds to its own is
    /// written; nothing where that is to be written anew.
    pub(super) fn new_end(&self, log: &Log) -> Option<String> {
        let added = log.added_to(&self.job.log).filter(|_| self.is_open)?;
        Some(records::with_end(added))
    }
}

/// How many code units are cut off for what is added.
pub(super) const CUT: usize = END.len();
