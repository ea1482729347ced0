//! Jobs in hand and finished.

use super::at_risk;
use super::bench::{Bench, use_bench};
use super::device;
use super::route::Route;
use super::words::{jobs as words, shared};
use crate::exchange::demo;
use crate::job::{Line, Standing};
use crate::metrology::instrument::Instrument;
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    move || {
        let lines = bench.lines();
        let empty = lines.is_empty();
        let (finished, in_hand): (Vec<Line>, Vec<Line>) =
            lines.into_iter().partition(Line::is_finished);
        match empty {
            true => welcome(bench, bench.procedures().is_empty()).into_any(),
            false => view! {
                <section class="page">
                    <div class="title-row">
                        <h1>{words::TITLE}</h1>
                        <a class="button main" href=Route::Start(None).address()>{shared::START_A_JOB}</a>
                    </div>
                    {at_risk::reminder(bench)}
                    {group(words::IN_HAND, in_hand)}
                    {group(words::FINISHED, finished)}
                </section>
            }
            .into_any(),
        }
    }
}

fn welcome(bench: Bench, no_procedures: bool) -> impl IntoView {
    let load = move |_| {
        if let Some(route) = load_demo(bench) {
            bench.go(&route);
        }
    };
    view! {
        <section class="page welcome">
            <h1>{words::WELCOME}</h1>
            <p class="lead">
                {words::WELCOME_LEAD}
            </p>
            <div class="row">
                <button type="button" class="main large" on:click=load>{words::LOAD_DEMO}</button>
                <Show when=move || !no_procedures>
                    <a class="button large" href=Route::Start(None).address()>{shared::START_A_JOB}</a>
                </Show>
                <a class="button large" href=Route::Data.address()>{shared::BRING_IN_FILE}</a>
            </div>
            <p class="hint">{words::DEMO_HINT}</p>
        </section>
    }
}

/// Puts the demo's procedure and its half-done job into the store.
fn load_demo(bench: Bench) -> Option<Route> {
    const HOUR: i64 = 3_600_000;
    let started = device::now() - 2 * HOUR;
    let demo = demo::half_done(started, device::fresh_id).and_then(|job| Ok((job, demo::kit()?)));
    match demo {
        Ok((job, kit)) => {
            add_to_kit(bench, kit)?;
            let saved = bench.with_store(|store| store.save_job(&job))?;
            bench.keep_safe(&saved);
            Some(Route::Steps(saved.id))
        }
        Err(error) => {
            bench.refuse(error.to_string());
            None
        }
    }
}

/// Adds instruments to those on the shelf, which stay as they are.
fn add_to_kit(bench: Bench, instruments: Vec<Instrument>) -> Option<()> {
    bench.with_store(|store| {
        let mut kit = store.kit();
        let is_new = |i: &Instrument, kit: &[Instrument]| kit.iter().all(|k| k.name != i.name);
        for instrument in instruments {
            if is_new(&instrument, &kit) {
                kit.push(instrument);
            }
        }
        store.save_kit(&kit)
    })
}

fn group(title: &'static str, lines: Vec<Line>) -> Option<impl IntoView> {
    (!lines.is_empty()).then(|| {
        view! {
            <h2>{title}</h2>
            <ul class="cards">{lines.iter().map(card).collect_view()}</ul>
        }
    })
}

fn card(line: &Line) -> impl IntoView + use<> {
    let title = match line.set.title() {
        title if title.is_empty() => words::NAMELESS.to_owned(),
        title => title,
    };
    let (route, state) = match &line.standing {
        Standing::Finished { by, at } => (
            Route::Finish(line.id.clone()),
            words::finished(by, &device::date_and_time(*at)),
        ),
        Standing::InHand(step) | Standing::Waiting { step, .. } => (
            Route::Step {
                job: line.id.clone(),
                step: Some(step.id.clone()),
            },
            words::step(step.number, &step.title),
        ),
        Standing::Settled => (
            Route::Finish(line.id.clone()),
            words::ALL_SETTLED.to_owned(),
        ),
    };
    let (settled, steps) = (line.settled, line.steps);
    let about = [&line.number, &line.owner, &line.fault]
        .into_iter()
        .filter(|text| !text.is_empty())
        .cloned()
        .collect::<Vec<_>>();
    view! {
        <li>
            <a class="card" href=route.address()>
                <strong>{title}</strong>
                <span>{words::about(&about)}</span>
                <span class="card-state">{state}</span>
                <progress max=steps value=settled aria-label=shared::STEPS_DONE></progress>
                <span class="hint">{words::settled(settled, steps)}</span>
            </a>
        </li>
    }
}
