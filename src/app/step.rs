//! The step in front of you: what to do, the state the set must be in, where to probe, what
//! to turn, and the reading.

use super::bench::{Bench, use_bench};
use super::device;
use super::parts::{
    Ask, Keypad, Mark, MarkKind, Proved, Question, StatusMark, TargetScale, capitalised, list_of,
};
use super::route::Route;
use crate::job::{Deed, Finding, Job, Phase, Progress, Status, StepProgress};
use crate::metrology::{Place, Tolerance};
use crate::procedure::{
    Adjuster, Id, Procedure, Sense, SetUp, SetUpChange, Step, TargetFault, Work,
};
use crate::quantity::{self, Quantity, Scale};
use leptos::html::{Button, Input, P as Paragraph};
use leptos::prelude::*;
use num_traits::{Signed, Zero};
use wasm_bindgen::JsCast;

const NOTE: Question = Question {
    title: "A note on this step",
    hint: "It stands in the log and on the sheet.",
    answer: "Keep the note",
};

const WAIVE: Question = Question {
    title: "Waive this step",
    hint: "Say why it is left out or left as it is. The reason stands on the sheet.",
    answer: "Waive the step",
};

/// The screen of a step; of the one that is due where none is named.
pub fn screen(job: Id, step: Option<Id>) -> impl IntoView {
    let bench = use_bench();
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
        match due() {
            Some(route) => bench.go(&route),
            None => return missing().into_any(),
        }
        return ().into_any();
    };
    let found = bench.job.with_untracked(|job| {
        let job = job.as_ref()?;
        let step = job.procedure.step(&id)?.clone();
        Some((job.id.clone(), job.procedure.clone(), step))
    });
    match found {
        Some((job, procedure, step)) => bench_view(bench, job, procedure, step).into_any(),
        None => missing().into_any(),
    }
}

fn missing() -> impl IntoView {
    view! {
        <section class="page">
            <h1>"Not on this device"</h1>
            <p>"The job or step of this address is not here. It may be on another device: bring its file in on the data screen."</p>
            <a class="button" href=Route::Jobs.address()>"To the jobs"</a>
        </section>
    }
}

/// Everything that the parts of the screen need to know of the step.
#[derive(Clone, Copy)]
struct At {
    bench: Bench,
    job: StoredValue<Id>,
    procedure: StoredValue<Procedure>,
    step: StoredValue<Step>,
    standing: Memo<Option<StepProgress>>,
    question: RwSignal<Option<Question>>,
}

impl At {
    fn id(self) -> Id {
        self.step.with_value(|step| step.id.clone())
    }

    fn number(self) -> usize {
        let id = self.id();
        self.procedure
            .with_value(|procedure| procedure.number_of(&id))
            .unwrap_or(1)
    }

    fn status(self) -> Status {
        self.standing
            .with(|standing| standing.as_ref().map_or(Status::Open, |s| s.status))
    }

    fn is_finished(self) -> bool {
        self.bench
            .progress
            .with(|p| p.as_ref().is_some_and(|p| p.signed_off.is_some()))
    }

    /// Whether entries are taken here now.
    fn is_open(self) -> bool {
        let behind = self
            .standing
            .with(|standing| standing.as_ref().and_then(|s| s.behind));
        behind.is_none() && !self.is_finished()
    }

    fn record(self, deed: impl FnOnce(Id) -> Deed) -> bool {
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
            None => Route::Finish(job),
        })
    }

    fn move_by(self, by: isize) {
        if let Some(route) = self.neighbour(by) {
            self.bench.go(&route);
        }
    }
}

fn bench_view(bench: Bench, job: Id, procedure: Procedure, step: Step) -> impl IntoView {
    let id = step.id.clone();
    let at = At {
        bench,
        job: StoredValue::new(job),
        procedure: StoredValue::new(procedure),
        step: StoredValue::new(step),
        standing: Memo::new(move |_| {
            bench
                .progress
                .with(|progress| progress.as_ref()?.step(&id).cloned())
        }),
        question: RwSignal::new(None),
    };
    keep_awake();
    follow_keys(at);
    let on_answer = move |question: Question, text: String| match question {
        NOTE => at.record(|step| Deed::Noted {
            step: Some(step),
            text,
        }),
        _ => at.record(|step| Deed::Waived { step, reason: text }),
    };
    view! {
        <article class="bench">
            {head(at)}
            <div class="sheet">
                <div class="sheet-left">{instruction(at)}{notes(at)}</div>
                <div class="sheet-right">{work(at)}</div>
            </div>
            {bar(at)}
            <Ask question=at.question on_answer=on_answer/>
        </article>
    }
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
fn follow_keys(at: At) {
    let handle = window_event_listener(leptos::ev::keydown, move |event| {
        let asking = at.question.with_untracked(Option::is_some);
        if asking || event.ctrl_key() || event.alt_key() || event.meta_key() {
            return;
        }
        let key = event.key();
        match key.as_str() {
            "PageDown" => {
                event.prevent_default();
                at.move_by(1);
            }
            "PageUp" => {
                event.prevent_default();
                at.move_by(-1);
            }
            _ if is_number_key(&key) && !is_in_field(&event) => focus_reading(),
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

fn head(at: At) -> impl IntoView {
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
            Some(format!("{} · {}", header.number, header.set.title()))
        })
    };
    let settled = move || {
        bench
            .progress
            .with(|p| p.as_ref().map_or(0, Progress::settled))
    };
    let behind = move || at.standing.with(|s| s.as_ref().and_then(|s| s.behind));
    view! {
        <header class="step-head">
            <p class="crumbs">
                <span>{set}</span>
                <span class="ways">
                    <a href=Route::Sums.address()>"Sums"</a>
                    <a href=Route::Steps(at.job.get_value()).address()>"All steps"</a>
                </span>
            </p>
            <p class="section-line">
                <span>{section}</span>
                <span class="count">{format!("Step {} of {total}", at.number())}</span>
            </p>
            <h1>{title}</h1>
            {move || view! { <StatusMark status=at.status() behind=behind()/> }}
            <progress max=total value=settled aria-label="Steps done"></progress>
        </header>
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
        (!step.text.is_empty()).then(|| view! { <p class="text">{step.text.clone()}</p> });
    view! {
        {cautions(&step.cautions)}
        {paragraphs}
        {set_up(&step, before.as_ref())}
        {hands(at, &step)}
    }
}

fn cautions(cautions: &[String]) -> Option<impl IntoView + use<>> {
    (!cautions.is_empty()).then(|| {
        view! {
            <aside class="caution">
                <strong>"Caution"</strong>
                {list_of(cautions.to_vec(), "")}
            </aside>
        }
    })
}

/// What the set must be in: what changes from the step before as rows, the rest in a line.
fn set_up(step: &Step, before: Option<&SetUp>) -> Option<impl IntoView + use<>> {
    let items = step.set_up.compared_with(before);
    if items.is_empty() {
        return None;
    }
    let (same, changed): (Vec<_>, Vec<_>) = items
        .into_iter()
        .partition(|item| item.change == SetUpChange::Same);
    let rows = changed
        .into_iter()
        .map(|item| {
            let was = match item.change {
                SetUpChange::From(old) => Some(format!("was {old}")),
                SetUpChange::Same | SetUpChange::New => None,
            };
            view! {
                <tr>
                    <th scope="row">{item.name}</th>
                    <td><strong>{item.value}</strong> <span class="was">{was}</span></td>
                </tr>
            }
        })
        .collect_view();
    let same: Vec<String> = same
        .into_iter()
        .map(|item| format!("{} {}", item.name, item.value))
        .collect();
    let unchanged = (!same.is_empty()).then(|| {
        view! { <p class="unchanged"><span>"As before: "</span>{same.join(" · ")}</p> }
    });
    Some(view! {
        <section class="set-up">
            <h2>"Set-up"</h2>
            <table><tbody>{rows}</tbody></table>
            {unchanged}
        </section>
    })
}

/// Where the hands go: probe, instrument, tool.
fn hands(at: At, step: &Step) -> impl IntoView + use<> {
    let procedure = at.procedure.get_value();
    let probe = step.work.gauge().map(|gauge| {
        let point = procedure.test_point(&gauge.at);
        let place = point.map(|p| p.place.clone()).unwrap_or_default();
        let also = point.map(|p| p.also.join(", ")).unwrap_or_default();
        let also = (!also.is_empty()).then(|| format!(" Also called {also}."));
        let needs = procedure.instrument(&gauge.with).map(|i| i.needs.clone());
        let used = instrument_used(at.bench, &gauge.with);
        let with = used.or(needs).unwrap_or_default();
        view! {
            <dt>"Probe"</dt>
            <dd><strong>{gauge.at.to_string()}</strong>" "{place}{also}</dd>
            <dt>"With"</dt>
            <dd><strong>{gauge.with.to_string()}</strong>" "{with}</dd>
        }
    });
    let turn = step.work.adjuster().map(|id| {
        let adjuster = procedure.adjuster(id);
        view! {
            <dt>"Turn"</dt>
            <dd><strong>{id.to_string()}</strong>" "{adjuster.map(adjuster_line)}</dd>
        }
    });
    let alteration = match &step.work {
        Work::Fit(alteration) => Some(view! {
            <dt>"Take out"</dt><dd>{or_nothing(&alteration.out)}</dd>
            <dt>"Fit"</dt><dd><strong>{alteration.fitted.clone()}</strong></dd>
            <dt>"Why"</dt><dd>{or_nothing(&alteration.why)}</dd>
        }),
        _ => None,
    };
    let lead = match &step.work {
        Work::Wire(lead) => Some(view! {
            <dt>"From"</dt><dd><strong>{lead.from.clone()}</strong></dd>
            <dt>"To"</dt><dd><strong>{lead.to.clone()}</strong></dd>
            <dt>"Colour"</dt><dd>{or_nothing(&lead.colour)}</dd>
        }),
        _ => None,
    };
    view! { <dl class="hands">{probe}{turn}{alteration}{lead}</dl> }
}

fn instrument_used(bench: Bench, role: &Id) -> Option<String> {
    bench.progress.with_untracked(|progress| {
        let used = &progress.as_ref()?.header.instruments;
        let used = used.iter().find(|used| used.role == *role)?;
        Some(used.name.clone())
    })
}

fn adjuster_line(adjuster: &Adjuster) -> String {
    let mut parts = vec![adjuster.kind.name().to_owned()];
    if !adjuster.note.is_empty() {
        parts.push(adjuster.note.clone());
    }
    if !adjuster.tool.is_empty() {
        parts.push(format!("with {}", adjuster.tool));
    }
    parts.extend(adjuster.clockwise.map(|sense| match sense {
        Sense::Raises => "clockwise raises".to_owned(),
        Sense::Lowers => "clockwise lowers".to_owned(),
    }));
    parts.join(", ")
}

fn or_nothing(text: &str) -> String {
    match text.is_empty() {
        true => "nothing".to_owned(),
        false => text.to_owned(),
    }
}

fn notes(at: At) -> impl IntoView {
    move || {
        let standing = at.standing.get()?;
        let mut lines: Vec<String> = standing.notes.into_iter().map(|note| note.text).collect();
        if let Some(waived) = standing.waived {
            lines.push(format!("Waived: {}", waived.text));
        }
        (!lines.is_empty()).then(|| {
            view! {
                <section class="notes">
                    <h2>"Noted"</h2>
                    {list_of(lines, "")}
                </section>
            }
        })
    }
}

fn work(at: At) -> AnyView {
    let kind = at.step.with_value(|step| step.work.clone());
    match kind {
        Work::Read { .. } | Work::Set { .. } | Work::Peak { .. } | Work::Dip { .. } => {
            reading(at).into_any()
        }
        Work::Socket(_) => {
            confirmation(at, "tick", "Every pin is measured.".to_owned(), "Done").into_any()
        }
        Work::Inspect => inspection(at).into_any(),
        Work::Stop { confirm } => confirmation(at, "stop", confirm, "I confirm").into_any(),
        Work::Fit(_) => confirmation(at, "tick", "The part is in.".to_owned(), "Fitted").into_any(),
        Work::Wire(_) => confirmation(
            at,
            "tick",
            "The lead is on and checked.".to_owned(),
            "Wired",
        )
        .into_any(),
        Work::Tick => {
            confirmation(at, "tick", "Do it, then tick it.".to_owned(), "Done").into_any()
        }
    }
}

fn confirmation(at: At, class: &'static str, text: String, button: &'static str) -> impl IntoView {
    let confirm = move |_| {
        if at.record(|step| Deed::Ticked { step }) {
            focus_next();
        }
    };
    let words = NodeRef::<Paragraph>::new();
    let key = NodeRef::<Button>::new();
    // A tick is at hand for the next key. A stop wants one on purpose: its words come first.
    match class {
        "stop" if untrack(|| at.status()) == Status::Done => {}
        "stop" => words.on_load(|words| device::focus_in_place(&words)),
        _ => key.on_load(|key| device::focus_in_place(&key)),
    }
    let ticked = move || {
        let ticked = at.standing.with(|s| s.as_ref().and_then(|s| s.ticked))?;
        Some(view! { <p class="when">{device::date_and_time(ticked)}</p> })
    };
    view! {
        <section class=format!("answer {class}")>
            <p class="confirm" node_ref=words tabindex="-1">{text}</p>
            <Show when=move || at.status() != Status::Done>
                <button type="button" class="main large" node_ref=key disabled=move || !at.is_open() on:click=confirm>
                    {button}
                </button>
            </Show>
            {closed(at)}
            {ticked}
        </section>
    }
}

fn inspection(at: At) -> impl IntoView {
    let note = RwSignal::new(at.bench.draft(&at.job.get_value(), &at.id()));
    let keep = move |text: String| {
        at.bench.keep_draft(&at.job.get_value(), &at.id(), &text);
        note.set(text);
    };
    let answer = move |finding: Finding| {
        let text = note.get_untracked();
        let taken = at.record(|step| Deed::Answered {
            step,
            answer: finding,
            note: text,
        });
        if taken {
            keep(String::new());
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
            <label for="finding-note">"What you see"</label>
            <textarea id="finding-note" rows="3" prop:value=note
                on:input=move |e| keep(event_target_value(&e))></textarea>
            <div class="choices" role="group" aria-label="What you found">{buttons}</div>
            {closed(at)}
            {move || current().filter(|a| !a.note.is_empty()).map(|a| view! { <p class="found-note">{a.note}</p> })}
        </section>
    }
}

const fn meaning(finding: Finding) -> &'static str {
    match finding {
        Finding::Sound => "as built, in order",
        Finding::Altered => "changed by earlier hands",
        Finding::Worn => "used up but whole",
        Finding::Damaged => "broken",
    }
}

/// Why nothing can be entered here, where that is so.
fn closed(at: At) -> impl IntoView {
    move || {
        let behind = at.standing.with(|s| s.as_ref().and_then(|s| s.behind));
        if let Some(number) = behind {
            let stop = at.procedure.with_value(|procedure| {
                let step = procedure.steps().nth(number - 1)?;
                Some(Route::Step {
                    job: at.job.get_value(),
                    step: Some(step.id.clone()),
                })
            });
            return stop.map(|route| {
                view! {
                    <p class="closed">
                        "This step opens when the stop at step "{number}" is confirmed. "
                        <a href=route.address()>"Go to the stop"</a>
                    </p>
                }
                .into_any()
            });
        }
        at.is_finished().then(|| {
            view! { <p class="closed">"This job is finished. It can be reopened on its last screen."</p> }.into_any()
        })
    }
}

/// Moves the focus on to the way forward, so that a keyboard goes on from there.
fn focus_next() {
    let button = document().get_element_by_id("next");
    if let Some(button) = button.and_then(|b| b.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = button.focus();
    }
}

/// The state of the entry field.
#[derive(Clone, Copy)]
struct Entry {
    at: At,
    text: RwSignal<String>,
    scale: RwSignal<Scale>,
    phase: RwSignal<Option<Phase>>,
    error: RwSignal<Option<String>>,
}

impl Entry {
    /// The number as typed so far, if it can be read.
    fn typed(self) -> Option<Quantity> {
        let text = self.text.get();
        quantity::read(&text, self.scale.get(), self.at.bench.sign()).ok()
    }

    /// The phase of the next reading: as chosen, or the likely one.
    fn next_phase(self) -> Phase {
        let likely = || {
            let work = self.at.step.with_value(|step| step.work.clone());
            self.at
                .standing
                .with(|s| s.as_ref().map_or(Phase::AsFound, |s| s.next_phase(&work)))
        };
        self.phase.get().unwrap_or_else(likely)
    }

    /// Writes the typed reading to the log; what can't be read stays in the field.
    fn enter(self) {
        let text = self.text.get_untracked();
        let sign = self.at.bench.preferences.with_untracked(|p| p.decimal_sign);
        match quantity::read(&text, self.scale.get_untracked(), sign) {
            Ok(value) => {
                let phase = untrack(|| self.next_phase());
                if self.record(value, phase) {
                    self.text.set(String::new());
                }
            }
            Err(error) => self.error.set(Some(error.to_string())),
        }
    }

    fn record(self, value: Quantity, phase: Phase) -> bool {
        let taken = self.at.record(|step| Deed::Reading {
            step,
            phase,
            value,
            tool: None,
            repeat: false,
        });
        if taken {
            self.phase.set(None);
            self.error.set(None);
        }
        taken
    }

    /// A reading put right by what is known of the instrument.
    fn corrected(self, value: Quantity) -> Quantity {
        let role = self
            .at
            .step
            .with_value(|step| step.work.gauge().map(|gauge| gauge.with.clone()));
        let progress = self.at.bench.progress;
        progress.with(|progress| {
            let header = progress.as_ref().map(|progress| &progress.header);
            let instrument = header.zip(role).and_then(|(h, r)| h.kit_instrument(&r));
            instrument.map_or(value.clone(), |i| i.corrected(&value))
        })
    }

    fn tolerance(self) -> Option<Tolerance> {
        self.at
            .standing
            .with(|s| s.as_ref()?.tolerance.clone()?.ok())
    }
}

fn reading(at: At) -> impl IntoView {
    let step = at.step.get_value();
    let scale = step
        .work
        .gauge()
        .map_or(Scale::plain(quantity::Unit::Ratio), |gauge| gauge.scale);
    let entry = Entry {
        at,
        text: RwSignal::new(at.bench.draft(&at.job.get_value(), &at.id())),
        scale: RwSignal::new(scale),
        phase: RwSignal::new(None),
        error: RwSignal::new(None),
    };
    // What is typed outlives the page; a new number takes an old complaint away.
    Effect::new(move |_| {
        let text = entry.text.get();
        at.bench.keep_draft(&at.job.get_value(), &at.id(), &text);
        entry.error.set(None);
    });
    view! {
        <section class="answer reading">
            {target_line(at)}
            {drawn(entry, scale)}
            {verdict_line(entry)}
            {proved(at)}
            {closed(at)}
            <Show when=move || at.is_open()>{entry_form(entry)}</Show>
            {taken(entry)}
        </section>
    }
}

fn target_line(at: At) -> impl IntoView {
    let work = at.step.with_value(|step| step.work.clone());
    let aim = match &work {
        Work::Peak { .. } => Some("As large as it gets"),
        Work::Dip { .. } => Some("As small as it gets"),
        _ => None,
    };
    let printed = move || {
        let sign = at.bench.sign();
        let target = work.target()?;
        let relative = target.typeset(sign, |id| at.procedure.with_value(|p| p.number_of(id)));
        let fault = at.standing.with(|s| s.as_ref()?.tolerance.clone()?.err());
        let worked_out = at
            .standing
            .with(|s| s.as_ref()?.tolerance.clone()?.ok())
            .map(|tolerance| tolerance.typeset(sign))
            .filter(|text| *text != relative);
        Some(view! {
            <span class="target">{relative}</span>
            {worked_out.map(|text| view! { <span class="target worked-out">{text}</span> })}
            {fault.map(|fault| view! { <span class="hint">{waiting(at, &fault)}</span> })}
        })
    };
    view! {
        <p class="target-line">
            <span class="term">"Target"</span>
            {aim.map(|aim| view! { <span class="target">{aim}</span> })}
            {printed}
        </p>
    }
}

fn waiting(at: At, fault: &TargetFault) -> String {
    match fault {
        TargetFault::Waiting(id) => {
            let number = at.procedure.with_value(|p| p.number_of(id));
            let step = number.map_or(id.to_string(), |n| n.to_string());
            format!("Known as soon as step {step} has its reading.")
        }
        other => format!("It can't be worked out: {other}."),
    }
}

fn drawn(entry: Entry, scale: Scale) -> impl IntoView {
    let at = entry.at;
    move || {
        let standing = at.standing.get()?;
        let typed = entry.typed();
        let latest = typed
            .is_none()
            .then(|| standing.readings.len().checked_sub(1))
            .flatten();
        let mut marks: Vec<Mark> = standing
            .readings
            .iter()
            .enumerate()
            .map(|(index, taken)| Mark {
                value: taken.corrected.clone(),
                kind: match taken.phase {
                    _ if Some(index) == latest => MarkKind::Latest,
                    Phase::AsFound => MarkKind::Found,
                    _ => MarkKind::Earlier,
                },
            })
            .collect();
        marks.extend(typed.map(|value| Mark {
            value: entry.corrected(value),
            kind: MarkKind::Typed,
        }));
        let tolerance = entry.tolerance();
        Some(view! { <TargetScale tolerance marks scale sign=at.bench.sign()/> })
    }
}

/// The number that counts now, what it proves, and which way it must go.
fn verdict_line(entry: Entry) -> impl IntoView {
    let at = entry.at;
    move || {
        let sign = at.bench.sign();
        let typed = entry.typed();
        let standing = at.standing.get()?;
        let value = typed
            .clone()
            .map(|value| entry.corrected(value))
            .or_else(|| Some(standing.readings.last()?.corrected.clone()))?;
        let verdict = entry.tolerance().map(|tolerance| tolerance.judge(&value));
        let place = verdict.as_ref().map(|v| v.place);
        let words = verdict.as_ref().map(|v| v.words(sign));
        let way = place.and_then(|place| way_to_go(at, place));
        let best = best_so_far(at, &standing, &value);
        let word = match place {
            None => "read",
            Some(Place::Inside) => "inside",
            Some(_) => "outside",
        };
        let pending = typed.is_some();
        Some(view! {
            <div class="verdict" data-place=word class:verdict-typed=pending role="status">
                <p class="figure">{value.typeset(sign)}</p>
                <p class="word">
                    <strong>{capitalised(word)}</strong>
                    " "{words}
                    {pending.then_some(" (not entered yet)")}
                </p>
                {way.map(|way| view! { <p class="way">{way}</p> })}
                {best.map(|best| view! { <p class="way">{best}</p> })}
            </div>
        })
    }
}

/// What the reading that the step stands by proves.
fn proved(at: At) -> impl IntoView {
    move || {
        let standing = at.standing.get()?;
        let raw = standing.readings.last()?.value.clone();
        let left = standing.left?;
        let rule = at
            .bench
            .progress
            .with(|p| Some(p.as_ref()?.header.rule.clone()))?;
        Some(view! { <Proved left raw rule sign=at.bench.sign()/> })
    }
}

/// Which way the reading must go and, where known, which way to turn.
fn way_to_go(at: At, place: Place) -> Option<String> {
    let adjuster = at.step.with_value(|step| step.work.adjuster().cloned())?;
    let sense = at
        .procedure
        .with_value(|p| p.adjuster(&adjuster).and_then(|a| a.clockwise));
    let (way, up) = match place {
        Place::Inside => return None,
        Place::Low => ("The reading must rise", true),
        Place::High => ("The reading must fall", false),
    };
    let turn = sense.map(|sense| match (sense == Sense::Raises) == up {
        true => format!(": turn {adjuster} clockwise"),
        false => format!(": turn {adjuster} anticlockwise"),
    });
    Some(format!("{way}{}.", turn.unwrap_or_default()))
}

/// For a peak or a dip: how far the reading is from the best so far.
fn best_so_far(at: At, standing: &StepProgress, value: &Quantity) -> Option<String> {
    let work = at.step.with_value(|step| step.work.clone());
    let best = standing.best(&work)?;
    let sign = at.bench.sign();
    let distance = value.base() - best.value.base();
    let better = matches!(work, Work::Peak { .. }) == distance.is_positive();
    let size = Quantity::natural(distance.abs(), value.unit().of_difference()).typeset(sign);
    Some(match (distance.is_zero(), better) {
        (true, _) => "The best so far.".to_owned(),
        (_, true) => format!("Better than before by {size}."),
        (_, false) => format!("{size} off the best so far, {}.", best.value.typeset(sign)),
    })
}

fn entry_form(entry: Entry) -> impl IntoView {
    let at = entry.at;
    let adjusts = at.step.with_value(|step| step.work.adjuster().is_some());
    let phases: &[Phase] = match adjusts {
        true => &[Phase::AsFound, Phase::Try, Phase::AsLeft],
        false => &[Phase::AsFound, Phase::AsLeft],
    };
    let field = NodeRef::<Input>::new();
    field.on_load(|field| device::focus_in_place(&field));
    let label = move || {
        let target = at.step.with_value(|step| step.work.target().cloned());
        let number_of = |id: &Id| at.procedure.with_value(|p| p.number_of(id));
        let target = target.map(|t| format!(", target {}", t.typeset(at.bench.sign(), number_of)));
        let unit = entry.scale.get().spoken();
        format!("Reading, {unit}{}", target.unwrap_or_default())
    };
    view! {
        <form class="entry" on:submit=move |event| { event.prevent_default(); entry.enter() }>
            <div class="phases" role="group" aria-label="When the reading is taken">
                {phases.iter().map(|&phase| phase_key(entry, phase)).collect_view()}
            </div>
            <div class="entry-line">
                <input
                    id="reading"
                    node_ref=field
                    type="text"
                    inputmode="none"
                    autocomplete="off"
                    spellcheck="false"
                    aria-label=label
                    aria-invalid=move || entry.error.with(Option::is_some).to_string()
                    aria-describedby="reading-error"
                    prop:value=entry.text
                    on:input=move |event| entry.text.set(event_target_value(&event))
                />
                <span class="unit" aria-hidden="true">{move || entry.scale.get().symbol()}</span>
            </div>
            <p id="reading-error" class="error" role="alert">
                {move || entry.error.get().map(|error| format!("{error}."))}
            </p>
            {leave_as_it_is(entry)}
            {move || view! {
                <Keypad text=entry.text scale=entry.scale sign=at.bench.sign() on_enter=move || entry.enter()/>
            }}
        </form>
    }
}

fn phase_key(entry: Entry, phase: Phase) -> impl IntoView {
    let pressed = move || (entry.next_phase() == phase).to_string();
    view! {
        <button type="button" aria-pressed=pressed on:click=move |_| entry.phase.set(Some(phase))>
            {capitalised(phase.name())}
        </button>
    }
}

/// One tap makes the last reading the one that is left, where it is good to leave.
fn leave_as_it_is(entry: Entry) -> impl IntoView {
    let at = entry.at;
    move || {
        let adjusts = at.step.with_value(|step| step.work.adjuster().is_some());
        let last = at.standing.with(|s| s.as_ref()?.readings.last().cloned())?;
        let good = last
            .verdict
            .as_ref()
            .is_none_or(|verdict| verdict.is_inside());
        if !adjusts || !good || last.phase == Phase::AsLeft || entry.typed().is_some() {
            return None;
        }
        let text = format!("Leave it at {}", last.value.typeset(at.bench.sign()));
        let leave = move |_| {
            if entry.record(last.value.clone(), Phase::AsLeft) {
                focus_next();
            }
        };
        Some(view! { <button type="button" class="main leave" on:click=leave>{text}</button> })
    }
}

/// The readings so far, the latest first.
fn taken(entry: Entry) -> impl IntoView {
    let at = entry.at;
    move || {
        let standing = at.standing.get()?;
        let sign = at.bench.sign();
        if standing.readings.is_empty() {
            return None;
        }
        let rows = standing
            .readings
            .iter()
            .rev()
            .map(|taken| {
                let words = taken.verdict.as_ref().map(|verdict| {
                    let word = if verdict.is_inside() {
                        "inside"
                    } else {
                        "outside"
                    };
                    format!("{word}, {}", verdict.words(sign))
                });
                view! {
                    <tr>
                        <th scope="row">{capitalised(taken.phase.name())}</th>
                        <td class="number">{taken.value.typeset(sign)}</td>
                        <td>{words}</td>
                    </tr>
                }
            })
            .collect_view();
        Some(view! {
            <table class="taken">
                <caption>"Saved readings, latest first"</caption>
                <tbody>{rows}</tbody>
            </table>
        })
    }
}

fn bar(at: At) -> impl IntoView {
    let is_stop = at
        .step
        .with_value(|step| matches!(step.work, Work::Stop { .. }));
    let settled = move || !at.status().is_owed();
    let has_undo = move || {
        at.bench.job.with(|job| {
            job.as_ref()
                .is_some_and(|j: &Job| j.last_undoable().is_some())
        })
    };
    let can_waive = move || !is_stop && at.status().is_owed() && !at.is_finished();
    view! {
        <nav class="bar" aria-label="Step">
            <button type="button" disabled=at.neighbour(-1).is_none() on:click=move |_| at.move_by(-1)>"Back"</button>
            <button type="button" disabled=move || !has_undo() || at.is_finished() on:click=move |_| at.bench.undo()>"Undo"</button>
            <button type="button" disabled=move || at.is_finished() on:click=move |_| at.question.set(Some(NOTE))>"Note"</button>
            <button type="button" disabled=move || !can_waive() on:click=move |_| at.question.set(Some(WAIVE))>"Waive"</button>
            <button type="button" id="next" class:main=settled on:click=move |_| at.move_by(1)>"Next"</button>
        </nav>
    }
}
