//! How an indication is put right by what a certificate says.

use crate::quantity::{DecimalSign, Number, Quantity, Unit};
use bigdecimal::{BigDecimal, RoundingMode};
use num_traits::Zero;
use serde::{Deserialize, Serialize};

/// What is known to be off, and by how much.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Correction {
    /// A counter's time base, from its reading of a reference.
    TimeBase {
        /// The known frequency.
        reference: Quantity,
        /// What the counter showed for it.
        reading: Quantity,
    },
    /// An amount to add to each reading in its unit.
    Offset(Quantity),
}

impl Correction {
    /// The time-base error in ppm: (reading − reference)/reference·10⁶, positive if the counter
    /// reads high; `None` for another kind of correction or a reference of zero.
    ///
    /// Source: NCVEC question pool E4B03, error in Hz = frequency · ppm.
    pub fn ppm(&self) -> Option<BigDecimal> {
        match self {
            Correction::TimeBase { reference, reading } if !reference.base().is_zero() => {
                let reference = reference.base();
                let off = reading.base() - &reference;
                Some(off * BigDecimal::from(1_000_000) / reference)
            }
            _ => None,
        }
    }

    /// What it corrects a reading in a unit by, in words; nothing where it leaves it alone.
    pub(super) fn words(&self, unit: Unit, sign: DecimalSign) -> Option<String> {
        let with_plus = |number: Number| match number.is_negative() {
            true => number.typeset(sign),
            false => format!("+{}", number.typeset(sign)),
        };
        match self {
            Correction::TimeBase { .. } if unit == Unit::Hertz => {
                let ppm = self.ppm()?.with_scale_round(2, RoundingMode::HalfEven);
                let ppm = with_plus(Number::from_decimal(ppm));
                Some(format!("time base {ppm}\u{a0}ppm"))
            }
            Correction::Offset(amount) if amount.unit() == unit.of_difference() => {
                let number = with_plus(amount.number.clone());
                Some(format!("offset {number}\u{a0}{}", amount.scale.symbol()))
            }
            _ => None,
        }
    }

    /// A reading, in the unit without prefix, put right.
    ///
    /// Time base: reading · reference / what was shown for it. Offset: reading + amount.
    pub(super) fn put_right(&self, value: BigDecimal, unit: Unit) -> BigDecimal {
        match self {
            Correction::TimeBase { reference, reading }
                if unit == Unit::Hertz && !reading.base().is_zero() =>
            {
                value * reference.base() / reading.base()
            }
            Correction::Offset(amount) if amount.unit() == unit.of_difference() => {
                value + amount.base()
            }
            _ => value,
        }
    }
}

/// The number of decimals at which the first digit of a correction is seen; none for zero.
pub(super) fn decimals_to_see(off: &BigDecimal, raw: &Quantity) -> i64 {
    let half_count = raw.number.last_place().half();
    if off.is_zero() || *off >= half_count {
        return 0;
    }
    let (digits, scale) = off.normalized().as_bigint_and_exponent();
    scale - (digits.to_string().len() as i64 - 1)
}
