//! Where a reading may lie, and where it lies. All comparisons are exact.

mod fault;
mod margin;
mod verdict;

pub use self::fault::ToleranceFault;
pub use self::margin::{Margin, Side};
pub use self::verdict::{Limits, Place, Verdict};

use crate::metrology::tolerance::margin::UNROUNDED_DIGITS;
use crate::quantity::{DecimalSign, Number, Prefix, Quantity, Scale, Unit};
use bigdecimal::{BigDecimal, RoundingMode};
use num_traits::Signed;
use serde::{Deserialize, Serialize};

/// Where a reading must lie. A reading exactly on a limit is inside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Tolerance {
    /// A nominal value with a margin to either side.
    Around {
        /// The value aimed at.
        nominal: Quantity,
        /// The margin below it.
        below: Margin,
        /// The margin above it.
        above: Margin,
    },
    /// This much or more.
    AtLeast(Quantity),
    /// This much or less.
    AtMost(Quantity),
    /// From one value to another, without a nominal value.
    Between {
        /// The lower limit.
        low: Quantity,
        /// The upper limit.
        high: Quantity,
    },
}

/// The digits shown at least of how far a limit in decibels is.
const SHOWN_DIGITS: u64 = 2;

/// A size without end, to the last place of a reading, or further where little would be left of it.
fn as_fine(size: &BigDecimal, reading: &Quantity) -> BigDecimal {
    let places = reading.resolution().normalized().fractional_digit_count();
    let least = size.with_prec(SHOWN_DIGITS).normalized();
    let places = places.max(least.fractional_digit_count());
    size.with_scale_round(places, RoundingMode::HalfEven)
        .normalized()
}

impl Tolerance {
    /// The same where the size counts: what must be at most so many volts or amperes must be that
    /// with the leads the other way round too, as a charged capacitor has to be read.
    pub fn in_size(self) -> Self {
        let is_signed = |unit| matches!(unit, Unit::VoltDc | Unit::Ampere);
        match self {
            Tolerance::AtMost(high) if is_signed(high.unit()) && high.base().is_positive() => {
                let low = Number::from_decimal(-high.number.decimal().clone());
                Tolerance::Between {
                    low: Quantity::new(low, high.scale),
                    high,
                }
            }
            other => other,
        }
    }

    /// The same margin to both sides.
    pub fn plus_minus(nominal: Quantity, margin: Margin) -> Self {
        Tolerance::Around {
            nominal,
            below: margin.clone(),
            above: margin,
        }
    }

    /// The value aimed at, where there is one.
    pub fn nominal(&self) -> Option<&Quantity> {
        match self {
            Tolerance::Around { nominal, .. } => Some(nominal),
            _ => None,
        }
    }

    /// The unit that a reading must be in.
    pub fn unit(&self) -> Unit {
        match self {
            Tolerance::Around { nominal, .. } => nominal.unit(),
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit.unit(),
            Tolerance::Between { low, .. } => low.unit(),
        }
    }

    /// The scale that it is stated in: that of its first figure.
    pub fn scale(&self) -> Scale {
        match self {
            Tolerance::Around { nominal, .. } => nominal.scale,
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit.scale,
            Tolerance::Between { low, .. } => low.scale,
        }
    }

    /// Why this can't judge readings in `due`, if it can't.
    pub fn fault(&self, due: Unit) -> Option<ToleranceFault> {
        let wrong_unit = |quantity: &Quantity| {
            let has = quantity.unit();
            (has != due).then_some(ToleranceFault::Unit { has, due })
        };
        match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => wrong_unit(nominal)
                .or_else(|| below.fault(nominal))
                .or_else(|| above.fault(nominal)),
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => wrong_unit(limit),
            Tolerance::Between { low, high } => wrong_unit(low)
                .or_else(|| wrong_unit(high))
                .or_else(|| (low.base() > high.base()).then_some(ToleranceFault::Crossed)),
        }
    }

    /// The limits, exact but for those in decibels of a linear value.
    pub fn limits(&self) -> Limits {
        let (low, high) = match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let low = below.limit(nominal, Side::Lower);
                let high = above.limit(nominal, Side::Upper);
                (Some(low), Some(high))
            }
            Tolerance::AtLeast(low) => (Some(low.base()), None),
            Tolerance::AtMost(high) => (None, Some(high.base())),
            Tolerance::Between { low, high } => (Some(low.base()), Some(high.base())),
        };
        Limits { low, high }
    }

    /// Judges a reading, which must be in [`Tolerance::unit`].
    pub fn judge(&self, reading: &Quantity) -> Verdict {
        self.judge_unrounded(reading, &reading.base())
    }

    /// Judges a reading by its unrounded value in the unit without prefix. The deviation is that
    /// of the reading as shown, but where rounding has carried it across a limit.
    pub fn judge_unrounded(&self, reading: &Quantity, right: &BigDecimal) -> Verdict {
        let limits = self.limits();
        let place = limits.place(right);
        let value = match limits.place(&reading.base()) == place {
            true => reading.base(),
            false => right.with_prec(UNROUNDED_DIGITS),
        };
        let above_low = limits.low.map(|low| (&value - low).abs());
        let below_high = limits.high.map(|high| (high - &value).abs());
        let (limit, margin) = match (place, above_low, below_high) {
            (Place::Low, Some(margin), _) | (Place::Inside, Some(margin), None) => {
                (Side::Lower, margin)
            }
            (Place::Inside, Some(above), Some(below)) if above <= below => (Side::Lower, above),
            (_, _, Some(margin)) => (Side::Upper, margin),
            // No tolerance is without any limit.
            (_, margin, None) => (Side::Lower, margin.unwrap_or_default()),
        };
        let margin = match self.figures_of_decibels() {
            // The limit has no end, and so has the way to it.
            Some(_) => as_fine(&margin, reading),
            None => margin,
        };
        let deviation = self.nominal().map(|nominal| value - nominal.base());
        let size = deviation.as_ref().map(BigDecimal::abs);
        let scale = self.scale_of(size.unwrap_or_default().max(margin.clone()));
        // Figures that stand beside each other agree in digits: those of the reading, unless more are exact.
        let shown = |size| Quantity::in_scale(size, scale).as_fine_as(reading);
        Verdict {
            place,
            margin: shown(margin),
            limit,
            deviation: deviation.map(shown),
        }
    }

    /// The one scale for all that is said of a reading, the largest of it being so much: that of
    /// the value aimed at, or else of the margins, as suits it.
    fn scale_of(&self, largest: BigDecimal) -> Scale {
        let unit = self.unit().of_difference();
        let own = self.own_prefixes().map(|prefix| Scale::new(prefix, unit));
        let suits = |scale: &Scale| scale.suits(&largest);
        let suitable = own.into_iter().find(suits);
        suitable.unwrap_or_else(|| Quantity::natural(largest, unit).scale)
    }

    fn own_prefixes(&self) -> [Prefix; 2] {
        let prefixes = match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let due = nominal.unit().of_difference();
                let amount = |margin: &'_ Margin| match margin {
                    Margin::Absolute(amount) if amount.unit() == due => Some(amount.clone()),
                    _ => None,
                };
                let margin = amount(above).or_else(|| amount(below));
                let nominal = nominal.scale.prefix;
                return [
                    nominal,
                    margin.map_or(nominal, |margin| margin.scale.prefix),
                ];
            }
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => [limit, limit],
            Tolerance::Between { low, high } => [low, high],
        };
        prefixes.map(|stated| stated.scale.prefix)
    }

    /// The limits that a tolerance in decibels makes of a linear value, for the eye: rounded inwards
    /// two places behind those of the nominal value.
    pub fn figures_of_decibels(&self) -> Option<(Quantity, Quantity)> {
        let Tolerance::Around {
            nominal,
            below,
            above,
        } = self
        else {
            return None;
        };
        let unit = nominal.unit();
        below.decibels_of(unit).or(above.decibels_of(unit))?;
        let places = nominal.number.decimals().max(0) + 2;
        let shown = |limit: BigDecimal, mode| {
            let figure = nominal.scale.prefix.remove(&limit);
            let figure = Number::from_decimal(figure.with_scale_round(places, mode));
            Quantity::new(figure, nominal.scale)
        };
        let limits = self.limits();
        Some((
            shown(limits.low?, RoundingMode::Ceiling),
            shown(limits.high?, RoundingMode::Floor),
        ))
    }

    /// The tolerance in print, such as `9.0015 MHz ± 20 Hz`; one in decibels of a linear value with
    /// what it makes of it, such as `20 W ± 1 dB (15.89 W to 25.17 W)`.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let margins = Margin::typeset_pair(below, above, sign);
                let stated = format!("{} {margins}", nominal.typeset(sign));
                match self.figures_of_decibels() {
                    Some((low, high)) => {
                        format!("{stated} ({} to {})", low.typeset(sign), high.typeset(sign))
                    }
                    None => stated,
                }
            }
            Tolerance::AtLeast(low) => format!("at least {}", low.typeset(sign)),
            Tolerance::AtMost(high) => format!("at most {}", high.typeset(sign)),
            Tolerance::Between { low, high } => {
                format!("{} to {}", low.typeset(sign), high.typeset(sign))
            }
        }
    }
}

#[cfg(test)]
mod tests;
