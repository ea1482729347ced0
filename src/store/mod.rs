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

mod aside;
#[cfg(feature = "app")]
mod browser;
#[cfg(feature = "app")]
mod database;
mod filed;
mod journal;
mod layout;
mod lines;
mod memory;
mod packed;
#[cfg(feature = "app")]
mod pictures;
mod records;
mod rescue;
mod survey;

#[cfg(feature = "app")]
pub use browser::{BrowserStorage, ask_to_persist, on_change_elsewhere};
#[cfg(feature = "app")]
pub use database::{Bytes, Database, DatabaseError};
pub use filed::{AtRisk, Filed, TakenIn};
pub use journal::{Due, Entry, Rejoined};
pub use layout::LAYOUT;
pub use memory::MemoryStorage;
#[cfg(feature = "app")]
pub use pictures::{NoPicture, Pictures};
pub use records::{Authored, Typed, TypedInputs};
pub use rescue::{Rescue, rescue};
pub use survey::{Survey, Surveying};

use crate::authoring::Draft;
use crate::exchange::{Backup, BackupJob, Unread};
use crate::job::{Job, Line, Log, MAX_EVENTS, Preferences};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::radio::channels::ChannelTable;
use journal::Journal;
use lines::KnownLines;
use records::JobRecord;
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::collections::{BTreeMap, HashMap, HashSet};
use std::fmt;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

/// A place for texts under keys, such as the browser's local storage.
pub trait Storage {
    /// The text under a key.
    fn get(&self, key: &str) -> Result<Option<String>, StorageError>;
    /// Writes a text under a key, wholly or not at all.
    fn set(&self, key: &str, value: &str) -> Result<(), StorageError>;
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

/// A value that can't be read, kept as it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    /// The key that it is under.
    pub key: String,
    /// What is wrong with it.
    pub why: String,
    /// The value.
    pub text: String,
}

/// All that could be read, and all that could not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Contents {
    /// Every readable job, by id.
    pub jobs: Vec<Job>,
    /// Every readable procedure, by id and revision.
    pub procedures: Vec<Procedure>,
    /// What could not be read.
    pub asides: Vec<Aside>,
    /// How many UTF-16 code units all keys and values have together.
    pub size: usize,
}

/// Jobs, procedures and settings in a [`Storage`].
pub struct Store<S> {
    storage: S,
    last: Mutex<Option<Last>>,
    lines: Mutex<KnownLines>,
    journal: Mutex<Journal>,
    wake: OnceLock<Box<dyn Fn() + Send + Sync>>,
}

/// The job saved last, and what was found out about it, so that a reading costs no more than
/// its own writing.
struct Last {
    job: Job,
    /// The digest of its procedure.
    digest: String,
    /// The size of its procedure's text.
    procedure: usize,
    /// Its text.
    text: String,
}

const PREFIX: &str = "halfturn:";
const PREFERENCES: &str = "halfturn:preferences";
const KIT: &str = "halfturn:kit";
const CHANNELS: &str = "halfturn:channels";
const PLACE: &str = "halfturn:place";
const STEP: &str = "halfturn:step";
const JOB: &str = "halfturn:job:";
const LINE: &str = "halfturn:line:";
const PROCEDURE: &str = "halfturn:procedure:";
const DRAFT: &str = "halfturn:draft:";
const FORMS: &str = "halfturn:forms";
const SUM: &str = "halfturn:sum:";
const AUTHORING: &str = "halfturn:authoring:";
const REMOVED: &str = "halfturn:removed:";
const COUNT: &str = "halfturn:count";

/// What is typed in forms and not sent yet, by their places.
type Forms = BTreeMap<String, String>;

/// What the mark of a removed job says, and what it begins with once the job came back.
const REMOVED_NOW: &str = "removed";
const BACK: &str = "back ";

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

    /// The job with this id. One that can't be read loses its line, for it is no job to list; one
    /// with damaged entries gets another, for the old one counts them.
    pub fn job(&self, id: &Id) -> Result<Option<Job>, StorageError> {
        let found = self.read_job(id);
        match &found {
            Err(StorageError::Unreadable { .. }) => self.drop_line(id),
            Ok(Some(job)) if job.log.damaged().len() > 0 => {
                self.drop_line(id);
                self.leave_line_behind(id);
            }
            _ => {}
        }
        found
    }

    fn read_job(&self, id: &Id) -> Result<Option<Job>, StorageError> {
        let key = job_key(id);
        let Some(text) = self.storage.get(&key)? else {
            return Ok(None);
        };
        let record = JobRecord::read(&key, &text)?;
        let procedure = self.procedure(&record.procedure)?;
        let Some(procedure) = procedure else {
            return Err(records::orphan(&key));
        };
        record.with_procedure(&key, id.clone(), procedure).map(Some)
    }

    /// The procedure with this digest.
    pub fn procedure(&self, digest: &str) -> Result<Option<Procedure>, StorageError> {
        let key = procedure_key(digest);
        match self.storage.get(&key)? {
            Some(text) => records::read_procedure(&key, &text).map(Some),
            None => Ok(None),
        }
    }

    /// Every procedure that can be read, by id and revision.
    pub fn procedures(&self) -> Result<Vec<Procedure>, StorageError> {
        let keys = self.storage.keys()?;
        let digests = keys.iter().filter_map(|key| key.strip_prefix(PROCEDURE));
        let mut procedures: Vec<Procedure> = digests
            .filter_map(|digest| self.procedure(digest).ok().flatten())
            .collect();
        procedures.sort_by(|a, b| (&a.id, a.revision).cmp(&(&b.id, b.revision)));
        Ok(procedures)
    }

    /// Writes a job, joined with what another page may have written since, and gives the
    /// joined job. When this returns, the job is in storage.
    pub fn save_job(&self, job: &Job) -> Result<Job, StorageError> {
        let joined = self.save_entries(job)?;
        self.renew_line(&joined, &joined.progress());
        Ok(joined)
    }

    /// The same without the job's line, for whoever renews that a little later. Until then
    /// listing the jobs makes it again.
    pub fn save_entries(&self, job: &Job) -> Result<Job, StorageError> {
        if self.is_removed(&job.id) {
            return Err(StorageError::Removed);
        }
        let key = job_key(&job.id);
        let digest = self.save_procedure(&job.procedure)?;
        let joined = match self.storage.get(&key)? {
            None => job.clone(),
            Some(text) if self.is_last_of(job, &text) => job.clone(),
            Some(text) => match log_to_join(&key, &text, job, &digest) {
                Some(log) => Job {
                    log: log.merge(&job.log),
                    ..job.clone()
                },
                None => {
                    self.move_aside(&key)?;
                    job.clone()
                }
            },
        };
        if !joined.log.is_readable() {
            return Err(StorageError::TooLong);
        }
        let text = JobRecord::new(digest.clone(), joined.log.clone()).text();
        self.write(&key, &text)?;
        self.leave_line_behind(&job.id);
        let procedure = self.storage.size(&procedure_key(&digest))?;
        *self.last() = Some(Last {
            job: joined.clone(),
            digest,
            procedure: procedure.unwrap_or_default(),
            text,
        });
        Ok(joined)
    }

    /// Whether a stored text is what was written last, and the job adds to that.
    fn is_last_of(&self, job: &Job, text: &str) -> bool {
        let adds = |last: &Last| last.job.id == job.id && job.log.holds(&last.job.log);
        let last = self.last();
        last.as_ref()
            .is_some_and(|last| last.text == text && adds(last))
    }

    fn last(&self) -> MutexGuard<'_, Option<Last>> {
        // Nothing panics while it is held, and what it holds is only a shortcut.
        self.last.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Writes a procedure and gives its digest. Costs nothing when it is there already.
    pub fn save_procedure(&self, procedure: &Procedure) -> Result<String, StorageError> {
        let digest = self.store_procedure(procedure)?;
        self.owe(&procedure_key(&digest));
        Ok(digest)
    }

    fn store_procedure(&self, procedure: &Procedure) -> Result<String, StorageError> {
        if let Some(digest) = self.last_digest(procedure)? {
            return Ok(digest);
        }
        let digest = procedure.digest();
        let key = procedure_key(&digest);
        let text = records::procedure_text(procedure);
        match self.storage.get(&key)? {
            // Often the case, so the text is compared before it is understood.
            Some(stored) if stored == text => return Ok(digest),
            Some(stored) if records::read_procedure(&key, &stored).is_ok() => return Ok(digest),
            Some(_) => self.move_aside(&key)?,
            None => {}
        }
        self.write(&key, &text)?;
        Ok(digest)
    }

    /// The digest of a procedure. Costs little for the one of the job saved last.
    pub fn digest(&self, procedure: &Procedure) -> String {
        let known = self.last_digest(procedure).ok().flatten();
        known.unwrap_or_else(|| procedure.digest())
    }

    /// The digest of a procedure, if it is that of the job saved last and still stored.
    fn last_digest(&self, procedure: &Procedure) -> Result<Option<String>, StorageError> {
        let last = self.last();
        let is_its = |last: &&Last| {
            let known: &Procedure = &last.job.procedure;
            std::ptr::eq(known, procedure) || known == procedure
        };
        let Some(last) = last.as_ref().filter(is_its) else {
            return Ok(None);
        };
        let size = self.storage.size(&procedure_key(&last.digest))?;
        Ok((size == Some(last.procedure)).then(|| last.digest.clone()))
    }

    /// Takes a job off this device, with what was typed in its steps and not entered. Another
    /// page that has it in hand can't bring it back by an entry.
    pub fn remove_job(&self, id: &Id) -> Result<(), StorageError> {
        layout::check(&self.storage)?;
        self.forget_filed(id)?;
        self.take_away(&job_key(id))?;
        // Without room for the mark the job is gone all the same.
        let _ = self.write(&removed_key(id), REMOVED_NOW);
        self.drop_line(id);
        self.drop_forms(id)?;
        let drafts = format!("{DRAFT}{id}:");
        let keys = self.storage.keys()?.into_iter();
        keys.filter(|key| key.starts_with(&drafts))
            .try_for_each(|key| self.storage.remove(&key))
    }

    /// Writes a job that a file brings, also one that was removed before.
    pub fn bring_job(&self, job: &Job) -> Result<Job, StorageError> {
        if self.is_removed(&job.id) {
            // Its entries count from here on. Each return is told from the one before, since what
            // is known of the job is not.
            let back = format!("{BACK}{}", self.count_up(&job_key(&job.id)));
            self.write(&removed_key(&job.id), &back)?;
        }
        self.save_job(job)
    }

    fn is_removed(&self, id: &Id) -> bool {
        let mark = self.storage.get(&removed_key(id)).ok().flatten();
        mark.is_some_and(|mark| !mark.starts_with(BACK))
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

    /// Reads everything. One bad value never hides the good ones.
    pub fn contents(&self) -> Result<Contents, StorageError> {
        let mut contents = Contents::default();
        let mut keys = self.storage.keys()?;
        keys.retain(|key| key.starts_with(PREFIX));
        keys.sort();
        let mut by_digest: HashMap<String, Arc<Procedure>> = HashMap::new();
        let mut jobs = Vec::new();
        for key in keys {
            let Some(text) = self.storage.get(&key)? else {
                continue;
            };
            contents.size += units(&key) + units(&text);
            if let Some(digest) = key.strip_prefix(PROCEDURE) {
                match records::read_procedure(&key, &text) {
                    Ok(procedure) => {
                        by_digest.insert(digest.to_owned(), Arc::new(procedure));
                    }
                    Err(error) => contents.set_aside(key, error.why(), text),
                }
            } else if key.starts_with(JOB) {
                jobs.push((key, text));
            } else if let Some(why) = odd(&key, &text) {
                contents.set_aside(key, why.to_owned(), text);
            }
        }
        for (key, text) in jobs {
            match job_of(&key, &text, &by_digest) {
                Ok(BackupJob { id, procedure, log }) => contents.jobs.push(Job {
                    id,
                    procedure: by_digest[&procedure].clone(),
                    log,
                }),
                Err(error) => contents.set_aside(key, error.why(), text),
            }
        }
        let procedures = by_digest.into_values();
        contents.procedures = procedures.map(Arc::unwrap_or_clone).collect();
        contents
            .procedures
            .sort_by(|a, b| (&a.id, a.revision).cmp(&(&b.id, b.revision)));
        Ok(contents)
    }

    /// Everything readable, as a backup.
    pub fn backup(&self) -> Result<Backup, StorageError> {
        let ids = self.job_ids()?;
        let mut backup = self.shelf()?;
        let known = self.procedures_by_digest()?;
        for id in ids {
            match self.backup_job(&id, &known)? {
                Some(Ok(job)) => backup.jobs.push(job),
                Some(Err(unread)) => backup.unread.push(unread),
                None => {}
            }
        }
        Ok(backup)
    }

    /// A backup of everything but the jobs, readable or not.
    pub fn shelf(&self) -> Result<Backup, StorageError> {
        let procedures = self.procedures()?;
        let shelf = Backup::of(self.preferences(), self.kit(), procedures, Vec::new());
        Ok(Backup {
            channels: self.channel_tables(),
            unread: self.unread_shelf()?,
            ..shelf
        })
    }

    /// What can't be read beside the jobs, as it is.
    fn unread_shelf(&self) -> Result<Vec<Unread>, StorageError> {
        let mut keys = self.storage.keys()?;
        keys.retain(|key| key.starts_with(PREFIX) && !key.starts_with(JOB));
        keys.sort();
        let mut all = Vec::new();
        for key in keys {
            let Some(text) = self.storage.get(&key)? else {
                continue;
            };
            let why = match key.starts_with(PROCEDURE) {
                true => records::read_procedure(&key, &text).err().map(|e| e.why()),
                false => odd(&key, &text).map(str::to_owned),
            };
            all.extend(why.map(|why| Unread { key, why, text }));
        }
        Ok(all)
    }

    /// The jobs that can't be read, which are in no list, besides those that can.
    pub fn unread_jobs(&self, readable: &[Arc<Line>]) -> Result<Vec<Id>, StorageError> {
        let readable: HashSet<&Id> = readable.iter().map(|line| &line.id).collect();
        let mut ids = self.job_ids()?;
        ids.retain(|id| !readable.contains(id));
        Ok(ids)
    }

    /// The jobs, readable or not, in the order that they have in a backup.
    pub fn job_ids(&self) -> Result<Vec<Id>, StorageError> {
        let keys = self.storage.keys()?;
        let ids = keys.iter().filter_map(|key| key.strip_prefix(JOB));
        let mut ids: Vec<Id> = ids.filter_map(|id| id.parse().ok()).collect();
        ids.sort();
        Ok(ids)
    }

    /// Every procedure that can be read, by its digest.
    pub fn procedures_by_digest(&self) -> Result<HashMap<String, Arc<Procedure>>, StorageError> {
        let keys = self.storage.keys()?;
        let digests = keys.iter().filter_map(|key| key.strip_prefix(PROCEDURE));
        let known = digests.filter_map(|digest| {
            let procedure = self.procedure(digest).ok().flatten()?;
            Some((digest.to_owned(), Arc::new(procedure)))
        });
        Ok(known.collect())
    }

    /// A job for a backup that holds these procedures too, or its text where it can't be read,
    /// as one by another procedure; nothing where there is none.
    pub fn backup_job(
        &self,
        id: &Id,
        known: &HashMap<String, Arc<Procedure>>,
    ) -> Result<Option<Result<BackupJob, Unread>>, StorageError> {
        let key = job_key(id);
        let Some(text) = self.storage.get(&key)? else {
            return Ok(None);
        };
        let job = job_of(&key, &text, known);
        Ok(Some(job.map_err(|error| {
            let why = error.why();
            Unread { key, why, text }
        })))
    }

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
        self.storage.get(PLACE).ok().flatten()
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

    /// What was typed in a step but not entered.
    pub fn draft(&self, job: &Id, step: &Id) -> Option<String> {
        self.storage.get(&draft_key(job, step)).ok().flatten()
    }

    /// Keeps what is being typed; an empty text takes the draft away.
    pub fn save_draft(&self, job: &Id, step: &Id, text: &str) -> Result<(), StorageError> {
        let key = draft_key(job, step);
        match text.is_empty() {
            true => {
                layout::check(&self.storage)?;
                self.storage.remove(&key)
            }
            false => self.write(&key, text),
        }
    }

    /// What was typed in a form or dialog and not sent yet.
    pub fn form(&self, place: &str) -> Option<String> {
        let kept = self.forms().and_then(|mut forms| forms.remove(place));
        // Forms were kept among the drafts of steps once.
        kept.or_else(|| self.storage.get(&format!("{DRAFT}{place}")).ok().flatten())
    }

    /// Where in a job something was typed and not sent yet: the places of its forms, without the
    /// job's own name in front.
    pub fn unsent(&self, job: &Id) -> Vec<String> {
        let forms = self.forms().unwrap_or_default();
        let of_job = format!("{job}:");
        let places = forms.keys().filter_map(|place| place.strip_prefix(&of_job));
        places.map(str::to_owned).collect()
    }

    /// Keeps what is being typed in a form or dialog; an empty text takes it away. All of them
    /// stand together, so that the journal has one entry for them, however many there were.
    pub fn save_form(&self, place: &str, text: &str) -> Result<(), StorageError> {
        let earlier = format!("{DRAFT}{place}");
        if self.storage.size(&earlier)?.is_some() {
            layout::check(&self.storage)?;
            self.storage.remove(&earlier)?;
        }
        let mut forms = match self.forms() {
            Some(forms) => forms,
            None => {
                self.move_aside(FORMS)?;
                Forms::new()
            }
        };
        let before = match text.is_empty() {
            true => forms.remove(place),
            false => forms.insert(place.to_owned(), text.to_owned()),
        };
        match before.unwrap_or_default() == text {
            true => Ok(()),
            false => self.write(FORMS, &records::json(&forms)),
        }
    }

    /// What is typed in all forms; `None` where that can't be read.
    fn forms(&self) -> Option<Forms> {
        match self.storage.get(FORMS).ok().flatten() {
            Some(text) => serde_json::from_str(&text).ok(),
            None => Some(Forms::new()),
        }
    }

    /// Takes away what was typed in the forms of a job and not sent.
    fn drop_forms(&self, job: &Id) -> Result<(), StorageError> {
        let Some(mut forms) = self.forms() else {
            return Ok(());
        };
        let (all, of_job) = (forms.len(), format!("{job}:"));
        forms.retain(|place, _| !place.starts_with(&of_job));
        match forms.len() == all {
            true => Ok(()),
            false => self.write(FORMS, &records::json(&forms)),
        }
    }

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

    /// What was typed in a calculation; nothing where that can't be read.
    pub fn sum(&self, id: &str) -> TypedInputs {
        let text = self.storage.get(&sum_key(id)).ok().flatten();
        text.and_then(|text| records::read_typed(&text))
            .unwrap_or_default()
    }

    /// Keeps what is typed in a calculation; inputs without any take it away.
    pub fn save_sum(&self, id: &str, typed: &TypedInputs) -> Result<(), StorageError> {
        let key = sum_key(id);
        let stored = self.storage.get(&key)?;
        if stored.is_some_and(|text| records::read_typed(&text).is_none()) {
            self.move_aside(&key)?;
        }
        match typed.is_empty() {
            true => {
                layout::check(&self.storage)?;
                self.storage.remove(&key)
            }
            false => self.write(&key, &records::json(typed)),
        }
    }
}

impl Contents {
    fn set_aside(&mut self, key: String, why: String, text: String) {
        self.asides.push(Aside { key, why, text });
    }
}

impl StorageError {
    /// The reason alone, for a list that names the key beside it.
    fn why(&self) -> String {
        match self {
            StorageError::Unreadable { why, .. } => why.clone(),
            other => other.to_string(),
        }
    }
}

/// What is wrong with a value that is neither a job nor a procedure, if something is.
fn odd(key: &str, text: &str) -> Option<&'static str> {
    match key {
        layout::KEY => match layout::read(text) {
            Some(_) => None,
            None => Some("it is not the number of a layout"),
        },
        PREFERENCES => match records::read_preferences(text) {
            Some(_) => None,
            None => Some("the settings in it can't be read"),
        },
        KIT => match records::read_list::<Instrument>(text) {
            Some(_) => None,
            None => Some("the list of instruments in it can't be read"),
        },
        CHANNELS => match records::read_list::<ChannelTable>(text) {
            Some(_) => None,
            None => Some("the channel tables in it can't be read"),
        },
        filed::KEY => match filed::read(text) {
            Some(_) => None,
            None => Some("what is in saved files can't be read from it"),
        },
        FORMS => match serde_json::from_str::<Forms>(text) {
            Ok(_) => None,
            Err(_) => Some("what was typed in forms can't be read from it"),
        },
        PLACE | STEP | COUNT => None,
        _ if key.starts_with(REMOVED) => None,
        // A damaged line is no loss: it is made again.
        _ if key.starts_with(DRAFT) || key.starts_with(LINE) => None,
        _ if key.starts_with(SUM) => match records::read_typed(text) {
            Some(_) => None,
            None => Some("what was typed in this calculation can't be read"),
        },
        _ if key.starts_with(AUTHORING) => match records::read_authored(key, text) {
            Ok(_) => None,
            Err(_) => Some("the procedure being written in it can't be read"),
        },
        _ if key.starts_with(aside::ASIDE) => Some("it was set aside earlier"),
        _ => Some("this version of the app has no use for it"),
    }
}

/// The job in a stored text, which is by one of these procedures.
fn job_of(
    key: &str,
    text: &str,
    by_digest: &HashMap<String, Arc<Procedure>>,
) -> Result<BackupJob, StorageError> {
    let name = key.strip_prefix(JOB).unwrap_or_default();
    let id = name
        .parse::<Id>()
        .map_err(|error| records::unreadable(key, &error.to_string()))?;
    let record = JobRecord::read(key, text)?;
    match by_digest.get(&record.procedure) {
        Some(procedure) => record.checked(key, id, procedure),
        None => Err(records::orphan(key)),
    }
}

/// The log in a stored text, where it is one of the same job by the same procedure.
fn log_to_join(key: &str, text: &str, job: &Job, digest: &str) -> Option<Log> {
    let record = JobRecord::read(key, text).ok()?;
    if record.procedure != digest {
        return None;
    }
    let stored = record.with_procedure(key, job.id.clone(), job.procedure.clone());
    stored.ok().map(|job| job.log)
}

fn job_key(id: &Id) -> String {
    format!("{JOB}{id}")
}

/// How long a text is in UTF-16 code units.
fn units(text: &str) -> usize {
    text.chars().map(char::len_utf16).sum()
}

fn removed_key(id: &Id) -> String {
    format!("{REMOVED}{id}")
}

fn line_key(id: &Id) -> String {
    format!("{LINE}{id}")
}

fn procedure_key(digest: &str) -> String {
    format!("{PROCEDURE}{digest}")
}

fn draft_key(job: &Id, step: &Id) -> String {
    format!("{DRAFT}{job}:{step}")
}

fn sum_key(id: &str) -> String {
    format!("{SUM}{id}")
}

fn authoring_key(id: &Id) -> String {
    format!("{AUTHORING}{id}")
}
