//! What is known of the jobs, the procedures and the kit on this device.

use crate::app::shell::bench::{AsItWas, Bench, Told};
use crate::exchange::Here;
use crate::job;
use crate::job::{Course, Job, Line, Progress};
use crate::metrology::inference::kindred::Kindred;
use crate::metrology::instrument::Instrument;
use crate::procedure::{Chase, Id, Procedure};
use crate::radio::channels::ChannelTable;
use crate::store::{BrowserStorage, StorageError, Store};
use leptos::prelude::*;
use std::sync::Arc;

fn as_it_is(line: &Line) -> AsItWas {
    (line.id.clone(), line.touched, line.entries)
}

/// How many visits are looked through for what was left at a step.
const VISITS_BEFORE: usize = 3;

impl Bench {
    /// All procedures, by id and revision, read anew whenever the storage changes.
    pub fn procedures(self) -> Vec<Procedure> {
        let mut all = self.read_all(Store::procedures);
        all.retain(|procedure| !procedure.is_none());
        all
    }

    /// The procedure with this digest.
    pub fn procedure(self, digest: &str) -> Option<Procedure> {
        self.read_all(|store| store.procedure(digest))
    }

    /// The jobs whose lines are wanted, read anew whenever the storage changes.
    pub fn jobs_where(self, wanted: impl Fn(&Line) -> bool) -> Vec<Job> {
        self.read_all(|store| store.jobs_where(wanted))
    }

    /// All that the job in hand is worked by.
    pub fn course(self) -> Option<Course> {
        self.progress
            .with_untracked(|progress| Some(progress.as_ref()?.course.clone()))
    }

    /// The number of a step of the job in hand.
    pub fn number_of(self, step: &Id) -> Option<usize> {
        self.progress
            .with_untracked(|progress| Some(progress.as_ref()?.step(step)?.number))
    }

    /// The visits that the set in hand made before this one: the latest few, the latest first. They
    /// are read anew only when one of them has changed.
    pub fn visits_before(self) -> Arc<Vec<Progress>> {
        let wanted = self.progress.with_untracked(|progress| {
            let progress = progress.as_ref()?;
            let started = progress.span?.0;
            let set = job::set_key(&progress.header.set)?;
            let lines = self.lines.get_untracked();
            let same = lines.iter().filter(|line| {
                line.started < started && job::set_key(&line.set).as_ref() == Some(&set)
            });
            let latest = same.take(VISITS_BEFORE).map(|line| as_it_is(line));
            Some(latest.collect::<Vec<_>>())
        });
        let wanted = wanted.unwrap_or_default();
        let known = self.visits.with_value(Clone::clone);
        if known.0 == wanted {
            return known.1;
        }
        let read = |(id, ..): &AsItWas| {
            let job = self.store.with_value(|store| store.job(id)).ok()??;
            Some(job.progress())
        };
        let visits = Arc::new(wanted.iter().filter_map(read).collect::<Vec<_>>());
        self.visits.set_value((wanted, visits.clone()));
        visits
    }

    /// What earlier jobs tell of a chase of a job. They are read once, and again only when one of
    /// them has changed.
    pub fn kindred(self, job: &Id, chase: &Chase) -> Option<Arc<Kindred>> {
        let lines = self.lines.get_untracked();
        let earlier = job::may_teach(lines.iter().map(Arc::as_ref), job);
        let by: Vec<_> = earlier.into_iter().map(as_it_is).collect();
        let is_known = |told: &Told| told.job == *job && told.steps == chase.steps && told.by == by;
        let known = self.kindred.with_value(Option::clone).filter(is_known);
        if let Some(known) = known {
            return known.kindred;
        }
        let kindred = self.store.with_value(|store| {
            let jobs = by
                .iter()
                .filter_map(|(id, ..)| store.job(id).ok().flatten());
            let course = self.course()?;
            job::kindred(&course, chase, jobs).map(Arc::new)
        });
        self.kindred.set_value(Some(Told {
            job: job.clone(),
            steps: chase.steps.clone(),
            by,
            kindred: kindred.clone(),
        }));
        kindred
    }

    /// The job with this id, which need not be the one in hand.
    pub fn stored_job(self, id: &Id) -> Option<Job> {
        self.read_all(|store| store.job(id))
    }

    /// Reads from the storage, again whenever it changes. Where that can't be done, it is told.
    fn read_all<T: Default>(
        self,
        read: impl FnOnce(&Store<BrowserStorage>) -> Result<T, StorageError>,
    ) -> T {
        self.changes.track();
        self.store.with_value(read).unwrap_or_else(|error| {
            match error {
                StorageError::Unreadable { .. } => self.refuse(error.to_string()),
                _ => self.trouble.set(Some(error)),
            }
            T::default()
        })
    }

    /// What an import is compared with, but for the jobs.
    pub fn here(self) -> Here {
        Here {
            procedures: self.read_all(Store::procedures),
            jobs: Vec::new(),
            kit: self.kit(),
            channels: self.channel_tables(),
            preferences: self.preferences.get_untracked(),
        }
    }

    /// The technician's own channel tables, read anew whenever the storage changes.
    pub fn channel_tables(self) -> Vec<ChannelTable> {
        self.changes.track();
        self.store.with_value(Store::channel_tables)
    }

    /// The instruments on the shelf, read anew whenever the storage changes.
    pub fn kit(self) -> Vec<Instrument> {
        self.changes.track();
        self.store.with_value(Store::kit)
    }
}
