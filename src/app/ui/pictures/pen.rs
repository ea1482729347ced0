//! What every picture is drawn with.

use crate::quantity::sum::Output;
use crate::quantity::{DecimalSign, Unit};
use leptos::prelude::*;

/// Drawing units; each picture is scaled to the room it gets.
pub const WIDTH: f64 = 600.0;

/// Writes numbers as the rest of the page does.
#[derive(Clone, Copy)]
pub struct Pen {
    pub sign: DecimalSign,
}

impl Pen {
    pub fn amount(self, value: f64, unit: Unit) -> String {
        Output::amount("", value, unit).typeset(3, self.sign)
    }

    /// Decibels with one decimal, which is all that a picture can show.
    pub fn level(self, value: f64, unit: Unit) -> String {
        Output::amount("", value, unit).typeset(2, self.sign)
    }

    pub fn plain(self, value: f64) -> String {
        let text = Output::plain("", value).typeset(6, self.sign);
        match text.contains(self.sign.symbol()) {
            true => {
                let short = text.trim_end_matches('0');
                short.trim_end_matches(self.sign.symbol()).to_owned()
            }
            false => text,
        }
    }
}

/// The frame of a picture: its height in drawing units, its words, what is in it.
pub fn frame(height: f64, said: String, drawn: impl IntoView + 'static) -> AnyView {
    view! {
        <svg class="picture" viewBox=format!("0 0 {WIDTH} {height}") role="img" aria-label=said>
            {drawn.into_any()}
        </svg>
    }
    .into_any()
}

/// Where a text is held.
#[derive(Clone, Copy)]
pub enum Hold {
    Start,
    Middle,
    End,
}

/// A text of the picture.
pub fn text(x: f64, y: f64, hold: Hold, words: impl Into<String>) -> AnyView {
    let anchor = match hold {
        Hold::Start => "start",
        Hold::Middle => "middle",
        Hold::End => "end",
    };
    let words: String = words.into();
    view! { <text x=place(x) y=place(y) text-anchor=anchor>{words}</text> }.into_any()
}

/// A stroke of a kind: `ink`, `thin`, `dash`, `accent`.
pub fn stroke(kind: &'static str, path: String) -> AnyView {
    view! { <path class=kind d=path/> }.into_any()
}

/// A filled box of a kind: `band`, `guard`, `bar`.
pub fn filled(kind: &'static str, (x, y): (f64, f64), width: f64, height: f64) -> AnyView {
    view! {
        <rect class=kind x=place(x) y=place(y) width=place(width.max(0.0)) height=place(height.max(0.0))/>
    }
    .into_any()
}

/// A dot that marks the result.
pub fn dot(x: f64, y: f64) -> AnyView {
    view! { <circle class="dot" cx=place(x) cy=place(y) r="8"/> }.into_any()
}

/// A line through points.
pub fn through(points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut path = String::new();
    for (x, y) in points {
        path.push(if path.is_empty() { 'M' } else { 'L' });
        path.push_str(&format!("{x:.1} {y:.1}"));
    }
    path
}

/// A coordinate in print; what is no number goes to the corner rather than out of the page.
pub fn place(value: f64) -> String {
    format!("{:.1}", if value.is_finite() { value } else { 0.0 })
}
