//! What a gain control leaves: the level of the tone at levels of the generator that are typed.

use crate::app::screens::audio::field::field;
use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::{decimals, digits, expanded, rounded, uncertainty};
use crate::app::screens::audio::series::table::{self, Answer};
use crate::app::words::audio as words;
use crate::procedure::Setting;
use crate::quantity::Quantity;
use crate::signal::agc::{Point, Taken};
use crate::signal::measure::Measure;
use leptos::prelude::*;

pub fn panel(state: State) -> impl IntoView {
    let series = state.series;
    let unit = series.scale.get_value().symbol();
    let take = move |_| {
        let level = untrack(|| state.level(series.agc_level));
        if let (Ok(level), Some(audio)) = (level, state.shown(Measure::Level)) {
            series
                .outputs
                .update(|all| all.push(Point { level, audio }));
        }
    };
    let has_level = Memo::new(move |_| state.level(series.agc_level).is_ok());
    let ready = Memo::new(move |_| has_level.get() && state.shown(Measure::Level).is_some());
    let missing = move || {
        let missing = !has_level.get();
        missing.then(|| view! { <p class="hint">{words::LEVEL_MISSING}</p> })
    };
    // A cell is held against its reference, a step by itself asks for the change over a range.
    let asked = match series.own_level.get_value() {
        Some(_) => field(
            "audio-agc-reference",
            words::agc_reference(&unit),
            series.agc_reference,
        )
        .into_any(),
        None => view! {
            {field("audio-agc-low", words::agc_from(&unit), series.agc_low)}
            {field("audio-agc-high", words::agc_to(&unit), series.agc_high)}
        }
        .into_any(),
    };
    view! {
        <div class="audio-settings">
            {field("audio-agc-level", words::generator_level(&unit), series.agc_level)}
            <button type="button" disabled=move || !ready.get() on:click=take>{words::TAKE_POINT}</button>
            <button type="button" class="plain" on:click=move |_| series.outputs.set(Vec::new())>
                {words::START_AGAIN}
            </button>
        </div>
        {missing}
        <p class="hint">{words::AGC_HOW}</p>
        <div class="audio-settings">{asked}</div>
        {move || change(state)}
        {move || left_out(state)}
        {move || points(state)}
        {table::fill(state, Setting::GeneratorLevel, move || zero(state), move |set| answer(state, set))}
    }
}

/// The reference as a cell's setting is held against it.
fn zero(state: State) -> Option<Quantity> {
    state.level_quantity(state.level(state.series.agc_reference).ok()?)
}

fn answer(state: State, set: &Quantity) -> Option<Answer> {
    let is_level = set.unit() == state.series.scale.get_value().unit;
    let level = is_level.then(|| set.base_f64())?;
    let reference = state.level(state.series.agc_reference).ok()?;
    let found = state.control().at(level, reference)?;
    Some(Answer {
        measure: Measure::AgcLevel,
        figure: found.figure,
        count: found.times,
        window: 1000,
    })
}

/// The change between the ends, and what is to be said of it.
fn change(state: State) -> Option<impl IntoView + use<>> {
    let sign = state.bench.sign();
    let alone = state.series.own_level.get_value().is_none();
    let found = state.change().ok().filter(|_| alone)?;
    let figure = found.change.figure;
    let [low, high] = [found.low, found.high].map(|level| state.level_quantity(level));
    let text = words::agc_change(
        &digits(figure.value, decimals(figure.standard).min(2), sign),
        &uncertainty(expanded(rounded(Measure::AgcChange, figure)), sign),
        &low?.typeset(sign),
        &high?.typeset(sign),
    );
    let beyond = found
        .beyond
        .map(|by| view! { <p>{words::agc_beyond(&digits(by, 1, sign))}</p> });
    Some(view! { <p role="status">{text}</p> {beyond} })
}

/// What is still to take, and what one reading of an end leaves out.
fn left_out(state: State) -> Option<impl IntoView + use<>> {
    if state.series.outputs.with(Vec::is_empty) {
        return None;
    }
    let (times, missing) = match state.series.own_level.get_value() {
        Some(_) => (
            state.own_output().map(|it| it.times),
            words::REFERENCE_MISSING,
        ),
        None => (
            state.change().ok().map(|it| it.change.times),
            words::ENDS_MISSING,
        ),
    };
    let text = match times {
        None => missing,
        Some(0 | 1) => words::AGC_ONCE,
        Some(_) => return None,
    };
    Some(view! { <p class="hint">{text}</p> })
}

/// What was taken, with the change from the reference where that is there.
fn points(state: State) -> Option<impl IntoView + use<>> {
    let sign = state.bench.sign();
    let control = state.control();
    let reference = state.level(state.series.agc_reference).ok();
    let row = |taken: &Taken| {
        let level = state.level_quantity(taken.level)?.typeset(sign);
        let audio = words::dbfs(&digits(
            taken.audio.value,
            decimals(taken.audio.standard).min(2),
            sign,
        ));
        let against = reference.and_then(|zero| control.at(taken.level, zero));
        let against = against.map(|it| words::decibels(&digits(it.figure.value, 1, sign)));
        Some(view! {
            <tr>
                <th scope="row">{level}</th>
                <td class="number">{audio}</td>
                <td class="number">{against}</td>
                <td>{words::times(taken.times)}</td>
            </tr>
        })
    };
    let rows: Vec<_> = control.points().iter().filter_map(row).collect();
    (!rows.is_empty()).then(|| {
        view! {
            <table class="audio-table">
                <caption>{words::OUTPUT}</caption>
                <tbody>{rows}</tbody>
            </table>
        }
    })
}
