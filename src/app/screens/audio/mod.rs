//! The tablet as an audio instrument: what comes in at its sound input, measured ten times a second.

mod field;
mod figures;
mod listen;
mod numbers;
mod panels;
mod picture;
mod plot;
mod send;
mod series;
mod take;
mod units;
mod work_out;

use crate::app::platform::audio::{self, Input};
use crate::app::shell::bench::use_bench;
use crate::app::shell::open_step::WayBack;
use crate::app::shell::route::Route;
use crate::app::words::audio as words;
use crate::procedure::Step;
use crate::quantity::Unit;
use crate::signal::Weighting;
use leptos::prelude::*;
use leptos::task::spawn_local;
use listen::{State, Task};

/// The screen.
pub fn screen() -> impl IntoView {
    let state = State::new(use_bench());
    state.open();
    state.keep_measuring();
    view! {
        <section class="page audio">
            <p class="crumbs"><WayBack/></p>
            <h1>{words::TITLE}</h1>
            {cautions()}
            {input(state)}
            {tasks(state)}
            {figures::figures(state)}
            {panels::panel(state)}
            {picture::picture(state)}
            {send::send(state)}
        </section>
    }
}

/// The way from a step that audio can read.
pub fn way_here(step: &Step) -> Option<AnyView> {
    let unit = step.work.gauge()?.scale.unit;
    let heard = matches!(
        unit,
        Unit::Decibel
            | Unit::DecibelSinad
            | Unit::DecibelSignalAndNoise
            | Unit::DecibelCarrier
            | Unit::Percent
            | Unit::Hertz
            | Unit::VoltRms
            | Unit::DecibelMilliwatt
            | Unit::VoltEmf
            | Unit::VoltPd
    );
    heard.then(|| {
        view! { <p><a class="button" href=Route::Audio.address()>{words::MEASURE_BY_AUDIO}</a></p> }
            .into_any()
    })
}

fn cautions() -> impl IntoView {
    let each = words::CAUTIONS.map(|caution| view! { <li>{caution}</li> });
    view! {
        <details class="audio-cautions" open>
            <summary>{words::BEFORE_CONNECTING}</summary>
            <ul>{each.collect_view()}</ul>
        </details>
    }
}

/// The input with its level.
fn input(state: State) -> impl IntoView {
    let known = RwSignal::new(Vec::<Input>::new());
    // They have names only once one may be listened to.
    Effect::new(move |_| {
        state.source.track();
        spawn_local(async move {
            let found = audio::inputs().await;
            let _ = known.try_set(found);
        });
    });
    let options = move || {
        let now = state
            .source
            .with(|source| source.as_ref().map(|it| it.input.id.clone()));
        let named = known
            .get()
            .into_iter()
            .filter(|input| !input.name.is_empty());
        named
            .map(|input| {
                let selected = now.as_ref() == Some(&input.id);
                view! { <option value=input.id selected=selected>{input.name}</option> }
            })
            .collect_view()
    };
    let choose = move |event| {
        state.input.set(event_target_value(&event));
        state.open();
    };
    let trouble = move || {
        let trouble = state.trouble.get()?;
        Some(view! {
            <p class="refused" role="alert">{words::trouble(trouble)}</p>
            <button type="button" on:click=move |_| state.open()>{words::TRY_AGAIN}</button>
        })
    };
    let unsaid = move || {
        let unsaid = state
            .source
            .with(|source| source.as_ref().is_some_and(|it| it.unsaid));
        unsaid.then(|| view! { <p class="hint">{words::UNSAID}</p> })
    };
    view! {
        <div class="audio-input">
            <div class="field">
                <label for="audio-input">{words::INPUT}</label>
                <select id="audio-input" on:change=choose>
                    <option value="">{words::USUAL_INPUT}</option>
                    {options}
                </select>
            </div>
            {figures::meter(state)}
        </div>
        {trouble}
        {unsaid}
        <p class="hint">{words::PRIVATE}</p>
    }
}

/// What is measured, and through which filter.
fn tasks(state: State) -> impl IntoView {
    let key = move |task: Task| {
        let pressed = move || (state.task.get() == task).to_string();
        let choose = move |_| state.choose(task);
        view! { <button type="button" aria-pressed=pressed on:click=choose>{task.name()}</button> }
    };
    let weightings = move || {
        let all = Weighting::ALL.into_iter().enumerate();
        let option = |(place, weighting): (usize, Weighting)| {
            let selected = state.weighting.get_untracked() == weighting;
            view! { <option value=place.to_string() selected=selected>{weighting.name()}</option> }
        };
        all.map(option).collect_view()
    };
    let weigh = move |event| {
        let place = event_target_value(&event).parse::<usize>().ok();
        let chosen = place.and_then(|place| Weighting::ALL.get(place).copied());
        state.weighting.set(chosen.unwrap_or(Weighting::Speech));
    };
    let tone = move || match state.task.get() {
        Task::Two => view! {
            {field::field("audio-lower", words::LOWER_TONE, state.lower)}
            {field::field("audio-upper", words::UPPER_TONE, state.upper)}
        }
        .into_any(),
        Task::Squelch => ().into_any(),
        _ => field::field("audio-tone", words::TONE, state.tone).into_any(),
    };
    view! {
        <div class="row audio-tasks" role="group" aria-label=words::WHAT>
            {Task::ALL.map(key).collect_view()}
        </div>
        <div class="audio-settings">
            {tone}
            <Show when=move || !matches!(state.task.get(), Task::Squelch | Task::Response | Task::Agc)>
                <div class="field">
                    <label for="audio-weighting">{words::WEIGHTING}</label>
                    <select id="audio-weighting" on:change=weigh>{weightings()}</select>
                </div>
            </Show>
        </div>
    }
}
