//! The file that can be saved when the app has stopped on an error: the storage as it was,
//! taken in like a backup.

use super::{
    CHANNELS, JOB, KIT, PREFERENCES, PREFIX, PROCEDURE, StorageError, job_of, odd, records,
};
use crate::exchange::{Backup, BackupJob, Document, DocumentError, Faulty, File, Part};
use crate::procedure::Procedure;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;
use std::vec::IntoIter;

/// Reads such a file; nothing where the text is none.
pub fn rescue(text: &str) -> Option<File> {
    Some(Rescue::of(text)?.end())
}

/// Such a file while it is read, entry by entry: logs are packed, and a small file may hold many.
/// Each item says how many entries lie behind. Once there are no more, `end` gives the file.
pub struct Rescue {
    entries: IntoIter<(String, String)>,
    all: usize,
    known: HashMap<String, Arc<Procedure>>,
    backup: Backup,
    faulty: Vec<Faulty>,
}

impl Rescue {
    /// Begins to read a text; nothing where it is no such file.
    pub fn of(text: &str) -> Option<Self> {
        let kept: BTreeMap<String, String> = serde_json::from_str(text).ok()?;
        if kept.is_empty() || !kept.keys().all(|key| key.starts_with(PREFIX)) {
            return None;
        }
        let mut entries: Vec<(String, String)> = kept.into_iter().collect();
        // The jobs last, since they need their procedures.
        entries.sort_by_key(|(key, _)| key.starts_with(JOB));
        Some(Rescue {
            all: entries.len(),
            entries: entries.into_iter(),
            known: HashMap::new(),
            backup: Backup::default(),
            faulty: Vec::new(),
        })
    }

    /// How many entries there are in all.
    pub fn entries(&self) -> usize {
        self.all
    }

    /// The file, of which what was not read yet is now.
    pub fn end(mut self) -> File {
        self.by_ref().for_each(drop);
        let Backup {
            preferences,
            kit,
            channels,
            jobs,
            ..
        } = self.backup;
        let procedures = self.known.into_values().map(Arc::unwrap_or_clone);
        let backup = Backup {
            channels,
            jobs,
            ..Backup::of(preferences, kit, procedures.collect(), Vec::new())
        };
        File {
            document: Document::Backup(backup),
            pictures: Vec::new(),
            faulty: self.faulty,
        }
    }

    /// Takes an entry; where it can't be read, says why.
    fn take(&mut self, key: &str, text: &str) -> Result<(), String> {
        let why = |error: StorageError| error.why();
        if let Some(digest) = key.strip_prefix(PROCEDURE) {
            let procedure = records::read_procedure(key, text).map_err(why)?;
            self.known.insert(digest.to_owned(), Arc::new(procedure));
        } else if key.starts_with(JOB) {
            let job = self.job(key, text)?;
            self.backup.jobs.push(job);
        } else if let Some(why) = odd(key, text) {
            return Err(why.to_owned());
        }
        match key {
            PREFERENCES => self.backup.preferences = records::read_preferences(text),
            KIT => self.backup.kit = records::read_list(text).unwrap_or_default(),
            CHANNELS => self.backup.channels = records::read_list(text).unwrap_or_default(),
            _ => {}
        }
        Ok(())
    }

    /// A job that its own device could read, and that could come out of a file as well.
    fn job(&self, key: &str, text: &str) -> Result<BackupJob, String> {
        let job = job_of(key, text, &self.known).map_err(|error| error.why())?;
        match job.log.file_fault() {
            None => Ok(job),
            Some(fault) => Err(fault.to_string()),
        }
    }
}

impl Iterator for Rescue {
    type Item = usize;

    fn next(&mut self) -> Option<usize> {
        let (key, text) = self.entries.next()?;
        if let Err(what) = self.take(&key, &text) {
            self.faulty.push(Faulty {
                part: Part::Kept,
                name: Some(key),
                why: DocumentError::Unsound {
                    place: String::new(),
                    what,
                },
            });
        }
        Some(self.all - self.entries.len())
    }
}
