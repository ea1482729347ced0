//! A value as it is stated: rounded to where its uncertainty begins.

use crate::quantity::fault::not_negative;
use crate::quantity::{Fault, Number};
use bigdecimal::{BigDecimal, RoundingMode};

/// A result and its expanded uncertainty as they are stated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stated {
    /// The result, rounded to the place of the uncertainty.
    pub value: Number,
    /// The expanded uncertainty with two significant digits.
    pub expanded: Number,
}

/// Rounds a result and its expanded uncertainty for the page.
///
/// The uncertainty gets two significant digits: it is rounded up, as 10.47 to 11, unless
/// rounding to the nearest takes less than 1 % away, as 28.05 to 28. The result is rounded to the
/// same place. `None` when the uncertainty is zero, which leaves nothing to round to.
/// Source: JCGM 100:2008, 7.2.6.
pub fn stated(value: &BigDecimal, expanded: f64) -> Result<Option<Stated>, Fault> {
    let expanded = not_negative("The expanded uncertainty", expanded)?;
    if expanded == 0.0 {
        return Ok(None);
    }
    let lowered = digits_of(expanded, 0);
    let raised = digits_of(expanded, 1);
    let (lost, added) = (expanded - lowered.to_f64(), raised.to_f64() - expanded);
    let is_lowered = lost < added && lost < 0.01 * expanded;
    let expanded = if is_lowered { lowered } else { raised };
    let place = expanded.decimals();
    let value = value.with_scale_round(place, RoundingMode::HalfEven);
    Ok(Some(Stated {
        value: Number::from_decimal(value),
        expanded,
    }))
}

/// The first two significant digits of a value above zero, with one count added or none.
fn digits_of(value: f64, counts: i64) -> Number {
    // Formatting is exact, so 16 digits never round a 9 up into the next place wrongly.
    let text = format!("{value:.16e}");
    let (digits, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    let leading: i64 = digits.replace('.', "")[..2].parse().unwrap_or(0);
    let exponent: i64 = exponent.parse().unwrap_or(0);
    let (digits, exponent) = match leading + counts {
        100 => (10, exponent + 1),
        digits => (digits, exponent),
    };
    Number::from_decimal(BigDecimal::new(digits.into(), 1 - exponent))
}
