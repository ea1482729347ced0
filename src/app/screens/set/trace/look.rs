//! One place along a path, looked at or read.

use crate::app::platform::device;
use crate::app::screens::set::trace::{Rest, focus_next, percent};
use crate::app::shell::bench::Bench;
use crate::app::shell::route::Route;
use crate::app::words::set::trace as words;
use crate::job::{Deed, Job, Look, LookAt, Showed, Trace, Tracing, reading_step};
use crate::procedure::{CheckName, Effort, Id, SignalPath};
use leptos::prelude::*;

/// Where to look, with the keys for what it shows.
pub(super) fn look(
    bench: Bench,
    job: &Job,
    trace: &Trace,
    tracing: &Tracing,
    (chosen, rest): (RwSignal<Option<CheckName>>, Rest),
) -> impl IntoView + use<> {
    let is_there = |name: &CheckName| trace.path.check(name).is_some();
    let own = chosen.get().filter(is_there);
    let advised = tracing.next.clone();
    let is_own = own.is_some() && own != advised;
    let is_found = tracing.suspects.named().is_some();
    let Some(name) = own.or(advised.filter(|_| !is_found)) else {
        let none = !is_found && tracing.next.is_none();
        return none
            .then(|| view! { <p>{words::NO_LOOK_LEFT}</p> })
            .into_any();
    };
    let Some((stage, check)) = trace.path.check(&name) else {
        return ().into_any();
    };
    let at = LookAt {
        path: trace.name.clone(),
        check: name.clone(),
    };
    let keys = Showed::ALL.map(|showed| {
        let at = at.clone();
        let take = move |_| {
            // The next look has its keys in the same places: a second tap, or a key held down, is none
            // of them.
            if !rest.is_over() {
                return;
            }
            let look = Box::new(Look {
                at: at.clone(),
                showed,
                note: String::new(),
            });
            if bench.record(Deed::Looked { look }) {
                chosen.set(None);
                focus_next();
            }
        };
        view! { <button type="button" class="large" on:click=take>{words::key(showed)}</button> }
    });
    let read = check.limit.is_some().then(|| {
        let (trace, name, job) = (trace.clone(), name.clone(), job.id.clone());
        let take = move |_| read(bench, &job, &trace, &name);
        view! { <button type="button" class="main large" on:click=take>{words::READ_IT}</button> }
    });
    let out_of_reach = {
        let (trace, name) = (trace.clone(), name.clone());
        move |_| {
            let path = without(&trace.path, &name);
            if bench.record(trace.noted(path)) {
                chosen.set(None);
            }
        }
    };
    let title = if is_own { words::CHOSEN } else { words::NEXT };
    let divides = (!is_own).then(|| {
        view! { <p class="hint">{words::divides(percent(tracing.part))}</p> }
    });
    let expect = (!check.expect.trim().is_empty()).then(|| {
        view! { <p class="trace-expect">{words::expected(&check.expect)}</p> }
    });
    let limit = check.limit.as_ref().map(|limit| {
        view! { <p class="trace-expect">{limit.typeset(bench.sign())}</p> }
    });
    view! {
        <section class="trace-next" aria-labelledby="trace-next">
            <h2 id="trace-next" class="trace-focus" tabindex="-1">{title}</h2>
            <p class="trace-place">{words::place(&check.what, &check.at)}</p>
            <p class="term">{stage.name.clone()}</p>
            {expect}
            {limit}
            {divides}
            <div class="row">
                {read}
                {keys.into_iter().collect_view()}
                <button type="button" class="plain" on:click=out_of_reach>{words::CANT_REACH}</button>
            </div>
            {is_own.then(|| view! {
                <button type="button" class="plain" on:click=move |_| chosen.set(None)>{words::BACK_TO_ADVICE}</button>
            })}
        </section>
    }
    .into_any()
}

/// Goes to the step in which a figure is read there: the one that was begun, if it has no reading
/// yet, else a new one.
fn read(bench: Bench, job: &Id, trace: &Trace, name: &CheckName) {
    let begun = bench.progress.with_untracked(|progress| {
        let progress = progress.as_ref()?;
        let mut steps = progress.course.looks.iter();
        let at = LookAt {
            path: trace.name.clone(),
            check: name.clone(),
        };
        let unread = |step: &Id| progress.step(step).is_some_and(|it| it.readings.is_empty());
        let begun = steps.find(|(step, place)| *place == at && unread(step));
        begun.map(|(step, _)| step.clone())
    });
    let step = begun.or_else(|| {
        let id = device::fresh_id();
        let added = Box::new(reading_step(trace, name, id.clone())?);
        bench.record(Deed::AddedStep { added }).then_some(id)
    });
    if let Some(step) = step {
        bench.go(&Route::Step {
            job: job.clone(),
            step: Some(step),
        });
    }
}

/// The path with a place that the probe doesn't get to.
fn without(path: &SignalPath, name: &CheckName) -> SignalPath {
    let mut path = path.clone();
    let stages = path
        .stages
        .iter_mut()
        .filter(|stage| stage.id == name.stage);
    for check in stages.flat_map(|stage| &mut stage.checks) {
        if check.shows == name.shows {
            check.effort = Effort::OutOfReach;
        }
    }
    path
}
