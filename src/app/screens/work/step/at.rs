//! What every part of the screen of a step needs to know of it.

use crate::app::shell::bench::Bench;
use crate::app::shell::bench::late::Late;
use crate::app::shell::kept::{self, KeptForm};
use crate::app::shell::route::Route;
use crate::app::ui::Question;
use crate::job::{Deed, Header, Progress, Status, StepProgress, Unfinished, good_to_leave};
use crate::procedure::{Id, Procedure, Step, Work};
use leptos::prelude::*;
use std::sync::Arc;

/// Everything that the parts of the screen need to know of the step.
#[derive(Clone, Copy)]
pub struct At {
    /// What all screens share.
    pub bench: Bench,
    /// The job.
    pub job: StoredValue<Id>,
    /// The job's procedure.
    pub procedure: StoredValue<Arc<Procedure>>,
    /// The step.
    pub step: StoredValue<Step>,
    /// Where the step stands.
    pub standing: Late<Option<StepProgress>>,
    /// The number of the stop in front of it that is to be confirmed first.
    pub(super) behind: Memo<Option<usize>>,
    status: Memo<Status>,
    /// Whether the job is signed off.
    finished: Memo<bool>,
    pub(super) question: RwSignal<Option<Question>>,
    /// The reading that is about to be struck out.
    pub striking: RwSignal<Option<Id>>,
    /// What is typed in the step's field and not entered.
    pub typed: RwSignal<String>,
    /// Enters what is typed, in a step that has a key for that.
    pub(super) enter: StoredValue<Option<Callback<()>>>,
    /// What was said last to be left open here.
    pub(super) told: StoredValue<Option<Told>>,
    /// The half that is shown where there is room for one only.
    pub pane: RwSignal<Pane>,
}

/// That something is left open, as it was said.
#[derive(Clone)]
pub(super) struct Told {
    pub(super) open: Unfinished,
    pub(super) sentence: String,
    pub(super) since: f64,
}

/// The two halves of a step with keys, where a screen has room for one of them only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pane {
    /// What to do.
    Do,
    /// What comes of it.
    Measure,
}

impl Pane {
    pub(super) const fn name(self) -> &'static str {
        match self {
            Pane::Do => "do",
            Pane::Measure => "measure",
        }
    }
}

/// The one key to go on by: it alone is solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// What the step asks to be answered with, other than a number.
    Answer,
    /// The one that enters what is typed.
    Enter,
    /// The one that makes a reading the one that is left.
    Leave,
    /// The way to the next step.
    Next,
}

impl At {
    /// The step on the screen, with what was typed at it.
    pub fn open(bench: Bench, job: Id, procedure: Arc<Procedure>, step: Step) -> Self {
        let id = step.id.clone();
        let progress = bench.progress.now();
        let standing =
            Memo::new(move |_| progress.with(|progress| progress.as_ref()?.step(&id).cloned()));
        let standing = Late::new(standing, bench.is_held);
        At {
            bench,
            standing,
            behind: Memo::new(move |_| standing.now().with(|s| s.as_ref().and_then(|s| s.behind))),
            status: Memo::new(move |_| {
                standing.with(|s| s.as_ref().map_or(Status::Open, |s| s.status))
            }),
            finished: Memo::new(move |_| {
                let is_finished = |p: &Progress| p.signed_off.is_some();
                progress.with(|p| p.as_ref().is_some_and(is_finished))
            }),
            question: RwSignal::new(None),
            striking: RwSignal::new(None),
            typed: typed(bench, &job, &step),
            enter: StoredValue::new(None),
            told: StoredValue::new(None),
            pane: RwSignal::new(first_pane(bench, standing)),
            job: StoredValue::new(job),
            procedure: StoredValue::new(procedure),
            step: StoredValue::new(step),
        }
    }

    /// The step's id.
    pub fn id(self) -> Id {
        self.step.with_value(|step| step.id.clone())
    }

    /// Where something that is typed here is kept until it is sent.
    pub fn place(self, name: &str) -> String {
        self.job.with_value(|job| place(job, &self.id(), name))
    }

    pub(super) fn number(self) -> usize {
        let id = self.id();
        self.procedure
            .with_value(|procedure| procedure.number_of(&id))
            .unwrap_or(1)
    }

    pub(super) fn status(self) -> Status {
        self.status.get()
    }

    pub(super) fn is_finished(self) -> bool {
        self.finished.get()
    }

    pub(super) fn is_stop(self) -> bool {
        self.step.with_value(|step| step.work.is_stop())
    }

    /// Whether entries are taken here now.
    pub fn is_open(self) -> bool {
        self.behind.get().is_none() && !self.is_finished()
    }

    /// Something of the instrument that the step is read with.
    pub fn of_instrument<T>(self, find: impl FnOnce(&Header, &Id) -> Option<T>) -> Option<T> {
        let role = |step: &Step| step.work.gauge().map(|gauge| gauge.with.clone());
        let role = self.step.with_value(role)?;
        let progress = self.bench.progress;
        progress.with(|progress| find(&progress.as_ref()?.header, &role))
    }

    /// Writes a deed of this step to the log.
    pub fn record(self, deed: impl FnOnce(Id) -> Deed) -> bool {
        self.bench.record(deed(self.id()))
    }

    /// The address of the step `by` places further on, or of the finish behind the last one.
    pub(super) fn neighbour(self, by: isize) -> Option<Route> {
        let job = self.job.get_value();
        let index = (self.number() - 1).checked_add_signed(by)?;
        let step = self
            .procedure
            .with_value(|procedure| procedure.steps().nth(index).map(|step| step.id.clone()));
        Some(match step {
            Some(step) => Route::Step {
                job,
                step: Some(step),
            },
            None if self.is_loose() => Route::Loose(job),
            None => Route::Finish(job),
        })
    }

    /// Whether what is read here belongs to no job yet.
    fn is_loose(self) -> bool {
        let is_loose =
            |progress: &Option<Progress>| progress.as_ref().is_some_and(Progress::is_loose);
        self.bench.progress.with_untracked(is_loose)
    }

    pub(super) fn move_by(self, by: isize) {
        if let Some(route) = self.neighbour(by) {
            self.bench.turn_to(&route);
        }
    }

    /// Nothing is typed any more. Who turns to another screen at once leaves no time for what
    /// keeps it as it is typed.
    pub fn clear_typed(self) {
        self.typed.set(String::new());
        let (job, step) = (self.job.get_value(), self.id());
        self.bench.keep_draft(&job, &step, "");
    }

    /// Says how what is typed is entered.
    pub fn entered_by(self, enter: impl Fn() + Send + Sync + 'static) {
        self.enter.set_value(Some(Callback::new(move |()| enter())));
    }

    /// The key to go on by.
    pub fn leads(self) -> Lead {
        if self.typed.with(|typed| !typed.is_empty()) {
            return Lead::Enter;
        }
        let (is_gauged, is_socket) = self.step.with_value(|it| {
            (
                it.work.gauge().is_some(),
                matches!(it.work, Work::Socket(_)),
            )
        });
        self.standing.now().with(|standing| {
            let Some(standing) = standing else {
                return Lead::Answer;
            };
            let leaves = self
                .step
                .with_value(|step| good_to_leave(&step.work, standing).is_some());
            let unread = || {
                let mut wiring = standing.wiring.iter();
                wiring.any(|fault| !fault.is_wrong())
            };
            match standing.status.is_owed() {
                _ if leaves && self.is_open() => Lead::Leave,
                false => Lead::Next,
                true if is_gauged || is_socket && unread() => Lead::Enter,
                true => Lead::Answer,
            }
        })
    }
}

/// What is typed at a step, which outlives the page; what is found at an inspection, which takes
/// words, outlives the browser too.
fn typed(bench: Bench, job: &Id, step: &Step) -> RwSignal<String> {
    let (job, step, is_prose) = (job.clone(), step.id.clone(), step.work == Work::Inspect);
    let draft = bench.draft(&job, &step);
    if !is_prose {
        let typed = RwSignal::new(draft);
        Effect::new(move |before: Option<()>| {
            let text = typed.get();
            if before.is_some() {
                bench.keep_draft(&job, &step, &text);
            }
        });
        return typed;
    }
    let kept = KeptForm::of(bench, place(&job, &step, "seen"), String::new());
    // It was a draft like any other once.
    if !draft.is_empty() {
        kept.typed.set(draft);
        bench.keep_draft(&job, &step, "");
    }
    kept.typed
}

/// A step begins with what is to be done; where the hand is at the reading already, with that.
fn first_pane(bench: Bench, standing: Late<Option<StepProgress>>) -> Pane {
    let is_begun = |s: &Option<StepProgress>| s.as_ref().is_some_and(|s| !s.readings.is_empty());
    let is_walked = bench.walked.with_untracked(Option::is_some);
    match is_walked || standing.with_untracked(is_begun) {
        true => Pane::Measure,
        false => Pane::Do,
    }
}

/// Where something that is typed at a step is kept until it is sent.
fn place(job: &Id, step: &Id, name: &str) -> String {
    kept::of_job(job, &kept::of_step(step, name))
}
