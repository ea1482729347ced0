//! The course of one reading over the visits, as shares of its tolerance.

use crate::exchange::report::plot::FARTHEST;
use crate::exchange::report::text::{escape, shortened};
use crate::exchange::report::words;

const WIDTH: f64 = 240.0;
const HEIGHT: f64 = 72.0;
const EDGE: f64 = 14.0;
/// Room for the limits in figures.
const FIGURES: f64 = 130.0;

/// The limits in figures, where all visits had the same.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bounds {
    /// The lower one.
    pub low: Option<String>,
    /// The upper one.
    pub high: Option<String>,
}

/// The course of one reading over the visits: shares as left, the earliest first.
pub fn course(title: &str, shares: &[(f64, bool)], bounds: &Bounds) -> String {
    let steps = shares.len().saturating_sub(1).max(1) as f64;
    let x = |index: usize| EDGE + index as f64 / steps * (WIDTH - 2.0 * EDGE);
    let y = |share: f64| {
        let kept = share.clamp(-FARTHEST, FARTHEST);
        HEIGHT / 2.0 - kept / FARTHEST * (HEIGHT / 2.0 - 6.0)
    };
    let points = || shares.iter().enumerate();
    let path: Vec<String> = points()
        .map(|(index, (share, _))| format!("{:.1} {:.1}", x(index), y(*share)))
        .collect();
    let dots: String = points()
        .map(|(index, (share, inside))| {
            let class = if *inside { "left" } else { "left outside" };
            let (x, y) = (x(index), y(*share));
            format!(r#"<circle class="{class}" cx="{x:.1}" cy="{y:.1}" r="5"/>"#)
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
    let outside = shares.iter().filter(|(_, inside)| !inside).count();
    format!(
        r#"<svg class="course" viewBox="0 0 {} {HEIGHT}" role="img" aria-label="{}"><rect class="band" x="4" y="{:.1}" width="{}" height="{:.1}"/><path class="nominal" d="M4 {:.1}H{}"/>{}{}<path class="way" d="M{}"/>{dots}</svg>"#,
        WIDTH + FIGURES,
        escape(&words::course(&shortened(title, 60), shares.len(), outside)),
        y(1.0),
        WIDTH - 8.0,
        y(-1.0) - y(1.0),
        y(0.0),
        WIDTH - 4.0,
        limit(1.0, &bounds.high),
        limit(-1.0, &bounds.low),
        path.join("L"),
    )
}
