//! What is compared by length or height.

use crate::app::ui::pictures::pen::{
    Hold, Pen, WIDTH, dot, filled, frame, place, stroke, text, through,
};
use crate::app::words::set::pictures as words;
use crate::quantity::Unit;
use leptos::prelude::*;

/// The level along a chain as a staircase.
pub fn level_chain(pen: Pen, levels: &[f64]) -> AnyView {
    const TOP: f64 = 50.0;
    const BOTTOM: f64 = 180.0;
    /// As many stages can carry their labels side by side.
    const MOST_LABELS: usize = 5;
    let (least, most) = span(levels.iter().copied());
    let y = |level: f64| match most > least {
        true => TOP + (most - level) / (most - least) * (BOTTOM - TOP),
        false => (TOP + BOTTOM) / 2.0,
    };
    let width = WIDTH / levels.len().max(1) as f64;
    let corners = levels.iter().enumerate().flat_map(|(index, &level)| {
        let x = width * index as f64;
        [(x, y(level)), (x + width, y(level))]
    });
    let last = levels.len().saturating_sub(1);
    let labels = levels.iter().enumerate().map(|(index, &level)| {
        let shown = levels.len() <= MOST_LABELS || index == 0 || index == last;
        let x = width * (index as f64 + 0.5);
        let change = match index.checked_sub(1) {
            None => words::START.to_owned(),
            Some(before) => signed(pen, level - levels[before]),
        };
        let (x, hold) = match (levels.len() <= MOST_LABELS, index) {
            (false, 0) => (0.0, Hold::Start),
            (false, _) => (WIDTH, Hold::End),
            (true, _) => (x, Hold::Middle),
        };
        shown.then(|| {
            view! {
                {text(x, y(level) - 12.0, hold, pen.plain(tenths(level)))}
                {text(x, BOTTOM + 44.0, hold, change)}
            }
        })
    });
    let said: Vec<String> = levels
        .iter()
        .map(|&level| pen.level(level, Unit::DecibelMilliwatt))
        .collect();
    frame(
        240.0,
        words::level_chain(&said),
        view! { {stroke("accent", through(corners))} {labels.collect_view()} },
    )
}

fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// A change in decibels with its sign.
fn signed(pen: Pen, change: f64) -> String {
    let change = tenths(change);
    let plus = if change > 0.0 { "+" } else { "" };
    words::decibels(&format!("{plus}{}", pen.plain(change)))
}

fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values
        .filter(|value| value.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        })
}

/// Each part of an uncertainty with its share.
pub fn error_budget(pen: Pen, shares: &[(String, f64)]) -> AnyView {
    const ROW: f64 = 62.0;
    const LONGEST: f64 = 470.0;
    let rows = shares.iter().enumerate().map(|(index, (name, share))| {
        let top = ROW * index as f64;
        let percent = pen.plain(tenths(share * 100.0));
        view! {
            {text(0.0, top + 24.0, Hold::Start, name.clone())}
            {filled("track", (0.0, top + 36.0), LONGEST, 14.0)}
            {filled("bar", (0.0, top + 36.0), LONGEST * share.clamp(0.0, 1.0), 14.0)}
            {text(WIDTH, top + 50.0, Hold::End, words::percent(&percent))}
        }
    });
    let said = shares.iter().map(|(name, share)| {
        words::named(name, &words::percent(&pen.plain(tenths(share * 100.0))))
    });
    let said = words::shares(&said.collect::<Vec<_>>());
    let height = ROW * shares.len().max(1) as f64;
    frame(height, said, rows.collect_view())
}

/// A value with its uncertainty, the limits, and the guard band inside them.
pub struct Zone {
    pub low: Option<f64>,
    pub high: Option<f64>,
    pub value: f64,
    pub expanded: f64,
    pub guard: f64,
}

pub fn tolerance(pen: Pen, zone: &Zone) -> AnyView {
    const AXIS: f64 = 120.0;
    const HIGH: f64 = 60.0;
    const MARGIN: f64 = 30.0;
    let (least, most) = (zone.value - zone.expanded, zone.value + zone.expanded);
    let ends = [Some(least), Some(most), zone.low, zone.high];
    let (from, to) = span(ends.into_iter().flatten());
    let wide = (to - from).max(zone.value.abs().max(1.0) * 1e-9);
    let (from, to) = (from - 0.2 * wide, to + 0.2 * wide);
    let x = |value: f64| MARGIN + (value - from) / (to - from) * (WIDTH - 2.0 * MARGIN);
    let left = zone.low.map_or(MARGIN, x);
    let right = zone.high.map_or(WIDTH - MARGIN, x);
    let guard = zone.guard / (to - from) * (WIDTH - 2.0 * MARGIN);
    let guard = guard.clamp(0.0, (right - left).max(0.0));
    let top = AXIS - HIGH;
    let guard_at = |at: f64| (guard > 0.0).then(|| filled("guard", (at, top), guard, HIGH));
    let close = (right - left).abs() < 150.0;
    let limit = |value: Option<f64>, hold: Hold| {
        let value = value?;
        let at = x(value);
        Some(view! {
            {stroke("accent", format!("M{at:.1} {top}V{}", AXIS + 14.0))}
            {text(at, AXIS + 42.0, if close { hold } else { Hold::Middle }, pen.plain(value))}
        })
    };
    let (value, middle) = (x(zone.value), AXIS - HIGH / 2.0);
    let (tail, tip) = (x(least), x(most));
    let said = spoken(pen, zone);
    frame(
        170.0,
        said,
        view! {
            {filled("band", (left, top), right - left, HIGH)}
            {zone.low.and_then(|low| guard_at(x(low)))}
            {zone.high.and_then(|high| guard_at(x(high) - guard))}
            {stroke("ink", format!("M{MARGIN} {AXIS}H{}", WIDTH - MARGIN))}
            {limit(zone.low, Hold::End)}
            {limit(zone.high, Hold::Start)}
            {stroke("ink", format!("M{tail:.1} {middle}H{tip:.1}M{tail:.1} {}v20M{tip:.1} {}v20", middle - 10.0, middle - 10.0))}
            {dot(value, middle)}
            {text(value, top - 16.0, Hold::Middle, words::value(&pen.plain(zone.value), &pen.plain(zone.expanded)))}
        },
    )
}

fn spoken(pen: Pen, zone: &Zone) -> String {
    let plain = |value| pen.plain(value);
    words::zone(
        &words::value(&plain(zone.value), &plain(zone.expanded)),
        zone.low.map(plain),
        zone.high.map(plain),
        (zone.guard > 0.0).then(|| plain(zone.guard)),
    )
}

/// Temperatures from the junction outward.
pub fn heat_path(pen: Pen, places: &[(&'static str, f64)]) -> AnyView {
    const TOP: f64 = 50.0;
    const BOTTOM: f64 = 170.0;
    let (least, most) = span(places.iter().map(|place| place.1));
    let y = |celsius: f64| match most > least {
        true => TOP + (most - celsius) / (most - least) * (BOTTOM - TOP),
        false => BOTTOM,
    };
    let width = WIDTH / places.len().max(1) as f64;
    let x = |index: usize| width * (index as f64 + 0.5);
    let points = places
        .iter()
        .enumerate()
        .map(|(index, at)| (x(index), y(at.1)));
    let marks = places.iter().enumerate().map(|(index, (name, celsius))| {
        view! {
            {dot(x(index), y(*celsius))}
            {text(x(index) + 6.0, y(*celsius) - 18.0, Hold::Middle, pen.amount(*celsius, Unit::Celsius))}
            {text(x(index), BOTTOM + 44.0, Hold::Middle, *name)}
        }
    });
    let said = places
        .iter()
        .map(|(name, celsius)| words::named(name, &pen.amount(*celsius, Unit::Celsius)));
    frame(
        230.0,
        words::temperatures(&said.collect::<Vec<_>>()),
        view! {
            {stroke("thin", format!("M0 {}H{WIDTH}", BOTTOM + 14.0))}
            {stroke("accent", through(points))}
            {marks.collect_view()}
        },
    )
}

/// A resistor with its bands in their own colours, since those are what is looked for.
pub fn bands(names: &[&'static str]) -> AnyView {
    const LEFT: f64 = 30.0;
    const TOP: f64 = 20.0;
    const HIGH: f64 = 80.0;
    let spacing = (WIDTH - 2.0 * LEFT) / names.len().max(1) as f64;
    let crowded = names.len() > 5;
    let drawn = names.iter().enumerate().map(|(index, name)| {
        let middle = LEFT + spacing * (index as f64 + 0.5);
        let line = if crowded && index % 2 == 1 { 66.0 } else { 34.0 };
        view! {
            <rect class="ring" fill=paint(name) x=place(middle - 17.0) y=TOP width="34" height=HIGH/>
            {text(middle, TOP + HIGH + line, Hold::Middle, *name)}
        }
    });
    frame(
        if crowded { 176.0 } else { 144.0 },
        words::bands(names),
        view! {
            {stroke("ink", format!("M0 {}H{WIDTH}", TOP + HIGH / 2.0))}
            <rect class="box" x=LEFT y=TOP width=WIDTH - 2.0 * LEFT height=HIGH rx="16"/>
            {drawn.collect_view()}
        },
    )
}

/// The paint of a colour of the code for resistors (IEC 60062 names colours, not shades).
pub fn paint(name: &str) -> Option<&'static str> {
    Some(match name {
        "black" => "#1b1b1b",
        "brown" => "#7a4a21",
        "red" => "#c4281c",
        "orange" => "#e8761e",
        "yellow" => "#f0cd21",
        "green" => "#2f8a3c",
        "blue" => "#2459b3",
        "violet" => "#7b3f98",
        "grey" => "#8d8f92",
        "white" => "#f7f7f4",
        "gold" => "#b8933a",
        "silver" => "#c3c7cb",
        _ => return None,
    })
}
