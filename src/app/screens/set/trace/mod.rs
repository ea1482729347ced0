//! Looks for a fault along the path of a signal: which stages are suspect, and where to look next.

mod look;

use crate::app::screens::set::trace::look::look;
mod stage;

use crate::app::platform::device;
use crate::app::screens::set::faults;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::ways_back;
use crate::app::ui::fields::form::focus_soon;
use crate::app::words::set::trace as words;
use crate::app::words::shared;
use crate::app::words::work::step;
use crate::exchange::paths::paths;
use crate::job::{FaultRecord, Job, Progress, Seen, Showed, Trace, Tracing, begins, paths_of};
use crate::procedure::{CheckName, Effort, Id, SignalPath, Stage};
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?;
    // What was chosen to be looked at, where that isn't what is advised.
    let chosen = RwSignal::new(None::<CheckName>);
    let picks = RwSignal::new(false);
    let rest = Rest(StoredValue::new(0));
    let form = stage::Form::of(bench, &job.id);
    let back = job.id.clone();
    let body = move || {
        bench.progress.with(|progress| {
            let progress = progress.as_ref()?;
            Some(match progress.trace().filter(|_| !picks.get()) {
                None => pick(bench, &job.id, progress, picks).into_any(),
                Some(trace) => {
                    along(bench, &job, progress, trace, (chosen, picks, form, rest)).into_any()
                }
            })
        })
    };
    Some(view! {
        <section class="page">
            {ways_back(&back)}
            <h1>{words::TITLE}</h1>
            {body}
            {move || bench.is_open().then(|| stage::form(bench, form))}
        </section>
    })
}

/// The paths to choose from.
fn pick(
    bench: Bench,
    job: &Id,
    progress: &Progress,
    picks: RwSignal<bool>,
) -> impl IntoView + use<> {
    let begin = move |path: SignalPath| {
        if bench.record(begins(path, device::fresh_id())) {
            picks.set(false);
            focus_soon("trace-next");
        }
    };
    // The path in hand needs no entry to go on.
    let in_hand = progress.trace().map(|trace| trace.name.clone());
    let back = move |trace: &Trace| {
        let name = words::path(&trace.path.title, trace.path.stages.len());
        let said = words::looks(trace.looks.len());
        let is_in_hand = in_hand.as_ref() == Some(&trace.name);
        let deed = trace.taken_up();
        let take_up = move |_| {
            if is_in_hand || bench.record(deed.clone()) {
                picks.set(false);
            }
        };
        view! { <li><button type="button" class="large" on:click=take_up>{name}", "{said}</button></li> }
    };
    let key = move |path: SignalPath| {
        let name = words::path(&path.title, path.stages.len());
        view! { <li><button type="button" class="large" on:click=move |_| begin(path.clone())>{name}</button></li> }
    };
    let own = stage::blank_path();
    let known = progress.traces.iter().rev().map(back).collect_view();
    let has_known = !progress.traces.is_empty();
    let set = &progress.header.set;
    let others = bench.jobs_where(|line| line.is_on_such_a_set(job, set));
    let met = paths_of(&others, &progress.traces);
    let has_met = !met.is_empty();
    let met = met.into_iter().map(key).collect_view();
    progress.signed_off.is_none().then(|| {
        view! {
            <p class="lead">{words::LEAD}</p>
            {has_known.then(|| view! { <h2>{words::EARLIER}</h2><ul class="plain-list trace-paths">{known}</ul> })}
            {has_met.then(|| view! { <h2>{words::MET}</h2><ul class="plain-list trace-paths">{met}</ul> })}
            <h2>{words::PATHS}</h2>
            <p class="hint">{words::PATHS_FROM}</p>
            <ul class="plain-list trace-paths">{paths().into_iter().map(key).collect_view()}</ul>
            <button type="button" on:click=move |_| begin(own.clone())>{words::OWN_PATH}</button>
        }
    })
}

type State = (
    RwSignal<Option<CheckName>>,
    RwSignal<bool>,
    stage::Form,
    Rest,
);

/// How long no look is taken after one, in milliseconds.
const REST: i64 = 400;

/// When a key for a look was pressed last.
#[derive(Clone, Copy)]
struct Rest(StoredValue<i64>);

impl Rest {
    /// Whether the last press is long enough ago. A press before that puts it off.
    fn is_over(self) -> bool {
        let (last, now) = (self.0.get_value(), device::now());
        self.0.set_value(now);
        !(0..REST).contains(&(now - last))
    }
}

/// Takes the focus to the next look, off the key that was pressed; the page stays.
fn focus_next() {
    request_animation_frame(|| {
        device::focus_on(".trace-focus");
    });
}

/// What to look at next, and the path with its suspects.
fn along(
    bench: Bench,
    job: &Job,
    progress: &Progress,
    trace: &Trace,
    (chosen, picks, form, rest): State,
) -> impl IntoView + use<> {
    let met = faults::met_before(bench, &job.id, progress);
    let before = |stage: &Stage| met.iter().map(|line| line.found_at(&stage.name)).sum();
    let tracing = trace.tracing(before);
    let is_open = progress.signed_off.is_none();
    let path = &trace.path;
    let caution = (!path.caution.is_empty()).then(|| {
        view! { <aside class="caution"><strong>{shared::CAUTION}</strong><p>{path.caution.clone()}</p></aside> }
    });
    let mended = trace.looks.iter().any(|look| !look.counts);
    let rows = path.stages.iter().enumerate().map(|(place, stage)| {
        let share = tracing.suspects.first.get(place).copied().unwrap_or(0.0);
        row(
            trace,
            stage,
            (share, before(stage)),
            is_open.then_some((chosen, form)),
        )
    });
    view! {
        <h2>{path.title.clone()}</h2>
        {(!path.lead.is_empty()).then(|| view! { <p class="lead">{path.lead.clone()}</p> })}
        {caution}
        {stop(bench, progress, trace)}
        {mended.then(|| view! { <p role="status">{words::MENDED}</p> })}
        {found(bench, job, trace, &tracing, is_open)}
        {against(trace, &tracing)}
        {(is_open && progress.is_ready(trace)).then(|| look(bench, job, trace, &tracing, (chosen, rest)))}
        <h2>{words::STAGES}</h2>
        <ol class="trace">{rows.collect_view()}</ol>
        <p class="hint">{words::HOW_SURE}</p>
        {is_open.then(|| view! {
            <div class="row">
                <button type="button" on:click=move |_| form.begin_new()>{words::ADD_STAGE}</button>
                <button type="button" on:click=move |_| form.begin_path()>{words::PATH}</button>
                <button type="button" class="plain" on:click=move |_| picks.set(true)>{words::ANOTHER}</button>
                <button type="button" class="plain" on:click=move |_| bench.undo(None)>{shared::UNDO}</button>
            </div>
        })}
    }
}

/// What has to be confirmed before anything is looked at, where that doesn't hold.
fn stop(bench: Bench, progress: &Progress, trace: &Trace) -> Option<impl IntoView + use<>> {
    let deeds = progress.confirms(trace);
    let confirm = move |_| {
        bench.record_all(deeds.clone());
    };
    (!progress.is_ready(trace)).then(|| {
        let statement = trace.path.confirm.clone();
        view! {
            <section class="trace-next" aria-labelledby="trace-next">
                <h2 id="trace-next" tabindex="-1">{words::CONFIRM_FIRST}</h2>
                <p class="trace-place">{statement}</p>
                <button type="button" class="main large" on:click=confirm>{step::CONFIRM}</button>
            </section>
        }
    })
}

/// The stage that is as good as found, with the way to the record of the fault.
fn found(
    bench: Bench,
    job: &Job,
    trace: &Trace,
    tracing: &Tracing,
    is_open: bool,
) -> impl IntoView + use<> {
    let suspects = &tracing.suspects;
    // Where no look tells more, the most likely one is all that there is to know.
    let last = suspects.leading().filter(|_| tracing.next.is_none());
    let named = suspects
        .named()
        .or(last)
        .and_then(|place| Some((place, trace.path.stages.get(place)?)));
    let two = percent(suspects.two);
    let two = (two >= 20).then(|| view! { <p>{words::two(two)}</p> });
    let said = named.map(|(place, stage)| {
        let shown_by = trace
            .looks
            .iter()
            .filter(|look| look.counts && look.showed == Showed::Otherwise);
        let record = FaultRecord {
            place: stage.name.clone(),
            shown_by: shown_by.filter_map(|look| look.step.clone()).collect(),
            ..FaultRecord::default()
        };
        let job = job.id.clone();
        let write = move |_| faults::begin(bench, &job, record.clone());
        view! {
            <div class="trace-found">
                <span class="term">{words::AT_FAULT}</span>
                <strong>{words::named(&stage.name, percent(suspects.first[place]))}</strong>
                {is_open.then(|| view! {
                    <button type="button" class="trace-focus main large" on:click=write>{words::RECORD}</button>
                })}
            </div>
        }
    });
    let none = suspects
        .is_none()
        .then(|| view! { <p role="status">{words::NONE_AT_FAULT}</p> });
    view! { {said}{none}{two} }
}

/// Looks that speak against the stage that is most likely.
fn against(trace: &Trace, tracing: &Tracing) -> Option<impl IntoView + use<>> {
    let named = tracing.against.iter().filter_map(|name| {
        let (_, check) = trace.path.check(name)?;
        Some(words::place(&check.what, &check.at))
    });
    let named: Vec<String> = named.collect();
    (!named.is_empty()).then(|| view! { <p role="status">{words::against(&named)}</p> })
}

/// A probability in percent, not said to be more certain than it is.
fn percent(share: f64) -> u32 {
    // It lies between 0 and 1.
    ((100.0 * share).round() as u32).min(99)
}

/// A stage with how suspect it is, what was seen there and what can be looked at.
fn row(
    trace: &Trace,
    stage: &Stage,
    (share, before): (f64, usize),
    state: Option<(RwSignal<Option<CheckName>>, stage::Form)>,
) -> impl IntoView + use<> {
    let width = format!("{:.0}%", 100.0 * share);
    let checks = stage.checks.iter().map(|check| {
        let name = CheckName {
            stage: stage.id.clone(),
            shows: check.shows,
        };
        let seen = trace.looks.iter().filter(|look| look.check == name);
        let seen = seen.map(mark).collect_view();
        let label = words::place(&check.what, &check.at);
        let is_near = check.effort != Effort::OutOfReach;
        let far =
            (!is_near).then(|| view! { <span class="soft">{words::effort(check.effort)}</span> });
        let place = match state.filter(|_| is_near) {
            Some((chosen, _)) => {
                let choose = move |_| {
                    chosen.set(Some(name.clone()));
                    focus_soon("trace-next");
                };
                view! { <button type="button" class="plain" on:click=choose>{label}</button> }
                    .into_any()
            }
            None => view! { <span>{label}</span> }.into_any(),
        };
        view! { <span class="trace-check">{place}{far}{seen}</span> }
    });
    let id = stage.id.clone();
    let path = trace.path.clone();
    let change = state.map(|(_, form)| {
        let change = move |_| form.begin(&path, &id);
        let label = format!("{} {}", words::CHANGE_STAGE, stage.name);
        view! { <button type="button" class="plain" aria-label=label on:click=change>{words::CHANGE_STAGE}</button> }
    });
    let met = (before > 0).then(|| view! { <span class="soft">{words::before(before)}</span> });
    view! {
        <li>
            <span class="trace-head">
                <strong>{stage.name.clone()}</strong>
                <span class="trace-share">{shared::of_hundred(percent(share))}</span>
                {change}
            </span>
            <span class="trace-bar" aria-hidden="true"><span style:width=width></span></span>
            {checks.collect_view()}
            {met}
        </li>
    }
}

/// What a look showed.
fn mark(look: &Seen) -> impl IntoView + use<> {
    let is_bad = look.counts && look.showed == Showed::Otherwise;
    let text = match look.counts {
        true => words::showed(look.showed),
        false => words::showed_before(look.showed),
    };
    view! { <span class="trace-mark" class:bad=is_bad>{text}</span> }
}
