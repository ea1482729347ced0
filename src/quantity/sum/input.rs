//! What a calculation is given, and how it is read.

use crate::quantity::formula::Formula;
use crate::quantity::{
    DecimalSign, Family, Number, Quantity, ReadError, Scale, Unit, formula, read, read_number,
};
use num_traits::Zero;

/// One input of a sum.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// A stable name, unique in its sum.
    pub id: &'static str,
    /// The field's label.
    pub label: &'static str,
    /// What may be typed or chosen.
    pub kind: Kind,
    /// What it counts for.
    pub role: Role,
    /// What the field holds before anything is typed; may be empty.
    pub start: &'static str,
}

/// What an input takes.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A quantity in one of these scales; the first is the usual one.
    Amount(&'static [Scale]),
    /// A number without a unit.
    Plain,
    /// Several quantities in one scale, one to a line or with semicolons between them.
    Amounts(Scale),
    /// Several numbers without a unit, one to a line or with semicolons between them.
    Plains,
    /// A formula of quantities a to e.
    Formula,
    /// Numbers that belong to two quantities each, such as `ab 0.5`.
    Pairs,
    /// One of these.
    Choice(&'static [&'static str]),
}

/// What an input counts for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Needed, and its digits limit those of the result.
    Measured,
    /// Needed, and taken as exact, such as a nominal impedance.
    Nominal,
    /// May be left out.
    Optional,
}

impl Input {
    /// A quantity that was measured.
    pub const fn measured(
        id: &'static str,
        label: &'static str,
        scales: &'static [Scale],
    ) -> Input {
        Input {
            id,
            label,
            kind: Kind::Amount(scales),
            role: Role::Measured,
            start: "",
        }
    }

    /// A quantity that is taken as exact and starts with a usual value.
    pub const fn nominal(
        id: &'static str,
        label: &'static str,
        scales: &'static [Scale],
        start: &'static str,
    ) -> Input {
        Input {
            id,
            label,
            kind: Kind::Amount(scales),
            role: Role::Nominal,
            start,
        }
    }

    /// A choice that starts with its first entry.
    pub const fn choice(
        id: &'static str,
        label: &'static str,
        choices: &'static [&'static str],
    ) -> Input {
        Input {
            id,
            label,
            kind: Kind::Choice(choices),
            role: Role::Nominal,
            start: choices[0],
        }
    }

    /// A number without a unit.
    pub const fn plain(id: &'static str, label: &'static str, start: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Plain,
            role: Role::Nominal,
            start,
        }
    }

    /// Several quantities.
    pub const fn list(id: &'static str, label: &'static str, scale: Scale) -> Input {
        Input {
            id,
            label,
            kind: Kind::Amounts(scale),
            role: Role::Measured,
            start: "",
        }
    }

    /// Several numbers without a unit.
    pub const fn plains(id: &'static str, label: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Plains,
            role: Role::Measured,
            start: "",
        }
    }

    /// A formula.
    pub const fn formula(id: &'static str, label: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Formula,
            role: Role::Nominal,
            start: "",
        }
    }

    /// Numbers that belong to two quantities each.
    pub const fn pairs(id: &'static str, label: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Pairs,
            role: Role::Optional,
            start: "",
        }
    }

    /// The same, but it may be left out.
    pub const fn optional(self) -> Input {
        Input {
            role: Role::Optional,
            ..self
        }
    }

    /// The scale in which a bare number is read unless another is chosen.
    pub fn scale(&self) -> Option<Scale> {
        match self.kind {
            Kind::Amount(scales) => scales.first().copied(),
            Kind::Amounts(scale) => Some(scale),
            Kind::Plain | Kind::Plains | Kind::Formula | Kind::Pairs | Kind::Choice(_) => None,
        }
    }

    /// Reads what was typed; `None` when nothing was.
    ///
    /// A bare number is in the chosen scale, or else in the usual one.
    pub fn read(
        &self,
        text: &str,
        chosen: Option<Scale>,
        sign: DecimalSign,
    ) -> Result<Option<Entry>, ReadError> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        match self.kind {
            Kind::Amount(scales) => read_any(text, chosen, scales, sign).map(Entry::Amount),
            Kind::Plain => read_number(text, sign).map(Entry::Plain),
            Kind::Amounts(scale) => parts(text)
                .map(|part| read(part, scale, sign))
                .collect::<Result<_, _>>()
                .map(Entry::Amounts),
            Kind::Plains => parts(text)
                .map(|part| read_number(part, sign))
                .collect::<Result<_, _>>()
                .map(Entry::Plains),
            Kind::Formula => Formula::read(text, sign)
                .map(Entry::Formula)
                .map_err(ReadError::Formula),
            Kind::Pairs => parts(text)
                .map(|part| read_pair(part, sign))
                .collect::<Result<_, _>>()
                .map(Entry::Pairs),
            Kind::Choice(choices) => choices
                .iter()
                .position(|choice| *choice == text)
                .map(Entry::Choice)
                .ok_or_else(|| ReadError::UnknownUnit(crate::quantity::excerpt(text))),
        }
        .map(Some)
    }
}

/// Reads in the chosen scale or the first one that fits.
fn read_any(
    text: &str,
    chosen: Option<Scale>,
    scales: &[Scale],
    sign: DecimalSign,
) -> Result<Quantity, ReadError> {
    let usual = chosen.or(scales.first().copied());
    let usual = usual.unwrap_or(Scale::plain(Unit::Ratio));
    let first = read(text, usual, sign);
    let is_other_unit = matches!(first, Err(ReadError::WrongUnit { .. }));
    let fitting = || {
        scales
            .iter()
            .find_map(|&scale| read(text, scale, sign).ok())
    };
    match is_other_unit.then(fitting).flatten() {
        Some(other) => Ok(other),
        None => first,
    }
}

/// Reads two different quantities and their number.
fn read_pair(text: &str, sign: DecimalSign) -> Result<(usize, usize, Number), ReadError> {
    let wrong = || ReadError::Pair(crate::quantity::excerpt(text));
    let end = text.find(|c: char| !(c.is_alphabetic() || c.is_whitespace() || c == ','));
    let (letters, number) = text.split_at(end.ok_or_else(wrong)?);
    let letters = letters.chars().filter(|c| c.is_alphabetic());
    let places = letters.map(|letter| {
        let mut names = formula::NAMES.iter();
        names.position(|name| letter.eq_ignore_ascii_case(name))
    });
    match places.collect::<Vec<_>>()[..] {
        [Some(a), Some(b)] if a != b => Ok((a, b, read_number(number, sign)?)),
        _ => Err(wrong()),
    }
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split(['\n', ';'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
}

/// What was entered for one input.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// A quantity.
    Amount(Quantity),
    /// A number without a unit.
    Plain(Number),
    /// Several quantities.
    Amounts(Vec<Quantity>),
    /// Several numbers without a unit.
    Plains(Vec<Number>),
    /// A formula.
    Formula(Formula),
    /// The places of two quantities each, and a number.
    Pairs(Vec<(usize, usize, Number)>),
    /// The position of the choice.
    Choice(usize),
}

impl Entry {
    /// How many digits of a result this supports; `None` when it sets no bound.
    pub(super) fn digits(&self) -> Option<u64> {
        match self {
            Entry::Amount(quantity) => digits(quantity),
            Entry::Amounts(quantities) => quantities.iter().filter_map(digits).min(),
            Entry::Plain(_)
            | Entry::Plains(_)
            | Entry::Formula(_)
            | Entry::Pairs(_)
            | Entry::Choice(_) => None,
        }
    }
}

/// Significant digits of a quantity; on a logarithmic scale one more than its decimals.
pub(super) fn digits(quantity: &Quantity) -> Option<u64> {
    if quantity.unit().family() == Family::Level {
        return u64::try_from(quantity.number.decimals() + 1).ok();
    }
    let decimal = quantity.number.decimal();
    (!decimal.is_zero()).then(|| decimal.digits())
}
