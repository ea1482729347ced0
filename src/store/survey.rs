//! A look at all that is stored, key by key, so that years of jobs hold nothing up.

use crate::procedure::{PictureDigest, Procedure};
use crate::store::kept::contents::{Aside, odd};
use crate::store::kept::jobs::job_of;
use crate::store::keys::{JOB, PREFIX, PROCEDURE};
use crate::store::storage::units;
use crate::store::{Storage, StorageError, Store, records};
use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;
use std::vec::IntoIter;

/// What a look at everything found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Survey {
    /// How many jobs can be read.
    pub jobs: usize,
    /// How many procedures can be read.
    pub procedures: usize,
    /// What could not be read.
    pub asides: Vec<Aside>,
    /// How many UTF-16 code units all keys and values have together.
    pub size: usize,
    /// The pictures that the jobs and procedures name.
    pub pictures: BTreeSet<PictureDigest>,
}

/// A look at everything that is under way.
pub struct Surveying {
    keys: IntoIter<String>,
    by_digest: HashMap<String, Arc<Procedure>>,
    found: Survey,
}

impl Surveying {
    /// Begins to look at a store.
    pub fn of<S: Storage>(store: &Store<S>) -> Result<Self, StorageError> {
        let mut keys = store.storage.keys()?;
        keys.retain(|key| key.starts_with(PREFIX));
        // The jobs last, since they need their procedures.
        keys.sort_by(|a, b| (a.starts_with(JOB), a).cmp(&(b.starts_with(JOB), b)));
        Ok(Surveying {
            keys: keys.into_iter(),
            by_digest: HashMap::new(),
            found: Survey::default(),
        })
    }

    /// Looks at the next key; nothing behind the last one.
    pub fn step<S: Storage>(&mut self, store: &Store<S>) -> Option<Result<(), StorageError>> {
        let key = self.keys.next()?;
        let text = match store.storage.get(&key) {
            Ok(text) => text,
            Err(error) => return Some(Err(error)),
        };
        if let Some(text) = text {
            self.found.size += units(&key) + units(&text);
            if let Some(why) = self.look_at(&key, &text) {
                self.found.asides.push(Aside { key, why, text });
            }
        }
        Some(Ok(()))
    }

    /// Why a value can't be read, if it can't.
    fn look_at(&mut self, key: &str, text: &str) -> Option<String> {
        let found = &mut self.found;
        if let Some(digest) = key.strip_prefix(PROCEDURE) {
            match records::read_procedure(key, text) {
                Ok(procedure) => {
                    found.procedures += usize::from(!procedure.is_none());
                    found.pictures.extend(procedure.picture_names().cloned());
                    self.by_digest
                        .insert(digest.to_owned(), Arc::new(procedure));
                }
                Err(error) => return Some(error.why()),
            }
        } else if key.starts_with(JOB) {
            match job_of(key, text, &self.by_digest) {
                Ok(job) => {
                    found.jobs += 1;
                    found.pictures.extend(job.log.pictures());
                }
                Err(error) => return Some(error.why()),
            }
        } else {
            return odd(key, text).map(str::to_owned);
        }
        None
    }

    /// What was found.
    pub fn end(self) -> Survey {
        self.found
    }
}
