//! What becomes of a paper.

use crate::procedure::{PaperPin, PaperSpot};
use serde::{Deserialize, Serialize};

/// What became of a paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum PaperChange {
    /// It is called otherwise.
    Titled(String),
    /// Something is at this place in it.
    Pinned(PaperPin),
    /// Where that is, is not marked any more.
    Unpinned(PaperSpot),
    /// The job has it no more. Its entry stays in the log.
    Removed,
}
