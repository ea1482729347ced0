//! What is written counts as saved when it is in the journal, which a killed browser keeps.
//!
//! The root element says how it stands, for whoever watches from outside:
//! `<html data-saved>` is `saving` while something is on its way and until the start has looked
//! into the journal, `yes` once all is on the disk, and `unsure` while the browser's database
//! does not take it, so that only local storage holds it. What failed is tried again until it
//! is in.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::app::shell::bench::keeping::{Kept, Safekeeping};
use crate::app::shell::route::Route;
use crate::app::words::frame as words;
use crate::procedure::Id;
use crate::store::{Database, DatabaseError, Entry};
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

/// How long after a failure it is tried again, in milliseconds; twice as long each time.
const FIRST_WAIT: u32 = 500;
const LONGEST_WAIT: u32 = 30_000;

impl Bench {
    /// From now on whatever is written goes into the journal. First what is here is shown; what
    /// it lacks comes out of the journal a moment later.
    pub fn begin_keeping(self) {
        self.store
            .with_value(|store| store.on_due(move || self.keep_due()));
        Effect::new(move |_| {
            let mark = match self.is_kept() {
                Kept::Unsurely => "unsure",
                Kept::Surely => "yes",
                Kept::Soon => "saving",
            };
            device::set_mark("saved", mark);
        });
        device::after_first_paint(move || self.keep_due());
    }

    /// How it stands with all that was written, and from now on.
    pub fn is_kept(self) -> Kept {
        self.safekeeping.changes.track();
        let is_in_trouble = self.safekeeping.trouble.with(Option::is_some);
        match (self.is_all_kept(), is_in_trouble) {
            (_, true) => Kept::Unsurely,
            (true, false) => Kept::Surely,
            (false, false) => Kept::Soon,
        }
    }

    /// A claim that something is saved, as far as that is so.
    pub fn once_kept(self, claim: &str) -> String {
        match self.is_kept() {
            Kept::Surely => claim.to_owned(),
            Kept::Soon => words::SAVING.to_owned(),
            Kept::Unsurely => words::not_sure(claim),
        }
    }

    fn is_all_kept(self) -> bool {
        self.store.with_value(|store| store.is_all_kept())
    }

    /// Whether an event of the job in hand is still on its way to the disk.
    pub fn is_on_its_way(self, event: &Id) -> bool {
        self.safekeeping.changes.track();
        self.job.with_untracked(|job| {
            let is_kept = |id| {
                self.store
                    .with_value(|store| store.is_event_kept(id, event))
            };
            job.as_ref().is_some_and(|job| !is_kept(&job.id))
        })
    }

    /// Tells what was done once it is on the disk.
    pub fn say_when_kept(self, text: impl Into<String>) {
        let text = text.into();
        match untrack(|| self.is_kept()) {
            Kept::Soon => self.safekeeping.to_tell.set_value(Some(text.clone())),
            // What was to be told before this has had its time.
            Kept::Surely | Kept::Unsurely => self.safekeeping.to_tell.set_value(None),
        }
        self.say(untrack(|| self.once_kept(&text)));
    }

    /// Shows another screen, which tells what was done once it is on the disk.
    pub fn go_and_say_when_kept(self, route: &Route, text: String) {
        self.go(route);
        spawn_local(async move {
            // Going there takes away what was told before; what is told here has to stay.
            device::breathe().await;
            self.say_when_kept(text);
        });
    }

    /// Tells it now: all is kept, or can't be for the time being.
    fn tell(self) {
        let to_tell = self.safekeeping.to_tell;
        if let Some(text) = to_tell.try_update_value(Option::take).flatten() {
            self.say(untrack(|| self.once_kept(&text)));
        }
    }

    /// Puts what is due into the journal, unless that is going on.
    fn keep_due(self) {
        let Safekeeping {
            is_busy, changes, ..
        } = self.safekeeping;
        changes.update(|count| *count += 1);
        if !is_busy.get_value() {
            is_busy.set_value(true);
            spawn_local(self.keep_all());
        }
    }

    async fn keep_all(self) {
        let Safekeeping {
            trouble,
            changes,
            is_busy,
            ..
        } = self.safekeeping;
        let mut wait = FIRST_WAIT;
        loop {
            match self.keep_some().await {
                Ok(true) => wait = FIRST_WAIT,
                Ok(false) => break,
                Err(error) => {
                    trouble.set(Some(error));
                    self.tell();
                    device::rest(wait).await;
                    wait = (2 * wait).min(LONGEST_WAIT);
                }
            }
            changes.update(|count| *count += 1);
        }
        is_busy.set_value(false);
        if trouble.with_untracked(Option::is_some) {
            trouble.set(None);
        }
        changes.update(|count| *count += 1);
        self.tell();
    }

    /// Looks into the journal or writes into it; false where there is nothing left to do.
    async fn keep_some(self) -> Result<bool, DatabaseError> {
        if !self.safekeeping.has_looked.get_value() {
            let entries = Database.journal().await?;
            self.rejoin(&entries).await;
            self.safekeeping.has_looked.set_value(true);
            return Ok(true);
        }
        let due = self.store.with_value(|store| store.due());
        let due = due.map_err(|error| DatabaseError::Failed(error.to_string()))?;
        let Some(due) = due else {
            return Ok(false);
        };
        let written = Database.write_journal(&due).await;
        self.store.with_value(|store| store.settle(written.is_ok()));
        written.map(|()| true)
    }

    /// Goes to where one was before the browser was killed, and waits until that is shown: going
    /// there takes away what was told before.
    async fn resume(self) {
        if let Some(place) = self.store.with_value(|store| store.place()) {
            device::go(&place);
            device::breathe().await;
        }
    }

    /// Joins into the jobs what the journal has and a killed browser had not yet put into its
    /// storage, and says so.
    async fn rejoin(self, entries: &[Entry]) {
        let page = device::fresh_id();
        let rejoined = self
            .store
            .with_value(|store| store.rejoin(page.as_str(), entries));
        let events: usize = rejoined.jobs.iter().map(|(_, events)| events).sum();
        if events > 0 || rejoined.others > 0 {
            self.read_anew();
        }
        if rejoined.place && self.resumes {
            self.resume().await;
        }
        if events > 0 {
            self.say(words::put_back(events, rejoined.jobs.len()));
        } else if rejoined.others > 0 {
            self.say(words::others_put_back(rejoined.others));
        }
        if rejoined.failed > 0 {
            self.refuse(words::not_put_back(rejoined.failed));
        }
    }
}
