//! What came off the set.

use crate::procedure::{Id, Removable};

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
