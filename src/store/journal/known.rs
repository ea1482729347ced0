//! What a page knows of the journal, and what it owes to it.

use crate::job::Log;
use std::collections::{BTreeMap, HashMap};

/// What this page knows of the journal, and what it owes to it.
#[derive(Default)]
pub(in crate::store) struct Journal {
    /// What this page is called there, once it has looked into it.
    pub(super) page: Option<String>,
    /// The keys of the storage that were written, with the number of that writing.
    pub(super) due: BTreeMap<String, u64>,
    /// What is being written into the journal.
    pub(super) under_way: Vec<Part>,
    /// The entries of each key of the storage, all of which the storage has.
    pub(super) kept: HashMap<String, Vec<String>>,
    /// Which events of a job are in those entries, where that is known.
    pub(super) events: HashMap<String, Known>,
    /// Entries that hold nothing that another doesn't.
    pub(super) outdated: Vec<String>,
    /// How many entries this page has named.
    pub(super) named: u64,
}

/// What of a job is in the journal.
pub(super) struct Known {
    pub(super) log: Log,
    /// What was said of its removal then: one that came back is to be written as a whole.
    pub(super) removed: Option<String>,
}

/// How often each key was written, as far as the storage knows.
pub(super) type Counts = BTreeMap<String, u64>;

/// An entry that is being written.
pub(super) struct Part {
    pub(super) key: String,
    pub(super) number: u64,
    pub(super) name: String,
    /// Whether it holds all of the key's text, so that it takes the place of what is kept.
    pub(super) is_whole: bool,
    pub(super) known: Option<Known>,
}
