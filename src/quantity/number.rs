//! An exact decimal that remembers how it was typed.

use super::{DecimalSign, excerpt};
use bigdecimal::BigDecimal;
use num_traits::Zero;
use std::fmt;
use std::str::FromStr;

/// The most digits a typed number may have; no bench instrument shows more.
pub const MAX_DIGITS: usize = 18;

/// An exact decimal number with the resolution it was typed with: `10.6920` keeps its last zero.
#[derive(Clone, Debug)]
pub struct Number(BigDecimal);

/// Why a text is not a number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NumberError {
    /// Something other than digits, one point and a leading minus.
    Unreadable(String),
    /// More digits than any instrument shows.
    TooLong(usize),
}

impl fmt::Display for NumberError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NumberError::Unreadable(text) => write!(
                f,
                "“{text}” is not a number: type digits with at most one decimal sign, as in 16.4925"
            ),
            NumberError::TooLong(digits) => write!(
                f,
                "The number has {digits} digits; type at most {MAX_DIGITS}, as many as the instrument shows"
            ),
        }
    }
}

impl std::error::Error for NumberError {}

impl Number {
    /// A number from an exact decimal that a calculation gave.
    pub fn from_decimal(decimal: BigDecimal) -> Self {
        Number(decimal)
    }

    /// A number from a floating-point result, rounded to `decimals` places.
    ///
    /// `None` when the result is not finite.
    pub fn from_f64(value: f64, decimals: u8) -> Option<Self> {
        if !value.is_finite() {
            return None;
        }
        let text = format!("{value:.*}", usize::from(decimals));
        BigDecimal::from_str(&text).ok().map(Number)
    }

    /// The exact value.
    pub fn decimal(&self) -> &BigDecimal {
        &self.0
    }

    /// The nearest floating-point number, for transcendental formulas only.
    pub fn to_f64(&self) -> f64 {
        to_f64(&self.0)
    }

    /// How many digits stand after the decimal sign.
    pub fn decimals(&self) -> i64 {
        self.0.fractional_digit_count()
    }

    /// What one count of the last digit is worth: 0.0001 for `16.4925`.
    pub fn last_place(&self) -> BigDecimal {
        BigDecimal::new(1.into(), self.decimals())
    }

    /// Whether the number is below zero.
    pub fn is_negative(&self) -> bool {
        self.0 < BigDecimal::zero()
    }

    /// The same value written without an exponent, so that `2E+3` becomes `2000`.
    pub(crate) fn without_exponent(self) -> Self {
        if self.decimals() < 0 {
            return Number(self.0.with_scale(0));
        }
        self
    }

    /// The number as a page shows it, with a real minus sign and the user's decimal sign.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        self.to_string()
            .replace('-', "\u{2212}")
            .replace('.', sign.symbol())
    }
}

/// The floating-point number nearest to an exact decimal, for transcendental formulas only.
pub fn to_f64(decimal: &BigDecimal) -> f64 {
    // Through text, since the standard parser rounds correctly.
    decimal.to_plain_string().parse().unwrap_or(f64::NAN)
}

impl PartialEq for Number {
    /// Equal in value and in resolution.
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0 && self.decimals() == other.decimals()
    }
}

impl Eq for Number {}

impl From<i32> for Number {
    fn from(value: i32) -> Self {
        Number(value.into())
    }
}

impl fmt::Display for Number {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.to_plain_string())
    }
}

impl FromStr for Number {
    type Err = NumberError;

    /// Reads a plain decimal: an optional minus, digits, and a point with digits behind it.
    fn from_str(text: &str) -> Result<Self, NumberError> {
        let digits = text.strip_prefix('-').unwrap_or(text);
        let (whole, fraction) = match digits.split_once('.') {
            Some((whole, fraction)) if !fraction.is_empty() => (whole, fraction),
            Some(_) => return Err(NumberError::Unreadable(excerpt(text))),
            None => (digits, ""),
        };
        let all_digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || !all_digits(whole) || !all_digits(fraction) {
            return Err(NumberError::Unreadable(excerpt(text)));
        }
        let count = whole.len() + fraction.len();
        if count > MAX_DIGITS {
            return Err(NumberError::TooLong(count));
        }
        // No number of so few digits is too large for this.
        let digit = |sum: i64, digit: u8| sum * 10 + i64::from(digit - b'0');
        let value = whole.bytes().chain(fraction.bytes()).fold(0, digit);
        let value = if digits == text { value } else { -value };
        Ok(Number(BigDecimal::new(value.into(), fraction.len() as i64)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_prints_as_it_was_read() {
        for text in ["0", "-0.50", "16.4925", "10.6920", "0.000000001", "007.5"] {
            let number: Number = text.parse().unwrap();
            let expected = if text == "007.5" { "7.5" } else { text };
            assert_eq!(number.to_string(), expected);
        }
    }

    #[test]
    fn what_is_not_a_plain_number_is_refused() {
        for text in [
            "", "-", ".", ".5", "5.", "1e6", "1..2", "--1", "+1", "1_000", "٣", "NaN",
        ] {
            assert!(text.parse::<Number>().is_err(), "{text}");
        }
    }

    #[test]
    fn forty_digits_are_refused_with_their_count() {
        let text = "1".repeat(40);
        assert_eq!(text.parse::<Number>(), Err(NumberError::TooLong(40)));
    }
}
