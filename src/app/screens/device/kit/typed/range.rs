//! One range of an instrument as it is typed.

use crate::app::screens::device::kit::typed::further::plain;
use crate::app::words::device::kit as words;
use crate::app::words::shared;
use crate::metrology::instrument::{Accuracy, Range};
use crate::quantity::{DecimalSign, Number, Scale, Unit, read, read_number};
use serde::{Deserialize, Serialize};

/// A range as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TypedRange {
    pub unit: UnitSymbol,
    pub full_scale: String,
    pub resolution: String,
    pub percent_of_reading: String,
    pub percent_of_range: String,
    pub counts: String,
    pub ppm: String,
    pub absolute: String,
}

/// A unit by its symbol, so that it can be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitSymbol(pub Unit);

impl Serialize for UnitSymbol {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Scale::plain(self.0).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for UnitSymbol {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Scale::deserialize(deserializer).map(|scale| UnitSymbol(scale.unit))
    }
}

impl TypedRange {
    pub fn blank(unit: Unit) -> Self {
        TypedRange {
            unit: UnitSymbol(unit),
            full_scale: String::new(),
            resolution: String::new(),
            percent_of_reading: String::new(),
            percent_of_range: String::new(),
            counts: String::new(),
            ppm: String::new(),
            absolute: String::new(),
        }
    }

    pub fn of(range: &Range, sign: DecimalSign) -> Self {
        let number = |n: &Option<Number>| {
            n.as_ref()
                .map_or(String::new(), |n| plain(&n.to_string(), sign))
        };
        let accuracy = &range.accuracy;
        TypedRange {
            unit: UnitSymbol(range.full_scale.unit()),
            full_scale: plain(&range.full_scale.to_string(), sign),
            resolution: plain(&range.resolution.to_string(), sign),
            percent_of_reading: number(&accuracy.percent_of_reading),
            percent_of_range: number(&accuracy.percent_of_range),
            counts: accuracy.counts.map_or(String::new(), |c| c.to_string()),
            ppm: number(&accuracy.ppm),
            absolute: accuracy
                .absolute
                .as_ref()
                .map_or(String::new(), |q| plain(&q.to_string(), sign)),
        }
    }

    /// The range, or what can't be read of it.
    pub fn read(&self, sign: DecimalSign) -> Result<Range, String> {
        let scale = Scale::plain(self.unit.0);
        let difference = Scale::plain(self.unit.0.of_difference());
        let field = |name: &str, text: &str, scale| {
            read(text, scale, sign).map_err(|error| shared::of_field(name, error))
        };
        let number = |name: &str, text: &str| match text.trim().is_empty() {
            true => Ok(None),
            false => read_number(text, sign)
                .map(Some)
                .map_err(|error| shared::of_field(name, error)),
        };
        let counts = match self.counts.trim() {
            "" => None,
            text => Some(
                text.parse::<u32>()
                    .map_err(|_| words::COUNTS_UNREADABLE.to_owned())?,
            ),
        };
        let absolute = match self.absolute.trim().is_empty() {
            true => None,
            false => Some(field(words::AMOUNT, &self.absolute, difference)?),
        };
        Ok(Range {
            full_scale: field(words::FULL_SCALE, &self.full_scale, scale)?,
            resolution: field(words::RESOLUTION, &self.resolution, difference)?,
            accuracy: Accuracy {
                percent_of_reading: number(words::PERCENT_OF_READING, &self.percent_of_reading)?,
                percent_of_range: number(words::PERCENT_OF_RANGE, &self.percent_of_range)?,
                counts,
                ppm: number(words::PPM, &self.ppm)?,
                absolute,
            },
        })
    }
}
