//! What a typed fingerprint says of a file.

use crate::exchange::DocumentError;

/// What comparing a file with a fingerprint gives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Check {
    /// The sheet was made from this very file.
    Matches {
        /// The job's number and set.
        job: String,
    },
    /// It was made from this job as it stood before its latest entries.
    MatchesUpTo {
        /// The job's number and set.
        job: String,
        /// How many entries it had then.
        entry: usize,
        /// How many were added since.
        since: usize,
    },
    /// It was made from another file, or from another state of this job.
    Differs {
        /// The job's number and set.
        job: String,
        /// The fingerprint that the file has.
        has: String,
    },
    /// What was typed is no fingerprint.
    NoFingerprint,
    /// The file is no job.
    NoJob,
    /// The file can't be read.
    Unreadable(DocumentError),
}
