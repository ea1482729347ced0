//! The settings, the instruments on the shelf, the channel tables, the address last looked at.

use crate::job::Preferences;
use crate::metrology::instrument::Instrument;
use crate::radio::channels::ChannelTable;
use crate::store::keys::{CHANNELS, KIT, PLACE, PREFERENCES, STEP};
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, records};
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The address last looked at, before a store is opened.
pub fn place(storage: &impl Storage) -> Option<String> {
    storage.get(PLACE).ok().flatten()
}

impl<S: Storage> Store<S> {
    /// The technician's settings; those of a new device where none can be read.
    pub fn preferences(&self) -> Preferences {
        let text = self.storage.get(PREFERENCES).ok().flatten();
        text.and_then(|text| records::read_preferences(&text))
            .unwrap_or_default()
    }

    /// Writes the technician's settings.
    pub fn save_preferences(&self, preferences: &Preferences) -> Result<(), StorageError> {
        let stored = self.storage.get(PREFERENCES)?;
        if stored.is_some_and(|text| records::read_preferences(&text).is_none()) {
            self.move_aside(PREFERENCES)?;
        }
        self.write(PREFERENCES, &records::json(preferences))
    }

    /// The instruments on the shelf; none where the list can't be read.
    pub fn kit(&self) -> Vec<Instrument> {
        self.list(KIT)
    }

    /// Writes the list of instruments.
    pub fn save_kit(&self, kit: &[Instrument]) -> Result<(), StorageError> {
        self.save_list(KIT, kit)
    }

    /// The technician's own channel tables; none where the list can't be read.
    pub fn channel_tables(&self) -> Vec<ChannelTable> {
        self.list(CHANNELS)
    }

    /// Writes the list of channel tables.
    pub fn save_channel_tables(&self, tables: &[ChannelTable]) -> Result<(), StorageError> {
        self.save_list(CHANNELS, tables)
    }

    fn list<T: DeserializeOwned>(&self, key: &str) -> Vec<T> {
        let text = self.storage.get(key).ok().flatten();
        text.and_then(|text| records::read_list(&text))
            .unwrap_or_default()
    }

    fn save_list<T: Serialize + DeserializeOwned>(
        &self,
        key: &str,
        list: &[T],
    ) -> Result<(), StorageError> {
        let stored = self.storage.get(key)?;
        if stored.is_some_and(|text| records::read_list::<T>(&text).is_none()) {
            self.move_aside(key)?;
        }
        self.write(key, &records::json(&list))
    }

    /// The address last looked at.
    pub fn place(&self) -> Option<String> {
        place(&self.storage)
    }

    /// Remembers the address looked at, so that a new start finds it again. A start that goes on
    /// there has nothing new to say, and must not outdo what the journal has.
    pub fn save_place(&self, address: &str) -> Result<(), StorageError> {
        match self.place().as_deref() == Some(address) {
            true => Ok(()),
            false => self.write(PLACE, address),
        }
    }

    /// The address of the step last looked at.
    pub fn last_step(&self) -> Option<String> {
        self.storage.get(STEP).ok().flatten()
    }

    /// Remembers the address of a step, so that other screens lead back to it.
    pub fn save_last_step(&self, address: &str) -> Result<(), StorageError> {
        self.write(STEP, address)
    }
}
