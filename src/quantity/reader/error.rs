//! Why what was typed can't be read.

use crate::quantity::formula::FormulaError;
use crate::quantity::{NumberError, Prefix, Scale, Unit};
use std::fmt;

/// Why a typed text is not a reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// Nothing was typed.
    Empty,
    /// A comma where the setting has a point.
    Comma,
    /// More than one decimal sign.
    TwoSigns,
    /// Spaces that don't group the digits by three.
    Grouping(String),
    /// The digits can't be read.
    Number(NumberError),
    /// What follows the digits is no unit.
    UnknownUnit(String),
    /// A known unit, but not the one that is due.
    WrongUnit {
        /// What was typed.
        typed: Unit,
        /// What the step asks for.
        due: Unit,
    },
    /// What was typed is no formula.
    Formula(FormulaError),
    /// What was typed is not two quantities with a number.
    Pair(String),
    /// A prefix that this unit is not used with.
    WrongPrefix {
        /// What was typed.
        typed: Prefix,
        /// The unit that it stands before.
        unit: Unit,
    },
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ReadError::Empty => write!(f, "No number yet: type the reading"),
            ReadError::Comma => write!(
                f,
                "The decimal sign is a point here: type 16.4925, or choose the comma under Settings"
            ),
            ReadError::TwoSigns => write!(
                f,
                "The number has more than one decimal sign: keep one, and group digits with spaces only"
            ),
            ReadError::Grouping(text) => write!(
                f,
                "The spaces in “{text}” don't group the digits by three: check for a missing digit"
            ),
            ReadError::Number(error) => error.fmt(f),
            ReadError::Formula(error) => error.fmt(f),
            ReadError::Pair(text) => write!(
                f,
                "“{text}” does not say which two quantities and how far: type them as in ab 0.5"
            ),
            ReadError::UnknownUnit(text) => {
                write!(
                    f,
                    "“{text}” is not a unit that is known here: leave it out to use the unit shown"
                )
            }
            ReadError::WrongUnit { typed, due } => write!(
                f,
                "This is in {}, but the step wants {}: check the instrument and its range",
                typed.symbol(),
                due.symbol()
            ),
            ReadError::WrongPrefix { typed, unit } => write!(
                f,
                "“{0}” means {1}, and {1}{2} is not used here: type one of {3}",
                typed.symbol(),
                typed.name(),
                unit.name(),
                usable_symbols(*unit)
            ),
        }
    }
}

impl std::error::Error for ReadError {}

fn usable_symbols(unit: Unit) -> String {
    let symbols: Vec<String> = unit
        .prefixes()
        .iter()
        .map(|&prefix| Scale::new(prefix, unit).symbol())
        .collect();
    symbols.join(", ")
}
