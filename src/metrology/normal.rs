//! The standard normal distribution.

use crate::quantity::Fault;
use crate::quantity::fault::{above, below};
use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Share of a standard normal distribution below `z`: Φ(z) = ½·erfc(−z/√2).
///
/// Source: JCGM 106:2012, 7.2.2.
pub fn cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// The `z` below which a share `p` of a standard normal distribution lies, 0 < p < 1.
///
/// Source: M. J. Wichura, algorithm AS 241, then one step by Halley's method on [`cdf`].
pub fn quantile(p: f64) -> Result<f64, Fault> {
    let p = below("The probability", above("The probability", p, 0.0)?, 1.0)?;
    // The lower tail keeps its digits, so the upper one is mirrored onto it.
    Ok(if p < 0.5 {
        lower_quantile(p)
    } else {
        -lower_quantile(1.0 - p)
    })
}
