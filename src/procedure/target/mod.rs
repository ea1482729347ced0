//! Where a reading must lie: stated, or worked out from another reading, the frequency plan,
//! the channel or a published limit.

mod fault;
mod worked_out;

pub use self::fault::TargetFault;

use super::Id;
use crate::metrology::{Margin, Tolerance};
use crate::procedure::target::fault::missing;
use crate::quantity::{DecimalSign, Number, Quantity, Unit};
use crate::radio::levels::watts_of_power;
use crate::radio::limits::{self, Bound, Limit, attenuation_required};
use num_traits::Zero;
use serde::{Deserialize, Serialize};

/// Where a reading must lie.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Target {
    /// Known beforehand.
    Fixed(Tolerance),
    /// Another step's reading as left, plus an offset.
    Relative {
        /// The other step.
        to: Id,
        /// What is added to its reading. Decibels on a linear reading multiply it.
        offset: Quantity,
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
    /// What the frequency plan asks of an oscillator in the step's mode and channel.
    Oscillator {
        /// The oscillator's name in the plan.
        name: String,
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
    /// The frequency of the step's channel.
    Channel {
        /// The margin below.
        below: Margin,
        /// The margin above.
        above: Margin,
    },
    /// A published limit. One that is a distance is counted from the step's channel.
    Limit {
        /// The set of limits, such as `us-95d`.
        set: String,
        /// The limit in that set.
        limit: String,
        /// The step that reads the power by which the limit goes, where it goes by one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        power: Option<Id>,
    },
}

/// The limit of this name, with the title of its document.
pub fn cited(set: &str, limit: &str) -> Result<(&'static str, Limit), TargetFault> {
    match limits::find(set, limit) {
        Some((title, Some(limit))) => Ok((title, limit)),
        Some((title, None)) => missing(format!("“{title}” has no limit “{limit}”")),
        None => missing(format!("there is no set of limits “{set}”")),
    }
}

/// Whether the limit of this name goes by a power that another step reads.
pub fn goes_by_power(set: &str, limit: &str) -> bool {
    cited(set, limit).is_ok_and(|(_, limit)| limit.bound.goes_by_power())
}

impl Target {
    /// The step from whose reading it is worked out.
    pub fn leans_on(&self) -> Option<&Id> {
        match self {
            Target::Relative { to, .. } => Some(to),
            Target::Limit { power, .. } => power.as_ref(),
            _ => None,
        }
    }

    /// By how much it moves for one unit of the reading that it is worked out from.
    pub fn slope(&self, reading: &Quantity) -> Option<f64> {
        let unit = reading.scale.unit;
        match self {
            Target::Relative { offset, .. } if offset.unit() == unit.of_difference() => Some(1.0),
            Target::Relative { offset, .. } => factor(unit, offset),
            Target::Limit { .. } if self.is_at_its_most(reading) => Some(0.0),
            // The derivative of −10 log₁₀ P.
            Target::Limit { .. } if matches!(unit, Unit::Watt | Unit::WattPep) => {
                Some(-10.0 / (10f64.ln() * reading.base_f64()))
            }
            Target::Limit { .. } => Some(-1.0),
            _ => None,
        }
    }

    /// Whether a limit that goes by a power asks for no more at a larger one.
    fn is_at_its_most(&self, power: &Quantity) -> bool {
        let Target::Limit { set, limit, .. } = self else {
            return false;
        };
        let (Ok((_, limit)), Some(Ok(watts))) = (cited(set, limit), watts_of_power(power)) else {
            return false;
        };
        let Bound::BelowPowerUpTo(base, most) = &limit.bound else {
            return false;
        };
        attenuation_required(base.to_f64(), watts).is_ok_and(|asked| asked >= most.to_f64())
    }

    /// The target in print as the procedure states it; a step is named by its number.
    pub fn typeset(&self, sign: DecimalSign, number_of: impl Fn(&Id) -> Option<usize>) -> String {
        match self {
            Target::Fixed(tolerance) => tolerance.typeset(sign),
            Target::Relative {
                to,
                offset,
                below,
                above,
            } => {
                let step = number_of(to).map_or_else(|| to.to_string(), |n| n.to_string());
                let size = Number::from_decimal(offset.number.decimal().abs());
                let size = Quantity::new(size, offset.scale).typeset(sign);
                let around = match (offset.number.is_negative(), offset.base().is_zero()) {
                    (_, true) => format!("the reading of step {step}"),
                    (true, _) => format!("{size} below the reading of step {step}"),
                    (false, _) => format!("{size} above the reading of step {step}"),
                };
                format!("{around} {}", Margin::typeset_pair(below, above, sign))
            }
            Target::Oscillator { name, below, above } => {
                format!(
                    "{name} by the plan {}",
                    Margin::typeset_pair(below, above, sign)
                )
            }
            Target::Channel { below, above } => {
                format!("the channel {}", Margin::typeset_pair(below, above, sign))
            }
            Target::Limit { set, limit, .. } => match cited(set, limit) {
                Ok((title, limit)) => {
                    let source = format!("{title}, {}", limit.clause);
                    match limit.bound.by_power(sign) {
                        Some(bound) => format!("{source}: {bound}"),
                        None => source,
                    }
                }
                Err(fault) => fault.to_string(),
            },
        }
    }
}

/// What decibels multiply a linear reading by.
fn factor(unit: Unit, offset: &Quantity) -> Option<f64> {
    let of_ten = unit.decibels_of_ten()?;
    Some(10f64.powf(offset.base_f64() / f64::from(of_ten)))
}

#[cfg(test)]
mod tests;
