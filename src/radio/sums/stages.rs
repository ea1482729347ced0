//! Stages.

use super::scales::*;
use crate::quantity::sum::{Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Prefix, Scale, Unit};
use crate::radio::levels::decibels_of_voltage_ratio;
use crate::radio::stages::*;

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "quiescent",
        group: Group::Stages,
        title: "Quiescent current from a drop",
        inputs: &[
            Input::measured("drop", "Drop across the resistor", VOLTS),
            Input::measured("resistance", "Resistor", OHMS),
        ],
        formula: "I = V/R",
        source: "Ohm's law",
        compute: |given| {
            let current = current_of_drop(given.value("drop")?, given.value("resistance")?)?;
            Ok(Outcome::new([Output::amount(
                "Current",
                current,
                Unit::Ampere,
            )]))
        },
    },
    Sum {
        id: "resistor-dissipation",
        group: Group::Stages,
        title: "Dissipation of a resistor",
        inputs: &[
            Input::measured("current", "Current, direct or RMS", AMPERES),
            Input::measured("resistance", "Resistor", OHMS),
        ],
        formula: "P = I²·R; V = I·R",
        source: "Joule's law",
        compute: |given| {
            let (current, ohms) = (given.value("current")?, given.value("resistance")?);
            Ok(Outcome::new([
                Output::amount(
                    "Dissipation",
                    resistor_dissipation(current, ohms)?,
                    Unit::Watt,
                ),
                Output::amount("Drop", current.abs() * ohms, Unit::VoltDc),
            ]))
        },
    },
    Sum {
        id: "ripple",
        group: Group::Stages,
        title: "Ripple of a supply",
        inputs: &[
            Input::measured("direct", "Direct voltage", VOLTS),
            Input::measured("ripple", "Ripple, peak to peak", RIPPLE),
        ],
        formula: "ripple in % = Vpp/V·100; of a sawtooth rms = Vpp/(2·√3); \
                  ripple factor = rms/V",
        source: "ripple factor, IEC 60050-161 (from memory); rms of a sawtooth, closed form",
        compute: |given| {
            let (direct, swing) = (given.value("direct")?, given.value("ripple")?);
            let share = ripple_share(direct, swing)?;
            let rms = rms_of_sawtooth(swing);
            let mut outputs = vec![
                Output::percent("Ripple, peak to peak", share),
                Output::amount("Ripple of a sawtooth", rms, Unit::VoltRms),
                Output::percent("Ripple factor of a sawtooth", rms_of_sawtooth(share)),
            ];
            if share > 0.0 {
                let below = decibels_of_voltage_ratio(rms_of_sawtooth(share))?;
                outputs.push(Output::amount("The same in decibels", below, Unit::Decibel));
            }
            Ok(Outcome::new(outputs))
        },
    },
    Sum {
        id: "reservoir-ripple",
        group: Group::Stages,
        title: "Ripple on a reservoir capacitor",
        inputs: &[
            Input::measured("current", "Load current", AMPERES),
            Input::measured("capacitance", "Reservoir capacitor", MICROFARADS),
            Input::nominal(
                "frequency",
                "Ripple frequency: twice the mains behind a bridge",
                HERTZ,
                "100",
            ),
        ],
        formula: "Vpp ≈ I/(f·C), at most",
        source: "charge I/f taken from C between two peaks, closed form",
        compute: |given| {
            let (current, farads) = (given.value("current")?, given.value("capacitance")?);
            let swing = reservoir_ripple(current, given.value("frequency")?, farads)?;
            let label = "Ripple, at most";
            Ok(Outcome::new([Output::amount(
                label,
                swing,
                Unit::VoltPeakToPeak,
            )]))
        },
    },
    Sum {
        id: "stage-sum",
        group: Group::Stages,
        title: "Sum of the stages",
        inputs: &[Input::list(
            "currents",
            "Currents",
            Scale::new(Prefix::Milli, Unit::Ampere),
        )],
        formula: "total = sum of the currents",
        source: "Kirchhoff's current law",
        compute: |given| {
            let total = sum_of_stages(&given.values("currents"));
            Ok(Outcome::new([Output::amount("Total", total, Unit::Ampere)]))
        },
    },
    Sum {
        id: "base-voltage",
        group: Group::Stages,
        title: "Is the base voltage plausible?",
        inputs: &[Input::measured("base", "Base to emitter, silicon", VOLTS)],
        formula: "about 0.6 to 0.75 V conducts",
        source: "common practice, no source",
        compute: |given| {
            let words = match judge_base_voltage(given.value("base")?)? {
                BaseVoltage::CutOff => "Too low: the transistor is cut off or its bias is missing",
                BaseVoltage::Plausible => "Plausible for a conducting silicon transistor",
                BaseVoltage::Suspicious => {
                    "Too high: suspect an open junction or an emitter without ground"
                }
            };
            Ok(Outcome::new([Output::words("Verdict", words)]))
        },
    },
    Sum {
        id: "pass-dissipation",
        group: Group::Stages,
        title: "Dissipation of a series pass device",
        inputs: &[
            Input::measured("input", "Input voltage", VOLTS),
            Input::measured("output", "Output voltage", VOLTS),
            Input::measured("current", "Current", AMPERES),
        ],
        formula: "P = (Vin − Vout)·I",
        source: "Joule's law",
        compute: |given| {
            let (input, output) = (given.value("input")?, given.value("output")?);
            let watts = pass_dissipation(input, output, given.value("current")?)?;
            Ok(Outcome::new([Output::amount(
                "Dissipation",
                watts,
                Unit::Watt,
            )]))
        },
    },
    Sum {
        id: "output-dissipation",
        group: Group::Stages,
        title: "Dissipation and efficiency of an output stage",
        inputs: &[
            Input::measured("supply", "Supply voltage", VOLTS),
            Input::measured("current", "Supply current", AMPERES),
            Input::measured("output", "Output power", WATTS),
            Input::nominal("drive", "Drive power", WATTS, "0"),
        ],
        formula: "P = V·I + drive − output; efficiency = output/(V·I)",
        source: "conservation of energy",
        compute: |given| {
            let (supply, current) = (given.value("supply")?, given.value("current")?);
            let (drive, output) = (given.value("drive")?, given.value("output")?);
            let watts = output_dissipation(supply, current, drive, output)?;
            let input = supply * current;
            let mut outputs = vec![Output::amount("Dissipation", watts, Unit::Watt)];
            if input > 0.0 {
                outputs.push(Output::percent("Efficiency", output / input));
            }
            Ok(Outcome::new(outputs))
        },
    },
    Sum {
        id: "junction",
        group: Group::Stages,
        title: "Junction temperature",
        inputs: &[
            Input::measured("watts", "Dissipation", WATTS),
            JUNCTION_TO_CASE,
            CASE_TO_SINK,
            Input::measured("sink", "Heatsink θSA", THERMAL),
            AMBIENT,
        ],
        formula: "TJ = TA + P·(θJC + θCS + θSA)",
        source: "laboratory sheet on transistor heat sinking",
        compute: |given| {
            let (watts, ambient) = (given.value("watts")?, given.value("ambient")?);
            let inside = given.value("junction-case")?;
            let between = given.value("case-sink")?;
            let outside = given.value("sink")?;
            let junction = junction_temperature(ambient, watts, &[inside, between, outside])?;
            let sink = junction_temperature(ambient, watts, &[outside])?;
            let case = junction_temperature(ambient, watts, &[between, outside])?;
            Ok(Outcome::new([
                Output::amount("Junction", junction, Unit::Celsius),
                Output::amount("Case", case, Unit::Celsius),
                Output::amount("Heatsink", sink, Unit::Celsius),
            ])
            .with(Picture::HeatPath(vec![
                ("junction", junction),
                ("case", case),
                ("heatsink", sink),
                ("ambient", ambient),
            ])))
        },
    },
    Sum {
        id: "heatsink",
        group: Group::Stages,
        title: "Heatsink needed",
        inputs: &[
            Input::measured("watts", "Dissipation", WATTS),
            Input::nominal("junction", "Highest junction temperature", CELSIUS, "150"),
            JUNCTION_TO_CASE,
            CASE_TO_SINK,
            AMBIENT,
        ],
        formula: "θSA = (TJ − TA)/P − θJC − θCS",
        source: "laboratory sheet on transistor heat sinking, solved for θSA",
        compute: |given| {
            let theta = heatsink_needed(
                given.value("junction")?,
                given.value("ambient")?,
                given.value("watts")?,
                given.value("junction-case")?,
                given.value("case-sink")?,
            )?;
            Ok(Outcome::new([Output::amount(
                "At most",
                theta,
                Unit::CelsiusPerWatt,
            )]))
        },
    },
    Sum {
        id: "resonance",
        group: Group::Stages,
        title: "Resonance, and what a probe does to it",
        inputs: &[
            Input::measured("inductance", "Inductance", MICROHENRIES),
            Input::measured("capacitance", "Capacitance", PICOFARADS),
            Input::nominal("probe", "Probe capacitance", PICOFARADS, "10"),
        ],
        formula: "f = 1/(2π·√(L·C)); with a probe C becomes C + Cp",
        source: "Thomson's formula",
        compute: |given| {
            let (inductance, capacitance) =
                (given.value("inductance")?, given.value("capacitance")?);
            let alone = resonance(inductance, capacitance)?;
            let shift = probe_shift(inductance, capacitance, given.value("probe")?)?;
            Ok(Outcome::new([
                Output::amount("Resonance", alone, Unit::Hertz),
                Output::amount("With the probe", alone + shift, Unit::Hertz),
                Output::amount("Shift", shift, Unit::Hertz),
            ]))
        },
    },
    Sum {
        id: "resonating-capacitance",
        group: Group::Stages,
        title: "Capacitance for a resonance",
        inputs: &[
            Input::measured("frequency", "Frequency", MEGAHERTZ),
            Input::measured("inductance", "Inductance", MICROHENRIES),
        ],
        formula: "C = 1/((2πf)²·L)",
        source: "Thomson's formula",
        compute: |given| {
            let farads =
                resonating_capacitance(given.value("frequency")?, given.value("inductance")?)?;
            Ok(Outcome::new([Output::amount(
                "Capacitance",
                farads,
                Unit::Farad,
            )]))
        },
    },
    Sum {
        id: "resonating-inductance",
        group: Group::Stages,
        title: "Inductance for a resonance",
        inputs: &[
            Input::measured("frequency", "Frequency", MEGAHERTZ),
            Input::measured("capacitance", "Capacitance", PICOFARADS),
        ],
        formula: "L = 1/((2πf)²·C)",
        source: "Thomson's formula",
        compute: |given| {
            let henries =
                resonating_inductance(given.value("frequency")?, given.value("capacitance")?)?;
            Ok(Outcome::new([Output::amount(
                "Inductance",
                henries,
                Unit::Henry,
            )]))
        },
    },
];

const AMBIENT: Input = Input::nominal("ambient", "Ambient temperature", CELSIUS, "25");
const JUNCTION_TO_CASE: Input = Input::measured("junction-case", "Junction to case θJC", THERMAL);
const CASE_TO_SINK: Input = Input::nominal("case-sink", "Case to heatsink θCS", THERMAL, "0.5");
