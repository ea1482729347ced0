//! Instruments: accuracy as makers print it, corrections, and what they can prove.

mod correction;
mod further;
mod loss;
mod proof;
mod range;
mod time_base;

pub use self::correction::Correction;
pub use self::further::{Further, Share, Source};
pub use self::loss::Loss;
pub use self::proof::{Ability, COMFORTABLE_RATIO, Proof, prove};
pub use self::range::{Accuracy, AsRead, Range};
pub use self::time_base::{time_base_corrected, time_base_ppm};

use super::date::Date;
use super::uncertainty::{Budget, Contribution, Shape};
use super::{Limits, Tolerance};
use crate::metrology::instrument::correction::decimals_to_see;
use crate::metrology::instrument::range::limits;
use crate::quantity::{DecimalSign, Family, Fault, Number, Quantity, Unit, to_f64};
use bigdecimal::{BigDecimal, RoundingMode};
use num_traits::Zero;
use serde::{Deserialize, Serialize};

/// An instrument of the kit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Instrument {
    /// What it is used as, such as frequency counter.
    pub role: String,
    /// The owner's name for it.
    pub name: String,
    /// The number on its label.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub asset: String,
    /// The day of its last calibration.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated: Option<Date>,
    /// The day on which the next calibration is due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
    /// Its ranges.
    #[serde(default)]
    pub ranges: Vec<Range>,
    /// What is known to be off.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub corrections: Vec<Correction>,
    /// What else its readings are uncertain by.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub further: Vec<Further>,
    /// What it takes away of a signal that passes it, where it is a pad, a coupler or a probe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub loss: Option<Loss>,
}

impl Instrument {
    /// The smallest range that holds a reading.
    pub fn range_for(&self, reading: &Quantity) -> Result<&Range, Fault> {
        let size = reading.base().abs();
        let end = |range: &&Range| range.full_scale.base().abs();
        let mut in_unit: Vec<&Range> = self.ranges.iter().collect();
        in_unit.retain(|range| range.full_scale.unit() == reading.unit());
        let holding = in_unit.iter().copied().filter(|range| range.holds(reading));
        holding
            // One that reaches as far to its own side says more of a reading than any above it.
            .min_by_key(|range| (end(range) < size, end(range)))
            .ok_or_else(|| match in_unit.into_iter().max_by_key(end) {
                Some(widest) => Fault::BeyondRanges {
                    name: self.name.clone(),
                    reading: reading.clone(),
                    end: widest.full_scale.clone(),
                },
                None => self.lacks(reading.unit()),
            })
    }

    /// Whether it has a range in a unit, or why it can't be read in it.
    pub fn reads(&self, unit: Unit) -> Result<(), Fault> {
        let mut ranges = self.ranges.iter();
        match ranges.any(|range| range.full_scale.unit() == unit) {
            true => Ok(()),
            false => Err(self.lacks(unit)),
        }
    }

    /// Why there is no range in a unit.
    fn lacks(&self, due: Unit) -> Fault {
        let name = self.name.clone();
        let mut has: Vec<Unit> = self.ranges.iter().map(|r| r.full_scale.unit()).collect();
        has.sort();
        has.dedup();
        match has.is_empty() {
            true => Fault::Missing {
                what: "range for this reading",
                name,
            },
            false => Fault::OtherUnits { name, due, has },
        }
    }

    /// The range that a reading was taken in, as far as its digits tell: one that shows a digit
    /// as fine as the last one typed. Where several do, the least accurate of them, for any may
    /// have been set; where none does, and of levels, the one that holds it best.
    pub fn range_of(&self, reading: &Quantity, place: &BigDecimal) -> Result<&Range, Fault> {
        let base = reading.base();
        let likely = self.range_for(reading)?;
        if reading.unit().family() == Family::Level {
            return Ok(likely);
        }
        let may_be = self.ranges.iter().filter(|range| {
            range.full_scale.unit() == reading.unit()
                && range.holds(reading)
                && range.resolution.base().abs() <= *place
        });
        let worst = may_be.max_by_key(|range| range.accuracy.half_width(&base, range));
        Ok(worst.unwrap_or(likely))
    }

    /// A reading in the unit without prefix, put right by every correction; unrounded, which is
    /// what limits are compared with.
    pub fn right(&self, raw: &Quantity) -> BigDecimal {
        self.corrections
            .iter()
            .fold(raw.base(), |value, fix| fix.put_right(value, raw.unit()))
    }

    /// The same to be shown: in the reading's own scale and with its own digits, or with as many
    /// more as the first digit of the correction needs to be seen.
    pub fn corrected(&self, raw: &Quantity) -> Quantity {
        let right = raw.scale.prefix.remove(&self.right(raw));
        let off = (&right - raw.number.decimal()).abs();
        let decimals = raw.number.decimals().max(decimals_to_see(&off, raw));
        let rounded = right.with_scale_round(decimals, RoundingMode::HalfEven);
        Quantity::new(Number::from_decimal(rounded), raw.scale)
    }

    /// What its readings in a unit are corrected by, in words.
    pub fn correction_words(&self, unit: Unit, sign: DecimalSign) -> String {
        let words = self
            .corrections
            .iter()
            .filter_map(|fix| fix.words(unit, sign));
        words.collect::<Vec<_>>().join(", ")
    }

    /// Whether the calibration has run out on a day.
    pub fn is_overdue(&self, today: Date) -> bool {
        self.due.is_some_and(|due| today > due)
    }

    /// The uncertainty budget of one reading as it was typed.
    pub fn budget(
        &self,
        reading: &Quantity,
        scatter: Option<Contribution>,
    ) -> Result<Budget, Fault> {
        self.budget_at(reading, &reading.resolution(), scatter)
    }

    /// The uncertainty budget of one reading, in the unit without prefix: accuracy limits,
    /// resolution, and how readings scatter where that was seen. `place` is what one
    /// count of the last digit typed is worth: where the display has finer ones, they are not
    /// known, and a reading typed finer than the display has no more than that shows.
    ///
    /// Refused where the range states no accuracy: what isn't known is not nothing.
    /// Source: JCGM 100:2008, 4.3.7, F.2.2.1 and 4.2.3.
    pub fn budget_at(
        &self,
        reading: &Quantity,
        place: &BigDecimal,
        scatter: Option<Contribution>,
    ) -> Result<Budget, Fault> {
        let range = self.stated_range(reading, place)?;
        self.budget_in(range, reading, place, scatter)
    }

    /// The same in a range of it, whatever accuracy that states.
    pub fn budget_in(
        &self,
        range: &Range,
        reading: &Quantity,
        place: &BigDecimal,
        scatter: Option<Contribution>,
    ) -> Result<Budget, Fault> {
        let read = AsRead {
            value: reading,
            place,
            scatter: scatter.as_ref(),
        };
        let mut parts = range.of_reading(read);
        // A certificate alone leaves the data sheet's line empty.
        parts.retain(|part| part.evaluation != limits(0.0, Shape::Rectangular));
        parts.extend(self.of_path(reading));
        Budget::of(parts)
    }

    /// What the data sheet doesn't know contributes to a reading.
    fn of_path(&self, reading: &Quantity) -> Vec<Contribution> {
        let base = reading.base();
        self.further_of(reading.unit())
            .map(|further| further.contribution(further.at(&base)))
            .collect()
    }

    /// What else readings in a unit are uncertain by.
    fn further_of(&self, unit: Unit) -> impl Iterator<Item = &Further> {
        self.further
            .iter()
            .filter(move |further| further.of.unit == unit)
    }

    /// Whether a certificate speaks of readings in a unit.
    fn is_certified(&self, unit: Unit) -> bool {
        self.further_of(unit)
            .any(|further| matches!(further.from, Source::Certificate { .. } | Source::Samples))
    }

    /// The uncertainty budget of a reading against `slope` times another one, which this or
    /// another instrument took before.
    ///
    /// In one range of one instrument the error within its accuracy is the same for both, and only
    /// what the slope leaves of it counts; the counts of its last digits are not, nor is anything
    /// of two ranges or two instruments.
    /// Source: JCGM 100:2008, 5.2.2, for fully correlated errors; that a range keeps its error is
    /// common practice, no source.
    pub fn budget_against(
        &self,
        own: AsRead,
        reference: AsRead,
        slope: f64,
        by: &Instrument,
    ) -> Result<Budget, Fault> {
        let range = self.stated_range(own.value, own.place)?;
        let of_reference = by.stated_range(reference.value, reference.place)?;
        let mut parts = range.of_reading(own);
        let mut others = of_reference.of_reading(reference);
        match self == by && own.value.unit() == reference.value.unit() {
            true => parts.extend(self.of_shared_path(own.value, reference.value, slope)),
            false => {
                parts.extend(self.of_path(own.value));
                others.extend(by.of_path(reference.value));
            }
        }
        if self == by && range == of_reference {
            let shared = range.shared_half_width(own.value)
                - slope * range.shared_half_width(reference.value);
            parts[0] = Contribution::even("Accuracy, not shared", shared.abs());
            others[0] = Contribution::even("Counts", range.half_width_of_counts());
            parts.push(Contribution::even("Counts", range.half_width_of_counts()));
        }
        parts.extend(others.into_iter().map(|part| Contribution {
            name: format!("{}, reference reading", part.name),
            sensitivity: slope,
            ..part
        }));
        parts.retain(|part| part.evaluation.stated() > 0.0);
        Budget::of(parts)
    }

    /// What one path leaves of its errors between two readings that were both taken through it.
    fn of_shared_path(
        &self,
        own: &Quantity,
        reference: &Quantity,
        slope: f64,
    ) -> Vec<Contribution> {
        let unit = own.unit();
        let (own, reference) = (own.base(), reference.base());
        self.further_of(unit)
            .map(|further| further.contribution(further.at(&own) - slope * further.at(&reference)))
            .collect()
    }

    /// The range that a reading was taken in, with its accuracy, or one whose readings a
    /// certificate speaks of.
    pub fn stated_range(&self, reading: &Quantity, place: &BigDecimal) -> Result<&Range, Fault> {
        let range = self.range_of(reading, place)?;
        match range.accuracy.is_stated() || self.is_certified(reading.unit()) {
            true => Ok(range),
            false => Err(Fault::Missing {
                what: "accuracy",
                name: self.name.clone(),
            }),
        }
    }

    /// Whether this instrument can prove a tolerance, read with all the digits of its display.
    ///
    /// A tolerance to both sides is compared with the uncertainty at its nominal value, or at its
    /// upper limit. A limit to one side leaves no width to compare: any reading that is clear of
    /// it by U proves it. Where no reading can be, because even zero is not or the largest range
    /// ends before, it can't be proved.
    pub fn can_prove(&self, tolerance: &Tolerance) -> Result<Proof, Fault> {
        let (at, half_width) = match tolerance {
            Tolerance::Around { nominal, .. } => (nominal, half_width(&tolerance.limits())),
            Tolerance::Between { high, .. } => (high, half_width(&tolerance.limits())),
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => (limit, None),
        };
        let step = self.range_for(at)?.resolution.base().abs();
        let expanded = self.budget_at(at, &step, None)?.expanded;
        if let Some(half_width) = half_width {
            return prove(half_width, expanded, to_f64(&step));
        }
        let ability = match self.is_out_of_reach(tolerance, expanded) {
            true => Ability::None,
            false => Ability::OneSided,
        };
        Ok(Proof {
            expanded,
            ratio: None,
            ability,
            accuracy_needed: None,
        })
    }

    /// How far from zero its ranges in a unit reach.
    fn farthest(&self, unit: Unit) -> Option<f64> {
        let ends = self.ranges.iter().map(|range| &range.full_scale);
        let farthest = ends
            .filter(|end| end.unit() == unit)
            .map(|end| end.base().abs());
        farthest.max().map(|farthest| to_f64(&farthest))
    }

    /// Whether no reading can be clear of the only limit by an uncertainty.
    fn is_out_of_reach(&self, tolerance: &Tolerance, expanded: f64) -> bool {
        match tolerance {
            Tolerance::AtLeast(limit) => self
                .farthest(limit.unit())
                .is_some_and(|largest| limit.base_f64() + expanded > largest),
            // Of levels a range that ends below zero says the lowest; one above zero has no lowest.
            Tolerance::AtMost(limit) if limit.unit().family() == Family::Level => {
                let mut ends = self.ranges.iter().map(|range| &range.full_scale);
                let has_no_lowest =
                    ends.any(|end| end.unit() == limit.unit() && !end.number.is_negative());
                let lowest = self.farthest(limit.unit()).map(|farthest| -farthest);
                !has_no_lowest && lowest.is_some_and(|lowest| limit.base_f64() - expanded < lowest)
            }
            Tolerance::AtMost(limit) if has_a_floor(limit.unit()) => {
                let zero = Quantity::new(Number::from_decimal(BigDecimal::zero()), limit.scale);
                let least = self.range_for(&zero).and_then(|range| {
                    self.budget_in(range, &zero, &range.resolution.base().abs(), None)
                });
                let limit = limit.base_f64();
                limit > 0.0 && least.is_ok_and(|budget| budget.expanded > limit)
            }
            _ => false,
        }
    }
}

/// Whether nothing in this unit lies below zero.
fn has_a_floor(unit: Unit) -> bool {
    unit.family() != Family::Level && !matches!(unit, Unit::VoltDc | Unit::Ampere | Unit::Celsius)
}

/// Half of what lies between two limits.
fn half_width(limits: &Limits) -> Option<f64> {
    let (low, high) = (limits.low.as_ref()?, limits.high.as_ref()?);
    Some(to_f64(&(high - low).half()))
}
