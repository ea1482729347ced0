//! The lines: every job in short, so that lists and searches don't read the jobs themselves.
//!
//! A line holds how long the text of its job was. A log only grows, so a line that was left
//! behind, by whatever cut a save off or by another page, is known by that and made again.
//! Lines that were read once are kept, and looked at again by the size alone.

use crate::job::{Job, Line, Progress};
use crate::procedure::Id;
use crate::store::kept::known_lines::{Known, KnownLines};
use crate::store::keys::{JOB, LINE, job_key, line_key};
use crate::store::{Storage, StorageError, Store, layout, records};
use serde::{Deserialize, Serialize};
use std::collections::HashSet;
use std::sync::{Arc, PoisonError};

/// What lines say, counted up when they say more: those from before are made again.
const FORM: u32 = 3;

/// A line as it is stored.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LineRecord {
    form: u32,
    size: usize,
    line: Line,
}

impl<S: Storage> Store<S> {
    /// The line of every job that can be read, in no order. Lines that are missing, damaged or
    /// left behind are made again, and those without a job are taken away.
    pub fn lines(&self) -> Result<Vec<Arc<Line>>, StorageError> {
        for job in self.with_known(|known| std::mem::take(&mut known.left_behind)) {
            self.line(&job);
        }
        if let Some(all) = self.with_known(|known| known.all()) {
            return Ok(all);
        }
        let keys = self.storage.keys()?;
        let jobs: HashSet<&str> = keys.iter().filter_map(|k| k.strip_prefix(JOB)).collect();
        for key in &keys {
            if let Some(Ok(id)) = key.strip_prefix(LINE).map(str::parse)
                && !jobs.contains(Id::as_str(&id))
            {
                self.drop_line(&id);
            }
        }
        let ids = jobs.into_iter().filter_map(|id| id.parse::<Id>().ok());
        let lines = ids.filter_map(|id| self.line(&id)).collect();
        self.with_known(|known| known.complete = true);
        Ok(lines)
    }

    /// The line of one job; nothing where there is no such job that can be read.
    pub fn line(&self, id: &Id) -> Option<Arc<Line>> {
        let size = self.storage.size(&job_key(id)).ok().flatten()?;
        if let Some(known) = self.with_known(|known| known.line(id, size)) {
            return Some(known);
        }
        let stored = self.storage.get(&line_key(id)).ok().flatten();
        let record = stored.and_then(|text| serde_json::from_str::<LineRecord>(&text).ok());
        match record
            .filter(|record| record.line.id == *id && record.size == size && record.form == FORM)
        {
            Some(record) => Some(self.keep_line(record)),
            None => {
                let line = Line::of(&self.job(id).ok().flatten()?);
                Some(self.write_line(line, size))
            }
        }
    }

    /// From now on the lines are compared with the jobs once more, since another page may have
    /// written.
    pub fn look_anew(&self) {
        self.with_known(|known| known.complete = false);
    }

    /// The jobs whose lines are wanted, as far as they can be read.
    pub fn jobs_where(&self, wanted: impl Fn(&Line) -> bool) -> Result<Vec<Job>, StorageError> {
        let lines = self.lines()?.into_iter().filter(|line| wanted(line));
        Ok(lines
            .filter_map(|line| self.job(&line.id).ok().flatten())
            .collect())
    }

    /// Writes the line of a job, unless that was written already, where what follows from its
    /// log is known.
    pub fn renew_line(&self, job: &Job, progress: &Progress) {
        let due = self.with_known(|known| known.left_behind.remove(&job.id));
        if due && let Ok(Some(size)) = self.storage.size(&job_key(&job.id)) {
            self.write_line(Line::from_progress(job, progress), size);
        }
    }

    pub(super) fn leave_line_behind(&self, job: &Id) {
        self.with_known(|known| known.left_behind.insert(job.clone()));
    }

    /// Writes the line of a job whose text has this size. Without it all is as well, only
    /// slower, so failing is not told.
    fn write_line(&self, line: Line, size: usize) -> Arc<Line> {
        let form = FORM;
        let record = LineRecord { form, size, line };
        let _ = self.write(&line_key(&record.line.id), &records::json(&record));
        self.keep_line(record)
    }

    fn keep_line(&self, LineRecord { size, line, .. }: LineRecord) -> Arc<Line> {
        let line = Arc::new(line);
        let known = Known {
            size,
            line: line.clone(),
        };
        self.with_known(|all| all.by_job.insert(line.id.clone(), known));
        line
    }

    fn with_known<T>(&self, act: impl FnOnce(&mut KnownLines) -> T) -> T {
        // Nothing panics while it is held, and what it holds is only a shortcut.
        act(&mut self.lines.lock().unwrap_or_else(PoisonError::into_inner))
    }

    /// Takes a line away whose job is gone or can't be read.
    pub(in crate::store) fn drop_line(&self, id: &Id) {
        self.with_known(|known| known.by_job.remove(id));
        if layout::check(&self.storage).is_ok() {
            // What stays does no harm: it is found again.
            let _ = self.storage.remove(&line_key(id));
        }
    }
}

impl KnownLines {
    /// All lines, where it is known that these are all.
    fn all(&self) -> Option<Vec<Arc<Line>>> {
        let lines = || self.by_job.values().map(|known| known.line.clone());
        self.complete.then(|| lines().collect())
    }

    /// The line of a job, unless the job has another size by now.
    fn line(&self, job: &Id, size: usize) -> Option<Arc<Line>> {
        let known = self.by_job.get(job).filter(|known| known.size == size);
        known.map(|known| known.line.clone())
    }
}
