//! Waits, such as for a warm-up: begun in one step, running on while others are done.

use crate::app::platform::device;
use crate::app::screens::work::step::{At, Lead};
use crate::app::shell::bench::Bench;
use crate::app::shell::route::Route;
use crate::app::words::work::wait as words;
use crate::job::{Deed, StepProgress, Wait, minutes_and_seconds, waits};
use crate::procedure::Id;
use leptos::prelude::*;
use std::time::Duration;

/// The clock, read anew every second for as long as the screen is shown.
fn ticking() -> RwSignal<i64> {
    let now = RwSignal::new(device::now());
    // More often than once a second, so that no second is skipped on the screen.
    let every = Duration::from_millis(500);
    if let Ok(handle) = set_interval_with_handle(move || now.set(device::now()), every) {
        on_cleanup(move || handle.clear());
    }
    now
}

fn begun(bench: Bench) -> Vec<Wait> {
    let all = bench.progress.with(|progress| {
        let progress = progress.as_ref()?;
        Some(waits(&progress.course.procedure, progress))
    });
    all.unwrap_or_default()
}

/// The wait of the step in front: how long, the way to start it, and how much is left.
pub fn panel(at: At) -> Option<impl IntoView> {
    let minutes = at.step.with_value(|step| step.wait)?;
    let now = ticking();
    let id = at.id();
    let wait = Memo::new(move |_| begun(at.bench).into_iter().find(|wait| wait.step == id));
    let left = Memo::new(move |_| wait.with(|w| Some(w.as_ref()?.seconds_left(now.get()))));
    let over = Memo::new(move |_| left.get() == Some(0));
    let start = move |_| {
        at.record(|step| Deed::WaitBegun { step });
    };
    let asked = words::asked(minutes);
    let settled = move || {
        at.standing
            .with(|s| s.as_ref().is_some_and(|s| !s.status.is_owed()))
    };
    let early = move || match (settled(), left.get()) {
        (true, _) | (_, Some(0)) => None,
        (_, None) => Some(words::NOT_STARTED),
        (_, Some(_)) => Some(words::EARLY),
    };
    let word = move || match left.get() {
        None => words::START,
        Some(_) => words::START_AGAIN,
    };
    Some(view! {
        <section class="wait" aria-label=words::WAIT>
            <p>{asked}</p>
            {move || left.get().filter(|&left| left > 0).map(|left| view! {
                <p class="figure" role="timer">{words::left(&minutes_and_seconds(left))}</p>
            })}
            <p class="wait-over" role="status">{move || over.get().then_some(words::OVER)}</p>
            <p class="hint">{early}</p>
            <Show when=move || at.is_open()>
                <button type="button" class:main=move || left.get().is_none() && at.leads() == Lead::Answer on:click=start>{word}</button>
            </Show>
        </section>
    })
}

/// Whether the step has a wait that was not started.
pub fn is_to_start(at: At) -> bool {
    let has_wait = at.step.with_value(|step| step.wait.is_some());
    let is_begun = |s: &Option<StepProgress>| s.as_ref().is_some_and(|s| s.wait_begun.is_some());
    has_wait && !at.standing.with(is_begun)
}

/// A slim line for each wait of another step, until it is over and its step is settled.
pub fn line(at: At) -> impl IntoView {
    let now = ticking();
    let here = at.id();
    let bench = at.bench;
    let others = Memo::new(move |_| {
        let mut waits = begun(bench);
        waits.retain(|wait| wait.step != here);
        waits
    });
    // What is of interest changes at its end only, so the line itself is built once.
    let shown = Memo::new(move |_| {
        let now = now.get();
        let mut waits = others.get();
        waits.retain(|wait| !wait.is_over(now) || !wait.settled);
        waits
    });
    let job = at.job.get_value();
    move || {
        let lines = shown.get();
        let rows = lines.into_iter().map(|wait| one(&job, wait, now));
        rows.collect_view()
    }
}

fn one(job: &Id, wait: Wait, now: RwSignal<i64>) -> impl IntoView + use<> {
    let route = Route::Step {
        job: job.clone(),
        step: Some(wait.step.clone()),
    };
    let name = words::step(wait.number, &wait.title);
    let over = {
        let wait = wait.clone();
        Memo::new(move |_| wait.is_over(now.get()))
    };
    let left = move || minutes_and_seconds(wait.seconds_left(now.get()));
    view! {
        <p class="wait-line">
            <a href=route.address()>{name}</a>
            <span role="timer">{move || (!over.get()).then(|| words::left(&left()))}</span>
            <strong role="status">{move || over.get().then_some(words::OVER)}</strong>
        </p>
    }
}
