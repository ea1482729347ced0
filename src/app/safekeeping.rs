//! What is entered counts as saved when it is in the journal, which a killed browser keeps.
//!
//! The root element says how it stands, for whoever watches from outside:
//! `<html data-saved>` is `saving` while something is on its way and until the start has looked
//! into the journal, `yes` once all is on the disk, and `unsure` where the browser gives no database, so that only local storage holds it.

use super::bench::Bench;
use super::device;
use super::words::frame as words;
use crate::job::Job;
use crate::procedure::Id;
use crate::store::{Database, DatabaseError, Due, Entry, journal_prefix};
use leptos::prelude::*;
use std::collections::HashSet;
use wasm_bindgen_futures::spawn_local;

/// What is on its way to the disk, and whether there is a way.
#[derive(Clone, Copy)]
pub struct Safekeeping {
    /// The events that are not on the disk yet.
    pub under_way: RwSignal<HashSet<Id>>,
    /// Why the journal can't be used, if it can't.
    pub trouble: RwSignal<Option<DatabaseError>>,
    /// Whether the start has looked into the journal.
    looked: RwSignal<bool>,
}

impl Safekeeping {
    /// Nothing on its way. The root element follows from now on.
    pub fn open() -> Self {
        let this = Safekeeping {
            under_way: RwSignal::new(HashSet::new()),
            trouble: RwSignal::new(None),
            looked: RwSignal::new(false),
        };
        Effect::new(move |_| {
            let under_way = this.under_way.with(|events| !events.is_empty());
            let saving = under_way || !this.looked.get();
            let unsure = this.trouble.with(Option::is_some);
            device::set_mark(
                "saved",
                match (saving, unsure) {
                    (true, _) => "saving",
                    (false, true) => "unsure",
                    (false, false) => "yes",
                },
            );
        });
        this
    }

    /// Whether an event is still on its way.
    pub fn is_under_way(self, event: &Id) -> bool {
        self.under_way.with(|events| events.contains(event))
    }

    fn arrived(self, events: &[Id], outcome: Result<(), DatabaseError>) {
        self.trouble.set(outcome.err());
        self.under_way.update(|under_way| {
            under_way.retain(|event| !events.contains(event));
        });
    }
}

impl Bench {
    /// Writes into the journal what of a stored job is not in it yet.
    pub fn keep_safe(self, job: &Job) {
        let due = self.due(job);
        if due.entries.is_empty() {
            return;
        }
        let Safekeeping { under_way, .. } = self.safekeeping;
        under_way.update(|events| events.extend(due.events.iter().cloned()));
        let job = job.id.clone();
        spawn_local(async move {
            let outcome = Database.write_journal(&due).await;
            if outcome.is_err() {
                self.journal.update_value(|journal| journal.lost(&job));
            }
            self.safekeeping.arrived(&due.events, outcome);
        });
    }

    fn due(self, job: &Job) -> Due {
        let digest = self.store.with_value(|store| store.digest(&job.procedure));
        let due = self
            .journal
            .try_update_value(|journal| journal.due(job, &digest, device::now()));
        due.unwrap_or_default()
    }

    /// Joins into the jobs what the journal has and a killed browser had not yet put into its
    /// storage, and says so.
    pub fn look_into_journal(self) {
        spawn_local(async move {
            match Database.journal().await {
                Ok(entries) => self.rejoin(&entries),
                Err(error) => self.safekeeping.trouble.set(Some(error)),
            }
            self.safekeeping.looked.set(true);
        });
    }

    fn rejoin(self, entries: &[Entry]) {
        let now = device::now();
        self.journal
            .update_value(|journal| journal.found(entries, now));
        let rejoined = self.store.with_value(|store| store.rejoin(entries));
        let events: usize = rejoined.jobs.iter().map(|(_, events)| events).sum();
        if events > 0 {
            self.read_anew();
            self.say(words::put_back(events, rejoined.jobs.len()));
        }
        if rejoined.failed > 0 {
            self.refuse(words::not_put_back(rejoined.failed));
        }
    }

    /// Takes a job off this device, out of the journal too.
    pub fn remove_job(self, id: &Id) -> Option<()> {
        let removed = self.with_store(|store| store.remove_job(id));
        if removed.is_some() {
            self.journal.update_value(|journal| journal.lost(id));
            let prefix = journal_prefix(id);
            spawn_local(async move {
                // What stays comes back at the next start, and can be removed again.
                let _ = Database.trim_journal(&prefix).await;
            });
        }
        removed
    }
}
