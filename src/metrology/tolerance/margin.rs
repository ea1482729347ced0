//! How far from its nominal value a reading may lie.

use crate::metrology::tolerance::fault::ToleranceFault;
use crate::quantity::decibel::rounded;
use crate::quantity::{DecimalSign, Family, Number, Quantity, Unit, to_f64};
use bigdecimal::BigDecimal;
use num_traits::{Signed, Zero};
use serde::{Deserialize, Serialize};

/// How far a reading may be from the nominal value, to one side.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Margin {
    /// An amount in the unit of a difference: Hz for Hz, dB for dBm. Decibels go with powers,
    /// voltages and currents as well.
    Absolute(Quantity),
    /// Percent of the nominal value.
    Percent(Number),
    /// Parts per million of the nominal value.
    Ppm(Number),
}

/// One of the two limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The lower limit.
    Lower,
    /// The upper limit.
    Upper,
}

impl Margin {
    /// The limit that it makes to one side of a nominal value, in the unit without prefix: exact,
    /// but for decibels of a linear value, which leave no figure with an end.
    ///
    /// nominal · 10^(±dB/10) for powers, 10^(±dB/20) for voltages. Source: definition of the
    /// decibel.
    pub(super) fn limit(&self, nominal: &Quantity, side: Side) -> BigDecimal {
        let centre = nominal.base();
        let towards = |size: BigDecimal| match side {
            Side::Lower => -size,
            Side::Upper => size,
        };
        if let Some(decibels) = self.decibels_of(nominal.unit()) {
            let factor = nominal.unit().factor_of(&towards(decibels.base()));
            return rounded(&centre * factor.unwrap_or(BigDecimal::from(1)));
        }
        let amount = match (self, self.share()) {
            (Margin::Absolute(quantity), _) => quantity.base(),
            (_, share) => centre.abs() * share.unwrap_or_default(),
        };
        centre + towards(amount)
    }

    /// The decibels that it is, where the nominal value itself is in none.
    pub(super) fn decibels_of(&self, unit: Unit) -> Option<&Quantity> {
        match self {
            Margin::Absolute(quantity) if quantity.unit() == Unit::Decibel => {
                unit.decibels_of_ten().map(|_| quantity)
            }
            _ => None,
        }
    }

    /// Why the margin does not go with a nominal value, if it doesn't.
    pub(super) fn fault(&self, nominal: &Quantity) -> Option<ToleranceFault> {
        match self {
            Margin::Absolute(quantity) => {
                let (has, due) = (quantity.unit(), nominal.unit().of_difference());
                let in_decibels = self.decibels_of(nominal.unit()).is_some();
                if has != due && !in_decibels {
                    return Some(ToleranceFault::Unit { has, due });
                }
                if quantity.number.is_negative() {
                    return Some(ToleranceFault::NegativeMargin);
                }
                let is_above_zero = nominal.number.decimal().is_positive();
                (in_decibels && !is_above_zero).then_some(ToleranceFault::DecibelsOfNothing { due })
            }
            Margin::Percent(number) | Margin::Ppm(number) => {
                if number.is_negative() {
                    return Some(ToleranceFault::NegativeMargin);
                }
                self.share_fault(nominal)
            }
        }
    }

    /// A level has no shares, for its zero is anywhere, and zero has none either.
    fn share_fault(&self, nominal: &Quantity) -> Option<ToleranceFault> {
        let unit = nominal.unit();
        if unit.family() == Family::Level {
            let margin = self.clone();
            return Some(ToleranceFault::ShareOfLevel { margin, unit });
        }
        let due = unit.of_difference();
        let is_zero = nominal.number.decimal().is_zero();
        is_zero.then_some(ToleranceFault::ShareOfZero { due })
    }

    /// What a share of the power or voltage behind a level is in decibels, up and down; `None` for
    /// an amount. All of it is without end below.
    ///
    /// dB = 10·log(1 ± share) for powers, 20·log for voltages. Source: definition of the decibel.
    pub(super) fn in_decibels(&self, per_decade: f64) -> Option<(f64, f64)> {
        let share = to_f64(&self.share()?);
        let decibels = |ratio: f64| per_decade * ratio.max(0.0).log10();
        Some((decibels(1.0 + share), decibels(1.0 - share)))
    }

    /// The share of the nominal value that it is; `None` for an amount.
    fn share(&self) -> Option<BigDecimal> {
        match self {
            Margin::Absolute(_) => None,
            Margin::Percent(percent) => Some(percent.decimal() * power_of_ten(-2)),
            Margin::Ppm(ppm) => Some(ppm.decimal() * power_of_ten(-6)),
        }
    }

    /// Two margins in print, such as `± 20 Hz` or `+ 2 mA − 10 mA`.
    pub fn typeset_pair(below: &Margin, above: &Margin, sign: DecimalSign) -> String {
        match below == above {
            true => format!("±\u{a0}{}", below.typeset(sign)),
            false => format!(
                "+\u{a0}{} \u{2212}\u{a0}{}",
                above.typeset(sign),
                below.typeset(sign)
            ),
        }
    }

    pub(super) fn typeset(&self, sign: DecimalSign) -> String {
        match self {
            Margin::Absolute(quantity) => quantity.typeset(sign),
            Margin::Percent(number) => format!("{}\u{a0}%", number.typeset(sign)),
            Margin::Ppm(number) => format!("{}\u{a0}ppm", number.typeset(sign)),
        }
    }
}

/// A figure with two significant digits and a real minus sign.
pub(super) fn two_digits(value: f64) -> String {
    if value.is_infinite() {
        return "\u{2212}∞".to_owned();
    }
    let decimals = (1.0 - value.abs().log10().floor()).clamp(0.0, 12.0) as usize;
    format!("{value:.decimals$}").replace('-', "\u{2212}")
}

/// The digits shown of a value that only its unrounded form places.
pub(super) const UNROUNDED_DIGITS: u64 = 12;

fn power_of_ten(exponent: i64) -> BigDecimal {
    BigDecimal::new(1.into(), -exponent)
}
