//! Figures along a scale that has no limits to tell where on it a reading lies.

use super::frame::Frame;
use super::window::Window;
use crate::exchange::report::plot::round_values;
use crate::exchange::report::text::escape;
use crate::quantity::{DecimalSign, Number, Quantity, Scale};

/// About so many have room beside each other.
const ABOUT: f64 = 4.0;

/// How near to an end, as a part of the width, a figure is not cut.
const NEAR: f64 = 0.06;

/// Ticks at round values, each with its figure, the last one with the unit; nothing where figures
/// have no room.
pub(super) fn figures(window: &Window, scale: Scale, sign: DecimalSign) -> Option<String> {
    let Frame {
        axis, tick, width, ..
    } = window.frame;
    let y = window.frame.label?;
    let one = Quantity::new(Number::from_f64(1.0, 0)?, scale).base_f64();
    let (low, high) = window.ends();
    let values = round_values(low / one, high / one, ABOUT, sign);
    let placed = values.into_iter().map(|(value, figure)| {
        let (x, _) = window.place(value * one);
        (x, figure)
    });
    let inside = |(x, _): &(f64, String)| (NEAR * width..=(1.0 - NEAR) * width).contains(x);
    let placed: Vec<(f64, String)> = placed.filter(inside).collect();
    let last = placed.len().checked_sub(1)?;
    let tick = |(at, (x, figure)): (usize, (f64, String))| {
        let text = match at == last {
            true => format!("{figure}\u{a0}{}", scale.symbol()),
            false => figure,
        };
        format!(
            r#"<path class="axis" d="M{x:.1} {axis}v{tick}"/><text class="label" x="{x:.1}" y="{y}" text-anchor="middle">{}</text>"#,
            escape(&text)
        )
    };
    Some(placed.into_iter().enumerate().map(tick).collect())
}
