//! Frequency errors in Hz and in parts per million.

use crate::quantity::Fault;
use crate::quantity::fault::{finite, positive};
use bigdecimal::BigDecimal;

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

/// Which way the frequency at a tap of a set goes when the channel goes up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Follows {
    /// Up: the display adds its offset to what the tap carries.
    Rising,
    /// Down: the display takes what the tap carries from its offset.
    Falling,
}

impl Follows {
    /// Which way a tap goes by what it carries on two channels; `None` where it does not move as
    /// far as the channel does.
    pub fn of(on_air: [&BigDecimal; 2], tap: [&BigDecimal; 2]) -> Option<Follows> {
        let (channel, tap) = (on_air[1] - on_air[0], tap[1] - tap[0]);
        let is_half = |moved: &BigDecimal| (moved - &channel).abs() * 2 < channel.abs();
        if is_half(&tap) {
            Some(Follows::Rising)
        } else if is_half(&-tap) {
            Some(Follows::Falling)
        } else {
            None
        }
    }

    /// The offset to programme into a frequency display that is fed from the tap: on-air less
    /// tap, or their sum where the tap goes down as the channel goes up.
    ///
    /// Source: mixing, closed form; exact.
    pub fn offset(self, on_air: &BigDecimal, tap: &BigDecimal) -> BigDecimal {
        match self {
            Follows::Rising => on_air - tap,
            Follows::Falling => on_air + tap,
        }
    }

    /// What the display shows for a frequency at the tap.
    pub fn shown(self, offset: &BigDecimal, tap: &BigDecimal) -> BigDecimal {
        match self {
            Follows::Rising => offset + tap,
            Follows::Falling => offset - tap,
        }
    }
}
