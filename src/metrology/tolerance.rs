//! Where a reading may lie, and where it lies. All comparisons are exact.

use crate::quantity::{DecimalSign, Number, Quantity, Unit, to_f64};
use bigdecimal::BigDecimal;
use num_traits::{Signed, Zero};
use serde::{Deserialize, Serialize};
use std::fmt;

/// How far a reading may be from the nominal value, to one side.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Margin {
    /// An amount in the unit of a difference: Hz for Hz, dB for dBm.
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
    /// The reading less the nominal value or, where there is none, less the limit that it is
    /// nearest to; in the unit of a difference.
    pub deviation: Quantity,
    /// What the deviation is counted from.
    pub from: Reference,
}

/// What a deviation is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference {
    /// The nominal value.
    Nominal,
    /// The lower limit.
    LowLimit,
    /// The upper limit.
    HighLimit,
}

impl Margin {
    /// The margin as an exact amount in the unit without prefix.
    pub fn amount(&self, nominal: &BigDecimal) -> BigDecimal {
        match self {
            Margin::Absolute(quantity) => quantity.base(),
            Margin::Percent(percent) => nominal.abs() * percent.decimal() * power_of_ten(-2),
            Margin::Ppm(ppm) => nominal.abs() * ppm.decimal() * power_of_ten(-6),
        }
    }

    /// Why the margin does not go with a nominal value in `unit`, if it doesn't.
    fn fault(&self, unit: Unit) -> Option<ToleranceFault> {
        let (negative, has) = match self {
            Margin::Absolute(quantity) => (quantity.number.is_negative(), Some(quantity.unit())),
            Margin::Percent(number) | Margin::Ppm(number) => (number.is_negative(), None),
        };
        let due = unit.of_difference();
        match has {
            Some(has) if has != due => Some(ToleranceFault::Unit { has, due }),
            _ if negative => Some(ToleranceFault::NegativeMargin),
            _ => None,
        }
    }

    /// Two margins in print, such as `± 20 Hz` or `+ 2 mA − 10 mA`.
    pub fn typeset_pair(below: &Margin, above: &Margin, sign: DecimalSign) -> String {
        match below == above {
            true => format!("± {}", below.typeset(sign)),
            false => format!("+ {} \u{2212} {}", above.typeset(sign), below.typeset(sign)),
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
            ToleranceFault::Crossed => {
                write!(f, "its lower limit is above its upper limit: swap them")
            }
        }
    }
}

fn power_of_ten(exponent: i64) -> BigDecimal {
    BigDecimal::new(1.into(), -exponent)
}

impl Tolerance {
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
                .or_else(|| below.fault(due))
                .or_else(|| above.fault(due)),
            Tolerance::AtLeast(limit) | Tolerance::AtMost(limit) => wrong_unit(limit),
            Tolerance::Between { low, high } => wrong_unit(low)
                .or_else(|| wrong_unit(high))
                .or_else(|| (low.base() > high.base()).then_some(ToleranceFault::Crossed)),
        }
    }

    /// The exact limits.
    pub fn limits(&self) -> Limits {
        let (low, high) = match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => {
                let centre = nominal.base();
                let low = &centre - below.amount(&centre);
                let high = &centre + above.amount(&centre);
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
        let limits = self.limits();
        let value = reading.base();
        let place = limits.place(&value);
        let (from, origin) = self.reference(&limits, &value);
        let unit = reading.unit().of_difference();
        Verdict {
            place,
            deviation: Quantity::natural(value - origin, unit),
            from,
        }
    }

    fn reference(&self, limits: &Limits, value: &BigDecimal) -> (Reference, BigDecimal) {
        if let Some(nominal) = self.nominal() {
            return (Reference::Nominal, nominal.base());
        }
        match (&limits.low, &limits.high) {
            (Some(low), Some(high)) if (value - low).abs() > (value - high).abs() => {
                (Reference::HighLimit, high.clone())
            }
            (Some(low), _) => (Reference::LowLimit, low.clone()),
            (None, Some(high)) => (Reference::HighLimit, high.clone()),
            (None, None) => (Reference::Nominal, BigDecimal::zero()),
        }
    }

    /// The tolerance in print, such as `9.0015 MHz ± 20 Hz`.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        match self {
            Tolerance::Around {
                nominal,
                below,
                above,
            } => format!(
                "{} {}",
                nominal.typeset(sign),
                Margin::typeset_pair(below, above, sign)
            ),
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

    /// The deviation in words, such as `1.2 kHz high`, `0.3 W below the limit` or `on target`.
    pub fn words(&self, sign: DecimalSign) -> String {
        let number = self.deviation.number.decimal();
        let size =
            Quantity::new(Number::from_decimal(number.abs()), self.deviation.scale).typeset(sign);
        match (self.from, number.is_zero(), number.is_negative()) {
            (Reference::Nominal, true, _) => "on target".to_owned(),
            (Reference::Nominal, _, false) => format!("{size} high"),
            (Reference::Nominal, _, true) => format!("{size} low"),
            (_, true, _) => "exactly on the limit".to_owned(),
            (_, _, false) => format!("{size} above the limit"),
            (_, _, true) => format!("{size} below the limit"),
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Place::Low => "low",
            Place::Inside => "inside",
            Place::High => "high",
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
    fn a_verdict_names_place_deviation_and_direction() {
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
                "1.2 kHz high",
            ),
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9.001480 MHz",
                Place::Inside,
                "20 Hz low",
            ),
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9.001479 MHz",
                Place::Low,
                "21 Hz low",
            ),
            (
                around("9.0015 MHz", hz("20 Hz")),
                "9001.50 kHz",
                Place::Inside,
                "on target",
            ),
            (
                around("27.185 MHz", ppm("50")),
                "27.18635925 MHz",
                Place::Inside,
                "1.35925 kHz high",
            ),
            (
                around("27.185 MHz", ppm("50")),
                "27.186359250001 MHz",
                Place::High,
                "1.359250001 kHz high",
            ),
            (
                around("8.0 V", percent("5")),
                "7.6 V",
                Place::Inside,
                "400 mV low",
            ),
            (
                around("8.0 V", percent("5")),
                "7.59 V",
                Place::Low,
                "410 mV low",
            ),
            (
                around("-8.0 V", percent("5")),
                "-8.41 V",
                Place::Low,
                "410 mV low",
            ),
            (
                around("-10 dBm", hz("1.5 dB")),
                "-8.5 dBm",
                Place::Inside,
                "1.5 dB high",
            ),
            (lopsided.clone(), "40 mA", Place::Inside, "10 mA low"),
            (lopsided, "52.1 mA", Place::High, "2.1 mA high"),
            (
                Tolerance::AtLeast(q("40 dB")),
                "38 dB",
                Place::Low,
                "2 dB below the limit",
            ),
            (
                Tolerance::AtLeast(q("40 dB")),
                "40.0 dB",
                Place::Inside,
                "exactly on the limit",
            ),
            (
                Tolerance::AtMost(q("0.5 µV EMF")),
                "0.35 µV EMF",
                Place::Inside,
                "150 nV EMF below the limit",
            ),
            (
                between.clone(),
                "4.1 W",
                Place::High,
                "100 mW above the limit",
            ),
            (between, "3.7 W", Place::Inside, "100 mW above the limit"),
        ] {
            let verdict = tolerance.judge(&q(reading));
            assert_eq!(verdict.place, place, "{reading}");
            let said = verdict.words(DecimalSign::Point).replace('\u{a0}', " ");
            assert_eq!(said, words, "{reading}");
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
        ] {
            let text = tolerance.typeset(DecimalSign::Point).replace('\u{a0}', " ");
            assert_eq!(text, print);
        }
    }
}
