//! Deeds into the log of the job in hand, and out of it again.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use crate::app::shell::bench::follow::is_made_good;
use crate::app::shell::bench::notice::Offer;
use crate::app::shell::route::Route;
use crate::app::words::shell::bench as words;
use crate::job::{Deed, Job, LookAt, PaperChange, Progress, Status};
use crate::procedure::Id;
use crate::store::OnDevice;
use leptos::prelude::*;
use std::sync::Arc;

impl Bench {
    /// Writes a job to the storage. Only when this gives true may the screen show it as taken,
    /// and only when `safekeeping` has nothing of it on its way may it call it saved.
    pub fn save(self, job: Job) -> bool {
        self.told(self.try_save(job))
    }

    /// Where something could not be done, the reason is on the screen.
    fn told(self, outcome: Result<(), String>) -> bool {
        outcome.map_err(|why| self.refuse(why)).is_ok()
    }

    fn try_save(self, job: Job) -> Result<(), String> {
        self.check_first().map_err(|error| error.to_string())?;
        match self.store.with_value(|store| store.save_entries(&job)) {
            Ok(joined) => {
                if self
                    .unsaved
                    .with_untracked(|other| is_made_good(other, &joined))
                {
                    self.unsaved.set(None);
                }
                self.changes.update(|count| *count += 1);
                self.job.set(Some(joined));
                // The lists can wait until the screen says what became of the reading.
                device::after_paint(move || self.renew_line());
                Ok(())
            }
            Err(error) => {
                self.unsaved.set(Some(job));
                Err(error.to_string())
            }
        }
    }

    fn renew_line(self) {
        self.job.with_untracked(|job| {
            self.progress.with_untracked(|progress| {
                if let (Some(job), Some(progress)) = (job, progress) {
                    self.store
                        .with_value(|store| store.renew_line(job, progress));
                }
            });
        });
    }

    /// Writes a deed to the log of the job in hand. False when it was refused or could not
    /// be stored; the reason is then on the screen.
    pub fn record(self, deed: Deed) -> bool {
        self.record_all([deed])
    }

    /// The same with several deeds: all of them are written, or none.
    pub fn record_all(self, deeds: impl IntoIterator<Item = Deed>) -> bool {
        self.told(self.try_record(deeds))
    }

    /// Writes an entry, and lets the screen say what became of it before it does all else that
    /// follows. Whatever is read meanwhile is as it is by then.
    pub fn verdict_first(self, enter: impl FnOnce() -> bool) -> bool {
        self.is_held.set(true);
        let is_entered = enter();
        let release = move || {
            self.is_held.try_set(false);
        };
        match is_entered {
            true => device::after_paint(release),
            false => release(),
        }
        is_entered
    }

    /// The same for who says the reason in a place of its own, as a question that is open does.
    pub fn try_record(self, deeds: impl IntoIterator<Item = Deed>) -> Result<(), String> {
        let Some(mut job) = self.job.get_untracked() else {
            return Err(words::NO_JOB.to_owned());
        };
        let deeds = deeds.into_iter().map(|deed| (device::stamp(), deed));
        let recorded = self.progress.with_untracked(|progress| match progress {
            Some(progress) => job.record_all(progress, deeds),
            None => job.record_all(&job.progress(), deeds),
        });
        recorded.map_err(|refusal| refusal.to_string())?;
        if self.notice.with_untracked(Option::is_some) {
            self.notice.set(None);
        }
        let before = self.steps_done();
        self.try_save(job)?;
        self.count_steps(before);
        Ok(())
    }

    /// How many steps of the job in hand are done, as long as that tells something of who works
    /// here.
    fn steps_done(self) -> Option<usize> {
        let is_new = self.on_device.with_untracked(OnDevice::is_new_here);
        let done = |progress: &Progress| {
            let steps = progress.steps.iter();
            steps.filter(|step| step.status == Status::Done).count()
        };
        is_new.then(|| {
            self.progress
                .with_untracked(|progress| progress.as_ref().map_or(0, done))
        })
    }

    fn count_steps(self, before: Option<usize>) {
        let more = before.and_then(|before| self.steps_done()?.checked_sub(before));
        if let Some(more) = more.filter(|more| *more > 0) {
            self.change_on_device(|on_device| on_device.count(more));
        }
    }

    /// Takes the last deed back. One that is not of the step in front is named first, and
    /// taken back by a press on that.
    pub fn undo(self, in_front: Option<&Id>) {
        let last = self.job.with_untracked(|job| {
            let event = job.as_ref()?.last_undoable()?;
            Some((event.id.clone(), event.did.clone()))
        });
        let Some((event, did)) = last else {
            return self.refuse(crate::job::Refusal::NothingToUndo.to_string());
        };
        if in_front.is_some() && did.step() == in_front {
            return self.take_back(event, &did, None);
        }
        let (what, step) = self.named(&event, &did);
        // What is read again belongs where it was read.
        let back_to = match &did {
            Deed::Reading { step, .. } if in_front.is_some() => Some(step.clone()),
            _ => None,
        };
        let act = Arc::new(move || self.take_back(event.clone(), &did, back_to.clone()));
        let word = words::UNDO_IT.to_owned();
        self.ask(
            words::not_of_this_step(&what, step),
            Some(Offer { word, act }),
        );
    }

    fn take_back(self, event: Id, did: &Deed, back_to: Option<Id>) {
        let (what, step) = self.named(&event, did);
        let job = self
            .job
            .with_untracked(|job| Some(job.as_ref()?.id.clone()));
        if self.record(Deed::Undone { event }) {
            match (job, back_to) {
                (Some(job), step @ Some(_)) => self.turn_to(&Route::Step { job, step }),
                // The step in front may be gone.
                (Some(job), None) if did.adds_steps() => self.go(&Route::Step { job, step: None }),
                _ => {}
            }
            self.say_when_kept(words::taken_back(&what, step));
        }
    }

    /// What a deed that is taken back is called, and the number of its step.
    fn named(self, event: &Id, deed: &Deed) -> (String, Option<usize>) {
        let step = deed.step().and_then(|step| self.number_of(step));
        let what = match deed {
            Deed::Reading { value, phase, .. } => {
                let sign = self.preferences.with_untracked(|p| p.decimal_sign);
                words::reading(phase.name(), &value.typeset(sign))
            }
            Deed::Ticked { .. } => words::TICK.to_owned(),
            Deed::Answered { answer, .. } => words::answer(answer.name()),
            Deed::Noted { .. } => words::NOTE.to_owned(),
            Deed::Waived { .. } => words::WAIVER.to_owned(),
            Deed::SetAside { .. } => words::SET_ASIDE.to_owned(),
            Deed::SignedOff { .. } => words::SIGN_OFF.to_owned(),
            Deed::Reopened { .. } => words::REOPENING.to_owned(),
            Deed::Opened(_) | Deed::Amended(_) => {
                let parts = self
                    .job
                    .with_untracked(|job| Some(job.as_ref()?.details_without(event)));
                words::details(&parts.unwrap_or_default())
            }
            Deed::TookOn { procedure } => words::taken_on(&procedure.title),
            Deed::FaultNoted { .. } => words::FAULT.to_owned(),
            Deed::PathNoted { path, .. } => words::path(&path.title),
            Deed::Looked { look } => words::look(&self.place_of(&look.at), look.showed),
            Deed::PartNoted { part, .. } => words::part(&part.what),
            Deed::OwnerAsked { .. } => words::ASKED.to_owned(),
            Deed::OwnerAnswered { .. } => words::ANSWERED.to_owned(),
            Deed::Collected { .. } => words::COLLECTED.to_owned(),
            Deed::AddedStep { added } => words::added(&added.step.title),
            Deed::MeasuredWith { instrument } => words::another(instrument.role.as_str()),
            Deed::Undone { .. } => words::UNDO.to_owned(),
            Deed::Struck { .. } => words::STRUCK.to_owned(),
            Deed::CrossRead { value, .. } | Deed::PinRead { value, .. } => {
                let sign = self.preferences.with_untracked(|p| p.decimal_sign);
                words::plain_reading(&value.typeset(sign))
            }
            Deed::WaitBegun { .. } => words::WAIT.to_owned(),
            Deed::PassBegun { .. } => words::PASS.to_owned(),
            Deed::Paused => words::BREAK.to_owned(),
            Deed::TakenOff { item, .. } => words::taken_off(&item.what),
            Deed::PutBack { .. } => words::PUT_BACK.to_owned(),
            Deed::StaysOff { .. } => words::STAYS_OFF.to_owned(),
            Deed::Changed { change, .. } => words::change(&change.fitted),
            Deed::PaperKept { paper } => words::paper(&paper.title),
            Deed::PaperChanged { change, .. } => match change {
                PaperChange::Titled(_) => words::PAPER_TITLED.to_owned(),
                PaperChange::Pinned(pin) => words::pin(pin.of.name()),
                PaperChange::Unpinned(spot) => words::unpinned(spot.name()),
                PaperChange::Removed => words::PAPER_REMOVED.to_owned(),
            },
            Deed::Photographed { .. } => words::PHOTO.to_owned(),
            Deed::PhotoRemoved { .. } => words::PHOTO_REMOVED.to_owned(),
            Deed::SoundKept { .. } => words::SOUND.to_owned(),
            Deed::SoundRemoved { .. } => words::SOUND_REMOVED.to_owned(),
        };
        (what, step)
    }

    /// What is looked at at a place along a path.
    fn place_of(self, at: &LookAt) -> String {
        self.progress.with_untracked(|progress| {
            let mut traces = progress.iter().flat_map(|it| &it.traces);
            let trace = traces.find(|trace| trace.name == at.path);
            let check = trace.and_then(|trace| trace.path.check(&at.check));
            check.map_or(String::new(), |(_, check)| check.what.clone())
        })
    }
}
