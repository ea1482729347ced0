//! The lines that were read or written.

use crate::job::Line;
use crate::procedure::Id;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// The lines that were read or written.
#[derive(Default)]
pub(in crate::store) struct KnownLines {
    pub(super) by_job: HashMap<Id, Known>,
    /// Whether these are all there are, but for those left behind.
    pub(super) complete: bool,
    /// The jobs that were written since their lines were.
    pub(super) left_behind: HashSet<Id>,
}

/// A line that was read or written.
pub(super) struct Known {
    /// How many UTF-16 code units the text of the job had.
    pub(super) size: usize,
    pub(super) line: Arc<Line>,
}
