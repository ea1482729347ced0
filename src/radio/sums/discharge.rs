//! Before the iron.

use super::scales::*;
use crate::quantity::sum::{Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Number, Phrase, Unit};
use crate::radio::components::discharge::*;

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "stored",
        group: Group::BeforeTheIron,
        title: "What a capacitor holds",
        inputs: &[
            Input::measured("capacitance", "Capacitance", MICROFARADS),
            Input::measured("volts", "Voltage", VOLTS),
        ],
        formula: "E = ½·C·V²; Q = C·V",
        source: "energy of a charged capacitor, closed form; IEC 60335-1 and IEC 60065 for touch",
        compute: |given| {
            let (capacitance, volts) = (given.value("capacitance")?, given.value("volts")?);
            let coulombs = charge(capacitance, volts)?;
            Ok(Outcome::new([
                Output::amount("Energy", energy(capacitance, volts)?, Unit::Joule),
                Output::phrase("Charge", microcoulombs(coulombs)),
                Output::phrase("Touch voltage", touch_voltage(volts)),
            ]))
        },
    },
    Sum {
        id: "bleed",
        group: Group::BeforeTheIron,
        title: "Time to bleed to a safe voltage",
        inputs: &[
            CAPACITANCE,
            Input::measured("start", "Voltage at the start", VOLTS),
            Input::nominal("safe", "Safe voltage", VOLTS, "42.4"),
            Input::measured("resistance", "Bleeder", OHMS),
        ],
        formula: "t = R·C·ln(V₀/V); the bleeder takes V₀²/R at first",
        source: "exponential discharge, closed form; 42.4 V: IEC 60335-1, 8.1.4",
        compute: |given| {
            let (capacitance, resistance) =
                (given.value("capacitance")?, given.value("resistance")?);
            let (start, safe) = (given.value("start")?, given.value("safe")?);
            let seconds = time_to_bleed(start, safe, resistance, capacitance)?;
            let watts = bleeder_power(start, resistance)?;
            Ok(Outcome::new([
                Output::amount("Time", seconds, Unit::Second),
                Output::amount("Peak bleeder power", watts, Unit::Watt),
                Output::amount("Energy", energy(capacitance, start)?, Unit::Joule),
                Output::amount(
                    "Time constant",
                    time_constant(resistance, capacitance)?,
                    Unit::Second,
                ),
            ])
            .with(Picture::Discharge {
                start,
                safe,
                seconds,
            }))
        },
    },
    Sum {
        id: "left-after",
        group: Group::BeforeTheIron,
        title: "Voltage left after a time",
        inputs: &[
            CAPACITANCE,
            Input::measured("start", "Voltage at the start", VOLTS),
            Input::measured("resistance", "Bleeder", OHMS),
            Input::measured("seconds", "Time", SECONDS),
        ],
        formula: "V = V₀·e^(−t/(R·C))",
        source: "exponential discharge, closed form; NCVEC question pool E5B01",
        compute: |given| {
            let (capacitance, resistance) =
                (given.value("capacitance")?, given.value("resistance")?);
            let (start, seconds) = (given.value("start")?, given.value("seconds")?);
            let left = voltage_after(start, resistance, capacitance, seconds)?;
            Ok(Outcome::new([
                Output::amount("Voltage left", left, Unit::VoltDc),
                Output::amount("Energy left", energy(capacitance, left)?, Unit::Joule),
            ])
            .with(Picture::Discharge {
                start,
                safe: left,
                seconds,
            }))
        },
    },
];

const CAPACITANCE: Input = Input::measured("capacitance", "Capacitance", MICROFARADS);

/// A charge in words, since no reading on the bench is in coulombs.
fn microcoulombs(coulombs: f64) -> Phrase {
    let number = Number::from_f64(coulombs * 1e6, 1);
    Phrase::new("{}\u{a0}µC", Vec::from_iter(number))
}

/// Which published thresholds of direct voltage a voltage exceeds; they stand in rising order.
fn touch_voltage(volts: f64) -> Phrase {
    let exceeded = SAFE_VOLTAGES.iter().filter(|safe| volts > safe.volts);
    let count = exceeded.count();
    let named = &SAFE_VOLTAGES[..count.max(1)];
    let places = named
        .iter()
        .map(|safe| format!("{{}}\u{a0}V ({})", safe.source));
    let places = places.collect::<Vec<_>>().join(" and ");
    let text = match count {
        0 => format!("Not above {places}"),
        _ => format!("Above {places}: bleed it first"),
    };
    let volts = named
        .iter()
        .filter_map(|safe| safe.volts.to_string().parse().ok());
    Phrase::new(text, volts.collect::<Vec<Number>>())
}
