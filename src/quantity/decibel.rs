//! Powers and logarithms of ten in decimals: what decibels make of a figure is the same on every
//! device, and the same by whichever way it is reached.

use super::{Unit, to_f64};
use bigdecimal::{BigDecimal, Context, RoundingMode};
use num_traits::{One, Signed, Zero};
use std::num::NonZeroU64;

/// The digits of a figure that has no end: more than any instrument shows, and few enough that
/// ways which come to the same figure agree in all of them.
pub const DIGITS: u64 = 12;

/// The digits while it is worked out.
const WORKING: NonZeroU64 = NonZeroU64::new(40).expect("it is above zero");

/// The natural logarithm of ten.
const LN_TEN: &str = "2.302585092994045684017991454684364207601101488629";

/// Beyond this many decades a figure is beyond any that is read.
const MOST_DECADES: i64 = 100;

/// Ten to the power of a decimal.
pub fn power_of_ten(exponent: &BigDecimal) -> BigDecimal {
    let most = BigDecimal::from(MOST_DECADES);
    let exponent = exponent.clone().clamp(-most.clone(), most);
    let whole = exponent.with_scale(0);
    let rest = &exponent - &whole;
    let decades = to_f64(&whole) as i64;
    let decade = BigDecimal::new(1.into(), -decades);
    match rest.is_zero() {
        true => decade,
        false => {
            decade
                * (rest * ln_ten()).exp_with_context(&Context::new(WORKING, RoundingMode::HalfEven))
        }
    }
}

/// The logarithm to the base of ten of a decimal above zero; `None` of any other.
pub fn log_of_ten(value: &BigDecimal) -> Option<BigDecimal> {
    if !value.is_positive() {
        return None;
    }
    // One step of Newton's method doubles the digits of the float, twice.
    let mut log: BigDecimal = format!("{:.16}", to_f64(value).log10()).parse().ok()?;
    for _ in 0..2 {
        let off = value / power_of_ten(&log) - BigDecimal::one();
        log = (log + off / ln_ten()).with_prec(WORKING.get());
    }
    Some(log)
}

fn ln_ten() -> BigDecimal {
    LN_TEN.parse().unwrap_or_default()
}

/// A figure that may have no end with the digits that count; one that has fewer stays as it is.
pub fn rounded(value: BigDecimal) -> BigDecimal {
    match value.digits() > DIGITS {
        true => value.with_prec(DIGITS).normalized(),
        false => value,
    }
}

impl Unit {
    /// The decibels of a tenfold figure: ten of a power, twenty of a voltage or a current; `None`
    /// where decibels say nothing of it.
    ///
    /// Source (from memory): IEC 60027-3, logarithmic quantities.
    pub const fn decibels_of_ten(self) -> Option<u32> {
        match self {
            Unit::Watt | Unit::WattPep => Some(10),
            Unit::VoltDc
            | Unit::VoltRms
            | Unit::VoltPeak
            | Unit::VoltPeakToPeak
            | Unit::VoltEmf
            | Unit::VoltPd
            | Unit::Ampere => Some(20),
            _ => None,
        }
    }

    /// What so many decibels multiply a figure in this unit by; `None` where they say nothing.
    pub fn factor_of(self, decibels: &BigDecimal) -> Option<BigDecimal> {
        let of_ten = self.decibels_of_ten()?;
        Some(power_of_ten(&(decibels / BigDecimal::from(of_ten))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> BigDecimal {
        text.parse().expect("it is a decimal")
    }

    // Check: powers and logarithms of ten to 28 digits: √10, log₁₀ 2
    // Source: tables of constants
    // Known by: memory
    #[test]
    fn powers_and_logarithms_of_ten_are_right_to_all_digits_that_count() {
        for (exponent, power) in [
            ("0", "1"),
            ("4", "10000"),
            ("-3", "0.001"),
            ("0.5", "3.16227766016837933199889354443"),
            ("-0.5", "0.316227766016837933199889354443"),
            ("0.30102999566398119521373889472449302676", "2"),
        ] {
            let worked_out = power_of_ten(&d(exponent)).with_prec(30);
            assert_eq!(worked_out, d(power).with_prec(30), "10^{exponent}");
            let back = log_of_ten(&d(power)).expect("it is above zero");
            assert!((back - d(exponent)).abs() < d("1e-28"), "log {power}");
        }
        assert_eq!(log_of_ten(&d("0")), None);
        assert_eq!(log_of_ten(&d("-1")), None);
    }

    #[test]
    fn two_ways_to_one_figure_agree_in_all_digits() {
        let by_tolerance = rounded(d("0.1") * power_of_ten(&d("-0.1")));
        let by_level = rounded(power_of_ten(&d("1.9")) * d("0.001"));
        assert_eq!(by_tolerance, by_level);
    }

    #[test]
    fn no_number_of_decibels_is_too_many() {
        for decibels in ["999999999999999999", "-999999999999999999"] {
            assert!(Unit::Watt.factor_of(&d(decibels)).is_some());
        }
    }
}
