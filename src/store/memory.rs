//! A storage in memory that can be made to fail, for tests.

use super::{Storage, StorageError};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

/// Texts in memory. Fails like a full browser storage from a chosen write on.
#[derive(Default)]
pub struct MemoryStorage {
    texts: RefCell<BTreeMap<String, String>>,
    reads: Cell<usize>,
    writes: Cell<usize>,
    full_from: Cell<Option<usize>>,
    denied: Cell<bool>,
    own: RefCell<Own>,
}

/// The text that was put last: its number, its key and what it is.
type Own = (u64, String, String);

impl MemoryStorage {
    /// From the `n`th write on (counted from 1, from now), writing fails; `None` ends that.
    pub fn full_from_write(&self, n: Option<usize>) {
        self.writes.set(0);
        self.full_from.set(n);
    }

    /// From now on everything is denied, or nothing any more.
    pub fn deny(&self, denied: bool) {
        self.denied.set(denied);
    }

    fn allowed(&self) -> Result<(), StorageError> {
        match self.denied.get() {
            true => Err(StorageError::Denied),
            false => Ok(()),
        }
    }

    /// How many texts were read so far.
    pub fn reads(&self) -> usize {
        self.reads.get()
    }

    /// How many writes there were since the last call of `full_from_write`.
    pub fn writes(&self) -> usize {
        self.writes.get()
    }
}

impl Storage for &MemoryStorage {
    fn get(&self, key: &str) -> Result<Option<String>, StorageError> {
        self.allowed()?;
        self.reads.set(self.reads.get() + 1);
        Ok(self.texts.borrow().get(key).cloned())
    }

    fn size(&self, key: &str) -> Result<Option<usize>, StorageError> {
        self.allowed()?;
        Ok(self
            .texts
            .borrow()
            .get(key)
            .map(|text| crate::store::storage::units(text)))
    }

    fn set(&self, key: &str, value: &str) -> Result<(), StorageError> {
        self.allowed()?;
        let count = self.writes.get() + 1;
        self.writes.set(count);
        if self.full_from.get().is_some_and(|from| count >= from) {
            return Err(StorageError::Full);
        }
        self.texts
            .borrow_mut()
            .insert(key.to_owned(), value.to_owned());
        Ok(())
    }

    fn put(&self, key: &str, value: &str) -> Result<u64, StorageError> {
        self.set(key, value)?;
        let mut own = self.own.borrow_mut();
        *own = (own.0 + 1, key.to_owned(), value.to_owned());
        Ok(own.0)
    }

    fn is(&self, key: &str, number: u64) -> Result<bool, StorageError> {
        self.allowed()?;
        let own = self.own.borrow();
        let is_its = own.0 == number && own.1 == key;
        Ok(is_its && self.texts.borrow().get(key) == Some(&own.2))
    }

    fn put_end(
        &self,
        key: &str,
        number: u64,
        cut: usize,
        end: &str,
    ) -> Result<Option<u64>, StorageError> {
        if !self.is(key, number)? {
            return Ok(None);
        }
        let mut text = self.own.borrow().2.clone();
        for _ in 0..cut {
            text.pop();
        }
        self.put(key, &(text + end)).map(Some)
    }

    fn remove(&self, key: &str) -> Result<(), StorageError> {
        self.allowed()?;
        self.texts.borrow_mut().remove(key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, StorageError> {
        self.allowed()?;
        Ok(self.texts.borrow().keys().cloned().collect())
    }
}
