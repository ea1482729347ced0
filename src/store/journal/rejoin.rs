//! What the storage lacks, put back from the journal.

use crate::job::{Job, Log};
use crate::procedure::Id;
use crate::store::journal::Entry;
use crate::store::journal::known::Counts;
use crate::store::journal::record::Record;
use crate::store::kept::aside;
use crate::store::kept::contents::odd;
use crate::store::keys::{JOB, PROCEDURE};
use crate::store::records::JobRecord;
use crate::store::{Storage, StorageError, Store, layout, records};
use std::collections::BTreeMap;

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

impl<S: Storage> Store<S> {
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
            crate::store::keys::PLACE => rejoined.place = true,
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
