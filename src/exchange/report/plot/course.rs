//! One reading over the visits, as shares of its tolerance: small, and with the same scale of time
//! as all others beside it.

use crate::exchange::report::plot::FARTHEST;
use crate::exchange::report::text::{escape, shortened};
use crate::exchange::report::words;

const WIDTH: f64 = 240.0;
const HEIGHT: f64 = 72.0;
const EDGE: f64 = 14.0;
/// Room for the limits in figures.
const FIGURES: f64 = 130.0;
/// Room for the days below.
const DAYS: f64 = 20.0;

/// One end of where a reading must lie.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Edge {
    /// There is no limit.
    #[default]
    Open,
    /// There is one, at another figure at some visit.
    Varies,
    /// The limit in figures.
    At(String),
}

/// Where a reading must lie.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bounds {
    /// Below.
    pub low: Edge,
    /// Above.
    pub high: Edge,
    /// Whether there is a value that is aimed at.
    pub has_target: bool,
}

impl Edge {
    fn and(self, other: &Edge) -> Edge {
        match (&self, other) {
            (one, other) if one == other => self,
            (Edge::Open, _) | (_, Edge::Open) => Edge::Open,
            _ => Edge::Varies,
        }
    }
}

impl Bounds {
    /// What these and those of another visit have in common.
    pub fn and(self, other: &Bounds) -> Bounds {
        Bounds {
            low: self.low.and(&other.low),
            high: self.high.and(&other.high),
            has_target: self.has_target && other.has_target,
        }
    }
}

/// What one visit found and left: a share of the tolerance, and whether it was inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Stay {
    /// Where the visit is between the first and the last: 0 to 1.
    pub when: f64,
    /// As found, where that was read.
    pub found: Option<(f64, bool)>,
    /// As left, where it was left at anything.
    pub left: Option<(f64, bool)>,
}

impl Stay {
    /// The last that is known of the visit.
    fn last(&self) -> Option<(f64, bool)> {
        self.left.or(self.found)
    }
}

/// The reading at each visit, the earliest first; below it the first and the last day.
pub fn course(title: &str, stays: &[Stay], bounds: &Bounds, (first, last): (&str, &str)) -> String {
    let x = |stay: &Stay| EDGE + stay.when.clamp(0.0, 1.0) * (WIDTH - 2.0 * EDGE);
    let y = |share: f64| {
        let kept = share.clamp(-FARTHEST, FARTHEST);
        HEIGHT / 2.0 - kept / FARTHEST * (HEIGHT / 2.0 - 6.0)
    };
    let path: Vec<String> = stays
        .iter()
        .filter_map(|stay| Some(format!("{:.1} {:.1}", x(stay), y(stay.last()?.0))))
        .collect();
    let dot = |class: &str, stay: &Stay, (share, inside): (f64, bool)| {
        let outside = if inside { "" } else { " outside" };
        let (x, y) = (x(stay), y(share));
        format!(r#"<circle class="{class}{outside}" cx="{x:.1}" cy="{y:.1}" r="5"/>"#)
    };
    let dots: String = stays
        .iter()
        .map(|stay| {
            let found = stay.found.map(|found| dot("found", stay, found));
            let left = stay.left.map(|left| dot("left", stay, left));
            found.unwrap_or_default() + &left.unwrap_or_default()
        })
        .collect();
    // Where there is no limit, all up to the edge is inside.
    let (top, bottom) = match (&bounds.high, &bounds.low) {
        (Edge::Open, Edge::Open) => (y(0.0), y(0.0)),
        (high, low) => {
            let top = if *high == Edge::Open { 0.0 } else { y(1.0) };
            let bottom = if *low == Edge::Open { HEIGHT } else { y(-1.0) };
            (top, bottom)
        }
    };
    let target = match bounds.has_target {
        true => format!(
            r#"<path class="nominal" d="M4 {:.1}H{}"/>"#,
            y(0.0),
            WIDTH - 4.0
        ),
        false => String::new(),
    };
    let limit = |share: f64, edge: &Edge| {
        let line = format!(
            r#"<path class="limit" d="M4 {:.1}H{}"/>"#,
            y(share),
            WIDTH - 4.0
        );
        match edge {
            Edge::Open => String::new(),
            Edge::Varies => line,
            Edge::At(figure) => format!(
                r#"{line}<text x="{}" y="{:.1}">{}</text>"#,
                WIDTH + 4.0,
                y(share) + 5.0,
                escape(figure)
            ),
        }
    };
    let day = |x: f64, anchor: &str, day: &str| {
        format!(
            r#"<text x="{x}" y="{:.1}" text-anchor="{anchor}">{}</text>"#,
            HEIGHT + DAYS - 5.0,
            escape(day)
        )
    };
    let outside = |of: fn(&Stay) -> Option<(f64, bool)>| {
        let is_out = |stay: &&Stay| of(stay).is_some_and(|(_, inside)| !inside);
        stays.iter().filter(is_out).count()
    };
    let left = outside(|stay| stay.left);
    let only_found = outside(|stay| stay.found.filter(|_| stay.left.is_none()));
    format!(
        r#"<svg class="course" viewBox="0 0 {} {}" role="img" aria-label="{}"><rect class="band" x="4" y="{top:.1}" width="{}" height="{:.1}"/>{target}{}{}<path class="way" d="M{}"/>{dots}{}{}</svg>"#,
        WIDTH + FIGURES,
        HEIGHT + DAYS,
        escape(&words::course(
            &shortened(title, 60),
            stays.len(),
            left,
            only_found
        )),
        WIDTH - 8.0,
        bottom - top,
        limit(1.0, &bounds.high),
        limit(-1.0, &bounds.low),
        path.join("L"),
        day(4.0, "start", first),
        day(WIDTH - 4.0, "end", last),
    )
}
