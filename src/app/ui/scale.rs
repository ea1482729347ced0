//! The drawn scale, as the report draws it too.

pub use crate::exchange::report::scale::{Mark, MarkKind};

use crate::exchange::report::scale::{Drawing, LARGE};
use crate::metrology::Tolerance;
use crate::quantity::{DecimalSign, Scale};
use leptos::prelude::*;

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
    let drawing = Drawing {
        tolerance,
        acceptance: None,
        marks,
        scale,
        sign,
    };
    // Holds shapes and figures of ours only, and every word in it is escaped.
    drawing
        .svg(LARGE)
        .map(|svg| view! { <div inner_html=svg></div> })
}
