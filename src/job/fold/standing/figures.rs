//! How a figure that is worked out is given.

use crate::job::{Read, StepProgress};
use crate::metrology::uncertainty::stated;
use crate::procedure::Step;
use crate::quantity::sum::Output;
use crate::quantity::{Number, Quantity, Scale, Unit, to_f64};

/// What one count of the display is worth.
pub(in crate::job) fn resolution(standing: &StepProgress) -> f64 {
    let last = standing.readings.last();
    last.map_or(0.0, |taken| to_f64(&Read::of(taken).place()))
}

/// A worked-out size in the unit of a step's differences, with so many significant digits.
pub(in crate::job) fn rounded(value: f64, step: &Step, digits: usize) -> Option<Quantity> {
    let unit = step.work.gauge()?.scale.unit.of_difference();
    Output::amount("", value, unit).quantity(digits)
}

/// A worked-out size and its expanded uncertainty, rounded as results are: the uncertainty to two
/// digits, the size to the same place.
pub(in crate::job) fn stated_in(
    unit: Unit,
    value: f64,
    expanded: f64,
) -> Option<(Quantity, Quantity)> {
    /// More decimals than any size has that is worth its digits.
    const DECIMALS: u8 = 15;
    let in_unit = |number: &Number| {
        let base = number.decimal().clone();
        let scale = Quantity::natural(base.clone(), unit).scale;
        Quantity::worked_out(base, scale)
    };
    let rounded = |value| Output::amount("", value, unit).quantity(2);
    let size = Number::from_f64(value, DECIMALS)?;
    Some(match stated(size.decimal(), expanded).ok()? {
        Some(stated) => (in_unit(&stated.value), in_unit(&stated.expanded)),
        None => (rounded(value)?, rounded(expanded)?),
    })
}

/// A worked-out reading in the step's scale, with the decimals of the readings.
pub(in crate::job) fn in_scale(
    value: f64,
    scale: Scale,
    decimals: Option<i64>,
) -> Option<Quantity> {
    let shown = value / 10f64.powi(i32::try_from(scale.prefix.exponent()).ok()?);
    let decimals = u8::try_from(decimals.unwrap_or(3)).ok()?;
    Number::from_f64(shown, decimals).map(|number| Quantity::new(number, scale))
}
