//! Why a calculation cannot be done.

use super::{DecimalSign, Quantity, Unit};
use std::fmt;

/// A value outside the range in which a formula means something.
///
/// Its text says what is wrong and what to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A value below the least that can be.
    TooLow {
        /// The value's name with its article.
        what: &'static str,
        /// The value as given.
        value: f64,
        /// The least value that makes sense.
        least: f64,
    },
    /// A value that must be above a bound is at or below it.
    NotAbove {
        /// The value's name with its article.
        what: &'static str,
        /// The value as given.
        value: f64,
        /// The bound that has to be exceeded.
        bound: f64,
    },
    /// A value above the greatest that can be.
    TooHigh {
        /// The value's name with its article.
        what: &'static str,
        /// The value as given.
        value: f64,
        /// The greatest value that makes sense.
        most: f64,
    },
    /// A value that must stay below a bound is at or above it.
    NotBelow {
        /// The value's name with its article.
        what: &'static str,
        /// The value as given.
        value: f64,
        /// The bound that must not be reached.
        bound: f64,
    },
    /// Two values that belong the other way round.
    Reversed {
        /// The name of the value that must be the larger one.
        larger: &'static str,
        /// The name of the value that must be the smaller one.
        smaller: &'static str,
    },
    /// A value that is not a number, or a result too large to show.
    NotFinite {
        /// The value's name with its article.
        what: &'static str,
    },
    /// Fewer values than the formula needs.
    TooFew {
        /// The plural name of the values.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many are needed.
        least: usize,
    },
    /// A name that nothing carries, such as a mode that a plan does not have.
    Unknown {
        /// The kind of thing that was looked for.
        what: &'static str,
        /// The name that was looked for.
        name: String,
    },
    /// A reading that is not there yet.
    Missing {
        /// The kind of thing that is missing.
        what: &'static str,
        /// Whose reading or setting it is.
        name: String,
    },
    /// An instrument that has ranges, but none in the unit of a reading.
    OtherUnits {
        /// The instrument.
        name: String,
        /// The unit of the reading.
        due: Unit,
        /// The units of its ranges.
        has: Vec<Unit>,
    },
    /// A reading that no range of an instrument holds.
    BeyondRanges {
        /// The instrument.
        name: String,
        /// The reading.
        reading: Quantity,
        /// The end of the largest range in its unit.
        end: Quantity,
    },
    /// A list that doesn't go with another one.
    Uneven {
        /// The plural name of the values, and what they should be.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many are due.
        due: usize,
    },
    /// Values that can't all be so.
    Contradiction {
        /// The plural name of the values with its article.
        what: &'static str,
    },
    /// A frequency plan that gives no unique answer.
    Undetermined {
        /// The mode in which it happens.
        mode: String,
        /// How many oscillators follow the channel in that mode.
        following: usize,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::TooLow { what, value, least } => write!(
                f,
                "{what} is {}, which is too low; enter {} or more.",
                said(*value),
                said(*least)
            ),
            Fault::NotAbove { what, value, bound } => write!(
                f,
                "{what} is {}; enter a value above {}.",
                said(*value),
                said(*bound)
            ),
            Fault::TooHigh { what, value, most } => write!(
                f,
                "{what} is {}, which is too high; enter {} or less.",
                said(*value),
                said(*most)
            ),
            Fault::NotBelow { what, value, bound } => write!(
                f,
                "{what} is {}; enter a value below {}.",
                said(*value),
                said(*bound)
            ),
            Fault::Reversed { larger, smaller } => write!(
                f,
                "{smaller} is larger than {larger}; swap the two or take them again."
            ),
            Fault::NotFinite { what } => write!(
                f,
                "{what} is not a number that can be worked with; check what was entered."
            ),
            Fault::TooFew { what, count, least } => {
                write!(f, "Too few {what}: {count} of at least {least}; add more.")
            }
            Fault::Unknown { what, name } => {
                write!(f, "There is no {what} called “{name}”; choose another.")
            }
            Fault::Missing { what, name } => {
                write!(f, "The {what} of “{name}” is missing; enter it first.")
            }
            Fault::OtherUnits { name, due, has } => {
                let has: Vec<&str> = has.iter().map(|unit| unit.symbol()).collect();
                write!(
                    f,
                    "“{name}” has no range in {}, only in {}; enter one, or choose another instrument.",
                    due.symbol(),
                    has.join(", ")
                )
            }
            Fault::BeyondRanges { name, reading, end } => write!(
                f,
                "{} is beyond the ranges of “{name}”, which end at {}; enter a wider one, or choose another instrument.",
                reading.typeset(DecimalSign::Point),
                end.typeset(DecimalSign::Point)
            ),
            Fault::Uneven { what, count, due } => {
                write!(f, "{count} of {due} {what}; add or remove some.")
            }
            Fault::Contradiction { what } => {
                write!(f, "{what} contradict each other; check them.")
            }
            Fault::Undetermined { mode, following } => write!(
                f,
                "In {mode}, {following} oscillators follow the channel; let exactly one follow it."
            ),
        }
    }
}

/// A value in nine digits, which hide what floats add, with a real minus sign.
fn said(value: f64) -> String {
    let rounded = format!("{value:.8e}").parse().unwrap_or(value);
    f64::to_string(&rounded).replace('-', "\u{2212}")
}

impl std::error::Error for Fault {}

/// The value itself when it is a finite number.
pub fn finite(what: &'static str, value: f64) -> Result<f64, Fault> {
    match value.is_finite() {
        true => Ok(value),
        false => Err(Fault::NotFinite { what }),
    }
}

/// The value itself when it is `least` or more.
pub fn at_least(what: &'static str, value: f64, least: f64) -> Result<f64, Fault> {
    match finite(what, value)? >= least {
        true => Ok(value),
        false => Err(Fault::TooLow { what, value, least }),
    }
}

/// The value itself when it is above `bound`.
pub fn above(what: &'static str, value: f64, bound: f64) -> Result<f64, Fault> {
    match finite(what, value)? > bound {
        true => Ok(value),
        false => Err(Fault::NotAbove { what, value, bound }),
    }
}

/// The value itself when it is `most` or less.
pub fn at_most(what: &'static str, value: f64, most: f64) -> Result<f64, Fault> {
    match finite(what, value)? <= most {
        true => Ok(value),
        false => Err(Fault::TooHigh { what, value, most }),
    }
}

/// The value itself when it is below `bound`.
pub fn below(what: &'static str, value: f64, bound: f64) -> Result<f64, Fault> {
    match finite(what, value)? < bound {
        true => Ok(value),
        false => Err(Fault::NotBelow { what, value, bound }),
    }
}

/// The value itself when it is zero or more.
pub fn not_negative(what: &'static str, value: f64) -> Result<f64, Fault> {
    at_least(what, value, 0.0)
}

/// The value itself when it is above zero.
pub fn positive(what: &'static str, value: f64) -> Result<f64, Fault> {
    above(what, value, 0.0)
}

/// Fails unless `smaller` is at most `larger`.
pub fn ordered(
    (smaller, low): (&'static str, f64),
    (larger, high): (&'static str, f64),
) -> Result<(), Fault> {
    match finite(smaller, low)? <= finite(larger, high)? {
        true => Ok(()),
        false => Err(Fault::Reversed { larger, smaller }),
    }
}
