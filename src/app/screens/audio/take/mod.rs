//! Into the step: with one key, or by itself once the figure is steady.

mod clip;
mod fitting;
mod source;
mod steady;

pub use self::source::{weighting, window};

use self::fitting::{Obstacle, fitting, load, obstacle};
use self::source::rests_on;
use self::steady::{STRETCHES, Stretch, gather, mean};
use crate::app::platform::device;
use crate::app::screens::audio::listen::State;
use crate::app::words::audio as words;
use crate::job::{Deed, Heard};
use crate::quantity::Unit;
use crate::signal::Figure;
use leptos::prelude::*;

/// The step's target, its key, and the hands-free one.
pub fn take(state: State) -> impl IntoView {
    let hold = RwSignal::new(false);
    let stretches = StoredValue::new(Vec::<Stretch>::new());
    let have = RwSignal::new(0usize);
    Effect::new(move |_| {
        state.found.track();
        let chosen = state.chosen.get();
        let Some(figure) = state.shown(chosen).filter(|_| hold.get()) else {
            stretches.set_value(Vec::new());
            have.set(0);
            return;
        };
        let rate = state
            .source
            .with_untracked(|it| it.as_ref().map_or(1.0, |it| it.rate));
        let came = state.came.get_untracked();
        stretches.update_value(|all| gather(all, Stretch { came, figure }, rate));
        let steady = stretches.get_value();
        have.set(steady.len());
        if steady.len() >= STRETCHES {
            hold.set(false);
            enter(state, mean(&steady, chosen), steady.len());
        }
    });
    let why = Memo::new(move |_| {
        let step = state.step.get_value()?;
        obstacle(state, &step, state.chosen.get())
    });
    let key = move || {
        let step = state.step.get_value()?;
        let chosen = state.chosen.get();
        let figure = state.shown(chosen)?;
        // As it will stand there.
        let (value, _) = fitting(state, &step, figure)?;
        let text = value.typeset(state.bench.sign());
        let press = move |_| {
            if let Some(figure) = state.shown(state.chosen.get_untracked()) {
                enter(state, figure, 1);
            }
        };
        Some(view! {
            <button type="button" class="main" on:click=press>{words::take(&text, step.number)}</button>
        })
    };
    let progress = move || {
        let text = match have.get() {
            0 | 1 => words::NOT_STEADY.to_owned(),
            have => words::steady(have, STRETCHES),
        };
        hold.get()
            .then(|| view! { <span class="hint">{text}</span> })
    };
    let any = state.step.with_value(Option::is_some);
    let can_be_held = move || any && why.get().is_none();
    let why_not = move || {
        let text = match why.get()? {
            Obstacle::NoReading => words::STEP_TAKES_NONE.to_owned(),
            Obstacle::LevelStands => words::LEVEL_STANDS.to_owned(),
            Obstacle::NoVolts => words::VOLTS_FIRST.to_owned(),
            Obstacle::Unit { figure, due } => {
                let figure = figure.map_or(words::OF_FULL_SCALE, Unit::symbol);
                words::other_unit(figure, due.symbol())
            }
        };
        Some(view! { <p class="hint" role="status">{text}</p> })
    };
    view! {
        {target(state)}
        <div class="row">
            {key}
            <Show when=can_be_held>
                <button type="button" aria-pressed=move || hold.get().to_string()
                    on:click=move |_| hold.update(|on| *on = !*on)>{words::HOLD}</button>
            </Show>
            {progress}
        </div>
        <Show when=can_be_held>
            <label class="option">
                <input type="checkbox" prop:checked=move || state.keeps_sound.get()
                    on:change=move |event| state.keeps_sound.set(event_target_checked(&event))/>
                <span>{words::KEEP_SOUND}</span>
            </label>
        </Show>
        {why_not}
        {(!any).then(|| view! { <p class="hint">{words::NO_STEP}</p> })}
    }
}

/// The step's target, as its limits stand.
fn target(state: State) -> impl IntoView {
    move || {
        let step = state.step.get_value()?;
        let sign = state.bench.sign();
        let text = state.bench.progress.with(|progress| {
            let standing = progress.as_ref()?.step(&step.id)?;
            Some(standing.tolerance.clone()?.ok()?.typeset(sign))
        })?;
        Some(view! {
            <p class="target-line"><span class="term">{words::TARGET}</span><span class="target">{text}</span></p>
        })
    }
}

/// Writes the reading to the log, with where it is from and how it was measured, and shows the
/// step.
fn enter(state: State, figure: Figure, count: usize) {
    let (Some(step), Some(source)) = (state.step.get_value(), state.source.get_untracked()) else {
        return;
    };
    let Some((value, standard)) = fitting(state, &step, figure) else {
        return;
    };
    let measure = state.chosen.get_untracked();
    let (weighting, (count, span)) =
        untrack(|| (weighting(state, measure), rests_on(state, measure, count)));
    let into = load(state, &step, measure);
    let reading = Deed::Reading {
        step: step.id.clone(),
        phase: step.phase,
        value,
        tool: None,
        repeat: false,
        heard: Some(Box::new(Heard {
            input: source.input.name,
            measure,
            weighting,
            window: window(measure),
            rate: source.rate.round() as u32,
            count: count as u32,
            standard,
            span,
            into,
        })),
    };
    let sound = state.keeps_sound.get_untracked();
    let sound = sound.then(|| state.last_seconds()).flatten();
    if state.bench.record_all([reading]) {
        let bench = state.bench;
        // Not from within what the figure has just set off.
        device::after_paint(move || {
            bench.go(&step.route);
            if let Some(bytes) = sound {
                clip::keep(bench, step.id, bytes);
            }
        });
    }
}
