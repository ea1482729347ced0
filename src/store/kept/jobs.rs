//! The jobs.

use crate::exchange::BackupJob;
use crate::job::{Job, Line, Log};
use crate::procedure::{Id, Procedure};
use crate::store::kept::last::{CUT, Last};
use crate::store::keys::DRAFT;
use crate::store::keys::{JOB, job_key, procedure_key, removed_key};
use crate::store::records::JobRecord;
use crate::store::storage::{Storage, StorageError};
use crate::store::{Store, layout, records};
use std::collections::{HashMap, HashSet};
use std::sync::{Arc, MutexGuard, PoisonError};

/// A job as it is stored, and the fingerprint that its procedure should have.
#[derive(Clone, Debug)]
pub struct Unchecked {
    /// The job.
    pub job: Job,
    digest: String,
}

/// A way to read a procedure out of a text under a key.
type ReadProcedure = fn(&str, &str) -> Result<Procedure, StorageError>;

/// What the mark of a removed job says, and what it begins with once the job came back.
const REMOVED_NOW: &str = "removed";

const BACK: &str = "back ";

impl<S: Storage> Store<S> {
    /// The job with this id. One that can't be read loses its line, for it is no job to list; one
    /// with damaged entries gets another, for the old one counts them.
    pub fn job(&self, id: &Id) -> Result<Option<Job>, StorageError> {
        let found = self.read_job(id, records::read_procedure);
        match &found {
            Err(error) => self.note_unreadable(id, error),
            Ok(Some(found)) => self.note_damaged(&found.job),
            Ok(None) => {}
        }
        Ok(found?.map(|found| found.job))
    }

    /// The same, of which nobody has looked yet whether its procedure is what it was published as.
    /// To show what is to be done it will do for a moment; before anything is written,
    /// [`Store::check`] it.
    pub fn unchecked_job(&self, id: &Id) -> Result<Option<Unchecked>, StorageError> {
        let Ok(found) = self.read_job(id, records::read_unchecked) else {
            // What is wrong is said as anywhere else.
            return self.job(id).map(|_| None);
        };
        if let Some(found) = &found {
            self.note_damaged(&found.job);
        }
        Ok(found)
    }

    /// Whether the procedure of a job is the one that it names.
    pub fn check(&self, found: &Unchecked) -> Result<(), StorageError> {
        let Unchecked { job, digest } = found;
        let checked = records::check_procedure(&procedure_key(digest), &job.procedure);
        checked.inspect_err(|error| self.note_unreadable(&job.id, error))
    }

    fn note_unreadable(&self, id: &Id, error: &StorageError) {
        if matches!(error, StorageError::Unreadable { .. }) {
            self.drop_line(id);
        }
    }

    fn note_damaged(&self, job: &Job) {
        if job.log.damaged().len() > 0 {
            self.drop_line(&job.id);
            self.leave_line_behind(&job.id);
        }
    }

    fn read_job(&self, id: &Id, read: ReadProcedure) -> Result<Option<Unchecked>, StorageError> {
        let key = job_key(id);
        let Some(text) = self.storage.get(&key)? else {
            return Ok(None);
        };
        let record = JobRecord::read(&key, &text)?;
        let digest = record.procedure.clone();
        let procedure = procedure_key(&digest);
        let Some(text) = self.storage.get(&procedure)? else {
            return Err(records::orphan(&key));
        };
        let procedure = read(&procedure, &text)?;
        let job = record.with_procedure(&key, id.clone(), procedure)?;
        Ok(Some(Unchecked { job, digest }))
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
        if let Some(number) = self.add_entries(&key, job, &digest)? {
            self.note_saved(&key, job, digest, (number, true))?;
            return Ok(job.clone());
        }
        let joined = self.joined(&key, job, &digest)?;
        if !joined.log.is_readable() {
            return Err(StorageError::TooLong);
        }
        let text = JobRecord::new(digest.clone(), joined.log.clone()).text();
        layout::check(&self.storage)?;
        let number = self.storage.put(&key, &text)?;
        let is_open = !joined.log.is_signed_off();
        self.note_saved(&key, &joined, digest, (number, is_open))?;
        Ok(joined)
    }

    /// Writes what a job has beyond the one saved last behind that, where it is stored as it was
    /// written: a log grows, and to write all of it anew at each entry costs more each time. Gives
    /// the number of the text that is stored then.
    fn add_entries(&self, key: &str, job: &Job, digest: &str) -> Result<Option<u64>, StorageError> {
        let end = {
            let last = self.last();
            let last = last.as_ref().filter(|last| last.digest == digest);
            let last = last.filter(|last| last.is_before(job) && job.log.is_readable());
            last.and_then(|last| Some((last.number, last.new_end(&job.log)?)))
        };
        let Some((number, end)) = end else {
            return Ok(None);
        };
        layout::check(&self.storage)?;
        self.storage.put_end(key, number, CUT, &end)
    }

    /// The job, with what is stored of it and it lacks.
    fn joined(&self, key: &str, job: &Job, digest: &str) -> Result<Job, StorageError> {
        let number = self
            .last()
            .as_ref()
            .map(|last| (last.number, last.is_before(job)));
        if let Some((number, true)) = number
            && self.storage.is(key, number)?
        {
            return Ok(job.clone());
        }
        let Some(text) = self.storage.get(key)? else {
            return Ok(job.clone());
        };
        Ok(match log_to_join(key, &text, job, digest) {
            Some(log) => Job {
                log: log.merge(&job.log),
                ..job.clone()
            },
            None => {
                self.move_aside(key)?;
                job.clone()
            }
        })
    }

    /// A job was written: what follows for its line and the journal, and what the next entry is
    /// held against.
    fn note_saved(
        &self,
        key: &str,
        job: &Job,
        digest: String,
        (number, is_open): (u64, bool),
    ) -> Result<(), StorageError> {
        self.note_written(key, false);
        self.leave_line_behind(&job.id);
        let procedure = self.storage.size(&procedure_key(&digest))?;
        *self.last() = Some(Last {
            job: job.clone(),
            digest,
            procedure: procedure.unwrap_or_default(),
            number,
            is_open,
        });
        Ok(())
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
