//! What a tolerance says of a reading.

use crate::metrology::tolerance::margin::Side;
use crate::quantity::{DecimalSign, Number, Quantity, to_f64};
use bigdecimal::BigDecimal;
use num_traits::{Signed, Zero};
use std::fmt;

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
