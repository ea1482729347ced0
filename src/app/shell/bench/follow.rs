//! What follows when the address, the job in hand or another page changes.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::app::shell::bench::notice::Weight;
use crate::app::shell::route::Route;
use crate::app::shell::route::parts::Part;
use crate::app::words::frame;
use crate::app::words::shell::bench as words;
use crate::job::{Deed, Job, Progress, Status, is_break_due};
use crate::store::{StorageError, Store};
use leptos::prelude::*;
use leptos::task::spawn_local;

impl Bench {
    pub(super) fn moved(self) {
        // The address of a job alone leads on to its step; what was told stays.
        let leads_on = |route: &Route| matches!(route, Route::Step { step: None, .. });
        let address = device::hash();
        // A full storage does not keep anyone from moving about.
        let _ = self.store.with_value(|store| store.save_place(&address));
        let route = Route::read(&address);
        if let Some(part) = Part::of(&route).filter(|part| !part.is_here()) {
            return self.move_with(part);
        }
        if self.route.with_untracked(|old| *old != route) {
            // Other screens may say more of the job than a step does.
            let _ = self.check_first();
            if !self.route.with_untracked(leads_on) {
                self.notice.set(None);
            }
            self.remember_step(&route);
            self.load_job(&route);
            self.route.set(route);
            device::to_top();
        }
    }

    /// Stays until a part of the program is here, then moves to where the address leads by then.
    fn move_with(self, part: Part) {
        spawn_local(async move {
            if self.has(part).await {
                return self.moved();
            }
            self.go(&self.route.get_untracked());
            self.refuse(frame::PART_MISSING);
        });
    }

    /// Fetches a part of the program where it is not here yet, and says whether it is then.
    pub async fn has(self, part: Part) -> bool {
        part.here_by(self.bring.get_value()).await
    }

    /// The page is seen again, perhaps after long.
    pub(super) fn came_back(self) {
        if device::is_seen() {
            self.store.with_value(Store::look_anew);
            self.load_job(&self.route.get_untracked());
        }
    }

    /// Remembers a step that is shown, so that other screens lead back to it.
    pub(super) fn remember_step(self, route: &Route) {
        if matches!(route, Route::Step { step: Some(_), .. }) {
            let address = route.address();
            let _ = self
                .store
                .with_value(|store| store.save_last_step(&address));
            self.last_step.set(Some(route.clone()));
        }
    }

    pub(super) fn changed_elsewhere(self) {
        self.store.with_value(Store::look_anew);
        self.changes.update(|count| *count += 1);
        match self.job.get_untracked() {
            Some(shown) => self.follow(shown),
            None => self.load_job(&self.route.get_untracked()),
        }
        let preferences = self.store.with_value(Store::preferences);
        if self.preferences.with_untracked(|old| *old != preferences) {
            self.preferences.set(preferences);
        }
        let on_device = self.store.with_value(Store::on_device);
        if self.on_device.with_untracked(|old| *old != on_device) {
            self.on_device.set(on_device);
        }
    }

    /// Shows what another page made of the job in hand.
    fn follow(self, shown: Job) {
        match self.store.with_value(|store| store.job(&shown.id)) {
            Ok(Some(stored)) if stored == shown => {}
            // The two wrote at the same moment, and what was entered here got overwritten.
            Ok(Some(stored)) if stored.log.lacks(&shown.log) > 0 => drop(self.save(shown)),
            Ok(Some(stored)) => {
                self.job.set(Some(stored));
                // What was said of the log, such as what was taken back, may not hold any more.
                self.notice.update(|notice| {
                    notice.take_if(|notice| notice.weight == Weight::Plain);
                });
            }
            Ok(None) if self.unsaved.with_untracked(Option::is_none) => self.job.set(None),
            Ok(None) | Err(_) => {}
        }
    }

    /// Shows what has come into the storage by another way than this screen.
    pub(in crate::app) fn read_anew(self) {
        self.changed_elsewhere();
        self.load_job(&self.route.get_untracked());
        self.route.notify();
    }

    /// Brings the job of the present address into hand.
    pub(super) fn load_job(self, route: &Route) {
        let last_step = self.last_step.get_untracked();
        // What helps with a step is shown beside its job.
        let beside = match route {
            Route::Audio | Route::Substitution | Route::Sums | Route::Sum(_) => last_step.as_ref(),
            Route::Channels | Route::Limits => last_step.as_ref(),
            _ => None,
        };
        let Some(id) = route.job().or_else(|| beside?.job()) else {
            return;
        };
        let in_hand = self
            .job
            .with_untracked(|job| job.as_ref().is_some_and(|job| job.id == *id));
        if in_hand {
            self.note_break();
            return;
        }
        match self.store.with_value(|store| store.job(id)) {
            Ok(job) => {
                self.job.set(job);
                self.note_break();
            }
            Err(error) => {
                self.job.set(None);
                self.refuse(error.to_string());
            }
        }
    }

    /// The same at the start. A step is shown before anybody has looked whether its procedure is
    /// what it was published as; nothing is written, nor said to be so, before that.
    pub(super) fn load_first(self, route: &Route) {
        let id = route.job().filter(|_| route.is_step());
        let found = id.map(|id| self.store.with_value(|store| store.unchecked_job(id)));
        let Some(Ok(Some(found))) = found else {
            return self.load_job(route);
        };
        self.job.set(Some(found.job.clone()));
        self.unchecked.set_value(Some(found));
        device::after_first_paint(move || {
            let _ = self.check_first();
        });
        self.note_break();
    }

    /// Looks at the procedure of the job in hand, if nobody has yet. One that is not what it was
    /// published as takes its job out of hand.
    pub(super) fn check_first(self) -> Result<(), StorageError> {
        let Some(found) = self.unchecked.try_update_value(Option::take).flatten() else {
            return Ok(());
        };
        let checked = self.store.with_value(|store| store.check(&found));
        if let Err(error) = &checked {
            let in_hand = |job: &Option<Job>| job.as_ref().is_some_and(|it| it.id == found.job.id);
            if self.job.with_untracked(in_hand) {
                self.job.set(None);
            }
            self.refuse(error.to_string());
        }
        checked
    }

    /// Puts a break into the log where the job rested for long, and says so.
    pub(in crate::app) fn note_break(self) {
        let progress = self.progress.get_untracked();
        let due = self.job.with_untracked(|job| {
            let both = job.as_ref().zip(progress.as_ref());
            both.is_some_and(|(job, progress)| is_break_due(job, progress, device::now()))
        });
        if due {
            self.pause(words::LEFT_FOR_LONG);
        }
    }

    /// Puts a break into the log and says which stops and warm-ups it ended.
    pub fn pause(self, why: &str) {
        if self.record(Deed::Paused) {
            let progress = self.progress.get_untracked();
            let lapsed = progress.iter().flat_map(Progress::lapsed);
            let stops: Vec<usize> = lapsed.map(|stop| stop.number).collect();
            let steps = progress.iter().flat_map(|progress| &progress.steps);
            let cold = steps.filter(|step| step.status == Status::WaitAgain);
            let cold: Vec<usize> = cold.map(|step| step.number).collect();
            self.say_when_kept(words::after_a_break(why, &stops, &cold));
        }
    }

    /// Shows another screen, once the browser tells of the new address.
    pub fn go(self, route: &Route) {
        device::go(&route.address());
    }

    /// Shows another screen before the next key comes, which is meant for it: a meter that types
    /// its readings is quicker than the browser tells of an address. Not while a screen is made.
    pub fn turn_to(self, route: &Route) {
        self.go(route);
        self.moved();
    }
}

/// Whether nothing is missing any more once a job is stored. What another job lacks it still
/// lacks, but for one that was to be opened: the next try makes a job of its own.
pub(super) fn is_made_good(unsaved: &Option<Job>, stored: &Job) -> bool {
    let job = unsaved.as_ref();
    job.is_some_and(|job| job.id == stored.id || job.log.len() == 1)
}
