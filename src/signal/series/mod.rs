//! What several stretches of sound say together: over levels of a generator, or over frequencies.

pub mod agc;
pub mod response;
pub mod search;
pub mod squelch;
pub mod sweep;

use super::figure::{Figure, freedom_of};

/// What one reading in a hundred and more comes to, of χ² over its degrees of freedom.
///
/// Source: Wilson and Hilferty's approximation of χ², at 99 %.
fn surprising(freedom: f64) -> f64 {
    if freedom < 1.0 {
        return f64::INFINITY;
    }
    let part = 2.0 / (9.0 * freedom);
    (1.0 - part + 2.326 * part.sqrt()).powi(3)
}

/// The difference of two figures that know nothing of each other.
fn difference(of: Figure, from: Figure) -> Figure {
    let parts = [of, from].map(|it| (it.standard.powi(2), it.freedom));
    Figure {
        value: of.value - from.value,
        standard: of.standard.hypot(from.standard),
        freedom: freedom_of(parts.into_iter()),
    }
}
