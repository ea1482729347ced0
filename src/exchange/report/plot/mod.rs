//! The other pictures: all readings as shares of their tolerance, and in files of their own
//! settling, the course of a reading over the visits, and responses. SVG texts, as the scales are.

mod axis;
mod course;
mod drift;
mod response;

pub(in crate::exchange::report) use self::axis::round_values;
pub use self::course::{Bounds, Edge, Stay, course};
pub use self::drift::{Drifting, drift};
pub use self::response::{Curve, Point, response};

use super::text::{escape, shortened, typed};
use super::words;
use crate::metrology::Tolerance;
use crate::quantity::Quantity;

/// A reading as a share of its tolerance: 0 on target, −1 and 1 on the limits; with one limit,
/// 1 or −1 on it and the rest as a share of its size. For pictures only.
pub fn share(tolerance: &Tolerance, value: &Quantity) -> f64 {
    let limits = tolerance.limits();
    let value = value.base_f64();
    let (low, high) = limits.to_f64();
    let size = |limit: f64| if limit == 0.0 { 1.0 } else { limit.abs() };
    match (low, high) {
        (Some(low), Some(high)) => {
            let middle = match tolerance.nominal() {
                Some(nominal) => nominal.base_f64(),
                None => (low + high) / 2.0,
            };
            let half = if value < middle {
                middle - low
            } else {
                high - middle
            };
            (value - middle) / half.max(f64::MIN_POSITIVE)
        }
        (Some(low), None) => (value - low) / size(low) - 1.0,
        (None, Some(high)) => (value - high) / size(high) + 1.0,
        (None, None) => 0.0,
    }
}

/// A line of the overview.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The step's number.
    pub number: usize,
    /// What is read.
    pub title: String,
    /// The share as found, and whether that was inside.
    pub found: Option<(f64, bool)>,
    /// The share as left, and whether that is inside.
    pub left: Option<(f64, bool)>,
}

const WIDTH: f64 = 1000.0;
const NAMES: f64 = 390.0;
const ROW: f64 = 22.0;
const TOP: f64 = 40.0;
/// Room for what the marks are.
const KEY: f64 = 30.0;
/// How far out a share is drawn; beyond it stands an arrow.
const FARTHEST: f64 = 2.0;

/// All readings in one picture; `None` where no reading was judged.
pub fn overview(lines: &[Line]) -> Option<String> {
    if lines.is_empty() {
        return None;
    }
    let height = TOP + ROW * lines.len() as f64 + 14.0 + KEY;
    let outside = |of: fn(&Line) -> Option<(f64, bool)>| {
        let is_out = |line: &&Line| of(line).is_some_and(|(_, inside)| !inside);
        lines.iter().filter(is_out).count()
    };
    let said = words::overview(lines.len(), outside(|l| l.found), outside(|l| l.left));
    let rows: String = lines
        .iter()
        .enumerate()
        .map(|(index, line)| row(line, TOP + ROW * (index as f64 + 0.5)))
        .collect();
    let bottom = height - 8.0 - KEY;
    let label = |share: f64, text: &str| {
        format!(
            r#"<text x="{:.1}" y="20" text-anchor="middle">{}</text>"#,
            across(share),
            escape(text)
        )
    };
    Some(format!(
        r#"<svg class="overview" viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{}"><rect class="band" x="{:.1}" y="30" width="{:.1}" height="{:.1}"/><path class="nominal" d="M{:.1} 30V{bottom}"/><path class="limit" d="M{:.1} 30V{bottom}M{:.1} 30V{bottom}"/>{}{}{}{rows}{}</svg>"#,
        escape(&said),
        across(-1.0),
        across(1.0) - across(-1.0),
        bottom - 30.0,
        across(0.0),
        across(-1.0),
        across(1.0),
        label(-1.0, words::LOW_LIMIT),
        label(0.0, words::ON_TARGET),
        label(1.0, words::HIGH_LIMIT),
        key(height - 12.0),
    ))
}

/// What the marks are, below them.
fn key(y: f64) -> String {
    let mark = |x: f64, mark: String, said: &str| {
        format!(
            r#"{mark}<text x="{:.1}" y="{:.1}">{}</text>"#,
            x + 14.0,
            y + 5.0,
            escape(said)
        )
    };
    [
        mark(across(-2.0), dot(-2.0, y, "found", true), words::KEY_FOUND),
        mark(across(-1.0), dot(-1.0, y, "left", true), words::KEY_LEFT),
        mark(
            across(0.2),
            format!(
                r#"<path class="left outside" d="M{:.1} {y}l-15 -9v18z"/>"#,
                across(0.2) + 6.0
            ),
            words::KEY_BEYOND,
        ),
    ]
    .concat()
}

fn across(share: f64) -> f64 {
    let (from, to) = (NAMES + 30.0, WIDTH - 20.0);
    let kept = share.clamp(-FARTHEST, FARTHEST);
    from + (kept + FARTHEST) / (2.0 * FARTHEST) * (to - from)
}

fn row(line: &Line, y: f64) -> String {
    let title = escape(&typed(&shortened(&line.title, 33)));
    let mut out = format!(
        r#"<path class="row-line" d="M{NAMES} {y}H{WIDTH}"/><text class="row-number" x="30" y="{:.1}" text-anchor="end">{}</text><text x="44" y="{:.1}">{title}</text>"#,
        y + 6.0,
        line.number,
        y + 6.0,
    );
    if let (Some((found, _)), Some((left, _))) = (line.found, line.left) {
        out.push_str(&format!(
            r#"<path class="way" d="M{:.1} {y}H{:.1}"/>"#,
            across(found),
            across(left)
        ));
    }
    if let Some((share, inside)) = line.found {
        out.push_str(&dot(share, y, "found", inside));
    }
    if let Some((share, inside)) = line.left {
        out.push_str(&dot(share, y, "left", inside));
    }
    out
}

fn dot(share: f64, y: f64, class: &str, inside: bool) -> String {
    let x = across(share);
    let outside = if inside { "" } else { " outside" };
    match share.abs() > FARTHEST {
        true => {
            let way = if share > 0.0 { 1.0 } else { -1.0 };
            format!(
                r#"<path class="{class}{outside}" d="M{:.1} {y}l{:.1} -9v18z"/>"#,
                x + way * 6.0,
                way * -15.0
            )
        }
        false => format!(r#"<circle class="{class}{outside}" cx="{x:.1}" cy="{y}" r="6"/>"#),
    }
}
