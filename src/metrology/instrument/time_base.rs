//! The time base of a counter, against a reference.

use crate::quantity::Fault;
use crate::quantity::fault::{above, positive};

/// A counter's time-base error in ppm from its reading of a reference, both in Hz:
/// (reading − reference)/reference·10⁶.
///
/// Source: NCVEC question pool E4B03, error in Hz = frequency · ppm.
pub fn time_base_ppm(reading: f64, reference: f64) -> Result<f64, Fault> {
    let reference = positive("The reference frequency", reference)?;
    Ok((positive("The reading of the reference", reading)? - reference) / reference * 1e6)
}

/// A frequency in Hz, put right for a time-base error in ppm: reading/(1 + ppm/10⁶).
///
/// Source: closed form of the definition of the error.
pub fn time_base_corrected(reading: f64, ppm: f64) -> Result<f64, Fault> {
    let factor = 1.0 + above("The time-base error in ppm", ppm, -1e6)? / 1e6;
    Ok(reading / factor)
}
