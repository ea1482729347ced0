//! A number in a scale.

use crate::quantity::number::{Number, to_f64};
use crate::quantity::prefix::Prefix;
use crate::quantity::reader::DecimalSign;
use crate::quantity::scale::{FormatError, Scale};
use crate::quantity::text::excerpt;
use crate::quantity::unit::Unit;
use bigdecimal::BigDecimal;
use std::fmt;
use std::str::FromStr;

/// A measured or stated value: the number as typed, and the scale it was typed in.
///
/// Two quantities are equal only when they promise the same: `10.6920 MHz` differs from
/// `10.692 MHz` and from `10692 kHz`. Compare [`Quantity::base`] to compare sizes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// The number as typed, trailing zeros included.
    pub number: Number,
    /// What the number counts.
    pub scale: Scale,
}

impl Quantity {
    /// A quantity from its two parts.
    pub fn new(number: Number, scale: Scale) -> Self {
        Quantity { number, scale }
    }

    /// The exact size in the unit without prefix, such as Hz for `9.0015 MHz`.
    pub fn base(&self) -> BigDecimal {
        self.scale.prefix.apply(self.number.decimal())
    }

    /// The size in the unit without prefix, for transcendental formulas only.
    pub fn base_f64(&self) -> f64 {
        to_f64(&self.base())
    }

    /// What one count of the last digit is worth, in the unit without prefix.
    pub fn resolution(&self) -> BigDecimal {
        self.scale.prefix.apply(&self.number.last_place())
    }

    /// The unit without its prefix.
    pub fn unit(&self) -> Unit {
        self.scale.unit
    }

    /// An exact size given in the unit without prefix, shown with the prefix that keeps
    /// the figures before the point between 1 and 999 where the unit has such a prefix.
    pub fn natural(base: BigDecimal, unit: Unit) -> Self {
        let prefix = Prefix::natural(&base, unit);
        let number = Number::from_decimal(prefix.remove(&base).normalized());
        Quantity::new(number.without_exponent(), Scale::new(prefix, unit))
    }

    /// An exact size given in the unit without prefix, in the scale asked for where that suits it,
    /// else with its natural prefix.
    pub fn handy(base: BigDecimal, scale: Scale) -> Self {
        match scale.suits(&base) {
            true => Quantity::in_scale(base, scale),
            false => Quantity::natural(base, scale.unit),
        }
    }

    /// The same with all digits that it has, for a nought at the end of an uncertainty counts.
    pub fn stated(base: BigDecimal, scale: Scale) -> Self {
        let scale = Quantity::handy(base.clone(), scale).scale;
        Quantity::worked_out(base, scale)
    }

    /// An exact size given in the unit without prefix, in the scale asked for and with the digits
    /// that it has: those of the finest figure that it was worked out from.
    pub fn worked_out(base: BigDecimal, scale: Scale) -> Self {
        let number = Number::from_decimal(scale.prefix.remove(&base));
        Quantity::new(number.without_exponent(), scale)
    }

    /// An exact size given in the unit without prefix, shown in the scale asked for.
    pub fn in_scale(base: BigDecimal, scale: Scale) -> Self {
        let number = Number::from_decimal(scale.prefix.remove(&base).normalized());
        Quantity::new(number.without_exponent(), scale)
    }

    /// The same, with as many digits as the finer of this and another quantity has.
    pub fn as_fine_as(self, other: &Quantity) -> Self {
        let finer = other.resolution() < self.resolution();
        let scale = self.scale;
        match finer {
            true => {
                let places = scale.prefix.remove(&other.resolution());
                let places = places.fractional_digit_count();
                let decimal = self.number.decimal().with_scale(places);
                Quantity::new(Number::from_decimal(decimal), scale)
            }
            false => self,
        }
    }

    /// The quantity as a page shows it: a real minus sign, the user's decimal sign and
    /// spaces that do not break before the unit and in it.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        let number = self.number.typeset(sign);
        let symbol = self.scale.symbol().replace(' ', "\u{a0}");
        format!("{number}\u{a0}{symbol}")
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number, self.scale)
    }
}

impl FromStr for Quantity {
    type Err = FormatError;

    /// Reads the form that documents use: what [`Quantity`] displays, and nothing else.
    fn from_str(text: &str) -> Result<Self, FormatError> {
        let (number, unit) = text
            .split_once(' ')
            .ok_or_else(|| FormatError::NoUnit(excerpt(text)))?;
        let number = number.parse().map_err(FormatError::Number)?;
        Ok(Quantity::new(number, unit.parse()?))
    }
}
