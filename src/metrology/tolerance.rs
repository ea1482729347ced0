//! Where a reading may lie, and where it lies. All comparisons are exact.

use crate::quantity::decibel::rounded;
use crate::quantity::{DecimalSign, Family, Number, Prefix, Quantity, Scale, Unit, to_f64};
use bigdecimal::{BigDecimal, RoundingMode};
use num_traits::{Signed, Zero};
use serde::{Deserialize, Serialize};
use std::fmt;

/// How far a reading may be from the nominal value, to one side.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Margin {
    /// An amount in the unit of a difference: Hz for Hz, dB for dBm. Decibels go with powers,
    /// voltages and currents as well.
    Absolute(Quantity),
    /// Percent of the nominal value.
    Percent(Number),
    /// Parts per million of the nominal value.
    Ppm(Number),
}

/// Where a reading must lie. A reading exactly on a limit is inside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Tolerance {
    /// A nominal value with a margin to either side.
    Around {
        /// The value aimed at.
        nominal: Quantity,
        /// The margin below it.
        below: Margin,
        /// The margin above it.
        above: Margin,
    },
    /// This much or more.
    AtLeast(Quantity),
    /// This much or less.
    AtMost(Quantity),
    /// From one value to another, without a nominal value.
    Between {
        /// The lower limit.
        low: Quantity,
        /// The upper limit.
        high: Quantity,
    },
}

/// The limits of a tolerance, in the unit without prefix.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    /// The smallest value inside.
    pub low: Option<BigDecimal>,
    /// The largest value inside.
    pub high: Option<BigDecimal>,
}

/// On which side of the limits a reading lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Below the lower limit.
    Low,
    /// Inside, or exactly on a limit.
    Inside,
    /// Above the upper limit.
    High,
}

/// What a tolerance says of a reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// Where the reading lies.
    pub place: Place,
    /// How far it is from the limit, never negative, in the unit of a difference.
    pub margin: Quantity,
    /// From which: the limit that it is beyond or, inside, the one that it is nearest to.
    pub limit: Side,
    /// The reading less the nominal value, where there is one.
    pub deviation: Option<Quantity>,
}

/// One of the two limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The lower limit.
    Lower,
    /// The upper limit.
    Upper,
}

impl Margin {
    /// The limit that it makes to one side of a nominal value, in the unit without prefix: exact,
    /// but for decibels of a linear value, which leave no figure with an end.
    ///
    /// nominal · 10^(±dB/10) for powers, 10^(±dB/20) for voltages. Source: definition of the
    /// decibel.
    fn limit(&self, nominal: &Quantity, side: Side) -> BigDecimal {
        let centre = nominal.base();
        let towards = |size: BigDecimal| match side {
            Side::Lower => -size,
            Side::Upper => size,
        };
        if let Some(decibels) = self.decibels_of(nominal.unit()) {
            let factor = nominal.unit().factor_of(&towards(decibels.base()));
            return rounded(&centre * factor.unwrap_or(BigDecimal::from(1)));
        }
        let amount = match (self, self.share()) {
            (Margin::Absolute(quantity), _) => quantity.base(),
            (_, share) => centre.abs() * share.unwrap_or_default(),
        };
        centre + towards(amount)
    }

    /// The decibels that it is, where the nominal value itself is in none.
    fn decibels_of(&self, unit: Unit) -> Option<&Quantity> {
        match self {
            Margin::Absolute(quantity) if quantity.unit() == Unit::Decibel => {
                unit.decibels_of_ten().map(|_| quantity)
            }
            _ => None,
        }
    }

    /// Why the margin does not go with a nominal value, if it doesn't.
    fn fault(&self, nominal: &Quantity) -> Option<ToleranceFault> {
        match self {
            Margin::Absolute(quantity) => {
                let (has, due) = (quantity.unit(), nominal.unit().of_difference());
                let in_decibels = self.decibels_of(nominal.unit()).is_some();
                if has != due && !in_decibels {
                    return Some(ToleranceFault::Unit { has, due });
                }
                if quantity.number.is_negative() {
                    return Some(ToleranceFault::NegativeMargin);
                }
                let is_above_zero = nominal.number.decimal().is_positive();
                (in_decibels && !is_above_zero).then_some(ToleranceFault::DecibelsOfNothing { due })
            }
            Margin::Percent(number) | Margin::Ppm(number) => {
                if number.is_negative() {
                    return Some(ToleranceFault::NegativeMargin);
                }
                self.share_fault(nominal)
            }
        }
    }

    /// A level has no shares, for its zero is anywhere, and zero has none either.
    fn share_fault(&self, nominal: &Quantity) -> Option<ToleranceFault> {
        let unit = nominal.unit();
        if unit.family() == Family::Level {
            let margin = self.clone();
            return Some(ToleranceFault::ShareOfLevel { margin, unit });
        }
        let due = unit.of_difference();
        let is_zero = nominal.number.decimal().is_zero();
        is_zero.then_some(ToleranceFault::ShareOfZero { due })
    }

    /// What a share of the power or voltage behind a level is in decibels, up and down; `None` for
    /// an amount. All of it is without end below.
    ///
    /// dB = 10·log(1 ± share) for powers, 20·log for voltages. Source: definition of the decibel.
    fn in_decibels(&self, per_decade: f64) -> Option<(f64, f64)> {
        let share = to_f64(&self.share()?);
        let decibels = |ratio: f64| per_decade * ratio.max(0.0).log10();
        Some((decibels(1.0 + share), decibels(1.0 - share)))
    }

    /// The share of the nominal value that it is; `None` for an amount.
    fn share(&self) -> Option<BigDecimal> {
        match self {
            Margin::Absolute(_) => None,
            Margin::Percent(percent) => Some(percent.decimal() * power_of_ten(-2)),
            Margin::Ppm(ppm) => Some(ppm.decimal() * power_of_ten(-6)),
        }
    }

    /// Two margins in print, such as `± 20 Hz` or `+ 2 mA − 10 mA`.
    pub fn typeset_pair(below: &Margin, above: &Margin, sign: DecimalSign) -> String {
        match below == above {
            true => format!("±\u{a0}{}", below.typeset(sign)),
            false => format!(
                "+\u{a0}{} \u{2212}\u{a0}{}",
                above.typeset(sign),
                below.typeset(sign)
            ),
        }
    }

    fn typeset(&self, sign: DecimalSign) -> String {
        match self {
            Margin::Absolute(quantity) => quantity.typeset(sign),
            Margin::Percent(number) => format!("{}\u{a0}%", number.typeset(sign)),
            Margin::Ppm(number) => format!("{}\u{a0}ppm", number.typeset(sign)),
        }
    }
}

/// Why a tolerance can't judge anything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ToleranceFault {
    /// A value in another unit than the reading's.
    Unit {
        /// The unit that the tolerance has.
        has: Unit,
        /// The unit that is due.
        due: Unit,
    },
    /// A margin below zero.
    NegativeMargin,
    /// Percent or ppm of a level in decibels.
    ShareOfLevel {
        /// The margin.
        margin: Margin,
        /// The level's unit.
        unit: Unit,
    },
    /// Percent or ppm of zero.
    ShareOfZero {
        /// The unit that the margin is due in.
        due: Unit,
    },
    /// Decibels of zero or of less.
    DecibelsOfNothing {
        /// The unit that the margin is due in.
        due: Unit,
    },
    /// The lower limit lies above the upper one.
    Crossed,
}

impl fmt::Display for ToleranceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ToleranceFault::Unit { has, due } => write!(
                f,
                "its target is in {} where {} is due: change the unit",
                has.symbol(),
                due.symbol()
            ),
            ToleranceFault::NegativeMargin => {
                write!(
                    f,
                    "its tolerance is below zero: give the size without a sign"
                )
            }
            ToleranceFault::ShareOfLevel { margin, unit } => {
                let share = margin.typeset(DecimalSign::Point);
                write!(
                    f,
                    "its tolerance is {share} of a level in {}, which has no shares: give it in dB",
                    unit.symbol()
                )?;
                let (of, per_decade) = match unit {
                    Unit::DecibelMicrovolt
                    | Unit::DecibelMicrovoltEmf
                    | Unit::DecibelMicrovoltPd => ("voltage", 20.0),
                    _ => ("power", 10.0),
                };
                let Some((up, down)) = margin.in_decibels(per_decade) else {
                    return Ok(());
                };
                let (up, down) = (two_digits(up), two_digits(down));
                write!(f, "; {share} of the {of} is +{up}/{down} dB")
            }
            ToleranceFault::ShareOfZero { due } => write!(
                f,
                "its tolerance is a share of zero, which is nothing: give it as an amount in {}",
                due.symbol()
            ),
            ToleranceFault::DecibelsOfNothing { due } => write!(
                f,
                "its tolerance is in dB of a figure that is not above zero: give it as an amount in {}",
                due.symbol()
            ),
            ToleranceFault::Crossed => {
                write!(f, "its lower limit is above its upper limit: swap them")
            }
        }
    }
}

/// A figure with two significant digits and a real minus sign.
fn two_digits(value: f64) -> String {
    if value.is_infinite() {
        return "\u{2212}∞".to_owned();
    }
    let decimals = (1.0 - value.abs().log10().floor()).clamp(0.0, 12.0) as usize;
    format!("{value:.decimals$}").replace('-', "\u{2212}")
}

/// The digits shown of a value that only its unrounded form places.
const UNROUNDED_DIGITS: u64 = 12;

/// The digits shown of how far a limit in decibels is.
const SHOWN_DIGITS: u64 = 4;

fn power_of_ten(exponent: i64) -> BigDecimal {
    BigDecimal::new(1.into(), -exponent)
}

impl Tolerance {
    /// The same where the size counts: what must be at most so many volts or amperes must be that
    /// with the leads the other way round too, as a charged capacitor has to be read.
    pub fn in_size(self) -> Self {
        let is_signed = |unit| matches!(unit, Unit::VoltDc | Unit::Ampere);
        match self {
            Tolerance::AtMost(high) if is_signed(high.unit()) && high.base().is_positive() => {
                let low = Number::from_decimal(-high.number.decimal().clone());
                Tolerance::Between {
                    low: Quantity::new(low, high.scale),
                    high,
                }
            }
            other => other,
        }
    }

    /// The same margin to both sides.
    pub fn plus_minus(nominal: Quantity, margin: Margin) -> Self {
        Tolerance::Around {
            nominal,
            below: margin.clone(),
            above: margin,
        }
    }

    /// The value aimed at, where there is one.
    pub fn nominal(&self) -> Option<&Quantity> {
        match self {
            Tolerance::Around { nominal, .. } => Some(nominal),
            _ => None,
        }
    }

    /// The unit that a reading must be in.
    pub fn unit(&self) -> Unit {
        match self {
            Tolerance::Around { nominal, .. } => nominal.unit(),
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit.unit(),
            Tolerance::Between { low, .. } => low.unit(),
        }
    }

    /// The scale that it is stated in: that of its first figure.
    pub fn scale(&self) -> Scale {
        match self {
            Tolerance::Around { nominal, .. } => nominal.scale,
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => limit.scale,
            Tolerance::Between { low, .. } => low.scale,
        }
    }

    /// Why this can't judge readings in `due`, if it can't.
    pub fn fault(&self, due: Unit) -> Option<ToleranceFault> {
        let wrong_unit = |quantity: &Quantity| {
            let has = quantity.unit();
            (has != due).then_some(ToleranceFault::Unit { has, due })
        };
        match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => wrong_unit(nominal)
                .or_else(|| below.fault(nominal))
                .or_else(|| above.fault(nominal)),
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => wrong_unit(limit),
            Tolerance::Between { low, high } => wrong_unit(low)
                .or_else(|| wrong_unit(high))
                .or_else(|| (low.base() > high.base()).then_some(ToleranceFault::Crossed)),
        }
    }

    /// The limits, exact but for those in decibels of a linear value.
    pub fn limits(&self) -> Limits {
        let (low, high) = match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let low = below.limit(nominal, Side::Lower);
                let high = above.limit(nominal, Side::Upper);
                (Some(low), Some(high))
            }
            Tolerance::AtLeast(low) => (Some(low.base()), None),
            Tolerance::AtMost(high) => (None, Some(high.base())),
            Tolerance::Between { low, high } => (Some(low.base()), Some(high.base())),
        };
        Limits { low, high }
    }

    /// Judges a reading, which must be in [`Tolerance::unit`].
    pub fn judge(&self, reading: &Quantity) -> Verdict {
        self.judge_unrounded(reading, &reading.base())
    }

    /// Judges a reading by its unrounded value in the unit without prefix. The deviation is that
    /// of the reading as shown, but where rounding has carried it across a limit.
    pub fn judge_unrounded(&self, reading: &Quantity, right: &BigDecimal) -> Verdict {
        let limits = self.limits();
        let place = limits.place(right);
        let value = match limits.place(&reading.base()) == place {
            true => reading.base(),
            false => right.with_prec(UNROUNDED_DIGITS),
        };
        let above_low = limits.low.map(|low| (&value - low).abs());
        let below_high = limits.high.map(|high| (high - &value).abs());
        let (limit, margin) = match (place, above_low, below_high) {
            (Place::Low, Some(margin), _) | (Place::Inside, Some(margin), None) => {
                (Side::Lower, margin)
            }
            (Place::Inside, Some(above), Some(below)) if above <= below => (Side::Lower, above),
            (_, _, Some(margin)) => (Side::Upper, margin),
            // No tolerance is without any limit.
            (_, margin, None) => (Side::Lower, margin.unwrap_or_default()),
        };
        let margin = match self.figures_of_decibels() {
            // The limit has no end, and so has the way to it.
            Some(_) => margin.with_prec(SHOWN_DIGITS).normalized(),
            None => margin,
        };
        let deviation = self.nominal().map(|nominal| value - nominal.base());
        let size = deviation.as_ref().map(BigDecimal::abs);
        let scale = self.scale_of(size.unwrap_or_default().max(margin.clone()));
        Verdict {
            place,
            margin: Quantity::in_scale(margin, scale),
            limit,
            deviation: deviation.map(|deviation| Quantity::in_scale(deviation, scale)),
        }
    }

    /// The one scale for all that is said of a reading, the largest of it being so much: that of
    /// the value aimed at, or else of the margins, as suits it.
    fn scale_of(&self, largest: BigDecimal) -> Scale {
        let unit = self.unit().of_difference();
        let own = self.own_prefixes().map(|prefix| Scale::new(prefix, unit));
        let suits = |scale: &Scale| scale.suits(&largest);
        let suitable = own.into_iter().find(suits);
        suitable.unwrap_or_else(|| Quantity::natural(largest, unit).scale)
    }

    fn own_prefixes(&self) -> [Prefix; 2] {
        let prefixes = match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let due = nominal.unit().of_difference();
                let amount = |margin: &'_ Margin| match margin {
                    Margin::Absolute(amount) if amount.unit() == due => Some(amount.clone()),
                    _ => None,
                };
                let margin = amount(above).or_else(|| amount(below));
                let nominal = nominal.scale.prefix;
                return [
                    nominal,
                    margin.map_or(nominal, |margin| margin.scale.prefix),
                ];
            }
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => [limit, limit],
            Tolerance::Between { low, high } => [low, high],
        };
        prefixes.map(|stated| stated.scale.prefix)
    }

    /// The limits that a tolerance in decibels makes of a linear value, for the eye: rounded inwards
    /// two places behind those of the nominal value.
    pub fn figures_of_decibels(&self) -> Option<(Quantity, Quantity)> {
        let Tolerance::Around {
            nominal,
            below,
            above,
        } = self
        else {
            return None;
        };
        let unit = nominal.unit();
        below.decibels_of(unit).or(above.decibels_of(unit))?;
        let places = nominal.number.decimals().max(0) + 2;
        let shown = |limit: BigDecimal, mode| {
            let figure = nominal.scale.prefix.remove(&limit);
            let figure = Number::from_decimal(figure.with_scale_round(places, mode));
            Quantity::new(figure, nominal.scale)
        };
        let limits = self.limits();
        Some((
            shown(limits.low?, RoundingMode::Ceiling),
            shown(limits.high?, RoundingMode::Floor),
        ))
    }

    /// The tolerance in print, such as `9.0015 MHz ± 20 Hz`; one in decibels of a linear value with
    /// what it makes of it, such as `20 W ± 1 dB (15.89 W to 25.17 W)`.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let margins = Margin::typeset_pair(below, above, sign);
                let stated = format!("{} {margins}", nominal.typeset(sign));
                match self.figures_of_decibels() {
                    Some((low, high)) => {
                        format!("{stated} ({} to {})", low.typeset(sign), high.typeset(sign))
                    }
                    None => stated,
                }
            }
            Tolerance::AtLeast(low) => format!("at least {}", low.typeset(sign)),
            Tolerance::AtMost(high) => format!("at most {}", high.typeset(sign)),
            Tolerance::Between { low, high } => {
                format!("{} to {}", low.typeset(sign), high.typeset(sign))
            }
        }
    }
}

impl Limits {
    /// The lower and the upper limit as floating-point numbers, for pictures and
    /// probabilities; verdicts are exact.
    pub fn to_f64(&self) -> (Option<f64>, Option<f64>) {
        (
            self.low.as_ref().map(to_f64),
            self.high.as_ref().map(to_f64),
        )
    }

    /// The limits moved towards each other, or apart by less than nothing.
    pub fn moved_inward(&self, by: &BigDecimal) -> Limits {
        Limits {
            low: self.low.as_ref().map(|low| low + by),
            high: self.high.as_ref().map(|high| high - by),
        }
    }

    /// On which side a value lies; on a limit is inside.
    pub fn place(&self, value: &BigDecimal) -> Place {
        if self.low.as_ref().is_some_and(|low| value < low) {
            return Place::Low;
        }
        if self.high.as_ref().is_some_and(|high| value > high) {
            return Place::High;
        }
        Place::Inside
    }
}

impl Verdict {
    /// Whether the reading is inside or on a limit.
    pub fn is_inside(&self) -> bool {
        self.place == Place::Inside
    }

    /// The margin in words, such as `0.3 W inside` or `1.2 kHz over the upper limit`.
    pub fn margin_words(&self, sign: DecimalSign) -> String {
        let margin = self.margin.typeset(sign);
        match (self.place, self.limit) {
            (Place::Low, _) => format!("{margin} under the lower limit"),
            (Place::High, _) => format!("{margin} over the upper limit"),
            (Place::Inside, _) if !self.margin.base().is_zero() => format!("{margin} inside"),
            (Place::Inside, Side::Lower) => "inside, on the lower limit".to_owned(),
            (Place::Inside, Side::Upper) => "inside, on the upper limit".to_owned(),
        }
    }

    /// The deviation from the nominal value in words, such as `20 Hz high` or `on target`.
    pub fn deviation_words(&self, sign: DecimalSign) -> Option<String> {
        let deviation = self.deviation.as_ref()?;
        let number = deviation.number.decimal();
        let size = Quantity::new(Number::from_decimal(number.abs()), deviation.scale).typeset(sign);
        Some(match (number.is_zero(), number.is_negative()) {
            (true, _) => "on target".to_owned(),
            (_, true) => format!("{size} low"),
            (_, false) => format!("{size} high"),
        })
    }

    /// Both in words, such as `8 Hz inside, 12 Hz high`.
    pub fn words(&self, sign: DecimalSign) -> String {
        let margin = self.margin_words(sign);
        match self.deviation_words(sign) {
            Some(deviation) => format!("{margin}, {deviation}"),
            None => margin,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Place::Low => "under the lower limit",
            Place::Inside => "inside",
            Place::High => "over the upper limit",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn q(text: &str) -> Quantity {
        text.parse().unwrap()
    }

    fn around(nominal: &str, margin: Margin) -> Tolerance {
        Tolerance::plus_minus(q(nominal), margin)
    }

    #[test]
    fn a_verdict_names_the_margin_and_the_deviation_from_a_nominal_value() {
        let hz = |text: &str| Margin::Absolute(q(text));
        let ppm = |text: &str| Margin::Ppm(text.parse().unwrap());
        let percent = |text: &str| Margin::Percent(text.parse().unwrap());
        let lopsided = Tolerance::Around {
            nominal: q("50 mA"),
            below: hz("10 mA"),
            above: hz("2 mA"),
        };
        let between = Tolerance::Between {
            low: q("3.6 W"),
            high: q("4.0 W"),
        };
        for (tolerance, reading, place, words) in [
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9.0027 MHz",
                Place::High,
                "1180 Hz over the upper limit, 1200 Hz high",
            ),
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9.001480 MHz",
                Place::Inside,
                "inside, on the lower limit, 20 Hz low",
            ),
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9.001479 MHz",
                Place::Low,
                "1 Hz under the lower limit, 21 Hz low",
            ),
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9001.50 kHz",
                Place::Inside,
                "20 Hz inside, on target",
            ),
            (
                around("27.185 MHz", ppm("50")),
                "27.18635925 MHz",
                Place::Inside,
                "inside, on the upper limit, 1.35925 kHz high",
            ),
            (
                around("27.185 MHz", ppm("50")),
                "27.186359250001 MHz",
                Place::High,
                "0.000000001 kHz over the upper limit, 1.359250001 kHz high",
            ),
            (
                around("8.0 V", percent("5")),
                "7.6 V",
                Place::Inside,
                "inside, on the lower limit, 0.4 V low",
            ),
            (
                around("8.0 V", percent("5")),
                "7.59 V",
                Place::Low,
                "0.01 V under the lower limit, 0.41 V low",
            ),
            (
                around("-8.0 V", percent("5")),
                "-8.41 V",
                Place::Low,
                "0.01 V under the lower limit, 0.41 V low",
            ),
            (
                around("-10 dBm", hz("1.5 dB")),
                "-8.5 dBm",
                Place::Inside,
                "inside, on the upper limit, 1.5 dB high",
            ),
            (
                lopsided.clone(),
                "40 mA",
                Place::Inside,
                "inside, on the lower limit, 10 mA low",
            ),
            (
                lopsided,
                "52.1 mA",
                Place::High,
                "0.1 mA over the upper limit, 2.1 mA high",
            ),
            (
                Tolerance::AtLeast(q("40 dB")),
                "38 dB",
                Place::Low,
                "2 dB under the lower limit",
            ),
            (
                Tolerance::AtLeast(q("40 dB")),
                "40.0 dB",
                Place::Inside,
                "inside, on the lower limit",
            ),
            (
                Tolerance::AtMost(q("0.5 µV EMF")),
                "0.35 µV EMF",
                Place::Inside,
                "0.15 µV EMF inside",
            ),
            (
                between.clone(),
                "4.1 W",
                Place::High,
                "0.1 W over the upper limit",
            ),
            (between.clone(), "3.7 W", Place::Inside, "0.1 W inside"),
            (
                around("1.30 V", hz("0.15 V")),
                "1.32 V",
                Place::Inside,
                "0.13 V inside, 0.02 V high",
            ),
            (between, "3.95 W", Place::Inside, "0.05 W inside"),
            (
                around("100 W", hz("10 dB")),
                "10 W",
                Place::Inside,
                "inside, on the lower limit, 90 W low",
            ),
            (
                around("0.5 V", hz("6 dB")),
                "0.25 V",
                Place::Low,
                "0.0005936 V under the lower limit, 0.25 V low",
            ),
        ] {
            let verdict = tolerance.judge(&q(reading));
            assert_eq!(verdict.place, place, "{reading}");
            if let Some(deviation) = &verdict.deviation {
                assert_eq!(deviation.scale, verdict.margin.scale, "{reading}: one unit");
            }
            let said = verdict.words(DecimalSign::Point).replace('\u{a0}', " ");
            assert_eq!(said, words, "{reading}");
        }
    }

    // Check: 20 W ± 1 dB are 15.89 to 25.18 W, 0.5 V ± 3 dB 0.354 to 0.706 V
    // Source: definition of the decibel, 10·log for powers and 20·log for voltages
    // Known by: closed form
    #[test]
    fn decibels_of_a_power_or_a_voltage_make_limits_in_its_own_unit() {
        let decibels = |text: &str| Margin::Absolute(q(text));
        for (nominal, margin, low, high) in [
            ("20 W", "1 dB", "15.8865646945", "25.1785082359"),
            ("0.5 V", "3 dB", "0.353972892192", "0.706268772311"),
            ("500 mV rms", "3 dB", "0.353972892192", "0.706268772311"),
            ("100 W", "10 dB", "10", "1000"),
            ("2.0 A", "20 dB", "0.2", "20"),
        ] {
            let tolerance = around(nominal, decibels(margin));
            assert_eq!(tolerance.fault(tolerance.unit()), None, "{nominal}");
            let limits = tolerance.limits();
            assert_eq!(limits.low, Some(low.parse().unwrap()), "{nominal}");
            assert_eq!(limits.high, Some(high.parse().unwrap()), "{nominal}");
        }
        for (nominal, margin) in [
            ("0 W", "1 dB"),
            ("-5 V", "1 dB"),
            ("20 W", "-1 dB"),
            ("9 MHz", "1 dB"),
        ] {
            let tolerance = around(nominal, decibels(margin));
            assert!(
                tolerance.fault(tolerance.unit()).is_some(),
                "{nominal} ± {margin}"
            );
        }
    }

    #[test]
    fn a_tolerance_reads_like_print() {
        let asymmetric = Tolerance::Around {
            nominal: q("50 mA"),
            below: Margin::Absolute(q("10 mA")),
            above: Margin::Absolute(q("2 mA")),
        };
        for (tolerance, print) in [
            (
                around("9.0015 MHz", Margin::Absolute(q("20 Hz"))),
                "9.0015 MHz ± 20 Hz",
            ),
            (
                around("28.000 MHz", Margin::Ppm(50.into())),
                "28.000 MHz ± 50 ppm",
            ),
            (asymmetric, "50 mA + 2 mA − 10 mA"),
            (Tolerance::AtMost(q("-40 dBc")), "at most −40 dBc"),
            (
                around("20 W", Margin::Absolute(q("1 dB"))),
                "20 W ± 1 dB (15.89 W to 25.17 W)",
            ),
        ] {
            let text = tolerance.typeset(DecimalSign::Point).replace('\u{a0}', " ");
            assert_eq!(text, print);
        }
    }
}
