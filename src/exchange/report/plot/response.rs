//! A response over frequency, or whatever a table reads along its axis.

use crate::exchange::report::plot::axis::round_values;
use crate::exchange::report::text::{escape, shortened, typed};
use crate::exchange::report::words;
use crate::quantity::{DecimalSign, Scale};

/// Readings over numbers, such as levels over frequencies.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// What it is beside the others.
    pub name: String,
    /// The points in order.
    pub points: Vec<Point>,
    /// In what it is read.
    pub scale: Scale,
}

/// A point of a curve; all but `over` in the curve's scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Where it is along the way.
    pub over: f64,
    /// What stands below it.
    pub heading: String,
    /// As found.
    pub found: Option<f64>,
    /// As left.
    pub left: Option<f64>,
    /// Whether it is left outside its limits.
    pub is_outside: bool,
    /// The lower limit.
    pub low: Option<f64>,
    /// The upper limit.
    pub high: Option<f64>,
}

impl Point {
    /// Whether something was read.
    pub fn is_read(&self) -> bool {
        self.left.or(self.found).is_some()
    }
}

const CURVE_WIDTH: f64 = 640.0;

const CURVE_HEIGHT: f64 = 280.0;

const CURVE_LEFT: f64 = 84.0;

const CURVE_RIGHT: f64 = 24.0;

const CURVE_TOP: f64 = 34.0;

const CURVE_BOTTOM: f64 = 44.0;

/// The curves over one axis, which is logarithmic where its ends are five times apart or more, with
/// their limits. The table beside it says the same in figures.
pub fn response(title: &str, curves: &[&Curve], scale: Scale, sign: DecimalSign) -> String {
    let points = || curves.iter().flat_map(|curve| &curve.points);
    let values = points()
        .flat_map(|p| [p.found, p.left, p.low, p.high])
        .flatten();
    let (low, high) = ends(values);
    let room = ((high - low) * 0.08).max(if high > low { 0.0 } else { 1.0 });
    let (low, high) = (low - room, high + room);
    let y = move |value: f64| {
        let share = (value - low) / (high - low);
        CURVE_HEIGHT - CURVE_BOTTOM - share * (CURVE_HEIGHT - CURVE_BOTTOM - CURVE_TOP)
    };
    let (first, last) = ends(points().map(|point| point.over));
    let is_log = first > 0.0 && last >= 5.0 * first;
    let along = move |over: f64| if is_log { over.ln() } else { over };
    let (from, to) = (along(first), along(last));
    let x = move |over: f64| {
        let share = (along(over) - from) / (to - from).max(f64::MIN_POSITIVE);
        let inner = CURVE_WIDTH - CURVE_LEFT - CURVE_RIGHT - 40.0;
        CURVE_LEFT + 20.0 + share * inner
    };
    let lines: String = curves
        .iter()
        .map(|curve| curve_lines(curve, curves.len() > 1, &x, &y))
        .collect();
    let outside = points().filter(|point| point.is_outside).count();
    let read = points().filter(|point| point.is_read()).count();
    let said = words::curve(title, read, outside);
    format!(
        r#"<svg class="response" viewBox="0 0 {CURVE_WIDTH} {CURVE_HEIGHT}" role="img" aria-label="{}"><path class="plot-frame" d="M{CURVE_LEFT} {CURVE_TOP}V{:.1}H{:.1}"/>{}{}{lines}<text x="{:.1}" y="22" text-anchor="end">{}</text></svg>"#,
        escape(&said),
        CURVE_HEIGHT - CURVE_BOTTOM,
        CURVE_WIDTH - CURVE_RIGHT,
        heights(low, high, sign, &y),
        below(curves, &x),
        CURVE_LEFT - 8.0,
        escape(&scale.symbol()),
    )
}

/// The smallest and the largest of some values.
fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    match values.fold(none, |(low, high), value| (low.min(value), high.max(value))) {
        (low, high) if low <= high => (low, high),
        _ => (0.0, 1.0),
    }
}

/// Lines across at round values, each with its figure.
fn heights(low: f64, high: f64, sign: DecimalSign, y: &impl Fn(f64) -> f64) -> String {
    round_values(low, high, 4.0, sign)
        .into_iter()
        .map(|(value, figure)| {
            format!(
                r#"<path class="row-line" d="M{CURVE_LEFT} {:.1}H{:.1}"/><text x="{:.1}" y="{:.1}" text-anchor="end">{figure}</text>"#,
                y(value),
                CURVE_WIDTH - CURVE_RIGHT,
                CURVE_LEFT - 8.0,
                y(value) + 5.0,
            )
        })
        .collect()
}

/// The headings below, as many as have room.
fn below(curves: &[&Curve], x: &impl Fn(f64) -> f64) -> String {
    const ROOM: f64 = 78.0;
    let mut last = f64::NEG_INFINITY;
    let mut out = String::new();
    let points = curves.iter().max_by_key(|curve| curve.points.len());
    for point in points.into_iter().flat_map(|curve| &curve.points) {
        let at = x(point.over);
        if (at - last).abs() >= ROOM {
            last = at;
            out.push_str(&format!(
                r#"<text x="{at:.1}" y="{:.1}" text-anchor="middle">{}</text>"#,
                CURVE_HEIGHT - CURVE_BOTTOM + 24.0,
                escape(&shortened(&point.heading, 10)),
            ));
        }
    }
    out
}

fn curve_lines(
    curve: &Curve,
    is_named: bool,
    x: &impl Fn(f64) -> f64,
    y: &impl Fn(f64) -> f64,
) -> String {
    let path = |of: fn(&Point) -> Option<f64>| {
        let places = curve
            .points
            .iter()
            .filter_map(|point| Some((x(point.over), y(of(point)?))));
        let places: Vec<String> = places.map(|(x, y)| format!("{x:.1} {y:.1}")).collect();
        places.join("L")
    };
    let line = |class: &str, path: String| match path.contains('L') {
        true => format!(r#"<path class="{class}" d="M{path}"/>"#),
        false => String::new(),
    };
    // Where a limit stands alone, it is a stroke at its place.
    let strokes = |of: fn(&Point) -> Option<f64>| -> String {
        let all = curve
            .points
            .iter()
            .filter_map(|point| Some((x(point.over), y(of(point)?))));
        all.map(|(x, y)| format!(r#"<path class="limit" d="M{:.1} {y:.1}h20"/>"#, x - 10.0))
            .collect()
    };
    let dots: String = curve
        .points
        .iter()
        .map(|point| {
            let at = x(point.over);
            let found = point.found.filter(|found| Some(*found) != point.left);
            let found = found.map(|found| dot_at(at, y(found), "found"));
            let left = point.left.map(|left| match point.is_outside {
                // Told by its shape as well.
                true => format!(
                    r#"<path class="left outside" d="M{at:.1} {:.1}l9 16h-18z"/>"#,
                    y(left) - 10.0
                ),
                false => dot_at(at, y(left), "left"),
            });
            found.unwrap_or_default() + &left.unwrap_or_default()
        })
        .collect();
    let last = curve
        .points
        .iter()
        .rev()
        .find_map(|point| Some((point.over, point.left?)));
    let name = last.filter(|_| is_named).map(|(over, left)| {
        format!(
            r#"<text x="{:.1}" y="{:.1}" text-anchor="end">{}</text>"#,
            x(over) + 18.0,
            y(left) - 14.0,
            escape(&typed(&shortened(&curve.name, 18))),
        )
    });
    [
        strokes(|point| point.low),
        strokes(|point| point.high),
        line("nominal", path(|point| point.low)),
        line("nominal", path(|point| point.high)),
        line("way", path(|point| point.left)),
        dots,
        name.unwrap_or_default(),
    ]
    .concat()
}

fn dot_at(x: f64, y: f64, class: &str) -> String {
    format!(r#"<circle class="{class}" cx="{x:.1}" cy="{y:.1}" r="7"/>"#)
}
