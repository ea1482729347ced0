//! The jobs.

use crate::exchange::BackupJob;
use crate::job::{Job, Line, Log};
use crate::procedure::{Id, Procedure};
use crate::store::kept::last::Last;
use crate::store::keys::DRAFT;
use crate::store::keys::{JOB, job_key, procedure_key, removed_key};
use crate::store::records::JobRecord;
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, layout, records};
use std::collections::{HashMap, HashSet};
use std::sync::{Arc, MutexGuard, PoisonError};

/// What the mark of a removed job says, and what it begins with once the job came back.
const REMOVED_NOW: &str = "removed";

const BACK: &str = "back ";

impl<S: Storage> Store<S> {
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

    pub(in crate::store) fn last(&self) -> MutexGuard<'_, Option<Last>> {
        // Nothing panics while it is held, and what it holds is only a shortcut.
        self.last.lock().unwrap_or_else(PoisonError::into_inner)
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

    pub(in crate::store) fn is_removed(&self, id: &Id) -> bool {
        let mark = self.storage.get(&removed_key(id)).ok().flatten();
        mark.is_some_and(|mark| !mark.starts_with(BACK))
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
}

/// The job in a stored text, which is by one of these procedures.
pub(in crate::store) fn job_of(
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
