//! The journal: what was just written, once more, in a place that is on the disk at once.
//!
//! A browser writes local storage to the disk when it sees fit. Chromium waits five seconds
//! after a change, allows itself 60 commits and 10 MiB an hour, and makes up for more by waiting
//! longer (`kCommitDefaultDelaySecs`, `kMaxCommitsPerHour` and `kMaxBytesPerHour` in its
//! `local_storage_impl.cc`): after a busy hour it can be tens of minutes behind. So whatever is
//! called done goes into the journal too, key by key, and counts as kept once it is there.
//!
//! A page first looks into the journal and puts back what the storage lost; until then, and
//! while a writing fails, what is due stays due. An entry's key is unlike any other page's and
//! is written once, so nobody overwrites or takes away what another page has just written.
//! Entries are old by what came behind them, never by a clock: `halfturn:count` counts how often
//! each key was written, and what the storage has counted it has. Entries go when one is written
//! that holds all of them, so the journal never has much more than one for each key.

mod known;

pub(super) use self::known::Journal;

use crate::store::journal::known::{Counts, Known, Part};
mod record;
mod rejoin;

pub use self::rejoin::Rejoined;

use super::kept::aside;
use super::records::{self, JobRecord};
use crate::procedure::Id;
use crate::store::journal::record::name;
use crate::store::keys::job_key;
use crate::store::keys::{COUNT, JOB, PROCEDURE, REMOVED};
use crate::store::{Storage, StorageError, Store};
use std::collections::BTreeMap;
use std::mem::take;
use std::sync::{MutexGuard, PoisonError};

/// A key of the journal and the text under it; none where a key of the storage was taken away.
pub type Entry = (String, Option<String>);

/// How many entries of one job a page writes before one with the whole job takes their place.
const MOST_PARTS: usize = 64;

/// What is to be written into the journal in one go, and what may go.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Due {
    /// What is to be written.
    pub entries: Vec<Entry>,
    /// The keys of entries whose place is taken.
    pub outdated: Vec<String>,
}

/// Whether a key is kept in the journal too: what somebody was told is saved, what they typed in
/// a form that they find again, and where they were.
fn is_kept(key: &str) -> bool {
    let lasting = [
        JOB,
        PROCEDURE,
        REMOVED,
        crate::store::keys::AUTHORING,
        aside::ASIDE,
        crate::store::keys::PREFERENCES,
        crate::store::keys::DEVICE,
        crate::store::keys::KIT,
        crate::store::keys::CHANNELS,
        crate::store::kept::filed::KEY,
        crate::store::keys::FORMS,
        crate::store::keys::PLACE,
    ];
    lasting.iter().any(|begin| key.starts_with(begin))
}

/// Whether what is under a key only grows or never changes, so that copies are joined.
fn is_joined(key: &str) -> bool {
    key.starts_with(JOB) || key.starts_with(PROCEDURE)
}

impl<S: Storage> Store<S> {
    fn journal(&self) -> MutexGuard<'_, Journal> {
        // Nothing panics while it is held.
        self.journal.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn counts(&self) -> Counts {
        let text = self.storage.get(COUNT).ok().flatten();
        text.and_then(|text| serde_json::from_str(&text).ok())
            .unwrap_or_default()
    }

    fn count(&self, key: &str) -> u64 {
        self.counts().get(key).copied().unwrap_or(0)
    }

    /// Where it can't be written, what it counts is put back once more at the next start.
    fn write_counts(&self, counts: &Counts) {
        let _ = self.storage.set(COUNT, &records::json(counts));
    }

    /// One more than a key was written before.
    pub(super) fn count_up(&self, key: &str) -> u64 {
        let mut counts = self.counts();
        let count = counts.entry(key.to_owned()).or_default();
        *count += 1;
        let number = *count;
        self.write_counts(&counts);
        number
    }

    /// A key was written or taken away: it is due. What is replaced by what comes later needs a
    /// number of its own; what is joined needs none but the last.
    pub(super) fn note_written(&self, key: &str, is_gone: bool) {
        if !is_kept(key) {
            return;
        }
        let number = match is_gone || !is_joined(key) {
            true => self.count_up(key),
            false => self.count(key),
        };
        self.journal().due.insert(key.to_owned(), number);
        if let Some(wake) = self.wake.get() {
            wake();
        }
    }

    /// A key is due unless it is known to be in the journal: another page may have written it
    /// and not have come so far.
    pub(super) fn owe(&self, key: &str) {
        let is_there = {
            let journal = self.journal();
            let is_coming = || journal.under_way.iter().any(|part| part.key == key);
            journal.kept.contains_key(key) || is_coming()
        };
        if !is_there {
            self.note_written(key, false);
        }
    }

    /// Calls back whenever something is due.
    pub fn on_due(&self, wake: impl Fn() + Send + Sync + 'static) {
        // Only the first to ask is called.
        let _ = self.wake.set(Box::new(wake));
    }

    /// Whether all that was written is in the journal.
    pub fn is_all_kept(&self) -> bool {
        let journal = self.journal();
        journal.page.is_some() && journal.due.is_empty() && journal.under_way.is_empty()
    }

    /// Whether an event of a stored job is in the journal.
    pub fn is_event_kept(&self, job: &Id, event: &Id) -> bool {
        let key = job_key(job);
        let journal = self.journal();
        let is_owed =
            journal.due.contains_key(&key) || journal.under_way.iter().any(|part| part.key == key);
        let is_known = |known: &Known| known.log.has(event);
        !is_owed || journal.events.get(&key).is_some_and(is_known)
    }

    /// What is to be written now, if the page has looked and owes something. `settle` has to
    /// follow before this is asked again.
    pub fn due(&self) -> Result<Option<Due>, StorageError> {
        let mut journal = self.journal();
        let Some(page) = journal.page.clone() else {
            return Ok(None);
        };
        let mut entries = Vec::new();
        let mut parts = Vec::new();
        for (key, number) in self.with_marks(&journal.due)? {
            journal.named += 1;
            let name = name(number, &page, journal.named, &key);
            let (part, text) = self.part(&journal, key, number, name)?;
            entries.push((part.name.clone(), text));
            parts.push(part);
        }
        let mut outdated = journal.outdated.clone();
        let replaced = parts.iter().filter(|part| part.is_whole);
        let replaced = replaced.filter_map(|part| journal.kept.get(&part.key));
        outdated.extend(replaced.flatten().cloned());
        if entries.is_empty() && outdated.is_empty() {
            return Ok(None);
        }
        journal.due.clear();
        journal.under_way = parts;
        Ok(Some(Due { entries, outdated }))
    }

    /// The same with what was said of the removal of jobs, without which their entries would
    /// count for nothing where another page brought them back.
    fn with_marks(
        &self,
        due: &BTreeMap<String, u64>,
    ) -> Result<BTreeMap<String, u64>, StorageError> {
        let mut all = due.clone();
        for id in due.keys().filter_map(|key| key.strip_prefix(JOB)) {
            let mark = format!("{REMOVED}{id}");
            if self.storage.size(&mark)?.is_some() {
                let number = self.count(&mark);
                all.entry(mark).or_insert(number);
            }
        }
        Ok(all)
    }

    /// The entry of a key: of a job that is known there only what is new, else all.
    fn part(
        &self,
        journal: &Journal,
        key: String,
        number: u64,
        name: String,
    ) -> Result<(Part, Option<String>), StorageError> {
        let last = self.last();
        let last = last.as_ref().filter(|last| job_key(&last.job.id) == key);
        let last = match last {
            Some(last) if self.storage.is(&key, last.number)? => Some(last),
            _ => None,
        };
        let removed = match key.strip_prefix(JOB) {
            Some(id) => self.storage.get(&format!("{REMOVED}{id}")).ok().flatten(),
            None => None,
        };
        let known = last.map(|last| Known {
            log: last.job.log.clone(),
            removed: removed.clone(),
        });
        let few = journal.kept.get(&key).is_some_and(|k| k.len() < MOST_PARTS);
        let before = journal.events.get(&key);
        let before = before.filter(|before| few && before.removed == removed);
        let new = last.zip(before).map(|(last, before)| {
            let log = last.job.log.beyond(&before.log);
            JobRecord::new(last.digest.clone(), log).text()
        });
        let is_whole = new.is_none();
        let text = match new {
            Some(new) => Some(new),
            None => self.storage.get(&key)?,
        };
        let part = Part {
            is_whole,
            key,
            number,
            name,
            known,
        };
        Ok((part, text))
    }

    /// What became of what was due. What was not written is due again, jobs as a whole.
    pub fn settle(&self, is_written: bool) {
        let mut journal = self.journal();
        let parts = take(&mut journal.under_way);
        if is_written {
            journal.outdated.clear();
        }
        for part in parts {
            if !is_written {
                journal.events.remove(&part.key);
                journal.due.entry(part.key).or_insert(part.number);
                // It may have arrived all the same, and would be taken for what came later.
                journal.outdated.push(part.name);
                continue;
            }
            let kept = journal.kept.entry(part.key.clone()).or_default();
            if part.is_whole {
                kept.clear();
            }
            kept.push(part.name);
            match part.known {
                Some(known) => journal.events.insert(part.key, known),
                None => journal.events.remove(&part.key),
            };
        }
    }
}
