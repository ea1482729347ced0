//! What several stretches of sound say together: over levels of a generator, or over frequencies.

pub mod agc;
pub mod response;
pub mod search;
pub mod squelch;
pub mod sweep;

use super::figure::Figure;

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

/// The degrees of freedom of a sum of figures, each counted by a factor.
///
/// Source: Welch and Satterthwaite, JCGM 100:2008, G.4.1.
fn freedom_of(parts: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (mut all, mut each) = (0.0, 0.0);
    for (variance, freedom) in parts {
        all += variance;
        each += variance * variance / freedom;
    }
    match each > 0.0 {
        true => all * all / each,
        false => f64::INFINITY,
    }
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
