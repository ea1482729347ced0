//! AM, SSB and FM.

use super::levels::IMPEDANCE;
use super::scales::*;
use crate::quantity::sum::{Given, Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Fault, Unit};
use crate::radio::levels::{dbm_of_watts, decibels_of_power_ratio, voltage_ratio_of_decibels};
use crate::radio::limits::attenuation_required;
use crate::radio::modulation::*;

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "am-envelope",
        group: Group::Modulation,
        title: "AM depth from the envelope",
        inputs: &[
            Input::measured("maximum", "Envelope maximum", PEAK_TO_PEAK),
            Input::measured("minimum", "Envelope minimum", PEAK_TO_PEAK),
        ],
        formula: "m = (Vmax − Vmin)/(Vmax + Vmin)",
        source: "measurement guide of a spectrum analyser maker, amplitude modulation",
        compute: |given| {
            depth(depth_of_envelope(
                given.value("maximum")?,
                given.value("minimum")?,
            )?)
        },
    },
    Sum {
        id: "am-trapezoid",
        group: Group::Modulation,
        title: "AM depth from the trapezoid",
        inputs: &[
            Input::measured("longer", "Longer parallel side", PEAK_TO_PEAK),
            Input::measured("shorter", "Shorter parallel side", PEAK_TO_PEAK),
        ],
        formula: "m = (A − B)/(A + B)",
        source: "common practice, no source",
        compute: |given| {
            depth(depth_of_trapezoid(
                given.value("longer")?,
                given.value("shorter")?,
            )?)
        },
    },
    Sum {
        id: "am-sidebands",
        group: Group::Modulation,
        title: "AM depth from the spectrum",
        inputs: &[
            Input::measured("carrier", "Carrier", DBM),
            Input::measured("sideband", "One sideband", DBM),
        ],
        formula: "m = 2·10^((sideband − carrier)/20)",
        source: "measurement guide of a spectrum analyser maker: −6 dB at full depth",
        compute: |given| {
            let below = relative_level(given.value("carrier")?, given.value("sideband")?)?;
            depth(depth_of_sideband(1.0, voltage_ratio_of_decibels(below)?)?)
        },
    },
    Sum {
        id: "am-powers",
        group: Group::Modulation,
        title: "AM powers",
        inputs: &[
            Input::measured("carrier", "Carrier power", WATTS),
            Input::measured("depth", "Modulation depth", PERCENT),
        ],
        formula: "PEP = Pc·(1 + m)²; mean = Pc·(1 + m²/2); one sideband = Pc·m²/4",
        source: "sinusoidal amplitude modulation, closed form",
        compute: |given| {
            let (carrier, depth) = (given.value("carrier")?, given.share("depth")?);
            let outcome = Outcome::new([
                Output::amount("PEP", peak_envelope_power(carrier, depth)?, Unit::WattPep),
                Output::amount("Mean power", mean_power(carrier, depth)?, Unit::Watt),
                Output::amount("One sideband", sideband_power(carrier, depth)?, Unit::Watt),
            ]);
            Ok(outcome.with(Picture::Envelope { depth }))
        },
    },
    Sum {
        id: "am-carrier",
        group: Group::Modulation,
        title: "Carrier from the mean power",
        inputs: &[
            Input::measured("mean", "Mean power", WATTS),
            Input::measured("depth", "Modulation depth", PERCENT),
        ],
        formula: "Pc = P/(1 + m²/2)",
        source: "sinusoidal amplitude modulation, closed form",
        compute: |given| {
            let depth = given.share("depth")?;
            let carrier = carrier_of_mean_power(given.value("mean")?, depth)?;
            Ok(
                Outcome::new([Output::amount("Carrier power", carrier, Unit::Watt)])
                    .with(Picture::Envelope { depth }),
            )
        },
    },
    Sum {
        id: "am-depth-powers",
        group: Group::Modulation,
        title: "AM depth from powers",
        inputs: &[
            Input::measured("carrier", "Carrier power, unmodulated", WATTS),
            Input::measured("power", "Power with modulation", WATTS),
            Input::choice("meter", "It is", &["mean power", "PEP"]),
        ],
        formula: "m = √(2·(mean/Pc − 1)); m = √(PEP/Pc) − 1",
        source: "sinusoidal amplitude modulation, closed form",
        compute: |given| {
            let (carrier, power) = (given.value("carrier")?, given.value("power")?);
            depth(match given.choice("meter")? {
                0 => depth_of_mean_power(carrier, power)?,
                _ => depth_of_peak_power(carrier, power)?,
            })
        },
    },
    Sum {
        id: "am-envelope-of",
        group: Group::Modulation,
        title: "Envelope from carrier and depth",
        inputs: &[
            Input::measured("carrier", "Carrier, unmodulated", PEAK_TO_PEAK),
            Input::measured("depth", "Modulation depth", PERCENT),
        ],
        formula: "Vmax = V·(1 + m); Vmin = V·(1 − m)",
        source: "sinusoidal amplitude modulation, closed form",
        compute: |given| {
            let depth = given.share("depth")?;
            let (maximum, minimum) = envelope(given.value("carrier")?, depth)?;
            let volts = Unit::VoltPeakToPeak;
            Ok(Outcome::new([
                Output::amount("Envelope maximum", maximum, volts),
                Output::amount("Envelope minimum", minimum, volts),
            ])
            .with(Picture::Envelope { depth }))
        },
    },
    Sum {
        id: "pep",
        group: Group::Modulation,
        title: "PEP from the crest, and two-tone power",
        inputs: &[
            Input::measured(
                "crest",
                "Voltage at the crest of the envelope",
                PEAK_TO_PEAK,
            ),
            IMPEDANCE,
        ],
        formula: "PEP = Vpp²/(8·R); with two equal tones mean = PEP/2, one tone = PEP/4",
        source: "textbook on solid-state radio engineering: peak n²·P, average n·P; \
                 NCVEC question pool G5B06",
        compute: |given| {
            let pep = pep_of_crest(given.value("crest")?, given.value("impedance")?)?;
            two_tones(pep)
        },
    },
    Sum {
        id: "two-tone",
        group: Group::Modulation,
        title: "Two-tone PEP from the mean power",
        inputs: &[Input::measured(
            "mean",
            "Mean power with two equal tones",
            WATTS,
        )],
        formula: "PEP = 2·mean",
        source: "textbook on solid-state radio engineering: peak n²·P, average n·P",
        compute: |given| two_tones(pep_of_two_tones(given.value("mean")?)?),
    },
    Sum {
        id: "suppression",
        group: Group::Modulation,
        title: "Carrier and opposite-sideband suppression",
        inputs: &[
            Input::measured("wanted", "Wanted sideband: the tone, or one of two", DBM),
            Input::measured("carrier", "Residual carrier", DBM),
            Input::measured("opposite", "Opposite sideband", DBM).optional(),
            DRIVE,
        ],
        formula: "dBc = unwanted level − level of one tone; PEP of two equal tones is 6.02 dB \
                  above one of them",
        source: "ITU-R V.574 (from memory); textbook on solid-state radio engineering: peak n²·P",
        compute: |given| {
            let unwanted = [
                ("Carrier to one tone", "Carrier to PEP", "carrier"),
                (
                    "Opposite sideband to one tone",
                    "Opposite sideband to PEP",
                    "opposite sideband",
                ),
            ];
            let levels = [given.maybe("carrier"), given.maybe("opposite")];
            let tones = given.choice("drive")? as u32 + 1;
            below_tones(given, tones, unwanted.into_iter().zip(levels))
        },
    },
    Sum {
        id: "two-tone-products",
        group: Group::Modulation,
        title: "Two-tone intermodulation products",
        inputs: &[
            Input::measured("wanted", "One of two equal tones", DBM),
            Input::measured("third", "Largest third-order product", DBM),
            Input::measured("fifth", "Largest fifth-order product", DBM).optional(),
        ],
        formula: "dBc = product − one tone; to PEP 6.02 dB less",
        source: "textbook on solid-state radio engineering: peak n²·P of n equal tones",
        compute: |given| {
            let products = [
                (
                    "Third order to one tone",
                    "Third order to PEP",
                    "third order",
                ),
                (
                    "Fifth order to one tone",
                    "Fifth order to PEP",
                    "fifth order",
                ),
            ];
            let levels = [given.maybe("third"), given.maybe("fifth")];
            below_tones(given, 2, products.into_iter().zip(levels))
        },
    },
    Sum {
        id: "fm-index",
        group: Group::Modulation,
        title: "FM index and Carson bandwidth",
        inputs: &[
            Input::measured("deviation", "Peak deviation", KILOHERTZ),
            Input::measured("tone", "Highest tone", KILOHERTZ),
        ],
        formula: "index = Δf/f; bandwidth = 2·(Δf + f)",
        source: "NCVEC question pool E8B03; J. R. Carson, 1922 (from memory)",
        compute: |given| {
            let (deviation, tone) = (given.value("deviation")?, given.value("tone")?);
            Ok(Outcome::new([
                Output::plain("Modulation index", modulation_index(deviation, tone)?),
                Output::amount("Bandwidth", carson_bandwidth(deviation, tone)?, Unit::Hertz),
            ]))
        },
    },
    Sum {
        id: "fm-null",
        group: Group::Modulation,
        title: "Tone for a Bessel null",
        inputs: &[
            Input::measured("deviation", "Deviation to set", KILOHERTZ),
            LINE,
            NULL,
        ],
        formula: "tone = Δf / zero of J₀: 2.4048, 5.5201, 8.6537, 11.7915; \
                  of J₁: 3.8317, 7.0156, 10.1735, 13.3237",
        source: "table of Bessel nulls of a broadcast equipment maker; M. Abramowitz and \
                 I. A. Stegun, table 9.5, for J₁ (from memory)",
        compute: |given| {
            let (line, nth) = null(given)?;
            let tone = tone_of_null(line, given.value("deviation")?, nth)?;
            let label = "Tone that makes the line vanish";
            Ok(Outcome::new([Output::amount(label, tone, Unit::Hertz)]))
        },
    },
    Sum {
        id: "fm-deviation",
        group: Group::Modulation,
        title: "Deviation at a Bessel null",
        inputs: &[
            Input::measured("tone", "Tone at which the line vanishes", KILOHERTZ),
            LINE,
            NULL,
        ],
        formula: "Δf = tone · zero of J₀: 2.4048, 5.5201, 8.6537, 11.7915; \
                  of J₁: 3.8317, 7.0156, 10.1735, 13.3237",
        source: "table of Bessel nulls of a broadcast equipment maker; M. Abramowitz and \
                 I. A. Stegun, table 9.5, for J₁ (from memory)",
        compute: |given| {
            let (line, nth) = null(given)?;
            let deviation = deviation_of_null(line, given.value("tone")?, nth)?;
            let label = "Peak deviation";
            Ok(Outcome::new([Output::amount(
                label,
                deviation,
                Unit::Hertz,
            )]))
        },
    },
    Sum {
        id: "unwanted",
        group: Group::Modulation,
        title: "Attenuation asked of unwanted emissions",
        inputs: &[
            Input::measured("power", "Transmitter power", WATTS),
            Input::nominal("base", "Base of the rule", DECIBELS, "53"),
        ],
        formula: "attenuation = base + 10·log₁₀(P / 1 W)",
        source: "47 CFR 95.979(a)(3) with 53 dB (from memory); 47 CFR 95.779(a) with 43 dB",
        compute: |given| {
            let watts = given.value("power")?;
            let attenuation = attenuation_required(given.value("base")?, watts)?;
            let left = dbm_of_watts(watts)? - attenuation;
            Ok(Outcome::new([
                Output::amount("Attenuation", attenuation, Unit::Decibel),
                Output::amount("Level that is left", left, Unit::DecibelMilliwatt),
            ]))
        },
    },
];

const DRIVE: Input = Input::choice("drive", "Driven by", &["one tone", "two equal tones"]);
const LINE: Input = Input::choice("line", "Line", &["carrier", "first sidebands"]);
const NULL: Input = Input::choice("null", "Null", &["first", "second", "third", "fourth"]);

/// The line that vanishes, and for which time.
fn null(given: &Given) -> Result<(Line, usize), Fault> {
    let line = match given.choice("line")? {
        0 => Line::Carrier,
        _ => Line::FirstSidebands,
    };
    Ok((line, given.choice("null")? + 1))
}

fn depth(depth: f64) -> Result<Outcome, Fault> {
    Ok(
        Outcome::new([Output::percent("Modulation depth", depth)])
            .with(Picture::Envelope { depth }),
    )
}

fn two_tones(pep: f64) -> Result<Outcome, Fault> {
    let mean = mean_of_two_tones(pep)?;
    let tone = mean / 2.0;
    let below_pep = match pep {
        0.0 => 0.0,
        _ => decibels_of_power_ratio(tone / pep)?,
    };
    Ok(Outcome::new([
        Output::amount("PEP", pep, Unit::WattPep),
        Output::amount("Mean power of two equal tones", mean, Unit::Watt),
        Output::amount("One of two equal tones", tone, Unit::Watt),
    ])
    .with(Picture::Spectrum(vec![
        ("tone 1", below_pep),
        ("tone 2", below_pep),
        ("PEP", 0.0),
    ])))
}

/// Levels below one tone and, where two drive the set, below their PEP: figures in dBc that don't
/// say of which are 6 dB apart.
fn below_tones(
    given: &Given,
    tones: u32,
    levels: impl Iterator<Item = ((&'static str, &'static str, &'static str), Option<f64>)>,
) -> Result<Outcome, Fault> {
    let wanted = given.value("wanted")?;
    let below_pep = decibels_of_power_ratio(peak_of_tones(tones))?;
    let mut outputs = Vec::new();
    let mut lines = match tones {
        1 => vec![("wanted sideband", 0.0)],
        _ => vec![("tone 1", -below_pep), ("tone 2", -below_pep), ("PEP", 0.0)],
    };
    for ((to_tone, to_pep, name), level) in levels {
        let Some(level) = level else { continue };
        let below = relative_level(wanted, level)?;
        outputs.push(Output::amount(to_tone, below, Unit::DecibelCarrier));
        if tones > 1 {
            let below = below - below_pep;
            outputs.push(Output::amount(to_pep, below, Unit::Decibel));
        }
        lines.push((name, below - below_pep));
    }
    Ok(Outcome::new(outputs).with(Picture::Spectrum(lines)))
}
