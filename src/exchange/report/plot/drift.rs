//! Readings over time while they settle: axes with figures and unit, the line through the latest,
//! how far it might run by the limit, and the limits of the reading where they are near.

use crate::exchange::report::plot::axis::round_values;
use crate::exchange::report::text::escape;
use crate::exchange::report::words;
use crate::job::Settled;
use crate::metrology::Tolerance;
use crate::quantity::{DecimalSign, Quantity, Scale};

const WIDTH: f64 = 600.0;
const HEIGHT: f64 = 240.0;
/// Room for the figures of the readings.
const LEFT: f64 = 118.0;
const RIGHT: f64 = 24.0;
const TOP: f64 = 34.0;
/// Room for the minutes.
const BOTTOM: f64 = 40.0;

/// What is drawn from.
pub struct Drifting<'a> {
    /// What the readings say.
    pub settled: &'a Settled,
    /// The most that a minute may change.
    pub per_minute: &'a Quantity,
    /// The limits of the reading, where they are known.
    pub tolerance: Option<&'a Tolerance>,
    /// What the readings are given in.
    pub scale: Scale,
}

/// Readings over time with the straight line through the latest of them.
pub fn drift(drifting: &Drifting, sign: DecimalSign) -> String {
    let Drifting { settled, scale, .. } = drifting;
    let last = settled.points.last().map_or(1.0, |(minutes, _)| *minutes);
    let last = last.max(1e-9);
    let begins = settled.points.len().saturating_sub(settled.recent);
    let first = settled.points.get(begins);
    let first = first.map_or(0.0, |(minutes, _)| *minutes);
    let (from, to) = (settled.drift.at(first), settled.drift.at(last));
    let allowed = drifting.per_minute.base_f64().abs() * (last - first);
    let values = settled.points.iter().map(|(_, value)| *value);
    let ends = [from, to, from - allowed, from + allowed];
    let (low, high) = reach(values.chain(ends));
    let limits = limits_near(drifting.tolerance, (low, high));
    let (low, high) = reach([low, high].into_iter().chain(limits.iter().copied()));
    let room = ((high - low) * 0.06).max(f64::MIN_POSITIVE);
    let (low, high) = (low - room, high + room);
    let x = |minutes: f64| LEFT + 12.0 + minutes / last * (WIDTH - LEFT - RIGHT - 24.0);
    let floor = HEIGHT - BOTTOM;
    let y = |value: f64| floor - (value - low) / (high - low) * (floor - TOP);
    let line = |class: &str, value: f64, end: f64| {
        format!(
            r#"<path class="{class}" d="M{:.1} {:.1}L{:.1} {:.1}"/>"#,
            x(first),
            y(value),
            x(last),
            y(end)
        )
    };
    let limits = limits.iter().map(|limit| {
        let y = y(*limit);
        format!(
            r#"<path class="limit" d="M{LEFT} {y:.1}H{:.1}"/>"#,
            WIDTH - RIGHT
        )
    });
    let dots = settled.points.iter().map(|(minutes, value)| {
        let (x, y) = (x(*minutes), y(*value));
        format!(r#"<circle cx="{x:.1}" cy="{y:.1}" r="6"/>"#)
    });
    let minutes = format!("{last:.1}").replace('.', sign.symbol());
    let said = words::drift_plot(settled.points.len(), &minutes);
    format!(
        r#"<svg class="drift-plot" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{}"><path class="plot-frame" d="M{LEFT} {TOP}V{floor}H{:.1}"/>{}{}{}{}{}{}{}</svg>"#,
        escape(&said),
        WIDTH - RIGHT,
        heights((low, high), *scale, sign, &y),
        times(last, sign, &x),
        limits.collect::<String>(),
        line("nominal", from, from - allowed),
        line("nominal", from, from + allowed),
        line("plot-line", from, to),
        dots.collect::<String>(),
    )
}

/// The smallest and the largest.
fn reach(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    values.fold(none, |(low, high), value| (low.min(value), high.max(value)))
}

/// The limits of the reading that lie no further off than the readings reach: with others in it,
/// the picture would show no drift.
fn limits_near(tolerance: Option<&Tolerance>, (low, high): (f64, f64)) -> Vec<f64> {
    let Some(tolerance) = tolerance else {
        return Vec::new();
    };
    let (least, most) = tolerance.limits().to_f64();
    let span = high - low;
    let is_near = |limit: &f64| (low - span..=high + span).contains(limit);
    least.into_iter().chain(most).filter(is_near).collect()
}

/// The figures of the readings, in what they are given in.
fn heights(
    (low, high): (f64, f64),
    scale: Scale,
    sign: DecimalSign,
    y: &impl Fn(f64) -> f64,
) -> String {
    let of_scale = 10f64.powf(scale.prefix.exponent() as f64);
    let values = round_values(low / of_scale, high / of_scale, 3.0, sign);
    let lines = values.iter().map(|(value, figure)| {
        let y = y(value * of_scale);
        format!(
            r#"<path class="row-line" d="M{LEFT} {y:.1}H{:.1}"/><text x="{:.1}" y="{:.1}" text-anchor="end">{figure}</text>"#,
            WIDTH - RIGHT,
            LEFT - 8.0,
            y + 6.0,
        )
    });
    let unit = format!(
        r#"<text x="{:.1}" y="20" text-anchor="end">{}</text>"#,
        LEFT - 8.0,
        escape(&scale.symbol())
    );
    lines.collect::<String>() + &unit
}

/// The minutes below.
fn times(last: f64, sign: DecimalSign, x: &impl Fn(f64) -> f64) -> String {
    let y = HEIGHT - BOTTOM + 24.0;
    let values = round_values(0.0, last, 5.0, sign);
    let count = values.len();
    let texts = values.iter().enumerate().map(|(index, (minutes, figure))| {
        // The last of them says what they are.
        let figure = match index + 1 == count {
            true => words::at_minutes(figure),
            false => figure.clone(),
        };
        format!(
            r#"<text x="{:.1}" y="{y:.1}" text-anchor="middle">{}</text>"#,
            x(*minutes),
            escape(&figure)
        )
    });
    texts.collect()
}
