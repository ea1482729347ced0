//! Where texts lie under keys: the browser's storage, or a plain one in tests.

use crate::job::MAX_EVENTS;
use std::fmt;

/// A place for texts under keys, such as the browser's local storage.
pub trait Storage {
    /// The text under a key.
    fn get(&self, key: &str) -> Result<Option<String>, StorageError>;
    /// Writes a text under a key, wholly or not at all.
    fn set(&self, key: &str, value: &str) -> Result<(), StorageError>;
    /// The same, and gives a number by which this page knows the text again.
    fn put(&self, key: &str, value: &str) -> Result<u64, StorageError>;
    /// Whether the text under a key is the one of that number. Costs far less than the text.
    fn is(&self, key: &str, number: u64) -> Result<bool, StorageError>;
    /// Writes the text of that number with another end in the place of its last `cut` code units,
    /// wholly or not at all, and gives the number of what is there then; nothing is written where
    /// there is another text by now. Costs about what the end does.
    fn put_end(
        &self,
        key: &str,
        number: u64,
        cut: usize,
        end: &str,
    ) -> Result<Option<u64>, StorageError>;
    /// Takes a key away.
    fn remove(&self, key: &str) -> Result<(), StorageError>;
    /// How long the text under a key is, in UTF-16 code units, which browsers count. Costs far
    /// less than the text.
    fn size(&self, key: &str) -> Result<Option<usize>, StorageError>;
    /// All keys, in no order.
    fn keys(&self) -> Result<Vec<String>, StorageError>;
}

/// Why storage did not do what was asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StorageError {
    /// There is no room left.
    Full,
    /// The browser does not let this page store anything.
    Denied,
    /// The storage was written by a later version of the app, so this one leaves it alone.
    Newer(u32),
    /// The job was taken off this device meanwhile, so it is not brought back by an entry.
    Removed,
    /// Two copies of the job joined would be longer than any log that is read.
    TooLong,
    /// The value under a key can't be read.
    Unreadable {
        /// The key.
        key: String,
        /// What is wrong with it.
        why: String,
    },
}

impl fmt::Display for StorageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StorageError::Full => write!(
                f,
                "This device's storage for the app is full, so this was not saved: save the job as a file, then remove finished jobs under Files"
            ),
            StorageError::Denied => write!(
                f,
                "The browser does not let this page keep anything: allow site data for it, or leave private browsing, and load it again"
            ),
            StorageError::Newer(layout) => write!(
                f,
                "The data here is in layout {layout}, from a later version of the app. It is left untouched: load the later version, or save everything as a file"
            ),
            StorageError::Removed => write!(
                f,
                "This job was removed from this device on another page, so nothing was saved: save it as a file, which can be brought in again"
            ),
            StorageError::TooLong => write!(
                f,
                "Joined with what is here this job would have more than {MAX_EVENTS} entries, which no log may have, so nothing was saved: what is here stays as it is"
            ),
            StorageError::Unreadable { key, why } => write!(
                f,
                "What is kept under “{key}” can't be read ({why}). It stays as it is: save it as a file under Files"
            ),
        }
    }
}

impl std::error::Error for StorageError {}

impl StorageError {
    /// The reason alone, for a list that names the key beside it.
    pub(super) fn why(&self) -> String {
        match self {
            StorageError::Unreadable { why, .. } => why.clone(),
            other => other.to_string(),
        }
    }
}

/// How long a text is in UTF-16 code units.
pub(in crate::store) fn units(text: &str) -> usize {
    text.chars().map(char::len_utf16).sum()
}
