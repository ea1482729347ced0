//! The file that can be saved when the app has stopped on an error: the storage as it was,
//! taken in like a backup.

use crate::exchange::{Backup, BackupJob, Document, DocumentError, Faulty, File, MAX_THINGS, Part};
use crate::job::MAX_EVENTS;
use crate::procedure::Procedure;
use crate::store::kept::contents::odd;
use crate::store::kept::jobs::job_of;
use crate::store::keys::{CHANNELS, JOB, KIT, PREFERENCES, PREFIX, PROCEDURE};
use crate::store::{StorageError, records};
use serde::de::{self, MapAccess, Visitor};
use serde::{Deserialize, Deserializer};
use std::collections::{BTreeMap, HashMap};
use std::fmt;
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
    /// How many entries of logs there is still room for.
    room: usize,
}

/// The most entries that the logs of all jobs may have together: half as many again as fill the
/// storage that browsers usually give, all jobs finished and packed.
const MAX_ENTRIES: usize = 6 * MAX_EVENTS;

/// The keys and texts of a storage, as many as any has.
struct Kept {
    texts: BTreeMap<String, String>,
    /// How many more there are, which no storage of ours has.
    beyond: usize,
}

impl<'de> Deserialize<'de> for Kept {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Texts;
        impl<'de> Visitor<'de> for Texts {
            type Value = Kept;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the texts of a storage")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Kept, A::Error> {
                let (mut texts, mut beyond) = (BTreeMap::new(), 0);
                while let Some((key, text)) = map.next_entry::<String, String>()? {
                    if !key.starts_with(PREFIX) {
                        return Err(de::Error::custom("a key of another app"));
                    }
                    match texts.len() < MAX_THINGS {
                        true => drop(texts.insert(key, text)),
                        false => beyond += 1,
                    }
                }
                Ok(Kept { texts, beyond })
            }
        }
        deserializer.deserialize_map(Texts)
    }
}

impl Rescue {
    /// Begins to read a text; nothing where it is no such file.
    pub fn of(text: &str) -> Option<Self> {
        let Kept { texts, beyond } = serde_json::from_str(text).ok()?;
        if texts.is_empty() {
            return None;
        }
        let beyond = (beyond > 0).then(|| {
            let why = format!(
                "{beyond} keys behind the first {MAX_THINGS} were not looked at: no device here has more"
            );
            faulty(None, why)
        });
        let mut entries: Vec<(String, String)> = texts.into_iter().collect();
        // The jobs last, since they need their procedures.
        entries.sort_by_key(|(key, _)| key.starts_with(JOB));
        Some(Rescue {
            all: entries.len(),
            entries: entries.into_iter(),
            known: HashMap::new(),
            backup: Backup::default(),
            faulty: beyond.into_iter().collect(),
            room: MAX_ENTRIES,
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
            // Where there is none left, no log is unpacked any more.
            let full = || {
                format!(
                    "with it the file has more than {MAX_ENTRIES} entries, which no device here holds"
                )
            };
            if self.room == 0 {
                return Err(full());
            }
            let job = self.job(key, text)?;
            let room = self.room.checked_sub(job.log.len());
            self.room = room.ok_or_else(full)?;
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
            self.faulty.push(faulty(Some(key), what));
        }
        Some(self.all - self.entries.len())
    }
}

fn faulty(name: Option<String>, what: String) -> Faulty {
    let place = String::new();
    Faulty {
        part: Part::Kept,
        name,
        why: DocumentError::Unsound { place, what },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::demo;
    use crate::job::{Job, Log, Stamp};
    use crate::store::packed::pack;

    fn file(texts: impl IntoIterator<Item = (String, String)>) -> String {
        let texts: BTreeMap<String, String> = texts.into_iter().collect();
        serde_json::to_string(&texts).expect("JSON")
    }

    /// A job whose log is as long as any.
    fn longest() -> (Procedure, Log) {
        let procedure = demo::procedure().expect("the demo's procedure");
        let stamp = |number: usize| Stamp {
            id: format!("e{number}").parse().expect("an id"),
            at: 1,
        };
        let id = "j".parse().expect("an id");
        let opened = Job::open(id, procedure.clone(), Default::default(), stamp(0)).log;
        let mut events: Vec<_> = opened.events().cloned().collect();
        for number in 1..MAX_EVENTS {
            let Stamp { id, at } = stamp(number);
            let (seq, did) = (1 + number as u64, crate::job::Deed::Paused);
            events.push(crate::job::Event { id, seq, at, did });
        }
        (procedure, Log::from_events(events).expect("a log"))
    }

    #[test]
    fn more_entries_than_any_device_holds_are_not_kept_in_hand() {
        let (procedure, log) = longest();
        let digest = procedure.digest();
        let record = serde_json::json!({ "procedure": digest, "log": pack(&log) });
        let most = MAX_ENTRIES / MAX_EVENTS;
        let jobs = (0..most + 2).map(|number| (format!("{JOB}{number:03}"), record.to_string()));
        let text = serde_json::to_string(&procedure).expect("JSON");
        let procedure = (format!("{PROCEDURE}{digest}"), text);
        let file = rescue(&file(jobs.chain([procedure]))).expect("a file");
        let Document::Backup(backup) = file.document else {
            panic!("no backup")
        };
        assert_eq!(backup.jobs.len(), most);
        let names: Vec<_> = file.faulty.iter().map(|faulty| &faulty.name).collect();
        assert_eq!(names.len(), 2);
        let why = file.faulty[0].why.to_string();
        assert!(why.contains("more than 393216 entries"), "{why}");
    }

    #[test]
    fn keys_beyond_what_any_device_has_are_counted_and_left() {
        let all = (0..MAX_THINGS + 5).map(|number| (format!("{PREFIX}{number}"), String::new()));
        let mut rescue = Rescue::of(&file(all)).expect("a file");
        assert_eq!(rescue.by_ref().count(), MAX_THINGS);
        let why = rescue.end().faulty[0].why.to_string();
        assert!(why.contains("5 keys behind the first 100000"), "{why}");
    }
}
