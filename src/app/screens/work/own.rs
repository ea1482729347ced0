//! Adds a step that no procedure foresaw to the job in hand, or to none.

use crate::app::platform::device;
use crate::app::screens::counter::start::alone;
use crate::app::screens::work::put_back::step_in_hand;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::ui::fields::form::{focus_soon, one_of};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::counter::{jobs, loose};
use crate::app::words::shared;
use crate::app::words::work::own as words;
use crate::authoring::usual_units;
use crate::job::{Deed, Header, Job, Origin, OwnFault, OwnField, OwnKind, OwnStep, TypedStep};
use crate::procedure::{Id, Signal as Direction};
use crate::quantity::{Prefix, Scale, Unit};
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let from = StoredValue::new(step_in_hand(bench).or_else(|| due(bench)));
    let kept = KeptForm::of(
        bench,
        kept::of_job(&job, kept::OWN_STEP),
        blank(bench, from),
    );
    let typed = kept.typed;
    let back = job.clone();
    let as_at = from.get_value().and_then(|from| bench.number_of(&from));
    let add = Callback::new(move |()| {
        let id = device::fresh_id();
        let needs = from.get_value().zip(bench.course());
        let needs = needs.map(|(from, course)| course.stops_above(&from));
        let Some(added) = read(bench, typed, &id, needs.unwrap_or_default()) else {
            return;
        };
        let added = Box::new(added);
        if bench.record(Deed::AddedStep { added }) {
            kept.forget();
            bench.go(&Route::Step {
                job: job.clone(),
                step: Some(id),
            });
        }
    });
    Some(view! {
        <section class="page">
            {ways_back(&back)}
            <h1>{shared::ADD_A_STEP}</h1>
            <p class="lead">{words::LEAD}</p>
            {form(bench, typed, Around::own(kind(typed).into_any(), as_at), (words::ADD, add))}
        </section>
    })
}

/// The screen that puts a step right which was added. What it reads, with what and in which unit
/// stays: readings may have been taken.
pub fn change(job: Id, step: Id) -> Option<impl IntoView> {
    let bench = use_bench();
    let course = bench.course()?;
    let now = course.procedure.step(&step)?.clone();
    let sign = bench.sign_now();
    let place = kept::of_job(&job, &kept::of_step(&step, kept::OWN_CHANGED));
    let kept = KeptForm::of(bench, place, TypedStep::of(&now, sign));
    let typed = kept.typed;
    let back = Route::Step {
        job: job.clone(),
        step: Some(step.clone()),
    };
    let to = back.clone();
    let keep = Callback::new(move |()| {
        let Some(added) = read(bench, typed, &step, now.needs.clone()) else {
            return;
        };
        let is_same = added.step == now;
        let added = Box::new(added);
        if is_same || bench.record(Deed::AddedStep { added }) {
            kept.forget();
            bench.go(&to);
        }
    });
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <h1>{words::CHANGE}</h1>
            <p class="lead">{words::CHANGE_LEAD}</p>
            {form(bench, typed, Around::changed(), (shared::KEEP, keep))}
        </section>
    })
}

/// The way to put a step right, where it was added at the bench.
pub fn way(bench: Bench, job: &Id, step: &Id) -> Option<impl IntoView + use<>> {
    let course = bench.course()?;
    let is_own = course.part_with(step)?.from == Origin::Bench;
    let to = Route::ChangeStep {
        job: job.clone(),
        step: step.clone(),
    };
    (is_own && untrack(|| bench.is_open()))
        .then(|| view! { <a href=to.address()>{words::CHANGE}</a> })
}

/// The screen for a reading that belongs to no job yet.
pub fn one_reading() -> impl IntoView {
    let bench = use_bench();
    let kept = KeptForm::of(bench, ONE_READING.to_owned(), TypedStep::default());
    let typed = kept.typed;
    let take = Callback::new(move |()| {
        let step = device::fresh_id();
        let Some(added) = read(bench, typed, &step, Vec::new()) else {
            return;
        };
        let role = added.role.as_ref().map(|it| it.role.clone());
        let header = Header {
            technician: bench.preferences.with_untracked(|p| p.technician.clone()),
            instruments: alone(&bench.kit(), role.iter()),
            ..Header::default()
        };
        let mut job = Job::loose(device::fresh_id(), header, device::stamp());
        let added = Box::new(added);
        if let Err(refusal) = job.record(device::stamp(), Deed::AddedStep { added }) {
            return bench.refuse(refusal.to_string());
        }
        let route = Route::Step {
            job: job.id.clone(),
            step: Some(step),
        };
        if bench.save(job) {
            kept.forget();
            bench.go(&route);
        }
    });
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Jobs.address()>{jobs::TITLE}</a></p>
            <h1>{loose::TAKE_ONE}</h1>
            <p class="lead">{loose::TAKE_ONE_LEAD}</p>
            {form(bench, typed, Around::alone(), (loose::GO_AND_READ, take))}
        </section>
    }
}

/// Where a reading without a job is kept while it is typed.
const ONE_READING: &str = "new:reading";

/// What is typed as a step; nothing where that can't be, which is then on the screen.
fn read(bench: Bench, typed: RwSignal<TypedStep>, id: &Id, needs: Vec<Id>) -> Option<OwnStep> {
    let sign = bench.sign_now();
    let read = typed.with_untracked(|typed| typed.read(id.clone(), needs, sign));
    let refused = |fault: &OwnFault| {
        bench.refuse(words::fault(*fault));
        focus_soon(anchor(fault.field()));
    };
    read.inspect_err(refused).ok()
}

/// In what the forms for such a step differ.
struct Around {
    /// What stands in it first.
    first: AnyView,
    /// The number of the step that it was filled in from.
    as_at: Option<usize>,
    /// Whether instrument and unit can be chosen.
    chooses: bool,
}

impl Around {
    fn own(first: AnyView, as_at: Option<usize>) -> Self {
        Around {
            first,
            as_at,
            ..Around::alone()
        }
    }

    fn alone() -> Self {
        Around {
            first: ().into_any(),
            as_at: None,
            chooses: true,
        }
    }

    fn changed() -> Self {
        Around {
            chooses: false,
            ..Around::alone()
        }
    }
}

fn form(
    bench: Bench,
    typed: RwSignal<TypedStep>,
    around: Around,
    (word, send): (&'static str, Callback<()>),
) -> impl IntoView {
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        send.run(());
    };
    let Around {
        first,
        as_at,
        chooses,
    } = around;
    let reads = Memo::new(move |_| typed.with(|typed| typed.kind == OwnKind::Read));
    view! {
        <form on:submit=submit>
            <div class="fields">
                {first}
                {text(typed, anchor(OwnField::Title), words::TITLE, words::TITLE_HINT, |it| &mut it.title, ())}
                <Show when=move || reads.get()>{reading(bench, typed, chooses)}</Show>
                {text(typed, "own-note".to_owned(), words::NOTE, "", |it| &mut it.note, ())}
            </div>
            <fieldset>
                <legend>{words::STATE}</legend>
                {as_at.map(|number| view! { <p class="hint">{words::as_at(number)}</p> })}
                <div class="fields">
                    {text(typed, "own-mode".to_owned(), words::MODE, "", |it| &mut it.mode, ())}
                    {text(typed, "own-channel".to_owned(), words::CHANNEL, "", |it| &mut it.channel, ())}
                    {text(typed, "own-supply".to_owned(), words::SUPPLY, "", |it| &mut it.supply, ())}
                    {signal(typed)}
                </div>
            </fieldset>
            <button type="submit" class="main large">{word}</button>
        </form>
    }
}

/// The step that is due, where none was looked at.
fn due(bench: Bench) -> Option<Id> {
    bench
        .progress
        .with_untracked(|progress| Some(progress.as_ref()?.current()?.id.clone()))
}

/// What is known already: the set as it stands at the step in hand.
fn blank(bench: Bench, from: StoredValue<Option<Id>>) -> TypedStep {
    let step = from.get_value().zip(bench.course());
    let step = step.and_then(|(from, course)| course.procedure.step(&from).cloned());
    step.map_or(TypedStep::default(), |step| TypedStep::at_step(&step))
}

fn anchor(field: OwnField) -> String {
    let name = match field {
        OwnField::Title => "title",
        OwnField::At => "at",
        OwnField::With => "with",
        OwnField::Scale => "unit",
        OwnField::Limit => "limit",
    };
    format!("own-{name}")
}

/// The texts that can't be left blank.
const NEEDED: [OwnField; 2] = [OwnField::Title, OwnField::At];

fn text(
    typed: RwSignal<TypedStep>,
    id: String,
    label: &'static str,
    hint: &'static str,
    part: fn(&mut TypedStep) -> &mut String,
    said: impl IntoView,
) -> impl IntoView {
    // Told before anything is sent: what is asked for one by one sends a hand back and forth.
    let needed = NEEDED.iter().any(|field| anchor(*field) == id);
    let hint = match needed {
        true => words::needed(hint),
        false => hint.to_owned(),
    };
    let value = move || typed.with(|typed| part(&mut typed.clone()).clone());
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            {(!hint.is_empty()).then(|| view! { <span class="hint">{hint}</span> })}
            <input id=id type="text" autocomplete="off" aria-required=needed.then_some("true")
                prop:value=move || field_text(value())
                on:input=move |e| typed.update(|typed| *part(typed) = event_target_value(&e))/>
            {said}
        </div>
    }
}

fn kind(typed: RwSignal<TypedStep>) -> impl IntoView {
    one_of(
        ("own-kind", words::KIND),
        &OwnKind::ALL,
        |kind| words::kind(kind).to_owned(),
        Signal::derive(move || typed.with(|typed| typed.kind)),
        Callback::new(move |kind| typed.update(|typed| typed.kind = kind)),
    )
}

fn signal(typed: RwSignal<TypedStep>) -> impl IntoView {
    const ALL: [Option<Direction>; 3] = [None, Some(Direction::Rx), Some(Direction::Tx)];
    one_of(
        ("own-signal", words::SIGNAL),
        &ALL,
        |signal| signal.map_or(words::NOT_STATED.to_owned(), |signal| signal.to_string()),
        Signal::derive(move || typed.with(|typed| typed.signal)),
        Callback::new(move |signal| typed.update(|typed| typed.signal = signal)),
    )
}

/// Where, with what, in what, and where it must lie.
fn reading(bench: Bench, typed: RwSignal<TypedStep>, chooses: bool) -> impl IntoView {
    let shown = move || {
        let scale = typed.with(|typed| typed.scale);
        scale.map_or(String::new(), Scale::symbol)
    };
    let choices = move || typed.with(|typed| scales(&typed.with));
    let pick = Callback::new(move |symbol: String| {
        typed.update(|typed| typed.scale = symbol.parse().ok());
    });
    // Nothing is said of a limit before it can be one.
    let limit = move || {
        let sign = bench.sign();
        let tolerance = typed.with(|typed| typed.tolerance(sign));
        match tolerance {
            Ok(Some(tolerance)) => Some(words::understood(&tolerance.typeset(sign))),
            Ok(None) => None,
            Err(fault) => Some(words::fault(fault)),
        }
    };
    view! {
        {text(typed, anchor(OwnField::At), words::AT, words::AT_HINT, |it| &mut it.at, ())}
        {chooses.then(|| view! {
        {text(typed, anchor(OwnField::With), words::WITH, words::WITH_HINT, |it| &mut it.with, ())}
        <Picker id=anchor(OwnField::Scale) label=words::UNIT shown=Signal::derive(shown)
            choices=Signal::derive(choices) pick/>
        })}
        {text(
            typed,
            anchor(OwnField::Limit),
            words::LIMIT,
            words::LIMIT_HINT,
            |it| &mut it.limit,
            view! { <p class="said" role="status">{limit}</p> },
        )}
    }
}

/// The scales to choose from: those that the instrument usually reads first, the others for who
/// looks for them.
pub fn scales(role: &str) -> Vec<Choice> {
    let usual: Vec<Unit> = match usual_units(role) {
        none if none.is_empty() => Unit::ALL.to_vec(),
        usual => usual,
    };
    let mut all: Vec<Choice> = Vec::new();
    let mut offer = |scale: Scale, seldom: bool| {
        if all.iter().all(|known| known.key != scale.symbol()) {
            all.push(Choice {
                note: scale.spoken(),
                seldom,
                ..Choice::named(scale.symbol())
            });
        }
    };
    for scale in usual.iter().flat_map(|unit| unit.usual_scales()) {
        offer(scale, false);
    }
    for unit in Unit::ALL {
        offer(Scale::plain(*unit), true);
        for prefix in unit.prefixes() {
            offer(Scale::new(Prefix::clone(prefix), *unit), true);
        }
    }
    all
}
