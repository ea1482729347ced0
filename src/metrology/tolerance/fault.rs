//! Why a tolerance can't be judged by.

use crate::metrology::tolerance::margin::{Margin, two_digits};
use crate::quantity::{DecimalSign, Unit};
use std::fmt;

/// Why a tolerance can't judge anything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ToleranceFault {
    /// A value in another unit than the reading's.
    Unit {
        /// The unit that the tolerance has.
        has: Unit,
        /// The unit that is due.
        due: Unit,
    },
    /// A margin below zero.
    NegativeMargin,
    /// Percent or ppm of a level in decibels.
    ShareOfLevel {
        /// The margin.
        margin: Margin,
        /// The level's unit.
        unit: Unit,
    },
    /// Percent or ppm of zero.
    ShareOfZero {
        /// The unit that the margin is due in.
        due: Unit,
    },
    /// Decibels of zero or of less.
    DecibelsOfNothing {
        /// The unit that the margin is due in.
        due: Unit,
    },
    /// The lower limit lies above the upper one.
    Crossed,
}

impl fmt::Display for ToleranceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ToleranceFault::Unit { has, due } => write!(
                f,
                "its target is in {} where {} is due: change the unit",
                has.symbol(),
                due.symbol()
            ),
            ToleranceFault::NegativeMargin => {
                write!(
                    f,
                    "its tolerance is below zero: give the size without a sign"
                )
            }
            ToleranceFault::ShareOfLevel { margin, unit } => {
                let share = margin.typeset(DecimalSign::Point);
                write!(
                    f,
                    "its tolerance is {share} of a level in {}, which has no shares: give it in dB",
                    unit.symbol()
                )?;
                let (of, per_decade) = match unit {
                    Unit::DecibelMicrovolt
                    | Unit::DecibelMicrovoltEmf
                    | Unit::DecibelMicrovoltPd => ("voltage", 20.0),
                    _ => ("power", 10.0),
                };
                let Some((up, down)) = margin.in_decibels(per_decade) else {
                    return Ok(());
                };
                let (up, down) = (two_digits(up), two_digits(down));
                write!(f, "; {share} of the {of} is +{up}/{down} dB")
            }
            ToleranceFault::ShareOfZero { due } => write!(
                f,
                "its tolerance is a share of zero, which is nothing: give it as an amount in {}",
                due.symbol()
            ),
            ToleranceFault::DecibelsOfNothing { due } => write!(
                f,
                "its tolerance is in dB of a figure that is not above zero: give it as an amount in {}",
                due.symbol()
            ),
            ToleranceFault::Crossed => {
                write!(f, "its lower limit is above its upper limit: swap them")
            }
        }
    }
}
