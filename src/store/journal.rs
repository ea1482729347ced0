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

use super::records::{self, JobRecord};
use super::{COUNT, JOB, PROCEDURE, REMOVED, Storage, StorageError, Store, aside, layout, odd};
use crate::job::{Job, Log};
use crate::procedure::Id;
use std::collections::{BTreeMap, HashMap};
use std::mem::take;
use std::sync::{MutexGuard, PoisonError};

/// A key of the journal and the text under it; none where a key of the storage was taken away.
pub type Entry = (String, Option<String>);

/// How many entries of one job a page writes before one with the whole job takes their place.
const MOST_PARTS: usize = 64;

/// What this page knows of the journal, and what it owes to it.
#[derive(Default)]
pub(super) struct Journal {
    /// What this page is called there, once it has looked into it.
    page: Option<String>,
    /// The keys of the storage that were written, with the number of that writing.
    due: BTreeMap<String, u64>,
    /// What is being written into the journal.
    under_way: Vec<Part>,
    /// The entries of each key of the storage, all of which the storage has.
    kept: HashMap<String, Vec<String>>,
    /// Which events of a job are in those entries, where that is known.
    events: HashMap<String, Known>,
    /// Entries that hold nothing that another doesn't.
    outdated: Vec<String>,
    /// How many entries this page has named.
    named: u64,
}

/// What of a job is in the journal.
struct Known {
    log: Log,
    /// What was said of its removal then: one that came back is to be written as a whole.
    removed: Option<String>,
}

/// How often each key was written, as far as the storage knows.
type Counts = BTreeMap<String, u64>;

/// An entry that is being written.
struct Part {
    key: String,
    number: u64,
    name: String,
    /// Whether it holds all of the key's text, so that it takes the place of what is kept.
    is_whole: bool,
    known: Option<Known>,
}

/// What is to be written into the journal in one go, and what may go.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Due {
    /// What is to be written.
    pub entries: Vec<Entry>,
    /// The keys of entries whose place is taken.
    pub outdated: Vec<String>,
}

/// What the journal had that the storage lacked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rejoined {
    /// How many events were put back, by job.
    pub jobs: Vec<(Id, usize)>,
    /// How many other things were put back.
    pub others: usize,
    /// Whether the address last looked at was another than the storage had.
    pub place: bool,
    /// How many things the journal has that could not be put back.
    pub failed: usize,
}

/// Whether a key is kept in the journal too: what somebody was told is saved, what they typed in
/// a form that they find again, and where they were.
fn is_kept(key: &str) -> bool {
    let lasting = [
        JOB,
        PROCEDURE,
        REMOVED,
        super::AUTHORING,
        aside::ASIDE,
        super::PREFERENCES,
        super::KIT,
        super::CHANNELS,
        super::filed::KEY,
        super::FORMS,
        super::PLACE,
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
        let key = super::job_key(job);
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
            let text = self.storage.get(&key)?;
            journal.named += 1;
            let name = name(number, &page, journal.named, &key);
            let (part, text) = self.part(&journal, key, number, name, text);
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
        text: Option<String>,
    ) -> (Part, Option<String>) {
        let last = self.last();
        let is_it = |last: &&super::Last| {
            super::job_key(&last.job.id) == key && Some(&last.text) == text.as_ref()
        };
        let last = last.as_ref().filter(is_it);
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
        let part = Part {
            is_whole: new.is_none(),
            key,
            number,
            name,
            known,
        };
        (part, new.or(text))
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

    /// Puts back what the journal has and the storage lost, and says what that was. From now on
    /// this page, by a name that no other has, writes what it owes.
    pub fn rejoin(&self, page: &str, entries: &[Entry]) -> Rejoined {
        let mut rejoined = Rejoined::default();
        let mut by_key: BTreeMap<String, Vec<Record>> = BTreeMap::new();
        for (name, text) in entries {
            match Record::read(name, text.as_deref()) {
                Some(record) => by_key.entry(record.key.clone()).or_default().push(record),
                None => rejoined.failed += usize::from(text.is_some()),
            }
        }
        let mut counts = self.counts();
        // First what says which jobs are gone, and what jobs need.
        let (mut jobs, mut others): (Vec<_>, Vec<_>) = by_key
            .into_iter()
            .partition(|(key, _)| key.starts_with(JOB));
        for (key, records) in others.iter_mut().chain(&mut jobs) {
            records.sort_by(|a, b| a.order().cmp(&b.order()));
            let count = counts.entry(key.clone()).or_default();
            let done = match key.starts_with(JOB) {
                true => self.rejoin_job(key, records, *count, &mut rejoined),
                false => self.rejoin_text(key, records, *count, &mut rejoined),
            };
            let last = records.last().map_or(0, |record| record.number);
            match done {
                Ok(()) => *count = last.max(*count),
                Err(_) => rejoined.failed += 1,
            }
        }
        self.begin(page, counts);
        rejoined
    }

    /// From now on this page owes what it wrote, by numbers behind all that were found.
    fn begin(&self, page: &str, mut counts: Counts) {
        let mut journal = self.journal();
        for (key, number) in &mut journal.due {
            let count = counts.entry(key.clone()).or_default();
            *count += 1;
            *number = *count;
        }
        journal.page = Some(page.to_owned());
        drop(journal);
        counts.retain(|_, count| *count > 0);
        if counts != self.counts() && layout::check(&self.storage).is_ok() {
            self.write_counts(&counts);
        }
    }

    /// Of what is replaced the last text counts.
    fn rejoin_text(
        &self,
        key: &str,
        records: &[Record],
        count: u64,
        rejoined: &mut Rejoined,
    ) -> Result<(), StorageError> {
        let Some((newest, older)) = records.split_last() else {
            return Ok(());
        };
        {
            let mut journal = self.journal();
            let older = older.iter().map(|record| record.name.clone());
            journal.outdated.extend(older);
            journal
                .kept
                .insert(key.to_owned(), vec![newest.name.clone()]);
            if journal.due.contains_key(key) {
                return Ok(());
            }
        }
        let stored = self.storage.get(key)?;
        if stored.as_deref() == newest.text {
            return Ok(());
        }
        let is_odd = stored.as_ref().is_some_and(|text| is_unreadable(key, text));
        let is_lost = key.starts_with(PROCEDURE) && stored.is_none();
        if newest.number <= count && !is_odd && !is_lost {
            return Ok(());
        }
        layout::check(&self.storage)?;
        if is_odd {
            self.move_aside(key)?;
        }
        match newest.text {
            Some(text) => self.storage.set(key, text)?,
            None => self.storage.remove(key)?,
        }
        match key {
            super::PLACE => rejoined.place = true,
            _ => rejoined.others += 1,
        }
        Ok(())
    }

    /// Of a job every entry counts that was made since it was removed last.
    fn rejoin_job(
        &self,
        key: &str,
        records: &[Record],
        count: u64,
        rejoined: &mut Rejoined,
    ) -> Result<(), StorageError> {
        let id: Id = key[JOB.len()..].parse().map_err(|_| records::orphan(key))?;
        let gone = records.iter().rposition(|record| record.text.is_none());
        let (before, since) = records.split_at(gone.map_or(0, |gone| gone + 1));
        // What a hand on this page brought back meanwhile stays.
        let is_due = self.journal().due.contains_key(key);
        let is_gone_anew = before.last().is_some_and(|gone| gone.number > count);
        if is_gone_anew && !is_due || self.is_removed(&id) {
            layout::check(&self.storage)?;
            self.storage.remove(key)?;
            self.drop_line(&id);
        }
        if !self.is_removed(&id) {
            self.join_records(&id, key, since, rejoined)?;
        }
        // Of what was before the removal only that itself is needed, until something came since.
        let unneeded = match since.is_empty() {
            true => before.len().saturating_sub(1),
            false => before.len(),
        };
        let mut names = records.iter().map(|record| record.name.clone());
        let mut journal = self.journal();
        journal.outdated.extend(names.by_ref().take(unneeded));
        let names: Vec<String> = names.collect();
        if names.len() > 1 {
            journal.due.entry(key.to_owned()).or_insert(count);
        }
        journal.kept.insert(key.to_owned(), names);
        Ok(())
    }

    fn join_records(
        &self,
        id: &Id,
        key: &str,
        records: &[Record],
        rejoined: &mut Rejoined,
    ) -> Result<(), StorageError> {
        let texts = records.iter().filter_map(|record| record.text);
        let read: Vec<_> = texts.map(|text| JobRecord::read(key, text)).collect();
        let bad = read
            .iter()
            .find_map(|record| record.as_ref().err().cloned());
        let mut found: Option<(String, Log)> = None;
        for record in read.into_iter().flatten() {
            let log = record.log();
            found = Some(match found {
                Some((digest, other)) => (digest, other.merge(&log)),
                None => (record.procedure, log),
            });
        }
        if let Some((digest, log)) = found {
            self.join_log(id, key, digest, &log, rejoined)?;
        }
        bad.map_or(Ok(()), Err)
    }

    fn join_log(
        &self,
        id: &Id,
        key: &str,
        digest: String,
        log: &Log,
        rejoined: &mut Rejoined,
    ) -> Result<(), StorageError> {
        let stored = match self.job(id) {
            // The journal may have all of a job that was damaged; what is left of that is set
            // aside when the job is saved.
            Err(StorageError::Unreadable { .. }) => None,
            found => found?,
        };
        let lacks = stored.as_ref().map_or(log.len(), |job| job.log.lacks(log));
        if lacks == 0 {
            return Ok(());
        }
        let job = match stored {
            Some(job) => Job {
                log: job.log.merge(log),
                ..job
            },
            None => {
                let procedure = self
                    .procedure(&digest)?
                    .ok_or_else(|| records::orphan(key))?;
                JobRecord::new(digest, log.clone()).with_procedure(key, id.clone(), procedure)?
            }
        };
        self.save_job(&job)?;
        rejoined.jobs.push((id.clone(), lacks));
        Ok(())
    }
}

fn is_unreadable(key: &str, text: &str) -> bool {
    match key.starts_with(PROCEDURE) {
        true => records::read_procedure(key, text).is_err(),
        // What was set aside is odd and stays so.
        false => !key.starts_with(aside::ASIDE) && odd(key, text).is_some(),
    }
}

/// What an entry says.
struct Record<'a> {
    key: String,
    number: u64,
    name: String,
    /// Which of the entries with its number it is.
    tie: (&'a str, u64),
    text: Option<&'a str>,
}

impl<'a> Record<'a> {
    /// An entry by its name; nothing where the name is none of ours.
    fn read(name: &'a str, text: Option<&'a str>) -> Option<Self> {
        let mut parts = name.splitn(4, '.');
        let number = parts.next().and_then(|number| number.parse().ok());
        let (key, number, tie) = match (number, parts.next(), parts.next(), parts.next()) {
            (Some(number), Some(page), Some(which), Some(key)) => {
                (key.to_owned(), number, (page, which.parse().ok()?))
            }
            _ => (earlier(name, text?)?, 0, (name, 0)),
        };
        is_kept(&key).then(|| Record {
            key,
            number,
            name: name.to_owned(),
            tie,
            text,
        })
    }

    fn order(&self) -> (u64, (&'a str, u64)) {
        (self.number, self.tie)
    }
}

/// The key of the storage that an entry of an earlier version is about: those of jobs were
/// called by the job and the first event in it, either of which may hold a colon.
fn earlier(name: &str, text: &str) -> Option<String> {
    if let Some(digest) = name.strip_prefix("procedure:") {
        return Some(format!("{PROCEDURE}{digest}"));
    }
    let of_job = name.strip_prefix("job:")?;
    let log = JobRecord::read(name, text).ok()?.log();
    let mut ids = log.events().map(|event| event.id.as_str());
    let job = ids.find_map(|id| of_job.strip_suffix(id)?.strip_suffix(':'))?;
    Some(format!("{JOB}{job}"))
}

fn name(number: u64, page: &str, named: u64, key: &str) -> String {
    format!("{number}.{page}.{named}.{key}")
}
