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

/// The limits in figures, where all visits had the same.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bounds {
    /// The lower one.
    pub low: Option<String>,
    /// The upper one.
    pub high: Option<String>,
}

/// What one visit found and left: a share of the tolerance, and whether it was inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Stay {
    /// Where the visit is between the first and the last: 0 to 1.
    pub when: f64,
    /// As found, where that was read.
    pub found: Option<(f64, bool)>,
    /// As left.
    pub left: (f64, bool),
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
        .map(|stay| format!("{:.1} {:.1}", x(stay), y(stay.left.0)))
        .collect();
    let circle = |class: &str, x: f64, y: f64| {
        format!(r#"<circle class="{class}" cx="{x:.1}" cy="{y:.1}" r="5"/>"#)
    };
    let dots: String = stays
        .iter()
        .map(|stay| {
            let found = stay
                .found
                .map(|(share, _)| circle("found", x(stay), y(share)));
            let class = if stay.left.1 { "left" } else { "left outside" };
            found.unwrap_or_default() + &circle(class, x(stay), y(stay.left.0))
        })
        .collect();
    let limit = |share: f64, figure: &Option<String>| {
        figure.as_ref().map_or(String::new(), |figure| {
            format!(
                r#"<path class="limit" d="M4 {:.1}H{}"/><text x="{}" y="{:.1}">{}</text>"#,
                y(share),
                WIDTH - 4.0,
                WIDTH + 4.0,
                y(share) + 5.0,
                escape(figure)
            )
        })
    };
    let day = |x: f64, anchor: &str, day: &str| {
        format!(
            r#"<text x="{x}" y="{:.1}" text-anchor="{anchor}">{}</text>"#,
            HEIGHT + DAYS - 5.0,
            escape(day)
        )
    };
    let outside = stays.iter().filter(|stay| !stay.left.1).count();
    format!(
        r#"<svg class="course" viewBox="0 0 {} {}" role="img" aria-label="{}"><rect class="band" x="4" y="{:.1}" width="{}" height="{:.1}"/><path class="nominal" d="M4 {:.1}H{}"/>{}{}<path class="way" d="M{}"/>{dots}{}{}</svg>"#,
        WIDTH + FIGURES,
        HEIGHT + DAYS,
        escape(&words::course(&shortened(title, 60), stays.len(), outside)),
        y(1.0),
        WIDTH - 8.0,
        y(-1.0) - y(1.0),
        y(0.0),
        WIDTH - 4.0,
        limit(1.0, &bounds.high),
        limit(-1.0, &bounds.low),
        path.join("L"),
        day(4.0, "start", first),
        day(WIDTH - 4.0, "end", last),
    )
}
