//! The squelch: for each level that is typed whether the audio was open, and between which levels
//! that changed.

use crate::app::screens::audio::field::field;
use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::{digits, expanded, uncertainty};
use crate::app::words::audio as words;
use crate::quantity::{DecimalSign, Quantity};
use crate::signal::measure::Measure;
use crate::signal::squelch::{Audio, Edge, Floor, Point, Way, contradicts};
use leptos::prelude::*;

pub fn panel(state: State) -> impl IntoView {
    let series = state.series;
    let closed = move |_| {
        let rate = state
            .source
            .with_untracked(|source| source.as_ref().map(|it| it.rate));
        let samples = state.samples.get_value();
        if let Some(floor) = rate.map(|rate| Floor::of(&samples, rate)) {
            series.audio.set(None);
            series.floor.set(Some(floor));
        }
    };
    let take = move |_| {
        let level = untrack(|| state.level(series.squelch_level));
        if let (Ok(level), Some(audio)) = (level, series.audio.get_untracked()) {
            series
                .squelched
                .update(|all| all.push(Point { level, audio }));
        }
    };
    let again = move |_| {
        series.squelched.set(Vec::new());
        series.floor.set(None);
    };
    let floor = move || {
        let sign = state.bench.sign();
        match series.floor.get() {
            Some(Ok(floor)) => words::floor(&words::dbfs(&digits(floor.level(), 1, sign))),
            Some(Err(_)) | None => words::FIRST_CLOSED.to_owned(),
        }
    };
    let has_floor = Memo::new(move |_| series.floor.with(|it| matches!(it, Some(Ok(_)))));
    let has_level = Memo::new(move |_| state.level(series.squelch_level).is_ok());
    let ready = Memo::new(move |_| has_level.get() && series.audio.with(Option::is_some));
    let missing = move || {
        let missing = !has_level.get();
        missing.then(|| view! { <p class="hint">{words::LEVEL_MISSING}</p> })
    };
    let now = move || series.audio.get().map(heard);
    let listening = move || {
        has_floor.get().then(|| {
            let unit = series.scale.get_value().symbol();
            view! {
                <p class="audio-next" role="status">{now}</p>
                <div class="audio-settings">
                    {field("audio-squelch-level", words::generator_level(&unit), series.squelch_level)}
                    <button type="button" disabled=move || !ready.get() on:click=take>{words::TAKE_HEARD}</button>
                </div>
                {missing}
                <p class="hint">{words::SQUELCH_HOW}</p>
            }
        })
    };
    view! {
        <p>{floor}</p>
        <div class="row">
            <button type="button" on:click=closed>{words::IS_CLOSED}</button>
            <button type="button" class="plain" on:click=again>{words::START_AGAIN}</button>
        </div>
        {listening}
        <ul class="audio-parts" aria-label=words::POINTS>{move || points(state)}</ul>
        {move || edges(state)}
    }
}

fn heard(audio: Audio) -> &'static str {
    match audio {
        Audio::Closed => words::HEARD_CLOSED,
        Audio::Open => words::HEARD_OPEN,
        Audio::Neither => words::HEARD_NEITHER,
    }
}

fn points(state: State) -> impl IntoView {
    let sign = state.bench.sign();
    let line = |point: Point| {
        let level = state.level_quantity(point.level)?.typeset(sign);
        Some(view! { <li>{words::heard_at(&level, heard(point.audio))}</li> })
    };
    let all = state.series.squelched.get();
    all.into_iter().filter_map(line).collect_view()
}

/// Where it opens and closes, and how far these are apart.
fn edges(state: State) -> impl IntoView {
    let sign = state.bench.sign();
    let line = |name: fn(&str, &str) -> String, edge: Option<Edge>| {
        let edge = edge?;
        let [low, high] = ends(state, edge).map(|it| Some(it?.typeset(sign)));
        let text = name(&low?, &high?);
        let moved = edge.moved.then_some(words::EDGE_MOVED);
        Some(view! { <p role="status">{text}{moved}</p> })
    };
    let by = state.shown(Measure::SquelchHysteresis).map(|by| {
        let text = words::hysteresis(&digits(by.value, 1, sign), &uncertainty(expanded(by), sign));
        view! { <p>{text}</p> }
    });
    let against = state.series.squelched.with(|points| {
        let mut ways = [Way::Rising, Way::Falling].into_iter();
        ways.any(|way| contradicts(points, way))
    });
    let against =
        against.then(|| view! { <p class="refused" role="status">{words::SQUELCH_AGAINST}</p> });
    view! {
        {against}
        {line(words::opens_between, state.edge(Way::Rising))}
        {line(words::closes_between, state.edge(Way::Falling))}
        {by}
    }
}

/// The levels between which something changed.
pub fn ends(state: State, edge: Edge) -> [Option<Quantity>; 2] {
    [edge.between.low, edge.between.high].map(|level| state.level_quantity(level))
}

/// The same of a figure, in words; nothing of other figures.
pub fn between(state: State, measure: Measure, sign: DecimalSign) -> Option<String> {
    let way = way(measure)?;
    let [low, high] = ends(state, state.edge(way)?).map(|it| Some(it?.typeset(sign)));
    Some(words::between(&low?, &high?))
}

/// Which way the level goes for a figure.
pub fn way(measure: Measure) -> Option<Way> {
    match measure {
        Measure::SquelchOpening => Some(Way::Rising),
        Measure::SquelchClosing => Some(Way::Falling),
        _ => None,
    }
}
