//! The ratings of a device, and how two devices stand to each other in one.

use crate::quantity::fault::{above, finite, not_negative, positive};
use crate::quantity::{DecimalSign, Fault, Number, Quantity, Unit, to_f64};
use crate::radio::components::substitution::seat::Pins;
use bigdecimal::BigDecimal;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The case temperature in °C at which a dissipation is rated.
const RATED_AT: f64 = 25.0;

/// What a data sheet says of a transistor.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Device {
    /// What is printed on it.
    pub name: String,
    /// What it is made as.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kind: Option<Kind>,
    /// Breakdown voltage, in V; PNP signs don't matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub breakdown: Option<Quantity>,
    /// Highest current, in A.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current: Option<Quantity>,
    /// Highest dissipation at a case of 25 °C, in W.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dissipation: Option<Quantity>,
    /// Highest junction temperature, in °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub junction: Option<Quantity>,
    /// Thermal resistance from junction to case, in °C/W.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub junction_to_case: Option<Quantity>,
    /// Current gain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gain: Option<Gain>,
    /// Transition frequency, in Hz.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transition: Option<Quantity>,
    /// The order of its legs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pins: Option<Pins>,
}

/// What a device is made as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Bipolar, NPN.
    Npn,
    /// Bipolar, PNP.
    Pnp,
    /// Field effect, N channel.
    NChannel,
    /// Field effect, P channel.
    PChannel,
}

/// The range of a current gain; pieces of a type differ widely.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Gain {
    /// The least that a piece may have.
    pub least: Number,
    /// The most that a piece may have, where that is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<Number>,
}

/// The ratings that are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rating {
    /// Breakdown voltage.
    Breakdown,
    /// Current.
    Current,
    /// Dissipation at the real case temperature.
    Dissipation,
    /// Least current gain; more than the old one had is rarely a fault.
    Gain,
    /// Transition frequency.
    Transition,
}

/// How the new device stands in a rating.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// More than the old one.
    Better,
    /// The same.
    Equal,
    /// Less than the old one.
    Weaker {
        /// By how much.
        short: Quantity,
        /// The same in percent of the old rating.
        percent: f64,
    },
    /// Not stated for one of them, or not in full.
    Missing {
        /// The name of the device whose data lack it.
        of: String,
    },
}

/// Why devices can't be compared.
#[derive(Clone, Debug, PartialEq)]
pub enum RatingFault {
    /// A rating in a unit that it can't have.
    Unit {
        /// The name of the device.
        device: String,
        /// The rating as stated.
        stated: Quantity,
        /// The unit that is due.
        due: Unit,
    },
    /// A value that makes no sense.
    Fault(Fault),
}

impl fmt::Display for RatingFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RatingFault::Unit {
                device,
                stated,
                due,
            } => write!(
                f,
                "{} of “{device}” is in {} where {} is due; change the unit.",
                stated.typeset(DecimalSign::Point),
                stated.unit().symbol(),
                due.symbol()
            ),
            RatingFault::Fault(fault) => fault.fmt(f),
        }
    }
}

impl std::error::Error for RatingFault {}

impl From<Fault> for RatingFault {
    fn from(fault: Fault) -> Self {
        RatingFault::Fault(fault)
    }
}

/// Highest dissipation in W at a case temperature in °C, from that at 25 °C and the highest
/// junction temperature: Pmax·(Tjmax−Tc)/(Tjmax−25), all of it at or below 25 °C, none from Tjmax
/// on.
///
/// Source: linear derating as data sheets draw it; MIL-PRF-19500, temperature-power derating
/// curves.
pub fn derated(dissipation: f64, junction: f64, case: f64) -> Result<f64, Fault> {
    let dissipation = not_negative("The dissipation", dissipation)?;
    let junction = above("The highest junction temperature in °C", junction, RATED_AT)?;
    let left = (junction - finite("The case temperature", case)?) / (junction - RATED_AT);
    Ok(dissipation * left.clamp(0.0, 1.0))
}

/// By how many percent `is` falls short of `was`, which is above zero.
pub(super) fn percent(was: &BigDecimal, is: &BigDecimal) -> f64 {
    100.0 * to_f64(&(was - is)) / to_f64(was)
}

impl Device {
    /// The size of a rating in the unit without prefix, where it is stated in full.
    pub(super) fn rated(
        &self,
        rating: Rating,
        case: &Quantity,
    ) -> Result<Option<BigDecimal>, RatingFault> {
        match rating {
            Rating::Breakdown => self.size(&self.breakdown, Unit::VoltDc),
            Rating::Current => self.size(&self.current, Unit::Ampere),
            Rating::Dissipation => self.dissipation_at(case),
            Rating::Gain => self.least_gain(),
            Rating::Transition => self.size(&self.transition, Unit::Hertz),
        }
    }

    fn size(
        &self,
        stated: &Option<Quantity>,
        due: Unit,
    ) -> Result<Option<BigDecimal>, RatingFault> {
        match stated {
            Some(stated) if stated.unit() != due => Err(RatingFault::Unit {
                device: self.name.clone(),
                stated: stated.clone(),
                due,
            }),
            Some(stated) => Ok(Some(stated.base().abs())),
            None => Ok(None),
        }
    }

    fn least_gain(&self) -> Result<Option<BigDecimal>, RatingFault> {
        let Some(gain) = &self.gain else {
            return Ok(None);
        };
        not_negative("The gain", gain.least.to_f64())?;
        Ok(Some(gain.least.decimal().clone()))
    }

    /// The dissipation left at a case temperature, to the milliwatt.
    fn dissipation_at(&self, case: &Quantity) -> Result<Option<BigDecimal>, RatingFault> {
        let case = match case.unit() {
            Unit::Celsius => case.base_f64(),
            _ => {
                return Err(RatingFault::Unit {
                    device: self.name.clone(),
                    stated: case.clone(),
                    due: Unit::Celsius,
                });
            }
        };
        let junction = self
            .size(&self.junction, Unit::Celsius)?
            .map(|decimal| to_f64(&decimal));
        let path = self.size(&self.junction_to_case, Unit::CelsiusPerWatt)?;
        let Some(rated) = self.size(&self.dissipation, Unit::Watt)? else {
            return Ok(None);
        };
        if case <= RATED_AT {
            return Ok(Some(rated));
        }
        let rated = to_f64(&rated);
        // The path to the case says by itself how hot the rated dissipation makes the junction.
        let junction = match (junction, path.map(|decimal| to_f64(&decimal))) {
            (Some(junction), _) => junction,
            (None, Some(path)) => RATED_AT + rated * positive("The thermal resistance", path)?,
            (None, None) => return Ok(None),
        };
        let left = derated(rated, junction, case)?;
        Ok(Number::from_f64(left, 3).map(|number| number.decimal().clone()))
    }
}

impl Rating {
    /// Every rating, in the order in which a page shows them.
    pub const ALL: &[Rating] = &[
        Rating::Breakdown,
        Rating::Current,
        Rating::Dissipation,
        Rating::Gain,
        Rating::Transition,
    ];

    pub(super) const fn unit(self) -> Unit {
        match self {
            Rating::Breakdown => Unit::VoltDc,
            Rating::Current => Unit::Ampere,
            Rating::Dissipation => Unit::Watt,
            Rating::Gain => Unit::Ratio,
            Rating::Transition => Unit::Hertz,
        }
    }
}

impl Standing {
    /// The standing in words, such as `weaker by 5 V (14 %)`.
    pub fn words(&self, sign: DecimalSign) -> String {
        match self {
            Standing::Better => "better".to_owned(),
            Standing::Equal => "equal".to_owned(),
            Standing::Weaker { short, percent } => {
                let short = match short.unit() {
                    Unit::Ratio => short.number.typeset(sign),
                    _ => short.typeset(sign),
                };
                let percent = percent.ceil();
                format!("weaker by {short} ({percent}\u{a0}%)")
            }
            Standing::Missing { of } => format!("not stated for “{of}”"),
        }
    }
}

impl fmt::Display for Rating {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Rating::Breakdown => "breakdown voltage",
            Rating::Current => "current",
            Rating::Dissipation => "dissipation",
            Rating::Gain => "gain",
            Rating::Transition => "transition frequency",
        })
    }
}
