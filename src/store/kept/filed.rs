//! What of the work here is in a saved file too, so that a reminder to save comes by what is
//! at risk.

use crate::exchange::Outcome;
use crate::job::{Job, Line, Log};
use crate::procedure::Id;
use crate::store::{Storage, StorageError, Store, records};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

pub(in crate::store) const KEY: &str = "halfturn:filed";

/// How far each job was when it last went into a file or came out of one.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Filed(BTreeMap<Id, Mark>);

/// How far a job was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Mark {
    /// How many entries its log had.
    entries: usize,
    /// When it had been touched last, in milliseconds since 1970 UTC by the device's clock.
    touched: i64,
}

/// A job that came out of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenIn {
    /// The job, as it is now.
    pub job: Job,
    /// How many entries its log had here before.
    pub before: usize,
    /// How many it has in the file.
    pub brought: usize,
}

impl TakenIn {
    /// A job of a file, by what taking it was said to do, that is now joined with what is here.
    pub fn of(taken: &Job, outcome: &Outcome, joined: Job) -> Self {
        let (adds, keeps) = match outcome {
            Outcome::Merges { adds, keeps, .. } => (*adds, *keeps),
            _ => (taken.log.len(), 0),
        };
        TakenIn {
            before: joined.log.len().saturating_sub(adds),
            brought: taken.log.len().saturating_sub(keeps),
            job: joined,
        }
    }
}

/// Work that is in no file but only here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AtRisk {
    /// In how many jobs.
    pub jobs: usize,
    /// How many entries of their logs.
    pub entries: usize,
    /// Since when, in milliseconds since 1970 UTC by the device's clock.
    pub since: i64,
}

impl AtRisk {
    /// From this many entries on it is worth a word unasked: about what one set takes
    /// (common practice, no source).
    pub const WORTH_A_WORD: usize = 30;
}

impl Mark {
    fn at(log: &Log, entries: usize) -> Self {
        Mark {
            entries,
            touched: log.events().next_back().map_or(0, |event| event.at),
        }
    }
}

impl Filed {
    /// Remembers that a job, as it is in the hand, is in a file.
    pub fn note(&mut self, job: &Id, log: &Log) {
        let mark = Mark::at(log, log.len());
        // An older copy in a file takes nothing from a newer one in another.
        let kept = self.0.entry(job.clone()).or_insert(mark);
        if kept.entries < mark.entries {
            *kept = mark;
        }
    }

    /// Remembers that a job came out of a file. What was in no file before, and is not in this
    /// one, still is in none.
    fn note_taken_in(&mut self, taken: &TakenIn) {
        let TakenIn {
            job,
            before,
            brought,
        } = taken;
        let filed = self.0.get(&job.id).map_or(0, |mark| mark.entries);
        let only_here = job.log.len().saturating_sub(*brought);
        let at_risk = before.saturating_sub(filed).min(only_here);
        let mark = Mark::at(&job.log, job.log.len() - at_risk);
        self.0.insert(job.id.clone(), mark);
    }

    /// What is in no file; nothing where all is.
    pub fn at_risk<'a>(&self, lines: impl IntoIterator<Item = &'a Line>) -> Option<AtRisk> {
        let mut risk: Option<AtRisk> = None;
        for line in lines {
            let mark = self.0.get(&line.id);
            let filed = mark.map_or(0, |mark| mark.entries);
            let entries = line.entries.saturating_sub(filed);
            if entries == 0 {
                continue;
            }
            let since = mark.map_or(line.started, |mark| mark.touched);
            let all = risk.get_or_insert(AtRisk {
                jobs: 0,
                entries: 0,
                since,
            });
            all.jobs += 1;
            all.entries += entries;
            all.since = all.since.min(since);
        }
        risk
    }
}

pub(super) fn read(text: &str) -> Option<Filed> {
    serde_json::from_str(text).ok()
}

impl<S: Storage> Store<S> {
    /// What is in saved files; nothing where that can't be read.
    pub fn filed(&self) -> Filed {
        let text = self.storage.get(KEY).ok().flatten();
        text.and_then(|text| read(&text)).unwrap_or_default()
    }

    /// Remembers that jobs, as they are in the hand, are in a file.
    pub fn note_filed<'a>(
        &self,
        jobs: impl IntoIterator<Item = (&'a Id, &'a Log)>,
    ) -> Result<(), StorageError> {
        let mut filed = self.filed();
        for (job, log) in jobs {
            filed.note(job, log);
        }
        self.save_filed(&filed)
    }

    /// Remembers that jobs came out of a file.
    pub fn note_taken_in(&self, taken: &[TakenIn]) -> Result<(), StorageError> {
        let mut filed = self.filed();
        taken.iter().for_each(|taken| filed.note_taken_in(taken));
        self.save_filed(&filed)
    }

    /// Forgets a job that is taken off this device, for what comes back later may be less.
    pub(super) fn forget_filed(&self, job: &Id) -> Result<(), StorageError> {
        let mut filed = self.filed();
        match filed.0.remove(job) {
            Some(_) => self.save_filed(&filed),
            None => Ok(()),
        }
    }

    fn save_filed(&self, filed: &Filed) -> Result<(), StorageError> {
        let stored = self.storage.get(KEY)?;
        if stored.is_some_and(|text| read(&text).is_none()) {
            self.move_aside(KEY)?;
        }
        self.write(KEY, &records::json(filed))
    }
}
