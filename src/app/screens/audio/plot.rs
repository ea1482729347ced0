//! Levels over the logarithm of the frequency: rules with their figures, and where a point lies.

use crate::app::screens::audio::numbers::digits;
use crate::app::words::audio as words;
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// The room of the curve; the figures stand above, below and beside it.
pub const WIDTH: f64 = 440.0;
const ABOVE: f64 = 8.0;
const BELOW: f64 = 16.0;
const BESIDE: f64 = 40.0;

/// What is drawn between which ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plot {
    /// The ends in hertz.
    pub ends: (f64, f64),
    /// The lowest and the highest level.
    pub levels: (f64, f64),
    /// How high the room of the curve is.
    pub height: f64,
}

impl Plot {
    /// The whole with its figures, as an SVG states it.
    pub fn view_box(&self) -> String {
        let (width, height) = (WIDTH + BESIDE, self.height + ABOVE + BELOW);
        format!("0 -{ABOVE} {width} {height}")
    }

    /// How far down a level lies.
    pub fn down(&self, level: f64) -> f64 {
        let (low, high) = self.levels;
        ((high - level) / (high - low)).clamp(0.0, 1.0) * self.height
    }

    /// How far across a frequency lies.
    pub fn across(&self, hertz: f64) -> f64 {
        let (low, high) = self.ends;
        (hertz / low).ln() / (high / low).ln() * WIDTH
    }

    /// Rules at levels, each with its figure behind its end.
    pub fn levels(
        &self,
        levels: impl Iterator<Item = f64>,
        said: impl Fn(f64) -> String,
    ) -> AnyView {
        let x = format!("{:.0}", WIDTH + BESIDE - 4.0);
        let rules: Vec<_> = levels
            .map(|level| {
                let y = self.down(level);
                let (y, text) = (format!("{y:.1}"), format!("{:.1}", y + 3.0));
                view! {
                    <line class="audio-rule" x1="0" x2="440" y1=y.clone() y2=y/>
                    <text class="audio-mark" x=x.clone() y=text text-anchor="end">{said(level)}</text>
                }
            })
            .collect();
        rules.into_any()
    }

    /// Rules at frequencies, each with its figure below; the last one has the unit.
    pub fn frequencies(&self, hertz: &[f64], sign: DecimalSign) -> AnyView {
        let (height, below) = (
            format!("{:.0}", self.height),
            format!("{:.0}", self.height + 12.0),
        );
        let last = hertz.last().copied();
        let rules: Vec<_> = hertz
            .iter()
            .map(|hertz| {
                let x = format!("{:.1}", self.across(*hertz));
                let figure = digits(*hertz, 0, sign);
                let figure = match Some(*hertz) == last {
                    true => words::hertz(&figure),
                    false => figure,
                };
                view! {
                    <line class="audio-rule" x1=x.clone() x2=x.clone() y1="0" y2=height.clone()/>
                    <text class="audio-mark" x=x y=below.clone() text-anchor="middle">{figure}</text>
                }
            })
            .collect();
        rules.into_any()
    }
}
