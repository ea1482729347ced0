//! Frequency errors.

use super::scales::*;
use crate::quantity::fault::at_most;
use crate::quantity::sum::{Given, Group, Input, Outcome, Output, Sum};
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
    Sum {
        id: "display-offset",
        group: Group::Frequency,
        title: "Offsets of a frequency display",
        inputs: &[
            Input::list("on-air", "On-air frequency, a mode to a line", MEGAHERTZ[0]),
            Input::list(
                "tap",
                "Frequency at the tap, a mode to a line",
                MEGAHERTZ[0],
            ),
            Input::measured(
                "other-on-air",
                "On-air frequency on another channel, first mode",
                MEGAHERTZ,
            ),
            Input::measured("other-tap", "Frequency at the tap there", MEGAHERTZ),
        ],
        formula: "offset = on-air − tap; where the tap falls as the channel rises, on-air + tap",
        source: "mixing, closed form; exact decimals",
        compute: display_offset,
    },
];

/// The offset of each mode, checked on another channel.
fn display_offset(given: &Given) -> Result<Outcome, Fault> {
    const LABELS: [&str; 6] = [
        "Offset, mode 1",
        "Offset, mode 2",
        "Offset, mode 3",
        "Offset, mode 4",
        "Offset, mode 5",
        "Offset, mode 6",
    ];
    let bases = |id| -> Vec<_> { given.quantities(id).iter().map(Quantity::base).collect() };
    let (on_air, taps) = (bases("on-air"), bases("tap"));
    at_most(
        "The number of modes",
        on_air.len() as f64,
        LABELS.len() as f64,
    )?;
    let (Some(first), Some(tap), true) = (on_air.first(), taps.first(), on_air.len() == taps.len())
    else {
        return Err(Fault::Uneven {
            what: "frequencies at the tap: one for each mode",
            count: taps.len(),
            due: on_air.len(),
        });
    };
    let other = given.quantity("other-on-air")?.base();
    let other_tap = given.quantity("other-tap")?.base();
    let Some(follows) = Follows::of([first, &other], [tap, &other_tap]) else {
        return Ok(Outcome::new([Output::words(
            "Verdict",
            "The tap does not move as far as the channel: no offset shows every channel",
        )]));
    };
    let exact = |label, hertz| Output::exact(label, Quantity::natural(hertz, Unit::Hertz));
    let modes = LABELS.into_iter().zip(on_air.iter().zip(&taps));
    let mut outputs: Vec<Output> = modes
        .map(|(label, (on_air, tap))| exact(label, follows.offset(on_air, tap)))
        .collect();
    let shown = follows.shown(&follows.offset(first, tap), &other_tap);
    outputs.extend([
        Output::words(
            "Display",
            match follows {
                Follows::Rising => "Adds the tap to the offset",
                Follows::Falling => "Takes the tap from the offset",
            },
        ),
        exact("Shown on the other channel", shown.clone()),
        exact("Error there", shown - other),
    ]);
    Ok(Outcome::new(outputs))
}

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
