//! Instruments: accuracy as makers print it, corrections, and what they can prove.

use super::date::Date;
use super::uncertainty::{Budget, Contribution, Evaluation, Shape};
use super::{Limits, Tolerance};
use crate::quantity::decibel::log_of_ten;
use crate::quantity::fault::{above, not_negative, positive};
use crate::quantity::{DecimalSign, Family, Fault, Number, Quantity, Scale, Unit, to_f64};
use bigdecimal::{BigDecimal, RoundingMode};
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

/// What else a reading is uncertain by, beside the accuracy that the data sheet states: what the
/// calibration certificate says, or what stands between the test point and the instrument.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Further {
    /// What it comes from.
    pub from: Source,
    /// The unit of the readings that it is in.
    pub of: Scale,
    /// How much it is, to both sides.
    pub within: Share,
}

/// Where an uncertainty comes from that no data sheet of the instrument states.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Source {
    /// The certificate's expanded uncertainty, with its coverage factor k.
    Certificate {
        /// The coverage factor, above zero.
        coverage: Number,
    },
    /// The tolerance of the load that power or volts are read on.
    Load,
    /// The tolerance of a tap, attenuator or coupler in front of the instrument.
    Tap,
    /// Leads and connectors: what their loss may be off.
    Leads,
    /// Mismatch between the set and the instrument, as the largest error to one side.
    Mismatch,
    /// The samples that the device took itself, as a standard uncertainty. It stands in no document:
    /// it follows from the reading.
    #[serde(skip)]
    Samples,
}

/// A size, as a part of the reading or as it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Share {
    /// So many percent of the reading; not of a level in decibels.
    Percent(Number),
    /// An amount, such as decibels of a level.
    Amount(Quantity),
}

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

/// What a pad, a coupler or a probe takes away of what passes it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Loss {
    /// How much: decibels, or the voltage before it to one behind it.
    pub by: Quantity,
    /// How far that may be off, to both sides: decibels, or percent of the ratio of voltages.
    /// Nothing where nobody knows: a reading is corrected, but its accuracy is not known then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub within: Option<Share>,
}

impl Loss {
    /// Whether a loss changes readings in a unit: powers, voltages and their levels.
    pub const fn changes(unit: Unit) -> bool {
        match unit {
            Unit::Ampere => false,
            Unit::DecibelMilliwatt
            | Unit::DecibelMilliwattPep
            | Unit::DecibelWatt
            | Unit::DecibelMicrovolt
            | Unit::DecibelMicrovoltEmf
            | Unit::DecibelMicrovoltPd => true,
            _ => unit.decibels_of_ten().is_some(),
        }
    }

    /// A level before it, of one behind it, or the other way round; both in the unit without
    /// prefix. A ratio is one of voltages, and its square one of powers.
    pub fn applied(&self, level: BigDecimal, unit: Unit, raises: bool) -> BigDecimal {
        let towards = |size: BigDecimal| if raises { size } else { -size };
        let is_level = unit.family() == Family::Level;
        if self.by.unit() == Unit::Decibel {
            let decibels = towards(self.by.base());
            return match unit.factor_of(&decibels) {
                Some(factor) => level * factor,
                None => level + decibels,
            };
        }
        let ratio = self.by.base();
        if is_level {
            let decibels = log_of_ten(&ratio).unwrap_or_default() * BigDecimal::from(20);
            return level + towards(decibels);
        }
        let ratio = match unit {
            Unit::Watt | Unit::WattPep => ratio.square(),
            _ => ratio,
        };
        match raises {
            true => level * ratio,
            false if ratio.is_zero() => level,
            false => level / ratio,
        }
    }

    /// How far it may be off, in decibels to both sides, where that is known.
    pub fn within_decibels(&self) -> Option<f64> {
        Some(match self.within.as_ref()? {
            Share::Amount(decibels) => decibels.base_f64().abs(),
            Share::Percent(percent) => 20.0 * (percent.to_f64().abs() / 100.0).ln_1p() / 10f64.ln(),
        })
    }

    /// By how much a level, in the unit without prefix, moves for one decibel of a loss.
    pub fn moves(level: f64, unit: Unit) -> f64 {
        match unit.decibels_of_ten() {
            Some(of_ten) => level * 10f64.ln() / f64::from(of_ten),
            None => 1.0,
        }
    }

    /// What it adds to a level or takes away, in words.
    pub fn words(&self, raises: bool, sign: DecimalSign) -> String {
        let number = self.by.number.typeset(sign);
        match (self.by.unit(), raises) {
            (Unit::Decibel, true) => format!("+{number}\u{a0}dB"),
            (Unit::Decibel, false) => format!("\u{2212}{number}\u{a0}dB"),
            (_, true) => format!("×{number}"),
            (_, false) => format!("÷{number}"),
        }
    }

    /// The same as it is stated on the thing, with its tolerance.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        let by = match self.by.unit() {
            Unit::Decibel => self.by.typeset(sign),
            _ => format!("×{}", self.by.number.typeset(sign)),
        };
        match &self.within {
            None => format!("{by}, its tolerance not known"),
            Some(Share::Amount(amount)) => format!("{by} ±\u{a0}{}", amount.typeset(sign)),
            Some(Share::Percent(percent)) => {
                format!("{by} ±\u{a0}{}\u{a0}%", percent.typeset(sign))
            }
        }
    }
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
    fn words(&self, unit: Unit, sign: DecimalSign) -> Option<String> {
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
    fn put_right(&self, value: BigDecimal, unit: Unit) -> BigDecimal {
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

impl Further {
    /// How much it is at a reading in the unit without prefix: in the reading's own direction
    /// where it is a part of it, since errors that two readings share then go with them.
    fn at(&self, reading: &BigDecimal) -> f64 {
        match &self.within {
            Share::Percent(percent) => to_f64(&(percent.decimal().abs() * reading)) / 100.0,
            Share::Amount(amount) => amount.base_f64().abs(),
        }
    }

    /// So much of it as a line of a budget.
    ///
    /// Source: JCGM 100:2008, 4.3.3 for a certificate, 4.3.7 for limits; the U shape of a mismatch
    /// whose phase is unknown is that of the documentation of the library GTC.
    fn contribution(&self, size: f64) -> Contribution {
        let half_width = size.abs();
        let (name, evaluation) = match &self.from {
            Source::Certificate { coverage } => (
                "Certificate",
                Evaluation::Expanded {
                    uncertainty: half_width,
                    coverage: coverage.to_f64(),
                },
            ),
            Source::Load => ("Load", limits(half_width, Shape::Rectangular)),
            Source::Tap => ("Tap or attenuator", limits(half_width, Shape::Rectangular)),
            Source::Leads => (
                "Leads and connectors",
                limits(half_width, Shape::Rectangular),
            ),
            Source::Mismatch => ("Mismatch", limits(half_width, Shape::UShaped)),
            Source::Samples => (
                "Samples",
                Evaluation::Expanded {
                    uncertainty: half_width,
                    coverage: 1.0,
                },
            ),
        };
        Contribution::new(name, evaluation)
    }
}

const fn limits(half_width: f64, shape: Shape) -> Evaluation {
    Evaluation::Limits { half_width, shape }
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

/// The number of decimals at which the first digit of a correction is seen; none for zero.
fn decimals_to_see(off: &BigDecimal, raw: &Quantity) -> i64 {
    let half_count = raw.number.last_place().half();
    if off.is_zero() || *off >= half_count {
        return 0;
    }
    let (digits, scale) = off.normalized().as_bigint_and_exponent();
    scale - (digits.to_string().len() as i64 - 1)
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

impl Range {
    /// Whether a reading in the range's unit lies in it.
    fn holds(&self, reading: &Quantity) -> bool {
        let (end, reading) = (self.full_scale.base(), reading.base());
        let is_level = self.full_scale.unit().family() == Family::Level;
        end.abs() >= reading.abs() || (is_level && !end.is_negative() && end >= reading)
    }

    /// What contributes to a reading, its accuracy first.
    fn of_reading(&self, read: AsRead) -> Vec<Contribution> {
        let mut contributions = self.contributions(&read.value.base(), read.place);
        contributions.extend(read.scatter.cloned());
        contributions
    }

    /// The limits ±a of an error that two readings in this range share, at one of them.
    fn shared_half_width(&self, reading: &Quantity) -> f64 {
        let shared = Accuracy {
            counts: None,
            ..self.accuracy.clone()
        };
        to_f64(&shared.half_width(&reading.base(), self))
    }

    /// The limits ±a of what the last digits may be off, at each reading anew.
    fn half_width_of_counts(&self) -> f64 {
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

/// The ratio of tolerance to uncertainty at which a bench is at ease.
///
/// Source (from memory): ANSI/NCSL Z540.3, test uncertainty ratio 4 : 1.
pub const COMFORTABLE_RATIO: f64 = 4.0;

/// How well a tolerance can be proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ability {
    /// The tolerance is at least four times the uncertainty.
    Comfortable,
    /// Some room is left inside a guard band w = U.
    Narrow,
    /// The guard band leaves nothing to accept.
    None,
    /// There is one limit only, and a reading must be clear of it by the uncertainty.
    OneSided,
}

impl Ability {
    /// The ability in a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Ability::Comfortable => "Yes: the tolerance is at least four times the uncertainty",
            Ability::Narrow => "Narrowly: the guard band takes much of the tolerance away",
            Ability::None => "No: the uncertainty is as large as the tolerance",
            Ability::OneSided => "Where the reading is clear of the limit by the uncertainty",
        }
    }
}

/// Whether an uncertainty can prove a tolerance, and what would.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// The expanded uncertainty, in the unit without prefix.
    pub expanded: f64,
    /// Half-width of the tolerance over the expanded uncertainty; `None` with one limit only.
    pub ratio: Option<f64>,
    /// How well it can be proved.
    pub ability: Ability,
    /// The accuracy ±a that would be comfortable, in the unit without prefix; `None` when the
    /// resolution alone is too coarse, and with one limit only.
    pub accuracy_needed: Option<f64>,
}

/// Compares the half-width of a tolerance with an expanded uncertainty and works out which
/// accuracy ±a would be comfortable next to a resolution step.
///
/// a = √3·√((T/(4·k))² − δ²/12) with k = 1.96 for 95 %.
/// Source: JCGM 100:2008, 4.3.7 and F.2.2.1, solved for a.
pub fn prove(half_width: f64, expanded: f64, step: f64) -> Result<Proof, Fault> {
    let half_width = positive("The tolerance", half_width)?;
    let expanded = above("The expanded uncertainty", expanded, 0.0)?;
    let step = not_negative("The resolution", step)?;
    let ratio = half_width / expanded;
    let ability = match ratio {
        r if r >= COMFORTABLE_RATIO => Ability::Comfortable,
        r if r > 1.0 => Ability::Narrow,
        _ => Ability::None,
    };
    let coverage = crate::metrology::distribution::normal::quantile(0.975)?;
    let room = (half_width / COMFORTABLE_RATIO / coverage).powi(2) - step * step / 12.0;
    Ok(Proof {
        expanded,
        ratio: Some(ratio),
        ability,
        accuracy_needed: (room > 0.0).then(|| (3.0 * room).sqrt()),
    })
}

/// A counter's time-base error in ppm from its reading of a reference, both in Hz:
/// (reading − reference)/reference·10⁶.
///
/// Source: NCVEC question pool E4B03, error in Hz = frequency · ppm.
pub fn time_base_ppm(reading: f64, reference: f64) -> Result<f64, Fault> {
    let reference = positive("The reference frequency", reference)?;
    Ok((positive("The reading of the reference", reading)? - reference) / reference * 1e6)
}

/// A frequency in Hz, put right for a time-base error in ppm: reading/(1 + ppm/10⁶).
///
/// Source: closed form of the definition of the error.
pub fn time_base_corrected(reading: f64, ppm: f64) -> Result<f64, Fault> {
    let factor = 1.0 + above("The time-base error in ppm", ppm, -1e6)? / 1e6;
    Ok(reading / factor)
}
