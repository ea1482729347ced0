//! How closely an instrument reads in one of its ranges.

use crate::metrology::uncertainty::{Contribution, Evaluation, Shape};
use crate::quantity::{Family, Number, Quantity, to_f64};
use bigdecimal::BigDecimal;
use num_traits::{Signed, Zero};
use serde::{Deserialize, Serialize};

/// Accuracy as makers print it: all parts that are given add up.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Accuracy {
    /// ± % of the reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percent_of_reading: Option<Number>,
    /// ± % of the range.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percent_of_range: Option<Number>,
    /// ± counts of the last digit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counts: Option<u32>,
    /// ± parts per million of the reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ppm: Option<Number>,
    /// ± an amount, such as decibels of a power meter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub absolute: Option<Quantity>,
}

/// One range of an instrument.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Range {
    /// The largest reading, in size; its unit is the range's. Of levels in decibels, one from
    /// zero up is the highest, with any lower one held, and one below zero the lowest.
    pub full_scale: Quantity,
    /// What one count of the last digit is worth.
    pub resolution: Quantity,
    /// The accuracy in this range.
    #[serde(default)]
    pub accuracy: Accuracy,
}

/// A reading as it was typed, with those that repeat it.
#[derive(Clone, Copy, Debug)]
pub struct AsRead<'a> {
    /// The reading.
    pub value: &'a Quantity,
    /// What one count of the last digit typed is worth, in the unit without prefix.
    pub place: &'a BigDecimal,
    /// How it scatters, where that was seen.
    pub scatter: Option<&'a Contribution>,
}

impl Accuracy {
    /// Whether it says anything. Nothing but zeros says nothing, for no instrument is perfect.
    pub fn is_stated(&self) -> bool {
        let says = |n: &Option<Number>| n.as_ref().is_some_and(|n| !n.decimal().is_zero());
        says(&self.percent_of_reading)
            || says(&self.percent_of_range)
            || says(&self.ppm)
            || self.counts.is_some_and(|counts| counts > 0)
            || self
                .absolute
                .as_ref()
                .is_some_and(|q| !q.number.decimal().is_zero())
    }

    /// The limits ±a of error for a reading in a range, exact, in the unit without prefix.
    ///
    /// a = |reading|·(% + ppm) + range·% + counts·resolution + amount.
    /// Source: user's guide of a digital multimeter maker, ± (% of reading + % of range).
    pub fn half_width(&self, reading: &BigDecimal, range: &Range) -> BigDecimal {
        let part = |number: &Option<Number>, of: &BigDecimal, exponent: i64| match number {
            Some(number) => number.decimal().abs() * of.abs() * BigDecimal::new(1.into(), exponent),
            None => BigDecimal::zero(),
        };
        part(&self.percent_of_reading, reading, 2)
            + part(&self.percent_of_range, &range.full_scale.base(), 2)
            + part(&self.ppm, reading, 6)
            + range.resolution.base() * BigDecimal::from(self.counts.unwrap_or(0))
            + self
                .absolute
                .as_ref()
                .map_or_else(BigDecimal::zero, |q| q.base().abs())
    }
}

pub(super) const fn limits(half_width: f64, shape: Shape) -> Evaluation {
    Evaluation::Limits { half_width, shape }
}

impl Range {
    /// Whether a reading in the range's unit lies in it.
    pub(super) fn holds(&self, reading: &Quantity) -> bool {
        let (end, reading) = (self.full_scale.base(), reading.base());
        let is_level = self.full_scale.unit().family() == Family::Level;
        end.abs() >= reading.abs() || (is_level && !end.is_negative() && end >= reading)
    }

    /// What contributes to a reading, its accuracy first.
    pub(super) fn of_reading(&self, read: AsRead) -> Vec<Contribution> {
        let mut contributions = self.contributions(&read.value.base(), read.place);
        contributions.extend(read.scatter.cloned());
        contributions
    }

    /// The limits ±a of an error that two readings in this range share, at one of them.
    pub(super) fn shared_half_width(&self, reading: &Quantity) -> f64 {
        let shared = Accuracy {
            counts: None,
            ..self.accuracy.clone()
        };
        to_f64(&shared.half_width(&reading.base(), self))
    }

    /// The limits ±a of what the last digits may be off, at each reading anew.
    pub(super) fn half_width_of_counts(&self) -> f64 {
        f64::from(self.accuracy.counts.unwrap_or(0)) * self.resolution.base_f64().abs()
    }

    /// What the accuracy of this range and the larger of its count and the place typed contribute
    /// to a reading.
    fn contributions(&self, reading: &BigDecimal, place: &BigDecimal) -> Vec<Contribution> {
        let half_width = to_f64(&self.accuracy.half_width(reading, self));
        let step = to_f64(&self.resolution.base().abs().max(place.clone()));
        vec![
            Contribution::even("Accuracy", half_width),
            Contribution::new("Resolution", Evaluation::Resolution { step }),
        ]
    }
}
