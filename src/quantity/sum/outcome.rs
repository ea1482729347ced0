//! What comes out of a calculation, and how many digits of it are shown.

use crate::quantity::{DecimalSign, Family, Number, Phrase, Prefix, Quantity, Scale, Unit};
use bigdecimal::BigDecimal;
use num_traits::Zero;
use std::str::FromStr;

/// What a formula gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The results, the main one first.
    pub outputs: Vec<Output>,
    /// What a person would rather look at.
    pub picture: Option<Picture>,
}

impl Outcome {
    /// Results without a picture.
    pub fn new(outputs: impl Into<Vec<Output>>) -> Self {
        Outcome {
            outputs: outputs.into(),
            picture: None,
        }
    }

    /// The same with a picture.
    pub fn with(self, picture: Picture) -> Self {
        Outcome {
            picture: Some(picture),
            ..self
        }
    }
}

/// One result.
#[derive(Clone, Debug, PartialEq)]
pub struct Output {
    /// Its label.
    pub label: &'static str,
    /// Its value.
    pub value: Value,
    /// More digits than these would promise too much, whatever the inputs support.
    most: Option<usize>,
}

/// The value of a result.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A size in a unit without prefix.
    Amount(f64, Unit),
    /// A number without a unit.
    Plain(f64),
    /// A quantity that is exact already.
    Exact(Quantity),
    /// Words.
    Words(String),
    /// Words with numbers in them.
    Phrase(Phrase),
}

impl Output {
    /// A size in a unit.
    pub fn amount(label: &'static str, value: f64, unit: Unit) -> Self {
        Output {
            label,
            value: Value::Amount(value, unit),
            most: None,
        }
    }

    /// A number without a unit.
    pub fn plain(label: &'static str, value: f64) -> Self {
        Output {
            label,
            value: Value::Plain(value),
            most: None,
        }
    }

    /// A share of 1, in percent.
    pub fn percent(label: &'static str, share: f64) -> Self {
        Output::amount(label, share * 100.0, Unit::Percent)
    }

    /// An exact quantity.
    pub fn exact(label: &'static str, quantity: Quantity) -> Self {
        Output {
            label,
            value: Value::Exact(quantity),
            most: None,
        }
    }

    /// Words.
    pub fn words(label: &'static str, words: impl Into<String>) -> Self {
        Output {
            label,
            value: Value::Words(words.into()),
            most: None,
        }
    }

    /// Words with numbers in them.
    pub fn phrase(label: &'static str, phrase: Phrase) -> Self {
        Output {
            label,
            value: Value::Phrase(phrase),
            most: None,
        }
    }

    /// The same, with so many significant digits at most.
    pub fn at_most(self, digits: usize) -> Self {
        Output {
            most: Some(digits),
            ..self
        }
    }

    /// The result as a reading, rounded to so many digits; `None` for words and bare numbers.
    pub fn quantity(&self, digits: usize) -> Option<Quantity> {
        match &self.value {
            Value::Amount(value, unit) => rounded(*value, *unit, self.digits(digits)),
            Value::Exact(quantity) => Some(quantity.clone()),
            Value::Plain(_) | Value::Words(_) | Value::Phrase(_) => None,
        }
    }

    pub(super) fn digits(&self, supported: usize) -> usize {
        self.most.map_or(supported, |most| most.min(supported))
    }

    /// The result as a page shows it.
    pub fn typeset(&self, digits: usize, sign: DecimalSign) -> String {
        match &self.value {
            Value::Words(words) => words.clone(),
            Value::Phrase(phrase) => phrase.typeset(sign),
            Value::Plain(value) => match significant(*value, self.digits(digits)) {
                Some(decimal) => plain_number(decimal).typeset(sign),
                None => "∞".to_owned(),
            },
            Value::Amount(..) | Value::Exact(_) => match self.quantity(digits) {
                Some(quantity) => quantity.typeset(sign),
                None => "∞".to_owned(),
            },
        }
    }
}

/// A size rounded to significant digits, in the scale that a person would say; on a logarithmic
/// scale with one decimal fewer than the digits.
fn rounded(value: f64, unit: Unit, digits: usize) -> Option<Quantity> {
    if unit.family() == Family::Level {
        let decimals = u8::try_from(digits.saturating_sub(1)).unwrap_or(u8::MAX);
        return Some(Quantity::new(
            Number::from_f64(value, decimals)?,
            Scale::plain(unit),
        ));
    }
    let base = significant(value, digits)?;
    let prefix = Prefix::natural(&base, unit);
    let number = plain_number(prefix.remove(&base));
    Some(Quantity::new(number, Scale::new(prefix, unit)))
}

/// A number rounded to significant digits; `None` when it is not finite.
fn significant(value: f64, digits: usize) -> Option<BigDecimal> {
    if value == 0.0 {
        return Some(BigDecimal::zero());
    }
    let text = format!("{value:.*e}", digits.max(1) - 1);
    BigDecimal::from_str(&text).ok()
}

fn plain_number(decimal: BigDecimal) -> Number {
    Number::from_decimal(decimal).without_exponent()
}

/// What a person would rather look at than a figure. Plain data for the screen to draw.
#[derive(Clone, Debug, PartialEq)]
pub enum Picture {
    /// Levels in dBm along a chain, the source first.
    LevelChain(Vec<f64>),
    /// An amplitude-modulated envelope.
    Envelope {
        /// The depth, 1 for full modulation.
        depth: f64,
    },
    /// Lines of a spectrum, in dB relative to the largest, with their names.
    Spectrum(Vec<(&'static str, f64)>),
    /// Names and shares of an uncertainty budget.
    ErrorBudget(Vec<(String, f64)>),
    /// A line with a wave that comes back in part.
    ReflectionLine {
        /// Magnitude of the reflection coefficient.
        reflection: f64,
    },
    /// A voltage that dies away.
    Discharge {
        /// Volts at the start.
        start: f64,
        /// Volts aimed at.
        safe: f64,
        /// Seconds until then.
        seconds: f64,
    },
    /// A value with its uncertainty between limits.
    Tolerance {
        /// Lower limit.
        low: Option<f64>,
        /// Upper limit.
        high: Option<f64>,
        /// The value.
        value: f64,
        /// Its expanded uncertainty.
        expanded: f64,
        /// Width of the guard band.
        guard: f64,
    },
    /// Temperatures in °C from the junction outward.
    HeatPath(Vec<(&'static str, f64)>),
    /// The bands of a resistor, by the names of their colours.
    Bands(Vec<&'static str>),
}
