//! The step in front of you: what to do, the state the set must be in, where to probe, what
//! to turn, and the reading.

use crate::app::platform::device;
use crate::app::screens::counter::care;
use crate::app::screens::set::{changes, papers};
use crate::app::screens::work::speech::Speech;
use crate::app::screens::work::{
    first_use, passes, put_back, reading, several, socket, speech, tone, wait,
};
use crate::app::shell::bench::late::Late;
use crate::app::shell::bench::{Bench, Offer, use_bench};
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::route::Route;
use crate::app::shell::strip::{Floor, Strip};
use crate::app::ui::boards::board;
use crate::app::ui::{
    Ask, LineMap, Question, StatusMark, TermKey, capitalised, damage, field_text, list_of,
};
use crate::app::words::shared;
use crate::app::words::work::terms::Term;
use crate::app::words::work::{reading as reading_words, socket as socket_words, step as words};
use crate::job::{
    Deed, Finding, Job, LineMap as Map, LookAgain, Progress, Status, StepProgress, Tool,
    Unfinished, good_to_leave,
};
use crate::procedure::{Adjuster, Id, Procedure, Sense, SetUp, SetUpChange, Step, Work};
use crate::quantity::whole_figures;
use leptos::html::{Button, P as Paragraph};
use leptos::prelude::*;
use std::sync::Arc;
use wasm_bindgen::JsCast;

const NOTE: Question = Question {
    title: words::NOTE_TITLE,
    hint: words::NOTE_HINT,
    answer: words::KEEP_NOTE,
    kept_as: "note",
};

const WAIVE: Question = Question {
    title: words::WAIVE_TITLE,
    hint: words::WAIVE_HINT,
    answer: words::WAIVE_STEP,
    kept_as: "waive",
};

const STRIKE: Question = Question {
    title: words::STRIKE_TITLE,
    hint: words::STRIKE_HINT,
    answer: words::STRIKE_OUT,
    kept_as: "strike",
};

/// The screen of a step; of the one that is due where none is named.
pub fn screen(job: Id, step: Option<Id>) -> impl IntoView {
    let bench = use_bench();
    let at_job = job.clone();
    let due = move || {
        let progress = bench.progress.get_untracked()?;
        let step = progress.current().or(progress.steps.last())?;
        Some(Route::Step {
            job: job.clone(),
            step: Some(step.id.clone()),
        })
    };
    let Some(id) = step else {
        // The address of a job alone leads on to its step.
        match (due(), bench.progress.with_untracked(Option::is_some)) {
            (Some(route), _) => bench.go(&route),
            // It has none yet.
            (None, true) => bench.go(&Route::Steps(at_job)),
            (None, false) => return missing().into_any(),
        }
        return ().into_any();
    };
    let found = bench.job.with_untracked(|job| {
        let (job, course) = (job.as_ref()?, bench.course()?);
        let step = course.procedure.step(&id)?.clone();
        Some((job.id.clone(), course.procedure, step))
    });
    match found {
        Some((job, procedure, step)) => bench_view(bench, job, procedure, step).into_any(),
        None => missing().into_any(),
    }
}

/// What stands in the place of a job or step that is not on this device.
pub fn missing() -> impl IntoView {
    let bench = use_bench();
    view! {
        <section class="page">
            <h1>{shared::NOT_HERE}</h1>
            <p>{words::NOT_HERE_LEAD}</p>
            <a class="button" href=Route::Jobs.address()>{words::TO_THE_JOBS}</a>
        </section>
        // Every other screen has it from the app; a step has its own.
        {move || bench.route.with(Route::is_step).then(|| view! { <Floor/> })}
    }
}

/// A second press counts as one only after so long, in milliseconds: not a bounce, nor a tap that
/// was on its way before its answer was there. `style/main.css` keeps taps off new keys as long.
const SETTLED_AFTER: f64 = 300.0;

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
    behind: Memo<Option<usize>>,
    status: Memo<Status>,
    /// Whether the job is signed off.
    finished: Memo<bool>,
    question: RwSignal<Option<Question>>,
    /// The reading that is about to be struck out.
    pub striking: RwSignal<Option<Id>>,
    /// What is typed in the step's field and not entered.
    pub typed: RwSignal<String>,
    /// Enters what is typed, in a step that has a key for that.
    enter: StoredValue<Option<Callback<()>>>,
    /// What was said last to be left open here.
    told: StoredValue<Option<Told>>,
    /// The half that is shown where there is room for one only.
    pub pane: RwSignal<Pane>,
}

/// That something is left open, as it was said.
#[derive(Clone)]
struct Told {
    open: Unfinished,
    sentence: String,
    since: f64,
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
    const fn name(self) -> &'static str {
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

/// What a kind of step shows: its part of the sheet, and the keys that stay in their place.
pub struct Shown {
    /// What came out, which follows what was to come out.
    verdict: Option<AnyView>,
    sheet: AnyView,
    dock: Option<AnyView>,
}

impl Shown {
    /// A step whose keys stay in their place.
    pub fn with_dock(sheet: impl IntoView + 'static, dock: impl IntoView + 'static) -> Self {
        Shown {
            verdict: None,
            sheet: sheet.into_any(),
            dock: Some(dock.into_any()),
        }
    }

    /// The same with a verdict.
    pub fn judged(self, verdict: impl IntoView + 'static) -> Self {
        Shown {
            verdict: Some(verdict.into_any()),
            ..self
        }
    }

    fn alone(sheet: impl IntoView + 'static) -> Self {
        Shown {
            verdict: None,
            sheet: sheet.into_any(),
            dock: None,
        }
    }
}

impl At {
    /// The step's id.
    pub fn id(self) -> Id {
        self.step.with_value(|step| step.id.clone())
    }

    /// Where something that is typed here is kept until it is sent.
    pub fn place(self, name: &str) -> String {
        self.job.with_value(|job| place(job, &self.id(), name))
    }

    /// The same of the answer to a question. Why a reading is struck out is said of that reading.
    fn asked_at(self, asked: Question) -> String {
        let reading = self.striking.get_untracked();
        match reading.filter(|_| asked == STRIKE) {
            Some(reading) => self.place(&format!("{}-{reading}", asked.kept_as)),
            None => self.place(asked.kept_as),
        }
    }

    fn number(self) -> usize {
        let id = self.id();
        self.procedure
            .with_value(|procedure| procedure.number_of(&id))
            .unwrap_or(1)
    }

    fn status(self) -> Status {
        self.status.get()
    }

    fn is_finished(self) -> bool {
        self.finished.get()
    }

    fn is_stop(self) -> bool {
        self.step.with_value(|step| step.work.is_stop())
    }

    /// Whether entries are taken here now.
    pub fn is_open(self) -> bool {
        self.behind.get().is_none() && !self.is_finished()
    }

    /// Writes a deed of this step to the log.
    pub fn record(self, deed: impl FnOnce(Id) -> Deed) -> bool {
        self.bench.record(deed(self.id()))
    }

    /// The address of the step `by` places further on, or of the finish behind the last one.
    fn neighbour(self, by: isize) -> Option<Route> {
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

    fn move_by(self, by: isize) {
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

    /// What one would leave open by going on now.
    fn unfinished(self) -> Option<Unfinished> {
        if !self.is_open() {
            return None;
        }
        let typed = self.typed.get();
        self.standing.with(|standing| {
            let standing = standing.as_ref()?;
            self.step
                .with_value(|step| Unfinished::of(step, standing, &typed))
        })
    }

    /// Goes on or back; not past something open unless it is said and still stands there to be
    /// read. What was put away or gave way to other words is said again.
    fn leave(self, by: isize) {
        let Some(open) = untrack(|| self.unfinished()) else {
            return self.move_by(by);
        };
        let now = device::clock();
        let told = self.told.get_value();
        match told.filter(|told| told.open == open && self.stands(&told.sentence)) {
            Some(told) if now - told.since >= SETTLED_AFTER => self.move_by(by),
            Some(_) => {}
            None => {
                let sentence = self.say_open(&open, by);
                self.told.set_value(Some(Told {
                    open,
                    sentence,
                    since: now,
                }));
            }
        }
    }

    fn stands(self, sentence: &str) -> bool {
        let notice = self.bench.notice;
        notice.with_untracked(|notice| notice.as_ref().is_some_and(|it| it.text == sentence))
    }

    fn say_open(self, open: &Unfinished, by: isize) -> String {
        let sign = self.bench.sign_now();
        let (text, offer) = match open {
            Unfinished::Typed(typed) => {
                let offer = self.enter.get_value().map(|act| Offer {
                    word: words::ENTER_IT.to_owned(),
                    act: Arc::new(move || {
                        act.try_run(());
                    }),
                });
                (words::typed_only(typed), offer)
            }
            Unfinished::NotLeft(last) => {
                let value = last.corrected.typeset(sign);
                let (at, last) = (self, last.clone());
                let offer = Offer {
                    word: reading_words::leave_at(&value),
                    act: Arc::new(move || {
                        reading::leave(at, &last);
                    }),
                };
                (words::not_left(&value), Some(offer))
            }
            Unfinished::Begun { last, status } => {
                let is_outside = last.verdict.as_ref().is_some_and(|v| !v.is_inside());
                let why = match last.tool {
                    _ if is_outside || *status == Status::Outside => words::OUTSIDE.to_owned(),
                    Some(Tool::In) => words::tool_in(&last.corrected.typeset(sign)),
                    _ => words::stays_open(*status),
                };
                (why, None)
            }
            Unfinished::Socket { wiring, status } => (words::socket_open(wiring, *status), None),
            Unfinished::Unconfirmed { lapsed } => (words::unconfirmed(*lapsed), None),
        };
        let sentence = words::once_more(&text, by > 0);
        self.bench.ask(sentence.clone(), offer);
        sentence
    }
}

fn bench_view(bench: Bench, job: Id, procedure: Arc<Procedure>, step: Step) -> impl IntoView {
    let id = step.id.clone();
    let progress = bench.progress.now();
    let standing =
        Memo::new(move |_| progress.with(|progress| progress.as_ref()?.step(&id).cloned()));
    let standing = Late::new(standing, bench.is_held);
    let at = At {
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
    };
    let speech = expect_context::<Speech>();
    keep_awake();
    tone::follow(at);
    follow_keys(at, speech);
    // The next step is not what is being read.
    on_cleanup(move || speech.stop());
    // To strike a reading out is to name it and to be asked why.
    Effect::new(move |_| {
        if at.striking.with(Option::is_some) {
            at.question.set(Some(STRIKE));
        }
    });
    let on_answer = move |question: Question, text: String| match question {
        STRIKE => strike(at, text),
        NOTE => bench.try_record([Deed::Noted {
            step: Some(at.id()),
            text,
        }]),
        _ => bench.try_record([Deed::Waived {
            step: at.id(),
            reason: text,
        }]),
    };
    let Shown {
        verdict,
        sheet,
        dock,
    } = work(at);
    let has_dock = dock.is_some();
    let damaged = move || {
        bench.progress.track();
        let sign = bench.sign();
        bench.job.with_untracked(|job| damage(job.as_ref()?, sign))
    };
    let act = act(at, verdict);
    let is_open = Signal::derive(move || at.is_open());
    let first_use = at
        .step
        .with_value(|step| first_use::line(bench, &step.work, is_open));
    let left = view! { <div class="sheet-left">{damaged}{first_use}{instruction(at)}{notes(at)}{care::ways(at)}</div> };
    let right =
        view! { <div class="sheet-right">{wait::panel(at)}{sheet}{several::pictures(at)}</div> };
    let board = board_picture(at).map(|board| view! { <div class="sheet-board">{board}</div> });
    let table = several::table(at);
    let has_table = table.is_some();
    let has_board = board.is_some();
    // A reading comes before what is told of it, and what a stop wants confirmed before all else.
    let (first, second) = match has_dock || at.is_stop() {
        true => (right.into_any(), left.into_any()),
        false => (left.into_any(), right.into_any()),
    };
    let has_keys = move || has_dock && at.is_open();
    view! {
        <article class="bench" class:docked=has_keys
            data-pane=move || has_keys().then(|| at.pane.get().name())>
            {head(at, speech)}
            <Show when=has_keys>{panes(at)}</Show>
            {wait::line(at)}
            <div class="sheet" class:sheet-stop=at.is_stop() class:sheet-several=has_table class:sheet-pictured=has_board>
                {act}{table}{first}{second}{board}
            </div>
            <div class="deck">
                <Strip/>
                {dock}
                {bar(at)}
            </div>
            <Ask question=at.question place=move |asked| at.asked_at(asked) on_answer=on_answer/>
        </article>
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

fn strike(at: At, reason: String) -> Result<(), String> {
    let Some(reading) = at.striking.get_untracked() else {
        return Ok(());
    };
    let step = at.id();
    at.bench.try_record([Deed::Struck {
        step,
        reading,
        reason,
    }])?;
    at.striking.set(None);
    Ok(())
}

/// Keeps the screen awake for as long as a step is shown, also after the page was hidden.
fn keep_awake() {
    let guard = StoredValue::new_local(Some(device::stay_awake()));
    let again = window_event_listener_untyped("visibilitychange", move |_| {
        guard.try_update_value(|guard| *guard = Some(device::stay_awake()));
    });
    on_cleanup(move || {
        again.remove();
        guard.try_update_value(|guard| *guard = None);
    });
}

/// Page keys, which page-turner pedals send too, walk through the steps; number keys go to
/// the reading wherever the focus is.
fn follow_keys(at: At, speech: Speech) {
    let handle = window_event_listener(leptos::ev::keydown, move |event| {
        let asking = at.question.with_untracked(Option::is_some);
        if asking || event.ctrl_key() || event.alt_key() || event.meta_key() {
            return;
        }
        let key = event.key();
        match key.as_str() {
            "PageDown" | "PageUp" => {
                event.prevent_default();
                // A key that is held down, or a pedal stood on, is one press.
                if !event.repeat() {
                    at.leave(if key == "PageDown" { 1 } else { -1 });
                }
            }
            "F2" if speech.has_voice.get_untracked() => {
                event.prevent_default();
                speech.toggle(at);
            }
            _ if is_number_key(&key) && !is_in_field(&event) => {
                at.pane.set(Pane::Measure);
                focus_reading();
            }
            _ => {}
        }
    });
    on_cleanup(move || handle.remove());
}

fn is_number_key(key: &str) -> bool {
    let mut letters = key.chars();
    let single = (letters.next(), letters.next());
    matches!(single, (Some(c), None) if c.is_ascii_digit() || matches!(c, '-' | '.' | ','))
}

fn is_in_field(event: &web_sys::KeyboardEvent) -> bool {
    let target = event
        .target()
        .and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    target.is_some_and(|element| matches!(element.tag_name().as_str(), "INPUT" | "TEXTAREA"))
}

fn focus_reading() {
    let field = document().get_element_by_id("reading");
    if let Some(field) = field.and_then(|f| f.dyn_into::<web_sys::HtmlElement>().ok()) {
        device::focus_in_place(&field);
    }
}

fn head(at: At, speech: Speech) -> impl IntoView {
    let bench = at.bench;
    let (title, section, total) = at.procedure.with_value(|procedure| {
        let id = at.id();
        (
            at.step.with_value(|step| step.title.clone()),
            procedure.section_of(&id).map(|s| s.title.clone()),
            procedure.steps().count(),
        )
    });
    let set = move || {
        bench.progress.with(|progress| {
            let header = &progress.as_ref()?.header;
            Some(shared::job(&header.number, &header.set.title()))
        })
    };
    let here = at.number();
    let ticks = Memo::new(move |_| bench.progress.with(|p| Some(Map::of(p.as_ref()?))));
    let map = move || {
        ticks
            .get()
            .map(|map| view! { <LineMap map here=Some(here)/> })
    };
    view! {
        <header class="step-head">
            <div class="step-line">
                <a class="to-steps" href=Route::Steps(at.job.get_value()).address()>
                    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M13 4l-6 6 6 6"/></svg>
                    {shared::ALL_STEPS}
                </a>
                <span class="step-set">{set}</span>
                <span class="step-section">{section}</span>
                <span class="count">{words::place(here, total)}</span>
                <span class="step-status" role="status">{move || view! { <StatusMark status=at.status() behind=at.behind.get()/> }}</span>
            </div>
            <h1>{title}</h1>
            {map}
            <p class="ways">
                {speech::key(at, speech)}
                {put_back::counter(bench, &at.job.get_value())}
                <a href=Route::Sums.address()>{words::SUMS}</a>
            </p>
            {look_again(at)}
            {passes::line(at)}
        </header>
    }
}

/// Why the step needs another look, where it does.
fn look_again(at: At) -> impl IntoView {
    move || {
        let because = at
            .standing
            .with(|s| match s.as_ref()?.look_again.as_ref()? {
                LookAgain::Turned {
                    adjuster,
                    turned_in,
                } => Some(words::was_turned(adjuster.as_str(), *turned_in)),
                // Which pass it is stands there as long as that lasts.
                LookAgain::Pass { .. } => None,
            })?;
        (at.status() == Status::LookAgain).then(|| {
            view! {
                <p class="look-again" role="status">
                    <strong>{words::LOOK_AGAIN}</strong>
                    {because}
                    <TermKey term=Term::Recheck/>
                </p>
            }
        })
    }
}

fn instruction(at: At) -> impl IntoView {
    let step = at.step.get_value();
    let before = at.procedure.with_value(|procedure| {
        let steps: Vec<&Step> = procedure.steps().collect();
        let index = steps.iter().position(|other| other.id == step.id)?;
        index.checked_sub(1).map(|i| steps[i].set_up.clone())
    });
    let paragraphs =
        (!step.text.is_empty()).then(|| view! { <p class="text">{whole_figures(&step.text)}</p> });
    let (changed, unchanged) = set_up(&step, before.as_ref());
    view! {
        {changed}
        {paragraphs}
        {papers::at_step(at.bench, &at.job.get_value(), &step)}
        {put_back::lines(&step)}
        {unchanged}
    }
}

/// What the hand acts on: what it must mind, where it goes, and what the reading is to be.
fn act(at: At, verdict: Option<AnyView>) -> Option<impl IntoView> {
    let step = at.step.get_value();
    let target = step.work.gauge().map(|_| reading::target_line(at));
    let acts = target.is_some() || matches!(step.work, Work::Fit(_) | Work::Wire(_));
    let hands = acts.then(|| hands(at, &step));
    (acts || !step.cautions.is_empty()).then(|| {
        view! { <div class="sheet-act">{cautions(&step.cautions)}{hands}<div class="result-line">{target}{verdict}</div></div> }
    })
}

fn board_picture(at: At) -> Option<impl IntoView> {
    let step = at.step.get_value();
    at.procedure
        .with_value(|procedure| board::at_step(procedure, &step))
}

/// The keys that choose the half of the step, on a screen that has room for one only.
fn panes(at: At) -> impl IntoView {
    let key = move |pane: Pane, word: &'static str| {
        let pressed = move || (at.pane.get() == pane).to_string();
        view! {
            <button type="button" aria-pressed=pressed on:click=move |_| at.pane.set(pane)>{word}</button>
        }
    };
    view! {
        <div class="panes" role="group" aria-label=words::HALVES>
            {key(Pane::Do, words::TO_DO)}
            {key(Pane::Measure, words::TO_MEASURE)}
        </div>
    }
}

fn cautions(cautions: &[String]) -> Option<impl IntoView + use<>> {
    (!cautions.is_empty()).then(|| {
        view! {
            <aside class="caution">
                <strong>{shared::CAUTION}</strong>
                {list_of(cautions.to_vec(), "")}
            </aside>
        }
    })
}

/// What the set must be in: what changes from the step before as rows, the rest in a line.
fn set_up(
    step: &Step,
    before: Option<&SetUp>,
) -> (Option<impl IntoView + use<>>, Option<impl IntoView + use<>>) {
    let items = step.set_up.compared_with(before);
    let (same, changed): (Vec<_>, Vec<_>) = items
        .into_iter()
        .partition(|item| item.change == SetUpChange::Same);
    let rows = changed
        .into_iter()
        .map(|item| {
            let was = match item.change {
                SetUpChange::From(old) => Some(words::was(&whole_figures(&old))),
                SetUpChange::Same | SetUpChange::New => None,
            };
            view! {
                <tr>
                    <th scope="row">{item.name}</th>
                    <td><strong>{whole_figures(&item.value)}</strong>" "<span class="was">{was}</span></td>
                </tr>
            }
        })
        .collect::<Vec<_>>();
    // No table where there is nothing in it: a screen reader would announce one.
    let changed = (!rows.is_empty()).then(|| {
        view! {
            <section class="set-up">
                <h2>{words::SET_UP}</h2>
                <table><tbody>{rows}</tbody></table>
            </section>
        }
    });
    let same: Vec<String> = same
        .into_iter()
        .map(|item| words::setting(&item.name, &whole_figures(&item.value)))
        .collect();
    let unchanged = (!same.is_empty()).then(|| {
        view! { <p class="unchanged"><span>{words::AS_BEFORE}</span>{words::settings(&same)}</p> }
    });
    (changed, unchanged)
}

/// Where the hands go: probe, instrument, tool.
fn hands(at: At, step: &Step) -> impl IntoView + use<> {
    let procedure = at.procedure.get_value();
    let probe = step.work.gauge().map(|gauge| {
        let point = procedure.test_point(&gauge.at);
        let place = point.map(|p| p.place.clone()).unwrap_or_default();
        let also = point.map(|p| shared::list(&p.also)).unwrap_or_default();
        let also = (!also.is_empty()).then(|| words::also_called(&also));
        let place = view! { {place}{also} };
        hand("hand-point", words::PROBE, gauge.at.to_string(), place)
    });
    let turn = step.work.adjuster().map(|id| {
        let adjuster = procedure.adjuster(id);
        let line = adjuster.map(adjuster_line);
        let sign = move || reading::turning(at).map(|turn| turn.sign());
        view! {
            <div class="hand-adjuster">
                <dt>{words::TURN}</dt>
                <dd><strong>{id.to_string()}<span class="turn-sign" aria-hidden="true">{sign}</span></strong><span>{line}</span></dd>
            </div>
        }
    });
    let with = step.work.gauge().map(|gauge| {
        let needs = procedure.instrument(&gauge.with).map(|i| i.needs.clone());
        let role = gauge.with.clone();
        let with = move || {
            let used = instrument_used(at.bench, &role);
            used.or_else(|| needs.clone()).unwrap_or_default()
        };
        let through = gauge.through().iter().map(|role| passed(at, role));
        let through = through.collect_view();
        view! {
            {hand("hand-instrument", words::WITH, gauge.with.to_string(), with)}
            {through}
        }
    });
    let alteration = match &step.work {
        Work::Fit(alteration) => Some(view! {
            {hand("hand-out", words::TAKE_OUT, or_nothing(&alteration.out), ())}
            {hand("hand-fit", words::FIT, alteration.fitted.clone(), ())}
            <div class="hand-why"><dt>{shared::WHY}</dt><dd><span>{or_nothing(&alteration.why)}</span></dd></div>
        }),
        _ => None,
    };
    let lead = match &step.work {
        Work::Wire(lead) => Some(view! {
            {hand("hand-from", words::FROM, lead.from.clone(), ())}
            {hand("hand-to", words::TO, lead.to.clone(), ())}
            {hand("hand-colour", words::COLOUR, or_nothing(&lead.colour), ())}
        }),
        _ => None,
    };
    view! { <dl class="hands">{probe}{turn}{with}{alteration}{lead}</dl> }
}

/// One of the things that the hand acts on: what it is to it, its name, and what else is known.
fn hand(
    class: &'static str,
    term: &'static str,
    name: String,
    more: impl IntoView + 'static,
) -> impl IntoView {
    view! {
        <div class=class>
            <dt>{term}</dt>
            <dd><strong>{name}</strong><span>{more}</span></dd>
        </div>
    }
}

/// Something in the path, with what it takes away where that is known.
fn passed(at: At, role: &Id) -> impl IntoView + use<> {
    let (name, role) = (role.to_string(), role.clone());
    let used = move || {
        let sign = at.bench.sign();
        at.bench.progress.with(|progress| {
            let header = progress.as_ref().map(|progress| &progress.header);
            let used = header.and_then(|header| header.used_as(&role));
            let loss = used.and_then(|used| used.record.as_ref()?.loss.as_ref());
            match (used, loss) {
                (Some(used), Some(loss)) => words::with_loss(&used.name, &loss.typeset(sign)),
                (used, _) => words::loss_unknown(used.map(|used| used.name.as_str())),
            }
        })
    };
    hand("hand-through", words::THROUGH, name, used)
}

fn instrument_used(bench: Bench, role: &Id) -> Option<String> {
    bench.progress.with(|progress| {
        let used = progress.as_ref()?.header.used_as(role)?;
        Some(used.name.clone())
    })
}

fn adjuster_line(adjuster: &Adjuster) -> String {
    let mut parts = vec![adjuster.kind.name().to_owned()];
    if !adjuster.note.is_empty() {
        parts.push(adjuster.note.clone());
    }
    if !adjuster.tool.is_empty() {
        parts.push(words::with_tool(&adjuster.tool));
    }
    parts.extend(adjuster.clockwise.map(|sense| match sense {
        Sense::Raises => words::CLOCKWISE_RAISES.to_owned(),
        Sense::Lowers => words::CLOCKWISE_LOWERS.to_owned(),
    }));
    shared::list(&parts)
}

fn or_nothing(text: &str) -> String {
    match text.is_empty() {
        true => words::NOTHING.to_owned(),
        false => text.to_owned(),
    }
}

fn notes(at: At) -> impl IntoView {
    move || {
        let standing = at.standing.get()?;
        let mut lines: Vec<String> = standing.notes.into_iter().map(|note| note.text).collect();
        if let Some(waived) = standing.waived {
            lines.push(words::waived(&waived.text));
        }
        (!lines.is_empty()).then(|| {
            view! {
                <section class="notes">
                    <h2>{words::NOTED}</h2>
                    {list_of(lines, "")}
                </section>
            }
        })
    }
}

fn work(at: At) -> Shown {
    let kind = at.step.with_value(|step| step.work.clone());
    let tick = |class, text: &str, button| confirmation(at, class, Some(text.to_owned()), button);
    match kind {
        Work::Read { .. } | Work::Set { .. } | Work::Peak { .. } | Work::Dip { .. } => {
            reading::reading(at)
        }
        Work::Socket(socket) => {
            let done = tick("wired", words::SOCKET_DONE, words::DONE);
            socket::sheet(at, socket, done)
        }
        Work::Inspect => Shown::alone(inspection(at)),
        Work::Stop {
            confirm,
            reads: Some(_),
            ..
        } => hold_point(at, confirm),
        Work::Stop { confirm, .. } => Shown::alone(tick("stop", &confirm, words::CONFIRM)),
        Work::Fit(alteration) => Shown::alone(changes::fitting(at, alteration)),
        Work::Wire(_) => Shown::alone(confirmation(at, "tick", None, words::WIRED)),
        Work::Repeat(repeat) => Shown::alone(passes::panel(at, repeat)),
        Work::Tick => Shown::alone(confirmation(at, "tick", None, words::DONE)),
    }
}

/// A stop that a reading confirms: what that makes sure of, and the reading.
fn hold_point(at: At, confirm: String) -> Shown {
    let Shown {
        verdict,
        sheet,
        dock,
    } = reading::reading(at);
    let stands = move || {
        let (confirmed, last) = at.standing.with(|standing| {
            let standing = standing.as_ref()?;
            Some((standing.ticked, standing.readings.last().cloned()))
        })?;
        let last = last?.corrected.typeset(at.bench.sign());
        Some(match (confirmed.map(device::date_and_time), at.status()) {
            (Some(when), Status::Lapsed) => words::lapsed(&when),
            (Some(when), _) => words::opened_by(&last, &when),
            (None, _) => words::stays_closed(&last),
        })
    };
    let sheet = view! {
        <section class="answer stop">
            <p class="confirm">{confirm}</p>
            <p class="hint">{words::BY_READING}<TermKey term=Term::HoldPoint/></p>
            <p class="when" role="status">{stands}</p>
        </section>
        {sheet}
    };
    Shown {
        verdict,
        sheet: sheet.into_any(),
        dock,
    }
}

fn confirmation(
    at: At,
    class: &'static str,
    text: Option<String>,
    button: &'static str,
) -> impl IntoView {
    let confirm = move |_| {
        if at.record(|step| Deed::Ticked { step }) {
            focus_next();
        }
    };
    let text_line = NodeRef::<Paragraph>::new();
    let key = NodeRef::<Button>::new();
    // A tick is at hand for the next key. A stop wants one on purpose: its words come first.
    match class {
        "stop" if untrack(|| holds(at)) => {}
        // The entry of the pins has the focus.
        "wired" => {}
        "stop" => text_line.on_load(|line| device::focus_in_place(&line)),
        _ => focus_when_shown(key),
    }
    let lapsed = move || at.status() == Status::Lapsed;
    let ticked = move || {
        let ticked = at.standing.with(|s| s.as_ref().and_then(|s| s.ticked))?;
        let when = device::date_and_time(ticked);
        let said = match at.status() {
            Status::Lapsed => words::lapsed(&when),
            Status::WaitAgain => words::wait_again(&when),
            status if class == "wired" && status.is_owed() => {
                socket_words::ticked_but(&when, status.name())
            }
            _ => when,
        };
        Some(view! { <p class="when">{said}</p> })
    };
    let word = move || match lapsed() {
        true => words::CONFIRM_AGAIN,
        false => button,
    };
    view! {
        <section class=format!("answer {class}")>
            {text.map(|text| view! { <p class="confirm" node_ref=text_line tabindex="-1">{text}</p> })}
            <Show when=move || is_to_tick(at, class)>
                <button type="button" class="large" class:main=move || at.leads() == Lead::Answer && !wait::is_to_start(at) node_ref=key disabled=move || !at.is_open() on:click=confirm>
                    {word}
                </button>
            </Show>
            // The table of the pins says it.
            {(class != "wired").then(|| closed(at))}
            {ticked}
            {(class == "stop").then(|| view! { <p class="hint">{words::IS_HOLD_POINT}<TermKey term=Term::HoldPoint/></p> })}
        </section>
    }
}

/// Moves the focus to a button whenever it appears, as it does again after an undo. What is
/// called by `on_load` may be called once only.
pub fn focus_when_shown(button: NodeRef<Button>) {
    Effect::new(move |_| {
        if let Some(button) = button.get() {
            device::focus_in_place(&button);
        }
    });
}

/// Whether the key that ticks is of use. A socket's pins may keep it open once it is ticked, and
/// ticking it again changes nothing.
fn is_to_tick(at: At, class: &str) -> bool {
    match class {
        "wired" => at
            .standing
            .with(|s| s.as_ref().is_none_or(|s| s.ticked.is_none())),
        _ => !holds(at),
    }
}

/// Whether a tick or a stop is done and no break has ended it.
fn holds(at: At) -> bool {
    at.status() == Status::Done
}

fn inspection(at: At) -> impl IntoView {
    let note = at.typed;
    let answer = move |finding: Finding| {
        let text = note.get_untracked();
        let taken = at.record(|step| Deed::Answered {
            step,
            answer: finding,
            note: text,
        });
        if taken {
            note.set(String::new());
            focus_next();
        }
    };
    let current = move || at.standing.with(|s| s.as_ref()?.answer.clone());
    let buttons = Finding::ALL
        .into_iter()
        .map(|finding| {
            let pressed = move || current().is_some_and(|answer| answer.finding == finding);
            view! {
                <button type="button" class="choice" aria-pressed=move || pressed().to_string()
                    disabled=move || !at.is_open() on:click=move |_| answer(finding)>
                    <strong>{capitalised(finding.name())}</strong>
                    <span>{meaning(finding)}</span>
                </button>
            }
        })
        .collect_view();
    view! {
        <section class="answer">
            <label for="finding-note">{words::WHAT_YOU_SEE}</label>
            <textarea id="finding-note" rows="3" prop:value=move || field_text(note.get())
                on:input=move |e| note.set(event_target_value(&e))></textarea>
            <div class="choices" role="group" aria-label=words::WHAT_YOU_FOUND>{buttons}</div>
            {closed(at)}
            {move || current().filter(|a| !a.note.is_empty()).map(|a| view! { <p class="found-note">{a.note}</p> })}
        </section>
    }
}

const fn meaning(finding: Finding) -> &'static str {
    match finding {
        Finding::Sound => words::SOUND_MEANS,
        Finding::Altered => words::ALTERED_MEANS,
        Finding::Worn => words::WORN_MEANS,
        Finding::Damaged => words::DAMAGED_MEANS,
    }
}

/// Why nothing can be entered here, where that is so: a sentence that leads to where that ends.
pub fn closed(at: At) -> impl IntoView {
    move || {
        let job = at.job.get_value();
        let Some(number) = at.behind.get() else {
            return at
                .is_finished()
                .then(|| closed_line(words::finished(), &Route::Finish(job), None));
        };
        let stop = at.procedure.with_value(|procedure| {
            let step = procedure.steps().nth(number - 1)?;
            Some(step.id.clone())
        })?;
        let has_lapsed = at.bench.progress.with(|progress| {
            let stop = progress.as_ref().and_then(|progress| progress.step(&stop));
            stop.is_some_and(|stop| stop.status == Status::Lapsed)
        });
        let step = Some(stop);
        let why = words::closed(number, has_lapsed);
        // A stop says by itself what it is.
        let term = (!at.is_stop()).then_some(Term::HoldPoint);
        Some(closed_line(why, &Route::Step { job, step }, term))
    }
}

fn closed_line((before, name, after): words::Leading, to: &Route, term: Option<Term>) -> AnyView {
    let term = term.map(|term| view! { <TermKey term/> });
    view! { <p class="closed">{before}<a href=to.address()>{name}</a>{after}{term}</p> }.into_any()
}

/// Moves the focus on to the way forward, so that a keyboard goes on from there.
pub fn focus_next() {
    let button = document().get_element_by_id("next");
    if let Some(button) = button.and_then(|b| b.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = button.focus();
    }
}

fn bar(at: At) -> impl IntoView {
    let leads = move || at.leads() == Lead::Next;
    let has_undo = move || {
        at.bench.job.with(|job| {
            job.as_ref()
                .is_some_and(|j: &Job| j.last_undoable().is_some())
        })
    };
    let can_waive = move || !at.is_stop() && at.status().is_owed() && !at.is_finished();
    view! {
        <nav class="bar" aria-label=words::STEP>
            <button type="button" disabled=at.neighbour(-1).is_none() on:click=move |_| at.leave(-1)>{words::BACK}</button>
            <button type="button" disabled=move || !has_undo() || at.is_finished() on:click=move |_| at.bench.undo(Some(&at.id()))>{shared::UNDO}</button>
            <button type="button" disabled=move || at.is_finished() on:click=move |_| at.question.set(Some(NOTE))>{shared::NOTE}</button>
            <button type="button" disabled=move || !can_waive() on:click=move |_| at.question.set(Some(WAIVE))>{words::WAIVE}</button>
            <button type="button" id="next" class:main=leads on:click=move |_| at.leave(1)>{words::NEXT}</button>
        </nav>
    }
}
