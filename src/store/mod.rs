//! The only room that touches browser storage.
//!
//! Layout 3, all keys beginning with `halfturn:`
//!
//! | key | value |
//! |---|---|
//! | `layout` | the number of the layout |
//! | `job:<id>` | one job: the digest of its procedure, and its log, each entry with a check; packed once it is finished, with one check for all |
//! | `line:<job>` | the job in short, for lists; made again whenever it is missing or damaged |
//! | `procedure:<digest>` | one revision of a procedure, held once for all jobs |
//! | `preferences` | the technician's settings |
//! | `device` | light or dark, and what was met for the first time: of this device alone |
//! | `kit` | the instruments on the shelf |
//! | `channels` | channel tables of the technician's own |
//! | `filed` | how far each job was when it last went into a file |
//! | `place` | the address last looked at |
//! | `step` | the address of the step last looked at, for the way back to it |
//! | `draft:<job>:<step>` | what was typed but not yet entered |
//! | `forms` | what was typed in forms and dialogs and not sent yet, by their places |
//! | `authoring:<id>` | a procedure that is being written, and how often it was saved |
//! | `sum:<id>` | what was typed in one calculation, by the ids of its inputs |
//! | `removed:<job>` | that the job was taken off this device, or came back since |
//! | `count` | how often each key was written whose text the next writing replaces |
//! | `aside:<n>:<key>` | a value that could not be read, kept as it was |
//!
//! A value that can't be read stays where it is, is listed, and can be saved as a file. It is
//! moved to an `aside` key only when a good value must take its place.

mod keys;
mod storage;

pub use self::storage::{Storage, StorageError};

use crate::store::kept::last::Last;
#[cfg(feature = "app")]
mod browser;
#[cfg(feature = "app")]
mod database;
mod journal;
mod kept;
mod layout;
mod memory;
mod packed;
#[cfg(feature = "app")]
mod pictures;
mod records;
mod rescue;
mod survey;

pub use crate::store::kept::filed::{AtRisk, Filed, TakenIn};
#[cfg(feature = "app")]
pub use browser::{BrowserStorage, ask_to_persist, on_change_elsewhere};
#[cfg(feature = "app")]
pub use database::{Bytes, Database, DatabaseError};
pub use journal::{Due, Entry, Rejoined};
pub use kept::authored::Saving;
pub use kept::contents::{Aside, Contents};
pub use kept::device::{OnDevice, Theme};
pub use kept::jobs::Unchecked;
pub use kept::settings::place;
pub use layout::LAYOUT;
pub use memory::MemoryStorage;
#[cfg(feature = "app")]
pub use pictures::{NoPicture, Pictures};
pub use records::{Authored, Typed, TypedInputs};
pub use rescue::{Rescue, rescue};
pub use survey::{Survey, Surveying};

use crate::store::kept::known_lines::KnownLines;
use journal::Journal;
use kept::aside;
use std::sync::{Mutex, OnceLock};

/// Jobs, procedures and settings in a [`Storage`].
pub struct Store<S> {
    storage: S,
    last: Mutex<Option<Last>>,
    lines: Mutex<KnownLines>,
    journal: Mutex<Journal>,
    wake: OnceLock<Box<dyn Fn() + Send + Sync>>,
}

impl<S: Storage> Store<S> {
    /// A store over a storage, which is brought to the present layout first.
    ///
    /// A storage from a later version is left alone; reading it works, writing does not.
    pub fn open(storage: S) -> (Self, Result<(), StorageError>) {
        let outcome = layout::bring_up(&storage);
        let (last, lines, journal, wake) = Default::default();
        let store = Store {
            storage,
            last,
            lines,
            journal,
            wake,
        };
        (store, outcome)
    }

    fn write(&self, key: &str, value: &str) -> Result<(), StorageError> {
        layout::check(&self.storage)?;
        self.storage.set(key, value)?;
        self.note_written(key, false);
        Ok(())
    }

    fn take_away(&self, key: &str) -> Result<(), StorageError> {
        layout::check(&self.storage)?;
        self.storage.remove(key)?;
        self.note_written(key, true);
        Ok(())
    }

    fn move_aside(&self, key: &str) -> Result<(), StorageError> {
        layout::check(&self.storage)?;
        let place = aside::keep(&self.storage, key)?;
        place
            .into_iter()
            .for_each(|place| self.note_written(&place, false));
        Ok(())
    }

    /// Takes a value that was set aside off this device, once it was saved elsewhere.
    pub fn remove_aside(&self, key: &str) -> Result<(), StorageError> {
        self.take_away(key)
    }
}
