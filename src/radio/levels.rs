//! Levels in a stated impedance: power, voltage and decibels.

use crate::quantity::fault::{above, finite, not_negative, positive};
use crate::quantity::{Fault, Quantity, Unit};
use std::f64::consts::{PI, SQRT_2};

/// Decibels of a power ratio: 10·log₁₀(ratio), for a ratio above zero.
///
/// Source (from memory): IEC 60027-3, logarithmic quantities.
pub fn decibels_of_power_ratio(ratio: f64) -> Result<f64, Fault> {
    Ok(10.0 * positive("The power ratio", ratio)?.log10())
}

/// Power ratio of decibels: 10^(dB/10).
///
/// Source (from memory): IEC 60027-3, logarithmic quantities.
pub fn power_ratio_of_decibels(decibels: f64) -> Result<f64, Fault> {
    let ratio = 10f64.powf(finite("The level", decibels)? / 10.0);
    finite("The power ratio", ratio)
}

/// Decibels of a voltage ratio across equal impedances: 20·log₁₀(ratio), for a ratio above zero.
///
/// Source (from memory): IEC 60027-3, logarithmic quantities.
pub fn decibels_of_voltage_ratio(ratio: f64) -> Result<f64, Fault> {
    Ok(20.0 * positive("The voltage ratio", ratio)?.log10())
}

/// Voltage ratio of decibels across equal impedances: 10^(dB/20).
///
/// Source (from memory): IEC 60027-3, logarithmic quantities.
pub fn voltage_ratio_of_decibels(decibels: f64) -> Result<f64, Fault> {
    let ratio = 10f64.powf(finite("The level", decibels)? / 20.0);
    finite("The voltage ratio", ratio)
}

/// Level in dBm of a power in watts above zero: 10·log₁₀(P / 1 mW).
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn dbm_of_watts(watts: f64) -> Result<f64, Fault> {
    Ok(10.0 * (positive("The power", watts)? * 1e3).log10())
}

/// Power in watts of a level in dBm: 1 mW · 10^(dBm/10).
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn watts_of_dbm(dbm: f64) -> Result<f64, Fault> {
    Ok(power_ratio_of_decibels(dbm)? * 1e-3)
}

/// Power in watts of a level in a unit of power; `None` for a level in any other.
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn watts_of_power(level: &Quantity) -> Option<Result<f64, Fault>> {
    let size = level.base_f64();
    match level.unit() {
        Unit::Watt | Unit::WattPep => Some(Ok(size)),
        Unit::DecibelMilliwatt | Unit::DecibelMilliwattPep => Some(watts_of_dbm(size)),
        Unit::DecibelWatt => Some(watts_of_dbm(dbm_of_dbw(size))),
        _ => None,
    }
}

/// Level in dBW of a level in dBm: 30 dB less.
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn dbw_of_dbm(dbm: f64) -> f64 {
    dbm - 30.0
}

/// Level in dBm of a level in dBW: 30 dB more.
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn dbm_of_dbw(dbw: f64) -> f64 {
    dbw + 30.0
}

/// Power in watts of an rms voltage of zero or more across a resistance in ohms: V²/R.
///
/// Source: Joule's law.
pub fn watts_of_volts(rms: f64, ohms: f64) -> Result<f64, Fault> {
    let ohms = positive("The impedance", ohms)?;
    Ok(not_negative("The voltage", rms)?.powi(2) / ohms)
}

/// Rms voltage of a power of zero or more in watts in a resistance in ohms: √(P·R).
///
/// Source: Joule's law.
pub fn volts_of_watts(watts: f64, ohms: f64) -> Result<f64, Fault> {
    let ohms = positive("The impedance", ohms)?;
    Ok((not_negative("The power", watts)? * ohms).sqrt())
}

/// Peak voltage of a sine wave from its rms voltage: √2·V.
///
/// Source: root mean square of a sine.
pub fn peak_of_rms(rms: f64) -> f64 {
    SQRT_2 * rms
}

/// Rms voltage of a sine wave from its peak voltage: V/√2.
///
/// Source: root mean square of a sine.
pub fn rms_of_peak(peak: f64) -> f64 {
    peak / SQRT_2
}

/// Peak-to-peak voltage of a sine wave from its rms voltage: 2·√2·V.
///
/// Source: root mean square of a sine.
pub fn peak_to_peak_of_rms(rms: f64) -> f64 {
    2.0 * SQRT_2 * rms
}

/// Rms voltage of a sine wave from its peak-to-peak voltage: V/(2·√2).
///
/// Source: root mean square of a sine.
pub fn rms_of_peak_to_peak(peak_to_peak: f64) -> f64 {
    peak_to_peak / (2.0 * SQRT_2)
}

/// Level in dBµV of an rms voltage above zero: 20·log₁₀(V / 1 µV).
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn dbuv_of_volts(rms: f64) -> Result<f64, Fault> {
    Ok(20.0 * (above("The voltage", rms, 0.0)? * 1e6).log10())
}

/// Rms voltage of a level in dBµV: 1 µV · 10^(dBµV/20).
///
/// Source (from memory): ITU-R V.574, use of the decibel.
pub fn volts_of_dbuv(dbuv: f64) -> Result<f64, Fault> {
    Ok(voltage_ratio_of_decibels(dbuv)? * 1e-6)
}

/// What dBµV exceeds dBm by in an impedance in ohms: 90 + 10·log₁₀(Z / 1 Ω).
///
/// Source: from V²/R with 1 µV and 1 mW.
pub fn dbuv_above_dbm(ohms: f64) -> Result<f64, Fault> {
    Ok(90.0 + 10.0 * positive("The impedance", ohms)?.log10())
}

/// Electromotive force of a matched generator from the potential difference it delivers: 2·V.
///
/// Source: voltage divider of two equal impedances.
pub fn emf_of_pd(volts: f64) -> f64 {
    2.0 * volts
}

/// Potential difference that a matched generator delivers from its electromotive force: V/2.
///
/// Source: voltage divider of two equal impedances.
pub fn pd_of_emf(volts: f64) -> f64 {
    volts / 2.0
}

/// Level in dBm after a chain of gains (positive) and losses (negative) in dB: the plain sum.
///
/// Source: product of power ratios.
pub fn level_after(dbm: f64, gains: &[f64]) -> f64 {
    gains.iter().fold(dbm, |level, gain| level + gain)
}

/// Level in dBm before attenuators or coupled ports whose attenuations in dB are all positive.
///
/// True level = reading + Σ attenuation. Source: product of power ratios.
pub fn level_before(reading_dbm: f64, attenuations: &[f64]) -> Result<f64, Fault> {
    attenuations.iter().try_fold(reading_dbm, |level, &loss| {
        Ok(level + not_negative("The attenuation", loss)?)
    })
}

/// The speed of light in m/s, exact.
///
/// Source: BIPM SI Brochure, 9th edition.
const LIGHT: f64 = 299_792_458.0;

/// Free-space loss in dB between isotropic aerials so many metres apart at a frequency in Hz:
/// 20·log₁₀(4π·d·f/c).
///
/// Source (from memory): ITU-R P.525, 32.4 + 20·log₁₀ f/MHz + 20·log₁₀ d/km.
pub fn free_space_loss(metres: f64, frequency: f64) -> Result<f64, Fault> {
    let metres = positive("The distance", metres)?;
    let frequency = positive("The frequency", frequency)?;
    decibels_of_voltage_ratio(4.0 * PI * metres * frequency / LIGHT)
}
