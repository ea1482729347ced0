//! The journal: what was just entered, once more, in a place that is on the disk at once.
//!
//! A browser writes local storage to the disk when it sees fit. Chromium waits five seconds
//! after a change, allows itself 60 commits and 10 MiB an hour, and makes up for more by waiting
//! longer (`kCommitDefaultDelaySecs`, `kMaxCommitsPerHour` and `kMaxBytesPerHour` in its
//! `local_storage_impl.cc`): after a busy hour it can be tens of minutes behind. So an entry
//! stays in the journal for a day, and the first entry of a job on a page holds its whole log.

use super::records::{self, JobRecord};
use super::{Storage, StorageError, Store};
use crate::job::{Job, Log};
use crate::procedure::{Id, Procedure};
use std::collections::{BTreeMap, HashMap, HashSet};

/// How long an entry stays, in milliseconds.
pub const STAYS: i64 = 24 * 60 * 60 * 1000;

const JOB: &str = "job:";
const PROCEDURE: &str = "procedure:";

/// A key and the text under it.
pub type Entry = (String, String);

/// What this page knows to be in the journal.
#[derive(Debug, Default)]
pub struct Journal {
    events: HashMap<Id, HashSet<Id>>,
    procedures: HashSet<String>,
    /// The keys, with the times when they were written or found.
    keys: HashMap<String, i64>,
}

/// What is to be written, and what may go.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Due {
    /// What is to be written.
    pub entries: Vec<Entry>,
    /// The keys of entries that have stayed long enough.
    pub outdated: Vec<String>,
    /// The events that count as saved once this is done.
    pub events: Vec<Id>,
}

impl Journal {
    /// What is to be written so that all of a job is in the journal.
    pub fn due(&mut self, job: &Job, digest: &str, now: i64) -> Due {
        let known = self.events.entry(job.id.clone()).or_default();
        let log = job.log.beyond(known);
        let events: Vec<Id> = log.events().map(|event| event.id.clone()).collect();
        let Some(first) = events.first() else {
            return Due::default();
        };
        known.extend(events.iter().cloned());
        let record = JobRecord::new(digest.to_owned(), log);
        let mut entries = vec![(format!("{}{first}", prefix(&job.id)), record.text())];
        if self.procedures.insert(digest.to_owned()) {
            let text = records::procedure_text(&job.procedure);
            entries.push((format!("{PROCEDURE}{digest}"), text));
        }
        self.found(&entries, now);
        let outdated = self.take_outdated(now);
        Due {
            entries,
            outdated,
            events,
        }
    }

    /// What was found in it at the start.
    pub fn found(&mut self, entries: &[Entry], now: i64) {
        let keys = entries.iter().map(|(key, _)| (key.clone(), now));
        self.keys.extend(keys);
    }

    /// What was due could not be written: the whole job is due again with its next event.
    pub fn lost(&mut self, job: &Id) {
        self.events.remove(job);
        self.procedures.clear();
    }

    fn take_outdated(&mut self, now: i64) -> Vec<String> {
        let is_old = |since: i64| since.saturating_add(STAYS) < now;
        let keys = self.keys.extract_if(|_, since| is_old(*since));
        keys.map(|(key, _)| key).collect()
    }
}

/// What the keys of all entries of a job begin with.
pub fn prefix(job: &Id) -> String {
    format!("{JOB}{job}:")
}

/// What the journal had that the storage lacked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rejoined {
    /// How many events were put back, by job.
    pub jobs: Vec<(Id, usize)>,
    /// How many jobs the journal has entries of that could not be put back.
    pub failed: usize,
}

impl<S: Storage> Store<S> {
    /// Joins what is in the journal into the jobs, and says what they had lost.
    pub fn rejoin(&self, entries: &[Entry]) -> Rejoined {
        let mut logs: BTreeMap<Id, (String, Log)> = BTreeMap::new();
        let mut rejoined = Rejoined::default();
        for (key, text) in entries {
            let Some((id, record)) = read(key, text) else {
                rejoined.failed += usize::from(key.starts_with(JOB));
                continue;
            };
            let log = record.log();
            let job = logs.entry(id).or_default();
            *job = (record.procedure, job.1.merge(&log));
        }
        for (id, (digest, log)) in logs {
            match self.rejoin_job(&id, &digest, &log, entries) {
                Ok(0) => {}
                Ok(events) => rejoined.jobs.push((id, events)),
                Err(_) => rejoined.failed += 1,
            }
        }
        rejoined
    }

    /// Gives how many events the job lacked.
    fn rejoin_job(
        &self,
        id: &Id,
        digest: &str,
        log: &Log,
        entries: &[Entry],
    ) -> Result<usize, StorageError> {
        let stored = match self.job(id) {
            // The journal may have all of a job that was damaged; what is left of that is set
            // aside when the job is saved.
            Err(StorageError::Unreadable { .. }) => None,
            found => found?,
        };
        let lacks = stored.as_ref().map_or(log.len(), |job| job.log.lacks(log));
        if lacks == 0 {
            return Ok(0);
        }
        let key = format!("{PROCEDURE}{digest}");
        let procedure = match self.procedure(digest)? {
            Some(procedure) => procedure,
            None => journal_procedure(&key, entries)?,
        };
        let record = JobRecord::new(digest.to_owned(), log.clone());
        let job = match stored {
            Some(job) => Job {
                log: job.log.merge(log),
                ..job
            },
            None => record.with_procedure(&key, id.clone(), procedure)?,
        };
        self.save_job(&job).map(|_| lacks)
    }
}

fn journal_procedure(key: &str, entries: &[Entry]) -> Result<Procedure, StorageError> {
    match entries.iter().find(|(other, _)| other == key) {
        Some((_, text)) => records::read_procedure(key, text),
        None => Err(records::orphan(key)),
    }
}

fn read(key: &str, text: &str) -> Option<(Id, JobRecord)> {
    let (job, _event) = key.strip_prefix(JOB)?.rsplit_once(':')?;
    let record = JobRecord::read(key, text).ok()?;
    Some((job.parse().ok()?, record))
}
