//! What has a shape over time, frequency or length.

use crate::app::ui::pictures::pen::{Hold, Pen, WIDTH, dot, filled, frame, stroke, text, through};
use crate::app::words::set::pictures as words;
use crate::quantity::Unit;
use leptos::prelude::*;
use std::f64::consts::TAU;

/// An amplitude-modulated carrier between its envelopes.
pub fn envelope(pen: Pen, depth: f64) -> AnyView {
    const LEFT: f64 = 10.0;
    const LENGTH: f64 = 460.0;
    const MIDDLE: f64 = 115.0;
    const TALLEST: f64 = 95.0;
    const POINTS: u32 = 600;
    const CYCLES: f64 = 40.0;
    let depth = depth.clamp(0.0, 1.0);
    let carrier = TALLEST / (1.0 + depth);
    let height = |share: f64| carrier * (1.0 - depth * (2.0 * TAU * share).cos());
    let curve = |of: &dyn Fn(f64) -> f64| {
        through((0..=POINTS).map(|point| {
            let share = f64::from(point) / f64::from(POINTS);
            (LEFT + LENGTH * share, MIDDLE - of(share))
        }))
    };
    let wave = curve(&|share| height(share) * (CYCLES * TAU * share).sin());
    let (most, least) = (
        MIDDLE - carrier * (1.0 + depth),
        MIDDLE - carrier * (1.0 - depth),
    );
    let right = LEFT + LENGTH + 20.0;
    let percent = pen.amount(depth * 100.0, Unit::Percent);
    let said = words::envelope(&percent);
    frame(
        230.0,
        said,
        view! {
            {stroke("thin", wave)}
            {stroke("accent", curve(&height))}
            {stroke("accent", curve(&|share| -height(share)))}
            {stroke("dash", format!("M{LEFT} {most:.1}H{right}M{LEFT} {least:.1}H{right}"))}
            {text(right + 8.0, most + 8.0, Hold::Start, words::HIGHEST)}
            {text(right + 8.0, least.max(most + 26.0) + 8.0, Hold::Start, words::LEAST)}
        },
    )
}

/// The name of what is no line of a spectrum but the level that its lines are compared with.
const COMPARED_WITH: &str = "PEP";

/// Lines over a grid of decibels.
pub fn spectrum(pen: Pen, lines: &[(&'static str, f64)]) -> AnyView {
    const LEFT: f64 = 84.0;
    const TOP: f64 = 44.0;
    const BOTTOM: f64 = 220.0;
    let least = lines.iter().map(|line| line.1).fold(0.0, f64::min);
    let spacing = if least < -30.0 { 20.0 } else { 10.0 };
    let steps = ((10.0 - least.max(-200.0)) / spacing).ceil();
    let y = |level: f64| TOP - (level.max(-200.0) / (steps * spacing)) * (BOTTOM - TOP);
    let grid = (0..=steps as u32).map(|step| {
        let level = -f64::from(step) * spacing;
        let at = y(level);
        let label = match step {
            0 => words::decibels(&pen.plain(0.0)),
            _ => pen.plain(level),
        };
        view! {
            {stroke("thin", format!("M{LEFT} {at:.1}H{WIDTH}"))}
            {text(LEFT - 10.0, at + 8.0, Hold::End, label)}
        }
    });
    let (compared, real): (Vec<_>, Vec<_>) =
        lines.iter().partition(|(name, _)| *name == COMPARED_WITH);
    let width = (WIDTH - LEFT) / real.len().max(1) as f64;
    let drawn = real.iter().enumerate().map(|(index, (name, level))| {
        let x = LEFT + width * (index as f64 + 0.5);
        let top = y(*level);
        let (first, second) = in_two_lines(name);
        view! {
            {stroke("heavy", format!("M{x:.1} {BOTTOM}V{top:.1}"))}
            {text(x + 12.0, top - 8.0, Hold::Middle, pen.level(*level, Unit::Decibel))}
            {text(x, BOTTOM + 28.0, Hold::Middle, first)}
            {text(x, BOTTOM + 54.0, Hold::Middle, second)}
        }
    });
    let reference = compared.iter().map(|(name, level)| {
        let at = y(*level);
        view! {
            {stroke("dash", format!("M{LEFT} {at:.1}H{WIDTH}"))}
            {text(WIDTH - 4.0, at - 10.0, Hold::End, *name)}
        }
    });
    let said = lines
        .iter()
        .map(|(name, level)| words::named(name, &pen.level(*level, Unit::Decibel)));
    let said = words::spectrum(&said.collect::<Vec<_>>());
    frame(
        284.0,
        said,
        view! {
            {grid.collect_view()}
            {stroke("ink", format!("M{LEFT} {BOTTOM}H{WIDTH}"))}
            {reference.collect_view()}
            {drawn.collect_view()}
        },
    )
}

/// A long name takes two lines, so that neighbours stay apart.
fn in_two_lines(name: &str) -> (&str, &str) {
    const LONG: usize = 10;
    match name.rsplit_once(' ') {
        Some(parts) if name.len() > LONG => parts,
        _ => (name, ""),
    }
}

/// The voltage along a line before its load, and how much of the wave comes back.
pub fn reflection_line(pen: Pen, reflection: f64) -> AnyView {
    const LEFT: f64 = 10.0;
    const LOAD: f64 = 430.0;
    const BASE: f64 = 130.0;
    const TALLEST: f64 = 100.0;
    const POINTS: u32 = 240;
    const WAVES: f64 = 1.5;
    let reflection = reflection.clamp(0.0, 1.0);
    // |V| at a distance from the load: the phasor sum of both waves.
    let voltage = |share: f64| {
        let phase = 2.0 * TAU * WAVES * (1.0 - share);
        let square = 1.0 + reflection * reflection + 2.0 * reflection * phase.cos();
        square.max(0.0).sqrt()
    };
    let curve = through((0..=POINTS).map(|point| {
        let share = f64::from(point) / f64::from(POINTS);
        let x = LEFT + (LOAD - LEFT) * share;
        (x, BASE - TALLEST * voltage(share) / 2.0)
    }));
    let back = pen.amount(reflection * reflection * 100.0, Unit::Percent);
    let said = words::standing_wave(&back);
    let arrow_end = LOAD - (LOAD - LEFT) * reflection;
    let returned = (reflection > 0.0).then(|| {
        stroke(
            "accent",
            format!("M{LOAD} 222H{arrow_end:.1}m9 -7l-9 7l9 7"),
        )
    });
    frame(
        240.0,
        said,
        view! {
            <path class="band" d=format!("{curve}V{BASE}H{LEFT}Z")/>
            {stroke("accent", curve)}
            {stroke("ink", format!("M{LEFT} {BASE}H{LOAD}"))}
            {filled("box", (LOAD, BASE - 30.0), 26.0, 60.0)}
            {text(LOAD + 36.0, BASE + 8.0, Hold::Start, words::LOAD)}
            {stroke("ink", format!("M{LEFT} 180H{LOAD}m-9 -7l9 7l-9 7"))}
            {text(WIDTH, 188.0, Hold::End, words::FORWARD)}
            {returned}
            {text(WIDTH, 230.0, Hold::End, words::back(&back))}
        },
    )
}

/// A voltage that dies away to the one aimed at, and a little beyond.
pub fn discharge(pen: Pen, start: f64, safe: f64, seconds: f64) -> AnyView {
    const LEFT: f64 = 10.0;
    const RIGHT: f64 = 590.0;
    const TOP: f64 = 40.0;
    const BOTTOM: f64 = 200.0;
    const POINTS: u32 = 120;
    const BEYOND: f64 = 1.5;
    let decay = (start / safe).ln();
    let falls = decay.is_finite() && decay > 0.0 && seconds > 0.0;
    let volts = |share: f64| match falls {
        true => (-decay * share * BEYOND).exp(),
        false => safe.min(start) / start.max(f64::MIN_POSITIVE),
    };
    let y = |share_of_start: f64| BOTTOM - (BOTTOM - TOP) * share_of_start.clamp(0.0, 1.0);
    let curve = through((0..=POINTS).map(|point| {
        let share = f64::from(point) / f64::from(POINTS);
        (LEFT + (RIGHT - LEFT) * share, y(volts(share)))
    }));
    let (x, at) = (LEFT + (RIGHT - LEFT) / BEYOND, y(volts(1.0 / BEYOND)));
    let from = pen.amount(start, Unit::VoltDc);
    let to = pen.amount(safe, Unit::VoltDc);
    let time = pen.amount(seconds, Unit::Second);
    let said = words::discharge(&from, &to, &time);
    frame(
        240.0,
        said,
        view! {
            {stroke("dash", format!("M{LEFT} {at:.1}H{x:.1}V{BOTTOM}"))}
            {stroke("ink", format!("M{LEFT} {TOP}V{BOTTOM}H{RIGHT}"))}
            {stroke("accent", curve)}
            {dot(x, at)}
            {text(LEFT + 10.0, TOP - 12.0, Hold::Start, from)}
            {text(x + 10.0, at - 16.0, Hold::Start, to)}
            {text(x, BOTTOM + 30.0, Hold::Middle, time)}
        },
    )
}
