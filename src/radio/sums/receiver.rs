//! Receiver.

use super::levels::{IMPEDANCE, watts_of};
use super::scales::*;
use crate::quantity::Unit;
use crate::quantity::sum::{Group, Input, Outcome, Output, Sum};
use crate::radio::levels::*;
use crate::radio::receiver::*;

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "sinad-voltages",
        group: Group::Receiver,
        title: "SINAD from two audio voltages",
        inputs: &[
            Input::measured("everything", "Audio with tone", AUDIO),
            Input::measured("residue", "Audio with the tone notched out", AUDIO),
        ],
        formula: "SINAD = 20·log₁₀((S + N + D)/(N + D))",
        source: "Federal Standard 1037C, SINAD",
        compute: |given| {
            let sinad = sinad_of_voltages(given.value("everything")?, given.value("residue")?)?;
            Ok(Outcome::new([
                Output::amount("SINAD", sinad, Unit::Decibel),
                Output::percent("Distortion reading", distortion_of_sinad(sinad)?),
            ]))
        },
    },
    Sum {
        id: "sinad-distortion",
        group: Group::Receiver,
        title: "SINAD from a distortion meter",
        inputs: &[Input::measured("distortion", "Distortion reading", PERCENT)],
        formula: "SINAD = −20·log₁₀(d), d = (N + D)/(S + N + D)",
        source: "application note of an audio analyser maker: SINAD is the reciprocal of THD+N",
        compute: |given| {
            let sinad = sinad_of_distortion(given.share("distortion")?)?;
            let mut outputs = vec![Output::amount("SINAD", sinad, Unit::Decibel)];
            if sinad > 0.0 {
                let residue = residue_of_sinad(sinad)?;
                outputs.push(Output::percent("Residue against the tone alone", residue));
            }
            Ok(Outcome::new(outputs))
        },
    },
    Sum {
        id: "signal-plus-noise",
        group: Group::Receiver,
        title: "(S+N)/N",
        inputs: &[
            Input::measured("on", "Audio with modulation", AUDIO),
            Input::measured("off", "Audio without modulation", AUDIO),
        ],
        formula: "(S + N)/N = 20·log₁₀(V on / V off)",
        source: "IEC 60489-3 (from memory)",
        compute: |given| {
            let ratio = signal_plus_noise(given.value("on")?, given.value("off")?)?;
            let mut outputs = vec![Output::amount("(S+N)/N", ratio, Unit::Decibel)];
            if ratio > 0.0 {
                outputs.push(Output::amount(
                    "S/N",
                    signal_to_noise(ratio)?,
                    Unit::Decibel,
                ));
            }
            Ok(Outcome::new(outputs))
        },
    },
    Sum {
        id: "sensitivity",
        group: Group::Receiver,
        title: "Sensitivity as PD, EMF and dBm",
        inputs: &[
            Input::measured("level", "Level at the antenna socket", LEVEL),
            IMPEDANCE,
        ],
        formula: "PD = √(P·Z); EMF = 2·PD; dBm = 10·log₁₀(P / 1 mW)",
        source: "voltage divider of two equal impedances, closed form",
        compute: |given| {
            let ohms = given.value("impedance")?;
            let watts = watts_of(given.quantity("level")?, ohms)?;
            let volts = volts_of_watts(watts, ohms)?;
            Ok(Outcome::new([
                Output::amount("PD", volts, Unit::VoltRms),
                Output::amount("EMF", emf_of_pd(volts), Unit::VoltEmf),
                Output::amount("Level", dbm_of_watts(watts)?, Unit::DecibelMilliwatt),
                Output::amount("Level (PD)", dbuv_of_volts(volts)?, Unit::DecibelMicrovolt),
            ]))
        },
    },
    Sum {
        id: "noise-figure",
        group: Group::Receiver,
        title: "Noise figure from the sensitivity",
        inputs: &[
            Input::measured("level", "Level at the antenna socket", LEVEL),
            Input::measured("ratio", "S/N at that level", DECIBELS),
            Input::measured("bandwidth", "Noise bandwidth of the IF", KILOHERTZ),
            IMPEDANCE,
            Input::measured("depth", "AM depth; nothing for SSB and CW", PERCENT).optional(),
        ],
        formula: "NF = level − 10·log₁₀(k·290 K·B / 1 mW) − S/N, with AM + 20·log₁₀ m: \
                  the level is the carrier's, and only its sidebands are heard",
        source: "definition of noise figure; NCVEC question pool E4C05 for −174 dBm in 1 Hz; \
                 envelope detection well above the noise, closed form: S/N = m²·C/N",
        compute: |given| {
            let watts = watts_of(given.quantity("level")?, given.value("impedance")?)?;
            let bandwidth = given.value("bandwidth")?;
            let heard = match given.share("depth") {
                Ok(depth) => heard_of_carrier(depth)?,
                Err(_) => 0.0,
            };
            let level = dbm_of_watts(watts)? + heard;
            let figure = noise_figure(level, bandwidth, given.value("ratio")?)?;
            Ok(Outcome::new([
                Output::amount("Noise figure", figure, Unit::Decibel),
                Output::amount(
                    "Thermal noise",
                    thermal_noise(bandwidth)?,
                    Unit::DecibelMilliwatt,
                ),
            ]))
        },
    },
    Sum {
        id: "image",
        group: Group::Receiver,
        title: "Image and half-IF",
        inputs: &[
            Input::measured("wanted", "Wanted frequency", MEGAHERTZ),
            Input::measured("oscillator", "First injection", MEGAHERTZ),
        ],
        formula: "IF = |f − LO|; image = |2·LO − f|; half-IF = (f + LO)/2",
        source: "superheterodyne principle, closed form",
        compute: |given| {
            let (wanted, oscillator) = (given.value("wanted")?, given.value("oscillator")?);
            Ok(Outcome::new([
                Output::amount("Image", image(wanted, oscillator)?, Unit::Hertz),
                Output::amount(
                    "Half-IF response",
                    half_if(wanted, oscillator)?,
                    Unit::Hertz,
                ),
                Output::amount("Intermediate", (wanted - oscillator).abs(), Unit::Hertz),
            ]))
        },
    },
    Sum {
        id: "s-meter-level",
        group: Group::Receiver,
        title: "Level of an S-meter reading",
        inputs: &[
            Input::plain("units", "S units", "9"),
            Input::nominal("over", "Over S9", DECIBELS, "0"),
            BAND,
        ],
        formula: "S9 = −73 dBm below 30 MHz, −93 dBm above; 6 dB per unit",
        source: "IARU Region 1 Technical Recommendation R.1",
        compute: |given| {
            let band = band(given.choice("band")?);
            let level = level_of_s_units(given.value("units")?, given.value("over")?, band)?;
            let volts = volts_of_watts(watts_of_dbm(level)?, 50.0)?;
            Ok(Outcome::new([
                Output::amount("Level", level, Unit::DecibelMilliwatt),
                Output::amount("PD in 50 Ω", volts, Unit::VoltRms),
            ]))
        },
    },
    Sum {
        id: "s-meter-reading",
        group: Group::Receiver,
        title: "S-meter reading of a level",
        inputs: &[
            Input::measured("level", "Level at the antenna socket", LEVEL),
            BAND,
            IMPEDANCE,
        ],
        formula: "S = 9 + (level − S9)/6 dB, then dB over S9",
        source: "IARU Region 1 Technical Recommendation R.1",
        compute: |given| {
            let watts = watts_of(given.quantity("level")?, given.value("impedance")?)?;
            let reading = s_units_of_level(dbm_of_watts(watts)?, band(given.choice("band")?))?;
            Ok(Outcome::new([
                Output::plain("S units", reading.units),
                Output::amount("Over S9", reading.over, Unit::Decibel),
            ]))
        },
    },
];

const BAND: Input = Input::choice("band", "Band", &["below 30 MHz", "above 30 MHz"]);

fn band(choice: usize) -> Band {
    match choice {
        0 => Band::Below30Megahertz,
        _ => Band::Above30Megahertz,
    }
}
