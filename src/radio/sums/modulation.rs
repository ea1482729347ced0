//! AM, SSB and FM.

use super::levels::IMPEDANCE;
use super::scales::*;
use crate::quantity::sum::{Group, Input, Outcome, Output, Picture, Sum};
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
                Output::amount("PEP", peak_envelope_power(carrier, depth)?, Unit::Watt),
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
            Input::measured("wanted", "Wanted sideband", DBM),
            Input::measured("carrier", "Residual carrier", DBM),
            Input::measured("opposite", "Opposite sideband", DBM).optional(),
        ],
        formula: "dBc = unwanted level − wanted level",
        source: "ITU-R V.574 (from memory)",
        compute: |given| {
            let wanted = given.value("wanted")?;
            let carrier = relative_level(wanted, given.value("carrier")?)?;
            let opposite = given
                .maybe("opposite")
                .map(|level| relative_level(wanted, level))
                .transpose()?;
            let mut lines = vec![("wanted sideband", 0.0), ("carrier", carrier)];
            let mut outputs = vec![Output::amount("Carrier", carrier, Unit::DecibelCarrier)];
            if let Some(opposite) = opposite {
                let unit = Unit::DecibelCarrier;
                lines.push(("opposite sideband", opposite));
                outputs.push(Output::amount("Opposite sideband", opposite, unit));
            }
            Ok(Outcome::new(outputs).with(Picture::Spectrum(lines)))
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
        title: "Tone for a carrier null",
        inputs: &[
            Input::measured("deviation", "Deviation to set", KILOHERTZ),
            NULL,
        ],
        formula: "tone = Δf / zero of J₀: 2.4048, 5.5201, 8.6537, 11.7915",
        source: "table of Bessel nulls of a broadcast equipment maker",
        compute: |given| {
            let nth = given.choice("null")? + 1;
            let tone = tone_of_carrier_null(given.value("deviation")?, nth)?;
            let label = "Tone that makes the carrier vanish";
            Ok(Outcome::new([Output::amount(label, tone, Unit::Hertz)]))
        },
    },
    Sum {
        id: "fm-deviation",
        group: Group::Modulation,
        title: "Deviation at a carrier null",
        inputs: &[
            Input::measured("tone", "Tone at which the carrier vanishes", KILOHERTZ),
            NULL,
        ],
        formula: "Δf = tone · zero of J₀: 2.4048, 5.5201, 8.6537, 11.7915",
        source: "table of Bessel nulls of a broadcast equipment maker",
        compute: |given| {
            let nth = given.choice("null")? + 1;
            let deviation = deviation_of_carrier_null(given.value("tone")?, nth)?;
            Ok(Outcome::new([Output::amount(
                "Peak deviation",
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

const NULL: Input = Input::choice("null", "Null", &["first", "second", "third", "fourth"]);

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
        Output::amount("PEP", pep, Unit::Watt),
        Output::amount("Mean power of two equal tones", mean, Unit::Watt),
        Output::amount("One of two equal tones", tone, Unit::Watt),
    ])
    .with(Picture::Spectrum(vec![
        ("tone 1", below_pep),
        ("tone 2", below_pep),
        ("PEP", 0.0),
    ])))
}
