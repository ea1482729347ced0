//! A response: tone by tone, or by a sweep that is followed.

use crate::app::screens::audio::field::field;
use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::{
    decimals, digits, exact, expanded, rounded, uncertainty,
};
use crate::app::screens::audio::plot::Plot;
use crate::app::screens::audio::series::cells;
use crate::app::screens::audio::series::table::{self, Answer};
use crate::app::words::audio as words;
use crate::procedure::Setting;
use crate::quantity::{DecimalSign, Quantity, Scale, Unit};
use crate::signal::Figure;
use crate::signal::measure::Measure;
use crate::signal::response::{Point, Response};
use crate::signal::sweep::{PASSES, SPOT};
use leptos::prelude::*;

/// Where a response is told where no table asks for other tones, in hertz.
const TOLD: [f64; 7] = [300.0, 400.0, 500.0, 1000.0, 2000.0, 2500.0, 3000.0];

/// A line of the table.
struct Row {
    hertz: f64,
    level: Option<Figure>,
    /// What it rests on.
    from: String,
}

pub fn panel(state: State) -> impl IntoView {
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
    let following = state.series.following;
    let ready = Memo::new(move |_| {
        state.shown(Measure::Level).is_some() && state.number(state.tone).is_ok()
    });
    let follow = move |_| {
        following.update(|on| *on = !*on);
        state.chosen.set(match following.get_untracked() {
            true => Measure::SweptResponse,
            false => Measure::Response,
        });
    };
    let again = move |_| {
        state.levels.set(Vec::new());
        state.series.sweep.set(Default::default());
    };
    let rows = move || {
        let sign = state.bench.sign();
        let rows = rows(state, sign);
        let any = rows
            .iter()
            .any(|row| row.level.is_some() || !row.from.is_empty());
        any.then(|| in_table(&rows, sign))
    };
    let hint = move || {
        let none = !state.levels.with(Vec::is_empty) && typed(state).is_none();
        none.then(|| view! { <p role="status">{words::NO_REFERENCE}</p> })
    };
    view! {
        <div class="audio-settings">
            {field("audio-reference", words::REFERENCE, state.reference)}
        </div>
        <div class="row">
            <button type="button" disabled=move || !ready.get() on:click=keep>{words::RESPONSE_POINT}</button>
            <button type="button" aria-pressed=move || following.get().to_string() on:click=follow>
                {words::FOLLOW}
            </button>
            <button type="button" class="plain" on:click=again>{words::START_AGAIN}</button>
        </div>
        <p class="hint">{words::FOLLOW_HOW}</p>
        {hint}
        {move || drawn(state)}
        {rows}
        {table::fill(state, Setting::ModulationTone, move || zero(state), move |set| answer(state, set))}
    }
}

/// The reference as a cell's setting is held against it.
fn zero(state: State) -> Option<Quantity> {
    exact(
        state.number(state.reference).ok()?,
        Scale::plain(Unit::Hertz),
    )
}

/// What was taken tone by tone, against the reference.
fn typed(state: State) -> Option<Response> {
    let reference = state.number(state.reference).ok()?;
    state
        .levels
        .with(|levels| Response::of(levels, reference).ok())
}

/// A tone that was taken by itself tells more than a sweep through it.
fn answer(state: State, set: &Quantity) -> Option<Answer> {
    let hertz = (set.unit() == Unit::Hertz).then(|| set.base_f64())?;
    let reference = state.number(state.reference).ok()?;
    let answer = |measure, figure, count, window| Answer {
        measure,
        figure,
        count,
        window,
    };
    let point =
        typed(state).and_then(|all| all.points.into_iter().find(|it| it.frequency == hertz));
    if let Some(point) = point {
        return Some(answer(Measure::Response, point.level, 1, 1000));
    }
    let window = (SPOT * 1000.0) as u32;
    state.series.sweep.with(|sweep| {
        if hertz == reference && sweep.passed_at_all(hertz) {
            let zero = Figure::new(0.0, 0.0);
            return Some(answer(
                Measure::SweptResponse,
                zero,
                sweep.spots_at(hertz),
                window,
            ));
        }
        let swept = sweep.at(hertz, reference)?;
        Some(answer(
            Measure::SweptResponse,
            swept.level,
            swept.spots,
            window,
        ))
    })
}

/// The tones that the table of the step asks for, or the usual ones, and what else was taken.
fn tones(state: State) -> Vec<f64> {
    let step = state.step.get_value();
    let cells = step.map(|step| cells::cells(state.bench, &step, Setting::ModulationTone));
    let set = cells.unwrap_or_default().into_iter().map(|cell| cell.set);
    let mut tones: Vec<f64> = set
        .filter(|set| set.unit() == Unit::Hertz)
        .map(|set| set.base_f64())
        .collect();
    if tones.len() < 2 {
        tones = TOLD.to_vec();
        if state.series.sweep.with(|sweep| sweep.spots().is_empty()) {
            tones.clear();
        }
    }
    let taken = typed(state).map(|all| all.points).unwrap_or_default();
    tones.extend(taken.iter().map(|point| point.frequency));
    tones.sort_by(f64::total_cmp);
    tones.dedup();
    tones
}

fn rows(state: State, sign: DecimalSign) -> Vec<Row> {
    let reference = state.number(state.reference).unwrap_or_default();
    let row = |hertz: f64| {
        let set = exact(hertz, Scale::plain(Unit::Hertz))?;
        let answer = answer(state, &set);
        let passes = state
            .series
            .sweep
            .with(|sweep| sweep.passed(hertz, reference));
        let from = match &answer {
            Some(_) if hertz == reference => words::IS_REFERENCE.to_owned(),
            Some(answer) if answer.measure == Measure::Response => {
                let within = uncertainty(expanded(rounded(answer.measure, answer.figure)), sign);
                words::within(&words::decibels(&within))
            }
            Some(answer) => {
                let within = uncertainty(expanded(rounded(answer.measure, answer.figure)), sign);
                words::swept_within(&words::decibels(&within), answer.count)
            }
            None if passes > 0 => words::passes(passes, PASSES),
            None => String::new(),
        };
        Some(Row {
            hertz,
            level: answer.map(|it| it.figure),
            from,
        })
    };
    tones(state).into_iter().filter_map(row).collect()
}

fn in_table(rows: &[Row], sign: DecimalSign) -> impl IntoView + use<> {
    let row = |row: &Row| {
        let level = row.level.map(|level| {
            let decimals = decimals(level.standard).min(2);
            words::decibels(&digits(level.value, decimals, sign))
        });
        view! {
            <tr>
                <th scope="row">{words::hertz(&digits(row.hertz, 0, sign))}</th>
                <td class="number">{level}</td>
                <td>{row.from.clone()}</td>
            </tr>
        }
    };
    view! {
        <table class="audio-table">
            <caption>{words::RESPONSE}</caption>
            <tbody>{rows.iter().map(row).collect_view()}</tbody>
        </table>
    }
}

/// The ends of the drawing in hertz, and which frequencies between them have their figure.
const ENDS: (f64, f64) = (100.0, 8_000.0);
const MARKED: [f64; 5] = [150.0, 300.0, 1_000.0, 3_000.0, 6_000.0];

/// From which level down to which is drawn, in decibels: a multiple of six that holds all.
fn levels(points: &[Point]) -> (f64, f64) {
    let values = points.iter().map(|it| it.level.value);
    let (low, high) = values.fold((-12.0, 3.0), |(low, high): (f64, f64), level| {
        (low.min(level), high.max(level))
    });
    let six = |level: f64| level / 6.0;
    (
        (six(low).floor() * 6.0).max(-60.0),
        (six(high).ceil() * 6.0).min(24.0),
    )
}

/// The points over the logarithm of the frequency: a sweep as a line, tones as dots.
fn drawn(state: State) -> Option<impl IntoView + use<>> {
    let sign = state.bench.sign();
    let reference = state.number(state.reference).ok()?;
    let line = state.series.sweep.with(|sweep| sweep.curve(reference));
    let dots = typed(state).map(|all| all.points).unwrap_or_default();
    let all: Vec<Point> = line.iter().chain(&dots).copied().collect();
    if all.is_empty() {
        return None;
    }
    let (low, high) = levels(&all);
    let plot = Plot {
        ends: ENDS,
        levels: (low, high),
        height: 160.0,
    };
    let inside = |point: &&Point| (ENDS.0..=ENDS.1).contains(&point.frequency);
    let place = |point: &Point| (plot.across(point.frequency), plot.down(point.level.value));
    let corner = |(x, y): (f64, f64)| format!("{x:.1},{y:.1}");
    let corners = line.iter().filter(inside).map(|point| corner(place(point)));
    let path: Vec<String> = corners.collect();
    let dots = dots.iter().filter(inside).map(|point| {
        let (x, y) = place(point);
        view! { <circle class="audio-dot" cx=format!("{x:.1}") cy=format!("{y:.1}") r="3"/> }
    });
    let steps = 0..=((high - low) / 6.0) as i32;
    let rules = steps.map(|step| high - 6.0 * f64::from(step));
    let rules = plot.levels(rules, |level| words::decibels(&digits(level, 0, sign)));
    Some(view! {
        <svg class="audio-picture" viewBox=plot.view_box() role="img" aria-label=words::RESPONSE_DRAWN>
            {rules}
            {plot.frequencies(&MARKED, sign)}
            <polyline class="audio-line" points=path.join(" ")/>
            {dots.collect_view()}
        </svg>
    })
}
