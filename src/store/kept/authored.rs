//! Procedures that are being written.

use crate::authoring::Draft;
use crate::procedure::Id;
use crate::store::keys::{AUTHORING, authoring_key};
use crate::store::records::Authored;
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, records};

/// What became of a draft that was to be saved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saving {
    /// It is stored, for the time of this number.
    Saved(u64),
    /// Another page saved this since; nothing was written.
    ChangedElsewhere(Box<Authored>),
    /// Another page published it or threw it away; nothing was written.
    Gone,
}

impl<S: Storage> Store<S> {
    /// The procedure with this id that is being written.
    pub fn authored(&self, id: &Id) -> Result<Option<Authored>, StorageError> {
        let key = authoring_key(id);
        match self.storage.get(&key)? {
            Some(text) => records::read_authored(&key, &text).map(Some),
            None => Ok(None),
        }
    }

    /// All procedures that are being written and can be read, the last saved first.
    pub fn all_authored(&self) -> Result<Vec<Authored>, StorageError> {
        let mut all = Vec::new();
        for key in self.storage.keys()? {
            if key.starts_with(AUTHORING)
                && let Some(text) = self.storage.get(&key)?
            {
                all.extend(records::read_authored(&key, &text));
            }
        }
        all.sort_by(|a, b| (b.at, &a.draft.id).cmp(&(a.at, &b.draft.id)));
        Ok(all)
    }

    /// Writes a draft that goes on from what was saved for the time of number `seen`, 0 for a
    /// new one. Writes nothing where another page has saved it since.
    pub fn save_authored(&self, draft: &Draft, seen: u64, at: i64) -> Result<Saving, StorageError> {
        let key = authoring_key(&draft.id);
        match self.storage.get(&key)? {
            Some(text) => match records::read_authored(&key, &text) {
                Ok(stored) if stored.saved != seen => {
                    return Ok(Saving::ChangedElsewhere(Box::new(stored)));
                }
                Ok(_) => {}
                Err(_) => self.move_aside(&key)?,
            },
            None if seen > 0 => return Ok(Saving::Gone),
            None => {}
        }
        let record = Authored {
            saved: seen + 1,
            at,
            draft: draft.clone(),
        };
        self.write(&key, &records::json(&record))?;
        Ok(Saving::Saved(record.saved))
    }

    /// Takes a draft off this device.
    pub fn remove_authored(&self, id: &Id) -> Result<(), StorageError> {
        self.take_away(&authoring_key(id))
    }
}
