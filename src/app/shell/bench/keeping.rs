//! How far what was entered is on the disk.

use crate::store::DatabaseError;
use leptos::prelude::*;

/// What is on its way to the disk, and whether there is a way.
#[derive(Clone, Copy)]
pub struct Safekeeping {
    /// Why the journal can't be used, if it can't.
    pub trouble: RwSignal<Option<DatabaseError>>,
    /// Counts what changes in what is kept.
    pub(in crate::app::shell) changes: RwSignal<u32>,
    /// Whether the start has looked into the journal.
    pub(in crate::app::shell) has_looked: StoredValue<bool>,
    /// Whether something is being kept.
    pub(in crate::app::shell) is_busy: StoredValue<bool>,
    /// What is to be told once all is kept.
    pub(in crate::app::shell) to_tell: StoredValue<Option<String>>,
}

/// How it stands with what was written.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// All of it is on the disk.
    Surely,
    /// Something is on its way there.
    Soon,
    /// The browser's database does not take it for the time being.
    Unsurely,
}

impl Safekeeping {
    /// Nothing on its way.
    pub fn open() -> Self {
        Safekeeping {
            trouble: RwSignal::new(None),
            changes: RwSignal::new(0),
            has_looked: StoredValue::new(false),
            is_busy: StoredValue::new(false),
            to_tell: StoredValue::new(None),
        }
    }
}
