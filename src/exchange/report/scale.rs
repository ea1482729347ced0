//! The drawn scale: the band a reading must lie in, and where the readings lie. An SVG text that
//! holds nothing but shapes and numbers of ours, so that the app and a saved sheet show the same.

use super::text::escape;
use super::words;
use crate::metrology::{Limits, Tolerance};
use crate::quantity::{DecimalSign, Quantity, Scale, to_f64};
use bigdecimal::BigDecimal;
use num_traits::Signed;

/// A reading on the scale.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The reading.
    pub value: Quantity,
    /// How it is drawn.
    pub kind: MarkKind,
}

/// How a reading is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkKind {
    /// As found: a ring.
    Found,
    /// An earlier try: a thin line.
    Earlier,
    /// The latest: a filled pointer.
    Latest,
    /// Typed but not entered: a hollow pointer.
    Typed,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// Where readings must lie, if that is known.
    pub tolerance: Option<Tolerance>,
    /// Where they are inside beyond doubt, if that is narrower.
    pub acceptance: Option<Limits>,
    /// The readings, the latest last.
    pub marks: Vec<Mark>,
    /// The scale of the labels.
    pub scale: Scale,
    /// The decimal sign in use.
    pub sign: DecimalSign,
}

/// The measures of a drawing; the picture is scaled to the room it gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    class: &'static str,
    width: f64,
    height: f64,
    /// Where the axis lies.
    axis: f64,
    edge: f64,
    band: f64,
    ring: f64,
    /// Half the width and the height of a pointer.
    pointer: (f64, f64),
    tick: f64,
    /// Where the labels of the limits stand, if there are any.
    label: Option<f64>,
}

/// For a step, seen from across the bench.
pub const LARGE: Frame = Frame {
    class: "target-scale",
    width: 1000.0,
    height: 176.0,
    axis: 104.0,
    edge: 30.0,
    band: 46.0,
    ring: 11.0,
    pointer: (22.0, 58.0),
    tick: 14.0,
    label: Some(160.0),
};

/// For a row of a table, whose figures stand beside it.
pub const SMALL: Frame = Frame {
    class: "target-scale small",
    width: 420.0,
    height: 66.0,
    axis: 46.0,
    edge: 22.0,
    band: 30.0,
    ring: 8.0,
    pointer: (13.0, 36.0),
    tick: 10.0,
    label: None,
};

/// How much of the width a band with two limits takes.
const BAND_SHARE: f64 = 0.46;

/// What part of the number line is shown.
struct Window {
    low: f64,
    high: f64,
    frame: Frame,
}

impl Window {
    /// A window that shows the band in its middle; with one limit or none, one that shows
    /// all readings.
    fn of(limits: &Limits, readings: &[f64], frame: Frame) -> Window {
        let low = limits.low.as_ref().map(to_f64);
        let high = limits.high.as_ref().map(to_f64);
        let window = |low, high| Window { low, high, frame };
        let reach = |from: f64| {
            let farthest = readings
                .iter()
                .map(|r| (r - from).abs())
                .fold(0.0, f64::max);
            // A fifth of the limit to either side where the readings are nearer than that.
            let least = if from == 0.0 { 1.0 } else { from.abs() * 0.2 };
            (farthest * 1.25).max(least)
        };
        match (low, high) {
            (Some(low), Some(high)) => {
                let middle = (low + high) / 2.0;
                let least = middle.abs().max(1.0) * 1e-9;
                let half = ((high - low) / 2.0).max(least) / BAND_SHARE;
                window(middle - half, middle + half)
            }
            (Some(limit), None) | (None, Some(limit)) => {
                window(limit - reach(limit), limit + reach(limit))
            }
            (None, None) => {
                let least = readings.iter().copied().fold(f64::INFINITY, f64::min);
                let most = readings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                let margin = ((most - least) * 0.2).max(most.abs().max(1e-9) * 0.05);
                window(least - margin, most + margin)
            }
        }
    }

    /// Where a value is drawn, and whether it had to be drawn at the edge.
    fn place(&self, value: f64) -> (f64, bool) {
        let Frame { width, edge, .. } = self.frame;
        let inner = width - 2.0 * edge;
        let x = edge + (value - self.low) / (self.high - self.low) * inner;
        let kept = x.clamp(edge, width - edge);
        (kept, (x - kept).abs() > 0.5)
    }
}

impl Drawing {
    /// The picture; `None` where there is nothing to draw.
    pub fn svg(&self, frame: Frame) -> Option<String> {
        if self.tolerance.is_none() && self.marks.is_empty() {
            return None;
        }
        let limits = match &self.tolerance {
            Some(tolerance) => tolerance.limits(),
            None => Limits {
                low: None,
                high: None,
            },
        };
        let values: Vec<f64> = self.marks.iter().map(|m| m.value.base_f64()).collect();
        let window = Window::of(&limits, &values, frame);
        let band = self
            .tolerance
            .as_ref()
            .map(|tolerance| self.band(tolerance, &limits, &window))
            .unwrap_or_default();
        let marks: String = self
            .marks
            .iter()
            .zip(&values)
            .map(|(mark, value)| self.mark(mark, window.place(*value), frame))
            .collect();
        Some(format!(
            r#"<svg class="{}" viewBox="0 0 {} {}" role="img" aria-label="{}">{band}<path class="axis" d="{}"/>{marks}</svg>"#,
            frame.class,
            frame.width,
            frame.height,
            escape(&self.spoken()),
            axis(frame),
        ))
    }

    fn band(&self, tolerance: &Tolerance, limits: &Limits, window: &Window) -> String {
        let frame = window.frame;
        let (axis, top) = (frame.axis, frame.axis - frame.band);
        let ends = (frame.edge, frame.width - frame.edge);
        let at = |limit: &Option<BigDecimal>, otherwise: f64| {
            let placed = limit.as_ref().map(|limit| window.place(to_f64(limit)).0);
            placed.unwrap_or(otherwise)
        };
        let (left, right) = (at(&limits.low, ends.0), at(&limits.high, ends.1));
        let block = |class: &str, from: f64, to: f64| match to - from > 0.5 {
            true => format!(
                r#"<rect class="{class}" x="{from:.1}" y="{top}" width="{:.1}" height="{}"/>"#,
                to - from,
                frame.band
            ),
            false => String::new(),
        };
        let mut out = block("band", left, right);
        if let Some(accepted) = &self.acceptance {
            let inner_left = at(&accepted.low, ends.0).clamp(left, right);
            let inner_right = at(&accepted.high, ends.1).clamp(inner_left, right);
            out.push_str(&block("guard", left, inner_left));
            out.push_str(&block("guard", inner_right, right));
        }
        if let Some(nominal) = tolerance.nominal() {
            let (x, _) = window.place(nominal.base_f64());
            let foot = axis + frame.tick;
            out.push_str(&format!(
                r#"<path class="nominal" d="M{x:.1} {top}V{foot}"/>"#
            ));
        }
        for limit in [&limits.low, &limits.high].into_iter().flatten() {
            let (x, _) = window.place(to_f64(limit));
            let foot = axis + frame.tick * 1.4;
            out.push_str(&format!(
                r#"<path class="limit" d="M{x:.1} {top}V{foot}"/>"#
            ));
            if let Some(y) = frame.label {
                let text = escape(&self.limit_label(tolerance, limit));
                out.push_str(&format!(
                    r#"<text class="label" x="{x:.1}" y="{y}" text-anchor="middle">{text}</text>"#
                ));
            }
        }
        out
    }

    /// A limit as the person at the bench thinks of it: the distance from the nominal value, or
    /// the limit itself where there is none, and where that distance is in decibels.
    fn limit_label(&self, tolerance: &Tolerance, limit: &BigDecimal) -> String {
        if let Some((low, high)) = tolerance.figures_of_decibels() {
            let is_low = tolerance.limits().low.as_ref() == Some(limit);
            return if is_low { low } else { high }.typeset(self.sign);
        }
        match tolerance.nominal() {
            Some(nominal) => {
                let distance = limit - nominal.base();
                let plus = if distance.is_positive() { "+" } else { "" };
                let unit = nominal.unit().of_difference();
                let distance = Quantity::natural(distance, unit);
                format!("{plus}{}", distance.typeset(self.sign))
            }
            None => Quantity::in_scale(limit.clone(), self.scale).typeset(self.sign),
        }
    }

    fn mark(&self, mark: &Mark, (x, at_edge): (f64, bool), frame: Frame) -> String {
        let Frame {
            axis, ring, band, ..
        } = frame;
        let (half, tall) = frame.pointer;
        let to_the_left = x < frame.width / 2.0;
        match mark.kind {
            MarkKind::Found if at_edge => {
                let (reach, rise) = (ring * 2.4, ring * 1.45);
                let reach = if to_the_left { reach } else { -reach };
                format!(
                    r#"<path class="mark-found" d="M{x:.1} {axis}l{reach:.1} {:.1}v{:.1}z"/>"#,
                    -rise,
                    2.0 * rise
                )
            }
            MarkKind::Found => {
                format!(r#"<circle class="mark-found" cx="{x:.1}" cy="{axis}" r="{ring}"/>"#)
            }
            MarkKind::Earlier => format!(
                r#"<path class="mark-earlier" d="M{x:.1} {:.1}V{:.1}"/>"#,
                axis - band * 0.65,
                axis - 4.0
            ),
            MarkKind::Latest | MarkKind::Typed => {
                let shape = match (at_edge, to_the_left) {
                    (false, _) => format!("M{x:.1} {axis}l-{half} -{tall}h{}z", 2.0 * half),
                    (true, left) => {
                        let way = if left { 1.0 } else { -1.0 };
                        format!(
                            "M{:.1} {:.1}l{:.1} -{:.1}v{:.1}z",
                            x - way * half,
                            axis - tall * 0.45,
                            way * half * 1.8,
                            half * 1.1,
                            half * 2.2
                        )
                    }
                };
                let outside = self
                    .tolerance
                    .as_ref()
                    .filter(|tolerance| tolerance.unit() == mark.value.unit())
                    .is_some_and(|tolerance| !tolerance.judge(&mark.value).is_inside());
                let outside = if outside { " mark-outside" } else { "" };
                let typed = match mark.kind {
                    MarkKind::Typed => " mark-typed",
                    _ => "",
                };
                format!(r#"<path class="mark-latest{outside}{typed}" d="{shape}"/>"#)
            }
        }
    }

    /// The picture in words.
    fn spoken(&self) -> String {
        let target = self.tolerance.as_ref().map(|t| t.typeset(self.sign));
        let latest = self.marks.last().map(|mark| {
            let judge = |tolerance: &Tolerance| tolerance.judge(&mark.value).words(self.sign);
            let place = self.tolerance.as_ref().map(judge);
            (mark.value.typeset(self.sign), place.unwrap_or_default())
        });
        let latest = latest.as_ref().map(|(v, p)| (v.as_str(), p.as_str()));
        words::scale(target.as_deref(), latest)
    }
}

/// What stands on a scale, each drawn as it is there and named beside.
pub fn key() -> String {
    let Frame {
        axis, band, ring, ..
    } = SMALL;
    let (half, tall) = SMALL.pointer;
    let block = |class: &str, x: f64| {
        format!(
            r#"<rect class="{class}" x="{x}" y="{}" width="44" height="{band}"/>"#,
            axis - band
        )
    };
    let said = |x: f64, text: &str| {
        format!(
            r#"<text class="key" x="{x}" y="{:.1}">{}</text>"#,
            axis + 5.0,
            escape(text)
        )
    };
    let ring = format!(r#"<circle class="mark-found" cx="10" cy="{axis}" r="{ring}"/>"#);
    let pointer = format!(
        r#"<path class="mark-latest" d="M200 {axis}l-{half} -{tall}h{}z"/>"#,
        2.0 * half
    );
    format!(
        r#"<svg class="scale-key" viewBox="0 0 900 {}" role="img" aria-label="{}">{ring}{}{pointer}{}{}{}{}{}</svg>"#,
        SMALL.height,
        escape(words::SCALE_KEY),
        said(28.0, words::KEY_FOUND),
        said(220.0, words::KEY_LEFT),
        block("band", 390.0),
        said(444.0, words::KEY_LIMITS),
        block("guard", 650.0),
        said(704.0, words::KEY_GUARD),
    )
}

fn axis(frame: Frame) -> String {
    let Frame {
        width, edge, axis, ..
    } = frame;
    let mut path = format!("M{edge} {axis}H{}", width - edge);
    for tick in 0..=20 {
        let x = edge + (width - 2.0 * edge) * f64::from(tick) / 20.0;
        let length = match tick % 5 {
            0 => frame.tick,
            _ => frame.tick * 0.57,
        };
        path.push_str(&format!("M{x:.1} {axis}v{length:.1}"));
    }
    path
}
