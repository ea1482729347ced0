//! SI prefixes.

use super::Unit;
use bigdecimal::BigDecimal;
use num_traits::{One, Zero};

/// An SI prefix (BIPM SI Brochure, 9th edition, table 7), as far as a bench needs them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Prefix {
    /// 10⁻¹²
    Pico,
    /// 10⁻⁹
    Nano,
    /// 10⁻⁶
    Micro,
    /// 10⁻³
    Milli,
    /// 1
    None,
    /// 10³
    Kilo,
    /// 10⁶
    Mega,
    /// 10⁹
    Giga,
}

impl Prefix {
    /// The power of ten.
    pub const fn exponent(self) -> i64 {
        match self {
            Prefix::Pico => -12,
            Prefix::Nano => -9,
            Prefix::Micro => -6,
            Prefix::Milli => -3,
            Prefix::None => 0,
            Prefix::Kilo => 3,
            Prefix::Mega => 6,
            Prefix::Giga => 9,
        }
    }

    /// The symbol in front of a unit; empty for none.
    pub const fn symbol(self) -> &'static str {
        match self {
            Prefix::Pico => "p",
            Prefix::Nano => "n",
            Prefix::Micro => "µ",
            Prefix::Milli => "m",
            Prefix::None => "",
            Prefix::Kilo => "k",
            Prefix::Mega => "M",
            Prefix::Giga => "G",
        }
    }

    /// The name in front of a unit's name; empty for none.
    pub const fn name(self) -> &'static str {
        match self {
            Prefix::Pico => "pico",
            Prefix::Nano => "nano",
            Prefix::Micro => "micro",
            Prefix::Milli => "milli",
            Prefix::None => "",
            Prefix::Kilo => "kilo",
            Prefix::Mega => "mega",
            Prefix::Giga => "giga",
        }
    }

    /// A number in prefixed units, exactly, in units without prefix.
    pub fn apply(self, number: &BigDecimal) -> BigDecimal {
        shift(number, self.exponent())
    }

    /// A number in units without prefix, exactly, in prefixed units.
    pub fn remove(self, number: &BigDecimal) -> BigDecimal {
        shift(number, -self.exponent())
    }

    /// The prefix that leaves 1 to 999 before the point, from those used with the unit.
    pub fn natural(base: &BigDecimal, unit: Unit) -> Prefix {
        let size = base.abs();
        if size.is_zero() {
            return Prefix::None;
        }
        let fits = |p: &&Prefix| p.remove(&size) >= BigDecimal::one();
        let usable = unit.prefixes();
        usable
            .iter()
            .rev()
            .find(fits)
            .or(usable.first())
            .copied()
            .unwrap_or(Prefix::None)
    }
}

/// `number` times a power of ten, by moving the point only.
fn shift(number: &BigDecimal, exponent: i64) -> BigDecimal {
    let (digits, scale) = number.as_bigint_and_exponent();
    BigDecimal::new(digits, scale - exponent)
}
