//! Receiver: SINAD, sensitivity, noise figure, unwanted responses and the S-meter.

use super::levels::{dbm_of_watts, decibels_of_voltage_ratio};
use crate::quantity::Fault;
use crate::quantity::fault::{finite, not_negative, ordered, positive};
use std::f64::consts::LN_10;

/// Boltzmann's constant in J/K, exact.
///
/// Source: BIPM SI Brochure, 9th edition.
pub const BOLTZMANN: f64 = 1.380649e-23;

/// The temperature in K to which noise figures refer.
///
/// Source (from memory): IEEE definition of noise factor, 290 K.
pub const REFERENCE_TEMPERATURE: f64 = 290.0;

/// SINAD in dB of two audio voltages, one with everything and one with the tone notched out:
/// 20·log₁₀((S+N+D)/(N+D)).
///
/// Source: Federal Standard 1037C, SINAD.
pub fn sinad_of_voltages(everything: f64, residue: f64) -> Result<f64, Fault> {
    let residue = positive("The residue with the tone notched out", residue)?;
    let everything = positive("The whole audio voltage", everything)?;
    ordered(
        ("The residue with the tone notched out", residue),
        ("the whole audio voltage", everything),
    )?;
    decibels_of_voltage_ratio(everything / residue)
}

/// SINAD in dB of a distortion meter's reading as a share, (N+D)/(S+N+D), above 0 and at most 1:
/// −20·log₁₀(d).
///
/// Source: application note of an audio analyser maker, SINAD is the reciprocal of THD+N.
pub fn sinad_of_distortion(distortion: f64) -> Result<f64, Fault> {
    ordered(
        ("The distortion", distortion),
        ("the whole audio voltage", 1.0),
    )?;
    Ok(-20.0 * positive("The distortion", distortion)?.log10())
}

/// Distortion meter's reading, as a share (N+D)/(S+N+D), of a SINAD in dB of zero or more:
/// 10^(−SINAD/20).
///
/// Source: application note of an audio analyser maker, SINAD is the reciprocal of THD+N.
pub fn distortion_of_sinad(sinad: f64) -> Result<f64, Fault> {
    Ok(10f64.powf(-not_negative("The SINAD", sinad)? / 20.0))
}

/// Noise and distortion against the wanted tone alone, (N+D)/S, of a SINAD in dB above zero:
/// 1/√(10^(SINAD/10)−1).
///
/// Source: closed form from powers that add, S+N+D = S + (N+D).
pub fn residue_of_sinad(sinad: f64) -> Result<f64, Fault> {
    let exponent = positive("The SINAD", sinad)? * LN_10 / 10.0;
    Ok(1.0 / exponent.exp_m1().sqrt())
}

/// (S+N)/N in dB of two audio voltages, one with the modulation on and one with it off:
/// 20·log₁₀((S+N)/N).
///
/// Source (from memory): IEC 60489-3, signal plus noise to noise ratio.
pub fn signal_plus_noise(modulated: f64, unmodulated: f64) -> Result<f64, Fault> {
    let noise = positive("The voltage with the modulation off", unmodulated)?;
    let both = positive("The voltage with the modulation on", modulated)?;
    ordered(
        ("The voltage with the modulation off", noise),
        ("the voltage with the modulation on", both),
    )?;
    decibels_of_voltage_ratio(both / noise)
}

/// S/N in dB of an (S+N)/N in dB above zero: 10·log₁₀(10^(x/10)−1).
///
/// Source: closed form from powers that add.
pub fn signal_to_noise(signal_plus_noise: f64) -> Result<f64, Fault> {
    let exponent = positive("The (S+N)/N", signal_plus_noise)? * LN_10 / 10.0;
    Ok(10.0 * exponent.exp_m1().log10())
}

/// Thermal noise in dBm at 290 K in a bandwidth in Hz: 10·log₁₀(k·T·B / 1 mW).
///
/// Source: NCVEC question pool E4C05, −174 dBm in 1 Hz.
pub fn thermal_noise(bandwidth: f64) -> Result<f64, Fault> {
    let bandwidth = positive("The bandwidth", bandwidth)?;
    dbm_of_watts(BOLTZMANN * REFERENCE_TEMPERATURE * bandwidth)
}

/// What a carrier's level in dB is worth in the audio of an envelope detector at a modulation
/// depth above 0 and up to 1, against noise of the whole IF bandwidth: 20·log₁₀ m.
///
/// Well above the noise the audio has the power m²·C, the noise in phase with the carrier that of
/// the whole bandwidth. Source: closed form.
pub fn heard_of_carrier(depth: f64) -> Result<f64, Fault> {
    ordered(
        (
            "The modulation depth",
            positive("The modulation depth", depth)?,
        ),
        ("full modulation", 1.0),
    )?;
    decibels_of_voltage_ratio(depth)
}

/// Noise figure in dB of the input level in dBm that gives a signal-to-noise ratio in dB in a
/// noise bandwidth in Hz: level − 10·log₁₀(k·290 K·B / 1 mW) − S/N.
///
/// Source: definition of noise figure, closed form.
pub fn noise_figure(level: f64, bandwidth: f64, signal_to_noise: f64) -> Result<f64, Fault> {
    let level = finite("The input level", level)?;
    let ratio = finite("The signal-to-noise ratio", signal_to_noise)?;
    not_negative(
        "The noise figure from these readings",
        level - thermal_noise(bandwidth)? - ratio,
    )
}

/// Image frequency, in Hz, of a wanted frequency and a local oscillator in Hz: 2·LO − f.
///
/// Source: superheterodyne principle, both |f−LO| alike.
pub fn image(wanted: f64, oscillator: f64) -> Result<f64, Fault> {
    let wanted = positive("The wanted frequency", wanted)?;
    let oscillator = positive("The local oscillator", oscillator)?;
    Ok((2.0 * oscillator - wanted).abs())
}

/// Half-IF response, in Hz, of a wanted frequency and a local oscillator in Hz: (f + LO)/2.
///
/// Its second harmonic mixes with the oscillator's to the intermediate frequency.
/// Source: superheterodyne principle, |2·f − 2·LO| = IF.
pub fn half_if(wanted: f64, oscillator: f64) -> Result<f64, Fault> {
    let wanted = positive("The wanted frequency", wanted)?;
    let oscillator = positive("The local oscillator", oscillator)?;
    Ok((wanted + oscillator) / 2.0)
}

/// Where a station listens, for the S-meter's reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Band {
    /// Below 30 MHz: S9 is −73 dBm.
    Below30Megahertz,
    /// Above 30 MHz: S9 is −93 dBm.
    Above30Megahertz,
}

impl Band {
    /// The level of S9 in dBm.
    pub const fn s9(self) -> f64 {
        match self {
            Band::Below30Megahertz => -73.0,
            Band::Above30Megahertz => -93.0,
        }
    }
}

/// Level in dBm of an S-meter reading: S units from 0 to 9, and decibels over S9.
///
/// S9 + 6 dB·(s−9) + over. Source: IARU Region 1 Technical Recommendation R.1.
pub fn level_of_s_units(units: f64, over: f64, band: Band) -> Result<f64, Fault> {
    let units = not_negative("The S-meter reading", units)?;
    ordered(("The S-meter reading", units), ("S9", 9.0))?;
    let over = not_negative("The reading over S9", over)?;
    Ok(band.s9() + 6.0 * (units - 9.0) + over)
}

/// An S-meter reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SReading {
    /// S units, from 0 to 9.
    pub units: f64,
    /// Decibels over S9.
    pub over: f64,
}

/// S-meter reading of a level in dBm, in parts of a unit down to S0.
///
/// Source: IARU Region 1 Technical Recommendation R.1.
pub fn s_units_of_level(level: f64, band: Band) -> Result<SReading, Fault> {
    let over = finite("The level", level)? - band.s9();
    let units = (9.0 + over / 6.0).clamp(0.0, 9.0);
    Ok(SReading {
        units,
        over: over.max(0.0),
    })
}
