//! Preferred values and the colour code.

use super::scales::*;
use crate::quantity::sum::{Given, Group, Input, Outcome, Output, Picture, Sum};
use crate::quantity::{Fault, Number, Phrase, Prefix, Quantity, Scale, Unit};
use crate::radio::components::colour::{Colour, bands_of, read_bands};
use crate::radio::components::preferred::{Joint, Series, pairs};

pub(super) const SUMS: &[Sum] = &[
    Sum {
        id: "preferred",
        group: Group::Parts,
        title: "Nearest preferred value",
        inputs: &[Input::measured("value", "Value", PART), SERIES],
        formula: "nearest by ratio, and the values on either side",
        source: "IEC 60063",
        compute: |given| {
            let unit = given.quantity("value")?.unit();
            let value = given.value("value")?;
            let around = series(given)?.around(value)?;
            Ok(Outcome::new([
                Output::amount("Nearest", around.nearest, unit),
                Output::amount("Next below", around.below, unit),
                Output::amount("Next above", around.above, unit),
                Output::percent("Nearest is off by", around.nearest / value - 1.0),
            ]))
        },
    },
    Sum {
        id: "pair",
        group: Group::Parts,
        title: "Two parts that hit a target",
        inputs: &[
            Input::measured("target", "Target", PART),
            Input::choice("joint", "Joined", &["in parallel", "in series"]),
            SERIES,
        ],
        formula: "a + b, or a·b/(a + b)",
        source: "Kirchhoff's laws; values of IEC 60063",
        compute: |given| {
            let target = given.quantity("target")?;
            let unit = target.unit();
            let joint = joint(given.choice("joint")?, unit);
            let found = pairs(target.base_f64(), series(given)?, joint, 3)?;
            let rows = found.iter().zip(["Best pair", "Second", "Third"]);
            let outputs = rows.map(|(pair, label)| {
                let off = (pair.together / target.base_f64() - 1.0) * 100.0;
                Output::phrase(label, two_parts([pair.larger, pair.smaller], off, unit))
            });
            Ok(Outcome::new(outputs.collect::<Vec<_>>()))
        },
    },
    Sum {
        id: "colour-read",
        group: Group::Parts,
        title: "Colour bands to value",
        inputs: &[
            Input::choice("first", "First band", DIGIT_NAMES),
            Input::choice("second", "Second band", DIGIT_NAMES),
            Input::choice("third", "Third band", THIRD),
            Input::choice("multiplier", "Multiplier", MULTIPLIER_NAMES),
            Input::choice("tolerance", "Tolerance", TOLERANCE_NAMES),
        ],
        formula: "digits · 10^multiplier",
        source: "IEC 60062 (from memory)",
        compute: |given| {
            let digit = |id| Ok(DIGITS[given.choice(id)?]);
            let mut digits = vec![digit("first")?, digit("second")?];
            if let Some(third) = given.choice("third")?.checked_sub(1) {
                digits.push(DIGITS[third]);
            }
            let multiplier = Colour::ALL[given.choice("multiplier")?];
            let tolerance = TOLERANCES[given.choice("tolerance")?];
            let marked = read_bands(&digits, multiplier, tolerance)?;
            let bands = digits.into_iter().chain([multiplier, tolerance]);
            Ok(Outcome::new([
                Output::amount("Resistance", marked.ohms, Unit::Ohm),
                Output::amount("±", marked.tolerance, Unit::Percent),
            ])
            .with(Picture::Bands(bands.map(Colour::name).collect())))
        },
    },
    Sum {
        id: "colour-of",
        group: Group::Parts,
        title: "Value to colour bands",
        inputs: &[
            Input::measured("resistance", "Resistance", OHMS),
            Input::choice("figures", "Digits", &["2", "3"]),
        ],
        formula: "digits, then the power of ten",
        source: "IEC 60062 (from memory)",
        compute: |given| {
            let bands = bands_of(given.value("resistance")?, given.choice("figures")? + 2)?;
            let names: Vec<_> = bands.into_iter().map(Colour::name).collect();
            Ok(Outcome::new([Output::words(
                "Bands before the tolerance",
                names.join(", "),
            )])
            .with(Picture::Bands(names)))
        },
    },
];

const PART: &[Scale] = &[
    Scale::plain(Unit::Ohm),
    Scale::new(Prefix::Kilo, Unit::Ohm),
    Scale::new(Prefix::Mega, Unit::Ohm),
    Scale::new(Prefix::Pico, Unit::Farad),
    Scale::new(Prefix::Nano, Unit::Farad),
    Scale::new(Prefix::Micro, Unit::Farad),
];

const SERIES: Input = Input::choice("series", "Series", SERIES_NAMES);

/// The series, the most usual one first.
const ALL_SERIES: [Series; 5] = [
    Series::E24,
    Series::E6,
    Series::E12,
    Series::E48,
    Series::E96,
];
const SERIES_NAMES: &[&str] = &{
    let mut names = [""; ALL_SERIES.len()];
    let mut index = 0;
    while index < names.len() {
        names[index] = ALL_SERIES[index].name();
        index += 1;
    }
    names
};

const DIGITS: [Colour; 10] = *Colour::ALL.first_chunk().unwrap();
const DIGIT_NAMES: &[&str] = &names(DIGITS);
const MULTIPLIER_NAMES: &[&str] = &names(Colour::ALL);

/// The colours of tolerances, the most usual one first.
const TOLERANCES: [Colour; 10] = [
    Colour::Gold,
    Colour::Brown,
    Colour::Red,
    Colour::Green,
    Colour::Blue,
    Colour::Violet,
    Colour::Grey,
    Colour::Orange,
    Colour::Yellow,
    Colour::Silver,
];
const TOLERANCE_NAMES: &[&str] = &names(TOLERANCES);

/// The third digit's colours, which resistors with two digits lack.
const THIRD: &[&str] = &[
    "none", "black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white",
];

const fn names<const N: usize>(colours: [Colour; N]) -> [&'static str; N] {
    let mut names = [""; N];
    let mut index = 0;
    while index < N {
        names[index] = colours[index].name();
        index += 1;
    }
    names
}

fn series(given: &Given) -> Result<Series, Fault> {
    Ok(ALL_SERIES[given.choice("series")?])
}

/// Resistors in parallel add reciprocals, capacitors in series do.
fn joint(choice: usize, unit: Unit) -> Joint {
    match (choice, unit) {
        (0, Unit::Farad) => Joint::Sum,
        (0, _) => Joint::ReciprocalSum,
        (_, Unit::Farad) => Joint::ReciprocalSum,
        (_, _) => Joint::Sum,
    }
}

/// Two preferred values, and by how many percent they miss.
fn two_parts(values: [f64; 2], off: f64, unit: Unit) -> Phrase {
    let values = values.map(|value| in_print(value, unit));
    let units = values.each_ref().map(|value| value.scale.symbol());
    let plus = if off < 0.0 { "" } else { "+" };
    let [larger, smaller] = values.map(|value| value.number);
    let numbers = [larger, smaller]
        .into_iter()
        .chain(Number::from_f64(off, 2));
    Phrase::new(
        format!(
            "{{}} {} and {{}} {}, off by {plus}{{}} %",
            units[0], units[1]
        ),
        numbers.collect::<Vec<_>>(),
    )
}

/// A preferred value, without the zeros that it has no use for.
fn in_print(value: f64, unit: Unit) -> Quantity {
    let rounded = Output::amount("", value, unit).quantity(3);
    let base = rounded.map_or(0.into(), |quantity| quantity.base());
    Quantity::natural(base.normalized(), unit)
}
