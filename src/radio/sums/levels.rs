//! Levels in a stated impedance.

use super::scales::*;
use crate::quantity::fault::positive;
use crate::quantity::sum::{Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Fault, Quantity, Scale, Unit};
use crate::radio::levels::*;

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "level",
        group: Group::Levels,
        title: "Level: power, volts and decibels",
        inputs: &[Input::measured("level", "Level", LEVEL), IMPEDANCE],
        formula: "P = V²/Z; dBm = 10·log₁₀(P / 1 mW); dBµV = 20·log₁₀(V / 1 µV); EMF = 2·V",
        source: "Joule's law; IEC 60027-3 for the decibels (from memory)",
        compute: |given| {
            let ohms = given.value("impedance")?;
            outputs_of(watts_of(given.quantity("level")?, ohms)?, ohms)
        },
    },
    Sum {
        id: "level-chain",
        group: Group::Levels,
        title: "Level after pads and gains",
        inputs: &[
            Input::measured("level", "Level at the start", LEVEL),
            Input::list(
                "gains",
                "Gains, and losses with a minus",
                Scale::plain(Unit::Decibel),
            ),
            IMPEDANCE,
        ],
        formula: "level out = level in + sum of the gains in dB, losses being negative",
        source: "NCVEC question pool E4D13 and E9A02",
        compute: |given| {
            let ohms = given.value("impedance")?;
            let start = dbm_of_watts(watts_of(given.quantity("level")?, ohms)?)?;
            chain(start, &given.values("gains"), ohms)
        },
    },
    Sum {
        id: "level-behind",
        group: Group::Levels,
        title: "True level behind an attenuator or coupler",
        inputs: &[
            Input::measured("reading", "Reading of the instrument", LEVEL),
            Input::list(
                "attenuations",
                "Attenuations, such as 20 for a −20 dB coupler",
                Scale::plain(Unit::Decibel),
            ),
            IMPEDANCE,
        ],
        formula: "true level = reading + sum of the attenuations in dB",
        source: "product of power ratios, closed form",
        compute: |given| {
            let ohms = given.value("impedance")?;
            let reading = dbm_of_watts(watts_of(given.quantity("reading")?, ohms)?)?;
            let attenuations = given.values("attenuations");
            let level = level_before(reading, &attenuations)?;
            let outcome = outputs_of(watts_of_dbm(level)?, ohms)?;
            let losses = attenuations.iter().map(|loss| -loss).collect::<Vec<_>>();
            Ok(outcome.with(Picture::LevelChain(steps(level, &losses))))
        },
    },
    Sum {
        id: "power-ratio",
        group: Group::Levels,
        title: "Two powers in decibels",
        inputs: &[
            Input::measured("reference", "Reference power", WATTS),
            Input::measured("power", "Power", WATTS),
        ],
        formula: "10·log₁₀(P / reference)",
        source: "NCVEC question pool G5B01 and T5B11",
        compute: |given| {
            let reference = positive("The reference power", given.value("reference")?)?;
            let ratio = given.value("power")? / reference;
            Ok(Outcome::new([
                Output::amount("Difference", decibels_of_power_ratio(ratio)?, Unit::Decibel),
                Output::plain("Ratio", ratio),
            ]))
        },
    },
    Sum {
        id: "bandwidth-ratio",
        group: Group::Levels,
        title: "Two bandwidths in decibels",
        inputs: &[
            Input::measured("reference", "Reference bandwidth", BANDWIDTH),
            Input::measured("bandwidth", "Bandwidth", BANDWIDTH),
            Input::measured("level", "Noise level in the reference bandwidth", DBM).optional(),
        ],
        formula: "10·log₁₀(B / reference); even noise grows by as much",
        source: "NCVEC question pool E4C06",
        compute: |given| {
            let reference = positive("The reference bandwidth", given.value("reference")?)?;
            let ratio = positive("The bandwidth", given.value("bandwidth")?)? / reference;
            let decibels = decibels_of_power_ratio(ratio)?;
            let mut outputs = vec![
                Output::amount("Difference", decibels, Unit::Decibel),
                Output::plain("Ratio", ratio),
            ];
            if let Some(level) = given.maybe("level") {
                outputs.push(Output::amount(
                    "Noise level in the bandwidth",
                    level + decibels,
                    Unit::DecibelMilliwatt,
                ));
            }
            Ok(Outcome::new(outputs))
        },
    },
    Sum {
        id: "link-margin",
        group: Group::Levels,
        title: "Link margin",
        inputs: &[
            Input::measured("power", "Transmitter power", LEVEL),
            Input::measured("sensitivity", "Receiver sensitivity", LEVEL),
            Input::measured("frequency", "Frequency", MEGAHERTZ),
            Input::plain("distance", "Distance in km", ""),
            Input::nominal("transmit-gain", "Transmit aerial gain, dBi", DECIBELS, "0"),
            Input::nominal("receive-gain", "Receive aerial gain, dBi", DECIBELS, "0"),
            Input::nominal("loss", "Cable and other losses", DECIBELS, "0"),
            IMPEDANCE,
        ],
        formula: "margin = P + Gt + Gr − losses − L − sensitivity; \
                  L = 20·log₁₀(4π·d·f/c), free space",
        source: "ITU-R P.525, free-space attenuation (from memory)",
        compute: |given| {
            let ohms = given.value("impedance")?;
            let dbm = |id| dbm_of_watts(watts_of(given.quantity(id)?, ohms)?);
            let gains = given.value("transmit-gain")? + given.value("receive-gain")?;
            let metres = 1e3 * given.value("distance")?;
            let path = free_space_loss(metres, given.value("frequency")?)?;
            let received = dbm("power")? + gains - given.value("loss")? - path;
            Ok(Outcome::new([
                Output::amount("Link margin", received - dbm("sensitivity")?, Unit::Decibel),
                Output::amount("Received level", received, Unit::DecibelMilliwatt),
                Output::amount("Free-space loss", path, Unit::Decibel),
            ]))
        },
    },
];

pub(super) const IMPEDANCE: Input = Input::nominal("impedance", "Impedance", OHMS, "50");

/// The power in watts of a level in any unit that has one.
pub(super) fn watts_of(level: &Quantity, ohms: f64) -> Result<f64, Fault> {
    if let Some(watts) = watts_of_power(level) {
        return watts;
    }
    let size = level.base_f64();
    let volts = match level.unit() {
        Unit::DecibelMicrovolt => volts_of_dbuv(size)?,
        Unit::VoltPeak => rms_of_peak(size),
        Unit::VoltPeakToPeak => rms_of_peak_to_peak(size),
        Unit::VoltEmf => pd_of_emf(size),
        _ => size,
    };
    watts_of_volts(volts, ohms)
}

/// A power in every unit.
fn outputs_of(watts: f64, ohms: f64) -> Result<Outcome, Fault> {
    let dbm = dbm_of_watts(watts)?;
    let rms = volts_of_watts(watts, ohms)?;
    Ok(Outcome::new([
        Output::amount("Level", dbm, Unit::DecibelMilliwatt),
        Output::amount("Power", watts, Unit::Watt),
        Output::amount("Level", dbw_of_dbm(dbm), Unit::DecibelWatt),
        Output::amount("Voltage (PD)", rms, Unit::VoltRms),
        Output::amount("Peak voltage", peak_of_rms(rms), Unit::VoltPeak),
        Output::amount(
            "Peak-to-peak voltage",
            peak_to_peak_of_rms(rms),
            Unit::VoltPeakToPeak,
        ),
        Output::amount("Level (PD)", dbuv_of_volts(rms)?, Unit::DecibelMicrovolt),
        Output::amount("EMF", emf_of_pd(rms), Unit::VoltEmf),
    ]))
}

fn chain(start: f64, gains: &[f64], ohms: f64) -> Result<Outcome, Fault> {
    let outcome = outputs_of(watts_of_dbm(level_after(start, gains))?, ohms)?;
    Ok(outcome.with(Picture::LevelChain(steps(start, gains))))
}

/// The level at the start and after each gain.
fn steps(start: f64, gains: &[f64]) -> Vec<f64> {
    (0..=gains.len())
        .map(|count| level_after(start, &gains[..count]))
        .collect()
}
