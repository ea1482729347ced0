//! Frequency errors.

use super::scales::*;
use crate::quantity::sum::{Group, Input, Outcome, Output, Sum};
use crate::quantity::{Fault, Quantity, Unit};
use crate::radio::channels::Channel;
use crate::radio::frequency::*;
use crate::radio::plan::{Mode, Readings, Target, Term};

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "ppm-error",
        group: Group::Frequency,
        title: "Frequency error in ppm",
        inputs: &[
            Input::measured("nominal", "Nominal frequency", MEGAHERTZ),
            Input::measured("reading", "Reading", MEGAHERTZ),
        ],
        formula: "error = reading − nominal; ppm = error/nominal·10⁶",
        source: "NCVEC question pool E4B03",
        compute: |given| {
            let nominal = given.quantity("nominal")?;
            let reading = given.quantity("reading")?;
            let ppm = ppm_of_frequencies(reading.base_f64(), nominal.base_f64())?;
            let error = Quantity::natural(reading.base() - nominal.base(), Unit::Hertz);
            Ok(Outcome::new([
                Output::exact("Error", error),
                Output::amount("Error", ppm, Unit::PartsPerMillion),
            ]))
        },
    },
    Sum {
        id: "ppm-hertz",
        group: Group::Frequency,
        title: "A tolerance in ppm as Hz",
        inputs: &[
            Input::measured("nominal", "Nominal frequency", MEGAHERTZ),
            Input::measured("ppm", "Tolerance", PPM),
        ],
        formula: "± f·ppm/10⁶",
        source: "NCVEC question pool E4B03; 47 CFR 95.965",
        compute: |given| {
            let hertz = hertz_of_ppm(given.value("ppm")?, given.value("nominal")?)?;
            Ok(Outcome::new([Output::amount("±", hertz, Unit::Hertz)]))
        },
    },
    Sum {
        id: "counter-error",
        group: Group::Frequency,
        title: "Worst-case error of a counter",
        inputs: &[
            Input::measured("reading", "Reading", MEGAHERTZ),
            Input::measured("ppm", "Time-base accuracy", PPM),
            Input::nominal("resolution", "One count", HERTZ, "1"),
        ],
        formula: "± (f·ppm/10⁶ + 1 count)",
        source: "NCVEC question pool E4B03; one count of the gate time from memory",
        compute: |given| {
            let time_base = hertz_of_ppm(given.value("ppm")?, given.value("reading")?)?;
            let error = time_base + given.value("resolution")?;
            Ok(Outcome::new([Output::amount("±", error, Unit::Hertz)]))
        },
    },
    Sum {
        id: "on-air",
        group: Group::Frequency,
        title: "On-air frequency of two oscillators",
        inputs: &[
            Input::measured("channel", "Channel", MEGAHERTZ),
            Input::measured("first", "First oscillator", MEGAHERTZ),
            Input::measured("last", "Last oscillator to adjust", MEGAHERTZ),
            Input::choice("first-factor", "First counts", FACTORS),
            Input::choice("last-factor", "Last counts", FACTORS),
        ],
        formula: "on-air = sum of factor · oscillator; error = on-air − channel",
        source: "mixing, closed form; exact decimals",
        compute: |given| {
            let channel = Channel {
                name: String::new(),
                frequency: given.quantity("channel")?.clone(),
            };
            let mode = Mode {
                name: String::new(),
                terms: vec![
                    term("first", given.choice("first-factor")?),
                    term("last", given.choice("last-factor")?),
                ],
                injection: Vec::new(),
            };
            let readings: Readings = ["first", "last"]
                .map(|id| Ok::<_, Fault>((id.to_owned(), given.quantity(id)?.clone())))
                .into_iter()
                .collect::<Result<_, _>>()?;
            let prediction = mode.predict(&channel, &readings)?;
            let target = mode.last_target("last", &channel, &readings)?;
            let exact = |label, hertz| Output::exact(label, Quantity::natural(hertz, Unit::Hertz));
            Ok(Outcome::new([
                exact("On-air frequency", prediction.on_air),
                exact("Error", prediction.error),
                exact("Target for the last oscillator", target),
            ]))
        },
    },
];

const FACTORS: &[&str] = &["+1", "\u{2212}1", "+2", "\u{2212}2", "+3", "\u{2212}3"];

/// An oscillator that counts as the choice says.
fn term(oscillator: &str, choice: usize) -> Term {
    let multiple = choice as i32 / 2 + 1;
    Term {
        oscillator: oscillator.to_owned(),
        factor: if choice.is_multiple_of(2) {
            multiple
        } else {
            -multiple
        },
        target: Target::FollowsChannel,
        adjuster: String::new(),
    }
}
