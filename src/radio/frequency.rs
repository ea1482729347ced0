//! Frequency errors in Hz and in parts per million.

use crate::quantity::Fault;
use crate::quantity::fault::{finite, positive};

/// Error in ppm of a reading against a nominal frequency, both in Hz:
/// (reading − nominal)/nominal·10⁶.
///
/// Source: NCVEC question pool E4B03, error in Hz = frequency · ppm.
pub fn ppm_of_frequencies(reading: f64, nominal: f64) -> Result<f64, Fault> {
    let nominal = positive("The nominal frequency", nominal)?;
    Ok((positive("The reading", reading)? - nominal) / nominal * 1e6)
}

/// Hz that an error in ppm amounts to at a frequency in Hz: f·ppm/10⁶.
///
/// Source: NCVEC question pool E4B03, error in Hz = frequency · ppm.
pub fn hertz_of_ppm(ppm: f64, frequency: f64) -> Result<f64, Fault> {
    Ok(positive("The frequency", frequency)? * finite("The error in ppm", ppm)? / 1e6)
}
