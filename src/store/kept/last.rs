//! The job that was read or written last, as it then was.

use crate::job::Job;

/// The job saved last, and what was found out about it, so that a reading costs no more than
/// its own writing.
pub(in crate::store) struct Last {
    pub(in crate::store) job: Job,
    /// The digest of its procedure.
    pub(in crate::store) digest: String,
    /// The size of its procedure's text.
    pub(in crate::store) procedure: usize,
    /// Its text.
    pub(in crate::store) text: String,
}
