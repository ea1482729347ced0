//! What some measurements ask for beside the tone, and what else they find.

use crate::app::screens::audio::field::field;
use crate::app::screens::audio::listen::{State, Task};
use crate::app::screens::audio::numbers::{decimals, digits, expanded, uncertainty};
use crate::app::screens::audio::series::{agc, response, squelch};
use crate::app::screens::audio::units::GENERATOR;
use crate::app::words::audio as words;
use crate::quantity::{DecimalSign, Unit};
use crate::signal::carrier::{Clock, Sideband};
use crate::signal::hum::Mains;
use crate::signal::measure::Measure;
use crate::signal::search::{self, Next};
use crate::signal::volts::{FullScale, across, milliwatts};
use crate::signal::{Figure, Unfit};
use leptos::prelude::*;

/// What belongs to the measurement that is chosen.
pub fn panel(state: State) -> impl IntoView {
    move || match state.task.get() {
        Task::Tone => view! { {parts(state)} {volts(state)} }.into_any(),
        Task::Two => parts(state).into_any(),
        Task::Hum => view! { {mains(state)} {parts(state)} }.into_any(),
        Task::SignalAndNoise => switched(state).into_any(),
        Task::Response => view! {
            {response::panel(state)}
            {reads_power(state).then(|| volts(state))}
        }
        .into_any(),
        Task::Carrier => carrier(state).into_any(),
        Task::Sensitivity => sensitivity(state).into_any(),
        Task::Squelch => squelch::panel(state).into_any(),
        Task::Agc => agc::panel(state).into_any(),
    }
}

/// Whether the step reads a power, for which the input has to be compared with a known voltage.
fn reads_power(state: State) -> bool {
    let scale = state.step.with_value(|step| step.as_ref()?.scale);
    scale.is_some_and(|scale| scale.unit == Unit::DecibelMilliwatt)
}

/// Harmonics, multiples of the mains or products, each with its level.
fn parts(state: State) -> impl IntoView {
    let each = move || {
        let sign = state.bench.sign();
        let below_one = state.task.get() == Task::Two;
        let line = |(hertz, level): (f64, f64)| {
            let level = match below_one {
                true => words::below(&digits(-level, 1, sign)),
                false => words::dbfs(&digits(level, 1, sign)),
            };
            view! { <li>{words::part(&digits(hertz, 1, sign), &level)}</li> }
        };
        state.parts.get().into_iter().map(line).collect_view()
    };
    view! { <ul class="audio-parts">{each}</ul> }
}

fn choice<T: Copy + PartialEq + Send + Sync + 'static>(
    label: &'static str,
    signal: RwSignal<T>,
    of: [(T, &'static str); 2],
) -> impl IntoView {
    let key = move |(value, name): (T, &'static str)| {
        let pressed = move || (signal.get() == value).to_string();
        view! { <button type="button" aria-pressed=pressed on:click=move |_| signal.set(value)>{name}</button> }
    };
    view! { <div class="row" role="group" aria-label=label>{of.map(key).collect_view()}</div> }
}

fn mains(state: State) -> impl IntoView {
    let of = [(Mains::Fifty, words::FIFTY), (Mains::Sixty, words::SIXTY)];
    choice(words::MAINS, state.mains, of)
}

/// The modulation on, then off.
fn switched(state: State) -> impl IntoView {
    let word = move || match state.modulated.with(Option::is_some) {
        true => words::KEPT_ON,
        false => words::FIRST_ON,
    };
    let keep = move |_| {
        let samples = state.samples.get_value();
        if !samples.is_empty() {
            state.modulated.set(Some(samples));
        }
    };
    view! {
        <p>{word}</p>
        <button type="button" on:click=keep>{words::MODULATION_ON}</button>
    }
}

/// What the input is worth in volts, by a known voltage, and the level across a load.
fn volts(state: State) -> impl IntoView {
    let compare = move |_| {
        let level = state.shown(Measure::Level);
        let frequency = state.pitch.get_untracked().map(|pitch| pitch.value);
        let known = untrack(|| state.number(state.known_volts));
        let within = untrack(|| state.number(state.volts_within));
        if let (Some(level), Some(frequency), Ok(known), Ok(within)) =
            (level, frequency, known, within)
        {
            let full_scale = FullScale::of(Figure::within(known, within), level, frequency);
            state.full_scale.set(full_scale.ok());
        }
    };
    let said = move || {
        let sign = state.bench.sign();
        let Some(full_scale) = state.full_scale.get() else {
            return words::NO_VOLTS.to_owned();
        };
        let at = words::hertz(&digits(full_scale.frequency, 0, sign));
        let load = state.number(state.load).ok().filter(|ohms| *ohms > 0.0);
        match (state.shown(Measure::Voltage), load) {
            (Some(volts), Some(ohms)) => {
                let level = milliwatts(volts, ohms);
                words::across(
                    &digits(level.value, decimals(level.standard), sign),
                    &digits(ohms, 0, sign),
                    &at,
                )
            }
            (Some(_), None) => words::compared_at(&at),
            (None, _) => words::compared_elsewhere(&at),
        }
    };
    view! {
        <div class="audio-settings">
            {field("audio-volts", words::KNOWN_VOLTS, state.known_volts)}
            {field("audio-volts-within", words::VOLTS_WITHIN, state.volts_within)}
            <button type="button" on:click=compare>{words::COMPARE_VOLTS}</button>
            {field("audio-load", words::LOAD, state.load)}
        </div>
        <p class="hint">{said}</p>
    }
}

fn carrier(state: State) -> impl IntoView {
    let of = [
        (Sideband::Upper, words::UPPER),
        (Sideband::Lower, words::LOWER),
    ];
    let compare = move |_| {
        let heard = state.pitch.get_untracked();
        let known = untrack(|| state.number(state.known_tone));
        if let (Some(heard), Ok(known)) = (heard, known) {
            state
                .clock
                .set(Clock::of(Figure::new(known, 0.0), heard).ok());
        }
    };
    let clock = move || {
        let sign = state.bench.sign();
        let fast = state.clock.get().map(|clock| clock.fast_by());
        match fast {
            None => words::CLOCK_NOT_COMPARED.to_owned(),
            Some(fast) => words::clock(
                &digits(fast.value, decimals(fast.standard), sign),
                &uncertainty(expanded(fast), sign),
            ),
        }
    };
    let error = move || {
        let sign = state.bench.sign();
        let carrier = state.shown(Measure::Carrier);
        let Some(carrier) = carrier else {
            return words::TYPE_INPUT.to_owned();
        };
        match state.number(state.due) {
            Ok(due) => words::carrier_error(
                &digits(carrier.value - due, decimals(carrier.standard), sign),
                &uncertainty(expanded(carrier), sign),
            ),
            Err(_) => String::new(),
        }
    };
    view! {
        <div class="audio-settings">
            {field("audio-rf", words::KNOWN_INPUT, state.rf)}
            {field("audio-rf-within", words::KNOWN_WITHIN, state.rf_within)}
            {field("audio-due", words::DUE_CARRIER, state.due)}
            {choice(words::SIDEBAND, state.sideband, of)}
        </div>
        <p>{error}</p>
        <div class="audio-settings">
            {field("audio-known", words::KNOWN_TONE, state.known_tone)}
            <button type="button" on:click=compare>{words::COMPARE_CLOCK}</button>
        </div>
        <p class="hint">{clock}</p>
    }
}

/// The search of a sensitivity: which level next, and what came out.
fn sensitivity(state: State) -> impl IntoView {
    let take = move |_| {
        let Ok(Next::Level(level)) = untrack(|| state.searched()) else {
            return;
        };
        let figure = match state.found.get_untracked() {
            // Where no tone is seen, SINAD is 0 dB.
            Some(Err(Unfit::ToneAbsent { .. })) => Some(Figure::new(0.0, 1.0)),
            _ => state.shown(Measure::Sinad),
        };
        if let Some(figure) = figure {
            state
                .points
                .update(|all| all.push(search::Point { level, figure }));
        }
    };
    let next = move || {
        let sign = state.bench.sign();
        match state.searched() {
            Ok(Next::Level(level)) => {
                let text = words::set_generator(&digits(level, 1, sign));
                view! {
                    <p class="audio-next" role="status">{text}</p>
                    <button type="button" on:click=take>{words::TAKE_POINT}</button>
                }
                .into_any()
            }
            Ok(Next::Found(found)) => {
                view! { <p role="status">{found_words(&found, sign)}</p> }.into_any()
            }
            Err(why) => {
                let text = words::unfit(why, |hertz| digits(hertz, 0, sign));
                view! { <p class="refused" role="status">{text}</p> }.into_any()
            }
        }
    };
    let points = move || {
        let sign = state.bench.sign();
        let line = |point: search::Point| {
            let figure = digits(point.figure.value, decimals(point.figure.standard), sign);
            view! { <li>{words::point(&digits(point.level, 1, sign), &figure)}</li> }
        };
        state.points.get().into_iter().map(line).collect_view()
    };
    view! {
        <div class="audio-settings">
            {field("audio-first", words::FIRST_LEVEL, state.first_level)}
            {field("audio-highest", words::HIGHEST_LEVEL, state.highest_level)}
        </div>
        {next}
        <ul class="audio-parts" aria-label=words::POINTS>{points}</ul>
        <button type="button" class="plain" on:click=move |_| state.points.set(Vec::new())>{words::START_AGAIN}</button>
    }
}

fn found_words(found: &search::Crossing, sign: DecimalSign) -> String {
    let level = found.level;
    let volts = across(level, GENERATOR).value * 1e6;
    let volts = words::microvolts(&digits(volts, 2, sign));
    words::crossing(
        &digits(level.value, decimals(level.standard), sign),
        &uncertainty(expanded(level), sign),
        &volts,
        &digits(found.slope, 1, sign),
        found.readings,
    )
}
