//! What a tool does to a reading, on one scale: the reading with the tool in, where it is expected
//! once the tool is out, and where to stop so that it ends on the target.

use crate::exchange::report::text::escape;
use crate::exchange::report::words;
use crate::metrology::Tolerance;
use crate::quantity::{DecimalSign, Quantity};

const WIDTH: f64 = 1000.0;
const HEIGHT: f64 = 212.0;
/// Where the axis lies, below a row for what the aim is.
const AXIS: f64 = 116.0;
const BAND: f64 = 40.0;
/// Room at both ends.
const EDGE: f64 = 30.0;
/// Half of what a letter takes of a line where the words are largest, on a phone. No words run out
/// at an end.
const HALF_LETTER: f64 = 10.0;
/// Half the width and the height of a pointer.
const POINTER: (f64, f64) = (18.0, 46.0);
/// What the words below the axis and above it stand on.
const IN_ROW: f64 = 164.0;
const OUT_ROW: f64 = 202.0;
const AIM_ROW: f64 = 30.0;
/// How high it is without the words below the axis.
const LOW: f64 = 130.0;

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct PullDrawing<'a> {
    /// Where the reading must lie.
    pub tolerance: &'a Tolerance,
    /// Where to stop with the tool in.
    pub aim: &'a Quantity,
    /// The latest reading, where that is with the tool in.
    pub tool_in: Option<&'a Quantity>,
    /// Where that is expected with the tool out, or else what is aimed at.
    pub tool_out: &'a Quantity,
    /// Half of the range about that in which 95 of 100 settle; nothing where it is not known.
    pub half_width: Option<&'a Quantity>,
    /// The decimal sign in use.
    pub sign: DecimalSign,
}

/// Where values are drawn.
struct Across {
    low: f64,
    high: f64,
}

impl Across {
    fn place(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        EDGE + share.clamp(0.0, 1.0) * (WIDTH - 2.0 * EDGE)
    }
}

impl PullDrawing<'_> {
    /// The picture.
    pub fn svg(&self) -> String {
        self.drawn("tool-pull", HEIGHT)
    }

    /// The same without the words below the axis: a hollow pointer is with the tool in, a full one
    /// without.
    pub fn strip(&self) -> String {
        self.drawn("tool-strip", LOW)
    }

    fn drawn(&self, class: &str, height: f64) -> String {
        let across = self.across();
        let at = |value: &Quantity| across.place(value.base_f64());
        let (low, high) = self.tolerance.limits().to_f64();
        let ends = (
            low.map(|it| across.place(it)),
            high.map(|it| across.place(it)),
        );
        let limits = [ends.0, ends.1].into_iter().flatten();
        let limits: String = limits
            .map(|x| {
                format!(
                    r#"<path class="limit" d="M{x:.1} {}V{}"/>"#,
                    AXIS - BAND,
                    AXIS + 14.0
                )
            })
            .collect();
        let nominal = self.tolerance.nominal().map(|nominal| {
            let x = at(nominal);
            format!(
                r#"<path class="nominal" d="M{x:.1} {}V{AXIS}"/>"#,
                AXIS - BAND
            )
        });
        let (left, right) = (ends.0.unwrap_or(EDGE), ends.1.unwrap_or(WIDTH - EDGE));
        let way = self
            .tool_in
            .map(|tool_in| way(at(tool_in), at(self.tool_out)));
        let spread = self.spread().map(|(from, to)| {
            let (from, to) = (across.place(from), across.place(to));
            format!(
                r#"<path class="pull-spread" d="M{from:.1} {0}V{1}M{from:.1} {2}H{to:.1}M{to:.1} {0}V{1}"/>"#,
                AXIS + 3.0,
                AXIS + 19.0,
                AXIS + 11.0
            )
        });
        let tool_in = self.tool_in.map(|tool_in| {
            pointer("pull-in", at(tool_in)) + &said(at(tool_in), IN_ROW, words::PULL_IN)
        });
        format!(
            r#"<svg class="target-scale {class}" viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{}"><rect class="band" x="{left:.1}" y="{}" width="{:.1}" height="{BAND}"/>{}{limits}<path class="axis" d="M{EDGE} {AXIS}H{}"/>{}{}{}{}{}{}{}</svg>"#,
            escape(&self.spoken()),
            AXIS - BAND,
            (right - left).max(0.0),
            nominal.unwrap_or_default(),
            WIDTH - EDGE,
            way.unwrap_or_default(),
            spread.unwrap_or_default(),
            tool_in.unwrap_or_default(),
            pointer("mark-latest", at(self.tool_out)),
            said(at(self.tool_out), OUT_ROW, words::PULL_OUT),
            flag(at(self.aim)),
            said(
                at(self.aim),
                AIM_ROW,
                &words::pull_aim(&self.aim.typeset(self.sign))
            ),
        )
    }

    /// The range in which 95 of 100 settle.
    fn spread(&self) -> Option<(f64, f64)> {
        let half = self.half_width?.base_f64().abs();
        let middle = self.tool_out.base_f64();
        Some((middle - half, middle + half))
    }

    /// All that is drawn, with some room on both sides.
    fn across(&self) -> Across {
        let (low, high) = self.tolerance.limits().to_f64();
        let spread = self.spread();
        let points = [Some(self.aim), self.tool_in, Some(self.tool_out)];
        let points = points.into_iter().flatten().map(Quantity::base_f64);
        let ends = spread.into_iter().flat_map(|(from, to)| [from, to]);
        let all = points.chain(ends).chain(low).chain(high);
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        let (low, high) = all.fold(none, |(low, high), it| (low.min(it), high.max(it)));
        let room = ((high - low) * 0.08).max(high.abs().max(1e-9) * 1e-9);
        Across {
            low: low - room,
            high: high + room,
        }
    }

    /// The picture in words.
    fn spoken(&self) -> String {
        words::tool_pull(
            &self.aim.typeset(self.sign),
            self.tool_in.map(|it| it.typeset(self.sign)).as_deref(),
            &self.tool_out.typeset(self.sign),
            self.half_width.map(|it| it.typeset(self.sign)).as_deref(),
        )
    }
}

fn pointer(class: &str, x: f64) -> String {
    let (half, tall) = POINTER;
    format!(
        r#"<path class="{class}" d="M{x:.1} {AXIS}l-{half} -{tall}h{}z"/>"#,
        2.0 * half
    )
}

/// From the reading with the tool in to where it is expected.
fn way(from: f64, to: f64) -> String {
    let y = AXIS - POINTER.1 - 8.0;
    let back = if to < from { 12.0 } else { -12.0 };
    let head = match (to - from).abs() > 16.0 {
        true => format!("M{to:.1} {y}l{back} -8M{to:.1} {y}l{back} 8"),
        false => String::new(),
    };
    format!(r#"<path class="pull-way" d="M{from:.1} {y}H{to:.1}{head}"/>"#)
}

/// A flag on the axis.
fn flag(x: f64) -> String {
    let top = AIM_ROW + 10.0;
    let width = if x > WIDTH / 2.0 { -34.0 } else { 34.0 };
    format!(
        r#"<path class="pull-aim" d="M{x:.1} {AXIS}V{top}l{width} 12l{:.1} 12"/>"#,
        -width
    )
}

fn said(x: f64, y: f64, words: &str) -> String {
    let half = (words.chars().count() as f64 * HALF_LETTER).min(WIDTH / 2.0);
    format!(
        r#"<text class="label" x="{:.1}" y="{y}" text-anchor="middle">{}</text>"#,
        x.clamp(half, WIDTH - half),
        escape(words)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn q(text: &str) -> Quantity {
        text.parse().unwrap()
    }

    fn drawn(tool_in: Option<&str>, out: &str, half_width: Option<&str>) -> String {
        let tolerance: Tolerance = serde_json::from_value(serde_json::json!({"around": {
            "nominal": "9.001500 MHz", "below": {"absolute": "10 Hz"}, "above": {"absolute": "10 Hz"}}}))
        .unwrap();
        let (tool_in, half_width) = (tool_in.map(q), half_width.map(q));
        PullDrawing {
            tolerance: &tolerance,
            aim: &q("9.001475 MHz"),
            tool_in: tool_in.as_ref(),
            tool_out: &q(out),
            half_width: half_width.as_ref(),
            sign: DecimalSign::Point,
        }
        .svg()
        .replace('\u{a0}', " ")
    }

    #[test]
    fn a_reading_with_the_tool_in_and_what_is_expected_of_it_stand_on_one_scale_with_the_aim() {
        let svg = drawn(Some("9.001520 MHz"), "9.001545 MHz", Some("4 Hz"));
        for part in [
            "pull-in",
            "mark-latest",
            "pull-way",
            "pull-spread",
            "pull-aim",
        ] {
            assert_eq!(
                svg.matches(&format!("class=\"{part}\"")).count(),
                1,
                "{part}"
            );
        }
        assert!(
            svg.contains(">stop at 9.001475 MHz, tool in</text>"),
            "{svg}"
        );
        assert!(svg.contains("aria-label=\"Stop at 9.001475 MHz with the tool in. Now 9.001520 MHz with the tool in; expected with the tool out: 9.001545 MHz, ± 4 Hz (95 %)\""), "{svg}");
    }

    #[test]
    fn what_is_not_known_is_not_drawn() {
        let svg = drawn(None, "9.001500 MHz", None);
        for part in ["pull-in", "pull-way", "pull-spread"] {
            assert!(!svg.contains(part), "{part}");
        }
        assert!(svg.contains("aria-label=\"Stop at 9.001475 MHz with the tool in; expected with the tool out: 9.001500 MHz, its scatter not known\""), "{svg}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"));
    }
}
