//! What some measurements ask for beside the tone, and what else they find.

use crate::app::screens::audio::figures::{decimals, digits, expanded, uncertainty};
use crate::app::screens::audio::listen::{State, Task};
use crate::app::ui::field_text;
use crate::app::words::audio as words;
use crate::quantity::DecimalSign;
use crate::signal::carrier::{Clock, Sideband};
use crate::signal::hum::Mains;
use crate::signal::measure::Measure;
use crate::signal::response::{Point, Response};
use crate::signal::search::{self, Next};
use crate::signal::volts::{FullScale, milliwatts};
use crate::signal::{Figure, Unfit};
use leptos::prelude::*;

/// A field for a number.
pub fn field(id: &'static str, label: &'static str, text: RwSignal<String>) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input id=id type="text" inputmode="decimal" autocomplete="off"
                prop:value=move || field_text(text.get())
                on:input=move |event| text.set(event_target_value(&event))/>
        </div>
    }
}

/// What belongs to the measurement that is chosen.
pub fn panel(state: State) -> impl IntoView {
    move || match state.task.get() {
        Task::Tone => view! { {parts(state)} {volts(state)} }.into_any(),
        Task::Two => parts(state).into_any(),
        Task::Hum => view! { {mains(state)} {parts(state)} }.into_any(),
        Task::SignalAndNoise => switched(state).into_any(),
        Task::Response => response(state).into_any(),
        Task::Carrier => carrier(state).into_any(),
        Task::Sensitivity => sensitivity(state).into_any(),
    }
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

fn response(state: State) -> impl IntoView {
    let keep = move |_| {
        let level = state.shown(Measure::Level);
        // By the frequency that is set, which the generator has too.
        let frequency = untrack(|| state.number(state.tone));
        if let (Some(level), Ok(frequency)) = (level, frequency) {
            state
                .levels
                .update(|all| all.push(Point { frequency, level }));
        }
    };
    let table = move || {
        let sign = state.bench.sign();
        let levels = state.levels.get();
        if levels.is_empty() {
            return None;
        }
        let reference = state.number(state.reference).unwrap_or_default();
        let Ok(response) = Response::of(&levels, reference) else {
            return Some(view! { <p role="status">{words::NO_REFERENCE}</p> }.into_any());
        };
        Some(curve(&response, sign).into_any())
    };
    view! {
        {field("audio-reference", words::REFERENCE, state.reference)}
        <button type="button" on:click=keep>{words::RESPONSE_POINT}</button>
        {table}
    }
}

/// The points as a table, and drawn over the logarithm of the frequency, 12 dB high.
fn curve(response: &Response, sign: DecimalSign) -> impl IntoView + use<> {
    let place = |point: &Point| {
        let across = (point.frequency / 100.0).ln() / 60f64.ln() * 300.0;
        let down = 20.0 - point.level.value * 5.0;
        format!(
            "{:.1},{:.1}",
            across.clamp(0.0, 300.0),
            down.clamp(0.0, 80.0)
        )
    };
    let line: Vec<String> = response.points.iter().map(place).collect();
    let row = |point: &Point| {
        let level = digits(point.level.value, decimals(point.level.standard), sign);
        view! {
            <tr>
                <th scope="row">{words::hertz(&digits(point.frequency, 0, sign))}</th>
                <td class="number">{words::decibels(&level)}</td>
            </tr>
        }
    };
    view! {
        <svg class="audio-picture" viewBox="0 0 300 80" role="img" aria-label=words::RESPONSE>
            <line class="audio-rule" x1="0" x2="300" y1="20" y2="20"/>
            <polyline class="audio-line" points=line.join(" ")/>
        </svg>
        <table class="audio-table">
            <caption>{words::RESPONSE}</caption>
            <tbody>{response.points.iter().map(row).collect_view()}</tbody>
        </table>
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
    // Across 50 Ω: P = U²/R.
    let volts = (10f64.powf(level.value / 10.0) * 1e-3 * 50.0).sqrt() * 1e6;
    let volts = words::microvolts(&digits(volts, 2, sign));
    words::crossing(
        &digits(level.value, decimals(level.standard), sign),
        &uncertainty(expanded(level), sign),
        &volts,
        &digits(found.slope, 1, sign),
        found.readings,
    )
}
