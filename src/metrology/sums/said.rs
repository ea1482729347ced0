//! How results are stated.

use crate::metrology::uncertainty::{Budget, Stated};
use crate::quantity::sum::Picture;
use crate::quantity::{Number, Phrase, Scale};

/// A result with its uncertainty, both in the scale of the reading.
pub(super) fn result(stated: Stated, scale: Scale) -> Phrase {
    let difference = Scale::new(scale.prefix, scale.unit.of_difference());
    let (value, expanded) = (scale.symbol(), difference.symbol());
    let in_scale = |number: Number| {
        Number::from_decimal(scale.prefix.remove(number.decimal())).without_exponent()
    };
    Phrase::new(
        format!("{{}}\u{a0}{value} ± {{}}\u{a0}{expanded}"),
        [in_scale(stated.value), in_scale(stated.expanded)],
    )
}

pub(super) fn picture(budget: &Budget) -> Picture {
    let shares = budget.lines.iter();
    Picture::ErrorBudget(
        shares
            .map(|line| (line.contribution.name.clone(), line.share))
            .collect(),
    )
}

pub(super) fn whole(freedom: f64) -> String {
    match freedom.is_finite() {
        true => format!("{:.0}", freedom.floor()),
        false => "∞".to_owned(),
    }
}

/// More decimals than any mean of readings has that is worth its digits.
pub(super) const MEAN_DECIMALS: u8 = 15;
