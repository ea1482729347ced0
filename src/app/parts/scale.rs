//! The drawn scale: the band a reading must lie in, and where the readings lie.

use crate::metrology::{Limits, Reference, Tolerance, Verdict};
use crate::quantity::{DecimalSign, Number, Quantity, Scale};
use bigdecimal::BigDecimal;
use leptos::prelude::*;
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

/// Drawing units; the picture is scaled to the room it gets.
const WIDTH: f64 = 1000.0;
const AXIS: f64 = 104.0;
const EDGE: f64 = 30.0;
/// How much of the width a band with two limits takes.
const BAND_SHARE: f64 = 0.46;

/// What part of the number line is shown.
struct Window {
    low: f64,
    high: f64,
}

impl Window {
    /// A window that shows the band in its middle; with one limit or none, one that shows
    /// all readings.
    fn of(limits: &Limits, readings: &[f64]) -> Window {
        let low = limits.low.as_ref().map(to_f64);
        let high = limits.high.as_ref().map(to_f64);
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
                Window {
                    low: middle - half,
                    high: middle + half,
                }
            }
            (Some(limit), None) | (None, Some(limit)) => Window {
                low: limit - reach(limit),
                high: limit + reach(limit),
            },
            (None, None) => {
                let least = readings.iter().copied().fold(f64::INFINITY, f64::min);
                let most = readings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                let margin = ((most - least) * 0.2).max(most.abs().max(1e-9) * 0.05);
                Window {
                    low: least - margin,
                    high: most + margin,
                }
            }
        }
    }

    /// Where a value is drawn, and whether it had to be drawn at the edge.
    fn place(&self, value: f64) -> (f64, bool) {
        let inner = WIDTH - 2.0 * EDGE;
        let x = EDGE + (value - self.low) / (self.high - self.low) * inner;
        let kept = x.clamp(EDGE, WIDTH - EDGE);
        (kept, (x - kept).abs() > 0.5)
    }
}

fn to_f64(value: &BigDecimal) -> f64 {
    Number::from_decimal(value.clone()).to_f64()
}

/// The scale with its band, limits and readings.
#[component]
pub fn TargetScale(
    /// Where readings must lie, if that is known.
    tolerance: Option<Tolerance>,
    /// The readings, the latest last.
    marks: Vec<Mark>,
    /// The scale of the labels.
    scale: Scale,
    /// The decimal sign in use.
    sign: DecimalSign,
) -> impl IntoView {
    let none = Limits {
        low: None,
        high: None,
    };
    let limits = tolerance.as_ref().map_or(none, Tolerance::limits);
    let values: Vec<f64> = marks.iter().map(|mark| mark.value.base_f64()).collect();
    let nothing = tolerance.is_none() && marks.is_empty();
    let window = Window::of(&limits, &values);
    let said = spoken(tolerance.as_ref(), &marks, sign);
    (!nothing).then(|| {
        let drawn_marks = marks
            .iter()
            .zip(&values)
            .map(|(mark, value)| {
                let verdict = tolerance
                    .as_ref()
                    .map(|tolerance| tolerance.judge(&mark.value));
                let (x, at_edge) = window.place(*value);
                draw_mark(mark.kind, x, at_edge, verdict.as_ref())
            })
            .collect_view();
        view! {
            <svg class="target-scale" viewBox="0 0 1000 176" role="img" aria-label=said>
                {tolerance.as_ref().map(|tolerance| band(tolerance, &limits, &window, scale, sign))}
                <path class="axis" d=axis_path()/>
                {drawn_marks}
            </svg>
        }
    })
}

fn axis_path() -> String {
    let mut path = format!("M{EDGE} {AXIS}H{}", WIDTH - EDGE);
    for tick in 0..=20 {
        let x = EDGE + (WIDTH - 2.0 * EDGE) * f64::from(tick) / 20.0;
        let length = if tick % 5 == 0 { 14.0 } else { 8.0 };
        path.push_str(&format!("M{x:.1} {AXIS}v{length}"));
    }
    path
}

fn band(
    tolerance: &Tolerance,
    limits: &Limits,
    window: &Window,
    scale: Scale,
    sign: DecimalSign,
) -> impl IntoView + use<> {
    let at = |limit: &Option<BigDecimal>, otherwise: f64| {
        limit
            .as_ref()
            .map_or(otherwise, |limit| window.place(to_f64(limit)).0)
    };
    let left = at(&limits.low, EDGE);
    let right = at(&limits.high, WIDTH - EDGE);
    let label = |limit: &Option<BigDecimal>| {
        let limit = limit.as_ref()?;
        let text = limit_label(tolerance, limit, scale, sign);
        let (x, _) = window.place(to_f64(limit));
        Some(view! {
            <path class="limit" d=format!("M{x:.1} {}V{}", AXIS - 46.0, AXIS + 20.0)/>
            <text class="label" x=format!("{x:.1}") y="160" text-anchor="middle">{text}</text>
        })
    };
    let nominal = tolerance.nominal().map(|nominal| {
        let (x, _) = window.place(nominal.base_f64());
        view! { <path class="nominal" d=format!("M{x:.1} {}V{}", AXIS - 46.0, AXIS + 14.0)/> }
    });
    view! {
        <rect class="band" x=format!("{left:.1}") y=AXIS - 46.0 width=format!("{:.1}", right - left) height="46"/>
        {nominal}
        {label(&limits.low)}
        {label(&limits.high)}
    }
}

/// A limit as the person at the bench thinks of it: the distance from the nominal value, or
/// the limit itself where there is none.
fn limit_label(
    tolerance: &Tolerance,
    limit: &BigDecimal,
    scale: Scale,
    sign: DecimalSign,
) -> String {
    match tolerance.nominal() {
        Some(nominal) => {
            let distance = limit - nominal.base();
            let plus = if distance.is_positive() { "+" } else { "" };
            let unit = nominal.unit().of_difference();
            format!("{plus}{}", Quantity::natural(distance, unit).typeset(sign))
        }
        None => Quantity::in_scale(limit.clone(), scale).typeset(sign),
    }
}

fn draw_mark(kind: MarkKind, x: f64, at_edge: bool, verdict: Option<&Verdict>) -> AnyView {
    let outside = verdict.is_some_and(|verdict| !verdict.is_inside());
    let top = AXIS - 60.0;
    match kind {
        MarkKind::Found if at_edge => {
            let tip = if x < WIDTH / 2.0 { "l26 -16v32z" } else { "l-26 -16v32z" };
            view! { <path class="mark-found" d=format!("M{x:.1} {AXIS}{tip}")/> }.into_any()
        }
        MarkKind::Found => view! { <circle class="mark-found" cx=format!("{x:.1}") cy=AXIS r="11"/> }.into_any(),
        MarkKind::Earlier => {
            view! { <path class="mark-earlier" d=format!("M{x:.1} {}V{}", AXIS - 30.0, AXIS - 4.0)/> }.into_any()
        }
        MarkKind::Latest | MarkKind::Typed => {
            let shape = match (at_edge, x < WIDTH / 2.0) {
                (false, _) => format!("M{x:.1} {AXIS}l-22 -58h44z"),
                (true, true) => format!("M{:.1} {}l40 -24v48z", x - 24.0, top + 34.0),
                (true, false) => format!("M{:.1} {}l-40 -24v48z", x + 24.0, top + 34.0),
            };
            let typed = kind == MarkKind::Typed;
            view! { <path class="mark-latest" class:mark-outside=outside class:mark-typed=typed d=shape/> }.into_any()
        }
    }
}

/// The picture in words.
fn spoken(tolerance: Option<&Tolerance>, marks: &[Mark], sign: DecimalSign) -> String {
    let band = tolerance.map_or("No target".to_owned(), |t| {
        format!("Target {}", t.typeset(sign))
    });
    let latest = marks.last().map(|mark| {
        let place = tolerance.map(|t| {
            let verdict = t.judge(&mark.value);
            let side = match verdict.from {
                Reference::Nominal => verdict.words(sign),
                _ => verdict.place.to_string(),
            };
            format!(", {side}")
        });
        let place = place.unwrap_or_default();
        format!("; latest reading {}{place}", mark.value.typeset(sign))
    });
    format!("{band}{}", latest.unwrap_or_default())
}
