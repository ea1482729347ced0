//! The standard normal distribution.

use crate::quantity::Fault;
use crate::quantity::fault::{above, below};
use std::f64::consts::{FRAC_1_SQRT_2, TAU};

/// Share of a standard normal distribution below `z`: Φ(z) = ½·erfc(−z/√2).
///
/// Source: JCGM 106:2012, 7.3 (from memory).
pub fn cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// Density of a standard normal distribution at `z`: e^(−z²/2)/√(2π).
///
/// Source: closed form.
pub fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / TAU.sqrt()
}

/// The `z` below which a share `p` of a standard normal distribution lies, 0 < p < 1.
///
/// Source: M. Abramowitz and I. A. Stegun, 26.2.23, refined by Halley's method on [`cdf`].
pub fn quantile(p: f64) -> Result<f64, Fault> {
    let p = below("The probability", above("The probability", p, 0.0)?, 1.0)?;
    // The lower tail keeps its digits, so the upper one is mirrored onto it.
    Ok(if p > 0.5 {
        -lower_quantile(1.0 - p)
    } else {
        lower_quantile(p)
    })
}

/// The quantile of a probability of at most a half.
fn lower_quantile(p: f64) -> f64 {
    let t = (-2.0 * p.ln()).sqrt();
    let start = (2.515517 + t * (0.802853 + t * 0.010328))
        / (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308)))
        - t;
    // From 5e-4 off, each step triples the correct digits.
    (0..3).fold(start, |z, _| {
        let step = excess(z, p) / density(z);
        z - step / (1.0 + 0.5 * z * step)
    })
}

/// Φ(z) − p, without cancellation near the middle.
fn excess(z: f64, p: f64) -> f64 {
    if p > 0.1 {
        0.5 * libm::erf(z * FRAC_1_SQRT_2) + (0.5 - p)
    } else {
        cdf(z) - p
    }
}
