//! All that is kept, and what can't be read of it.

use crate::exchange::{Backup, BackupJob, Unread};
use crate::job::Job;
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::radio::channels::ChannelTable;
use crate::store::kept::aside;
use crate::store::kept::device;
use crate::store::kept::filed;
use crate::store::kept::jobs::job_of;
use crate::store::kept::typed::Forms;
use crate::store::keys::{
    AUTHORING, CHANNELS, COUNT, DEVICE, DRAFT, FORMS, JOB, KIT, LINE, PLACE, PREFERENCES, PREFIX,
    PROCEDURE, REMOVED, STEP, SUM, job_key,
};
use crate::store::storage::units;
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, layout, records};
use std::collections::HashMap;
use std::sync::Arc;

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

impl<S: Storage> Store<S> {
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
}

impl Contents {
    fn set_aside(&mut self, key: String, why: String, text: String) {
        self.asides.push(Aside { key, why, text });
    }
}

/// What is wrong with a value that is neither a job nor a procedure, if something is.
pub(in crate::store) fn odd(key: &str, text: &str) -> Option<&'static str> {
    match key {
        layout::KEY => match layout::read(text) {
            Some(_) => None,
            None => Some("it is not the number of a layout"),
        },
        PREFERENCES => match records::read_preferences(text) {
            Some(_) => None,
            None => Some("the settings in it can't be read"),
        },
        DEVICE => match device::read(text) {
            Some(_) => None,
            None => Some("what is set for this device can't be read from it"),
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
