//! What a text is taken apart into.

use crate::authoring::table::phrases::Sense;
use crate::quantity::{Family, Prefix, Scale, Unit};

/// A figure as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) struct Figure<'a> {
    pub number: &'a str,
    pub unit: Option<Spelled>,
}

/// A unit as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) enum Spelled {
    Scale(Scale),
    /// Volts of a kind that isn't said.
    Volts(Prefix),
    /// A prefix alone, as in `100K`.
    Prefix(Prefix),
}

/// A piece of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) enum Token<'a> {
    Figure(Figure<'a>),
    Sense(Sense),
    /// A range in brackets behind a figure, which says where that may lie.
    Range(Figure<'a>, Figure<'a>),
    /// A word that names what is read.
    Word,
    /// Something that may mean anything.
    Lost,
}

/// A text taken apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::authoring::table) struct Lexed<'a> {
    /// What states the limit.
    pub tokens: Vec<Token<'a>>,
    /// Whether the text says more than that, such as where it is read.
    pub more: bool,
}

impl Figure<'_> {
    pub fn is_negative(&self) -> bool {
        self.number.starts_with('-')
    }

    pub fn is_power(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Watt)
    }

    pub fn is_resistance(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Ohm)
    }

    /// Whether it can be the level of a signal.
    pub fn is_level(&self) -> bool {
        match self.unit {
            Some(Spelled::Volts(_)) => true,
            Some(Spelled::Scale(scale)) => {
                scale.unit.family() == Family::Voltage
                    || (scale.unit.of_difference() == Unit::Decibel && scale.unit != Unit::Decibel)
            }
            _ => false,
        }
    }

    pub fn is_share(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Percent)
    }

    pub fn is_frequency(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Hertz)
    }

    pub fn is_time(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Second)
    }

    /// Whether it compares two levels.
    pub fn is_ratio(&self) -> bool {
        let ratio = |unit| matches!(unit, Unit::Decibel | Unit::DecibelCarrier);
        matches!(self.unit, Some(Spelled::Scale(scale)) if ratio(scale.unit))
    }

    pub fn is_decibels(&self) -> bool {
        let level = |scale: Scale| scale.unit.of_difference() == Unit::Decibel;
        matches!(self.unit, Some(Spelled::Scale(scale)) if level(scale))
    }
}

/// One kind of space, of minus and of micro; brackets and lines stay.
pub(in crate::authoring::table) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\u{2212}' | '–' => plain.push('-'),
            '\u{3bc}' => plain.push('µ'),
            '\u{2126}' => plain.push('Ω'),
            '\u{2103}' => plain.push_str("°C"),
            '\n' | '\r' => plain.push('\n'),
            c if c.is_whitespace() => plain.push(' '),
            c => plain.push(c),
        }
    }
    // A long dash is often typed as two short ones.
    plain.replace("--", "-")
}
