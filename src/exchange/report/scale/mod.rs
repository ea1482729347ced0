//! The drawn scale: the band a reading must lie in, and where the readings lie. An SVG text that
//! holds nothing but shapes and numbers of ours, so that the app and a saved sheet show the same.

mod figures;
mod frame;
mod key;
mod pull;
mod window;

pub use self::frame::{Frame, LARGE, SMALL};
pub use self::key::key;
pub use self::pull::PullDrawing;

use self::figures::figures;
use self::window::Window;
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
    /// The best of all tries: a flag over it.
    Best,
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

/// A picture in the parts that change by themselves: while a number is typed, only the pointer
/// moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Its class.
    pub class: &'static str,
    /// Its measures, as an SVG states them.
    pub view_box: String,
    /// What it shows, in words.
    pub spoken: String,
    /// What stands still, as SVG.
    pub still: String,
    /// Where the latest reading is, if that is known.
    pub pointer: Option<Pointer>,
}

/// The mark of the latest reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pointer {
    /// Its classes.
    pub class: String,
    /// Its path.
    pub shape: String,
}

impl Pointer {
    fn svg(&self) -> String {
        format!(r#"<path class="{}" d="{}"/>"#, self.class, self.shape)
    }
}

impl Picture {
    fn svg(&self) -> String {
        let pointer = self.pointer.as_ref().map(Pointer::svg).unwrap_or_default();
        format!(
            r#"<svg class="{}" viewBox="{}" role="img" aria-label="{}">{}{pointer}</svg>"#,
            self.class,
            self.view_box,
            escape(&self.spoken),
            self.still,
        )
    }
}

impl Drawing {
    /// The picture; `None` where there is nothing to draw.
    pub fn svg(&self, frame: Frame) -> Option<String> {
        self.picture(frame).map(|picture| picture.svg())
    }

    /// The same in its parts.
    pub fn picture(&self, frame: Frame) -> Option<Picture> {
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
        let placed = self.marks.iter().zip(&values);
        let mut placed = placed.map(|(mark, value)| (mark, window.place(*value)));
        // Above all others, since it is the last.
        let latest = placed.next_back();
        let earlier: String = placed
            .map(|(m, place)| self.mark(m, place, frame))
            .collect();
        let pointer = latest.and_then(|(mark, place)| self.pointer(mark, place, frame));
        let last = latest.filter(|_| pointer.is_none());
        let last = last.map(|(mark, place)| self.mark(mark, place, frame));
        Some(Picture {
            class: frame.class,
            view_box: format!("0 0 {} {}", frame.width, frame.height),
            spoken: self.spoken(),
            still: format!(
                r#"{band}{}{earlier}{}"#,
                self.axis(&window),
                last.unwrap_or_default()
            ),
            pointer,
        })
    }

    /// With figures where no limits say where on it a reading lies.
    fn axis(&self, window: &Window) -> String {
        let frame = window.frame;
        let figures = match self.tolerance {
            None => figures(window, self.scale, self.sign),
            Some(_) => None,
        };
        match figures {
            Some(figures) => {
                let (edge, end) = (frame.edge, frame.width - frame.edge);
                format!(
                    r#"<path class="axis" d="M{edge} {}H{end}"/>{figures}"#,
                    frame.axis
                )
            }
            None => format!(r#"<path class="axis" d="{}"/>"#, axis(frame)),
        }
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
        match mark.kind {
            MarkKind::Found if at_edge => {
                let (reach, rise) = (ring * 2.4, ring * 1.45);
                let reach = if is_left(x, frame) { reach } else { -reach };
                format!(
                    r#"<path class="mark-found" d="M{x:.1} {axis}l{reach:.1} {:.1}v{:.1}z"/>"#,
                    -rise,
                    2.0 * rise
                )
            }
            MarkKind::Found => {
                format!(r#"<circle class="mark-found" cx="{x:.1}" cy="{axis}" r="{ring}"/>"#)
            }
            MarkKind::Best => {
                let reach = band * 0.5;
                let reach = if is_left(x, frame) { reach } else { -reach };
                format!(
                    r#"<path class="mark-best" d="M{x:.1} {axis}v-{:.1}l{reach:.1} {:.1}l{:.1} {:.1}"/>"#,
                    band * 1.9,
                    band * 0.25,
                    -reach,
                    band * 0.25
                )
            }
            MarkKind::Earlier => format!(
                r#"<path class="mark-earlier" d="M{x:.1} {:.1}V{:.1}"/>"#,
                axis - band * 0.65,
                axis - 4.0
            ),
            MarkKind::Latest | MarkKind::Typed => {
                let pointer = self.pointer(mark, (x, at_edge), frame);
                pointer.as_ref().map(Pointer::svg).unwrap_or_default()
            }
        }
    }

    /// The pointer of a reading that has one.
    fn pointer(&self, mark: &Mark, (x, at_edge): (f64, bool), frame: Frame) -> Option<Pointer> {
        let typed = match mark.kind {
            MarkKind::Found | MarkKind::Earlier | MarkKind::Best => return None,
            MarkKind::Latest => "",
            MarkKind::Typed => " mark-typed",
        };
        let axis = frame.axis;
        let (half, tall) = frame.pointer;
        let shape = match at_edge {
            false => format!("M{x:.1} {axis}l-{half} -{tall}h{}z", 2.0 * half),
            true => {
                let way = if is_left(x, frame) { 1.0 } else { -1.0 };
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
        Some(Pointer {
            class: format!("mark-latest{outside}{typed}"),
            shape,
        })
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

fn is_left(x: f64, frame: Frame) -> bool {
    x < frame.width / 2.0
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
