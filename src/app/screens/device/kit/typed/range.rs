//! One range of an instrument as it is typed.

use crate::app::screens::device::kit::typed::further::plain;
use crate::app::screens::device::kit::typed::misread::Misread;
use crate::app::words::device::kit as words;
use crate::metrology::instrument::{Accuracy, Range};
use crate::quantity::{DecimalSign, Number, Scale, Unit, read, read_number};
use serde::{Deserialize, Serialize};

/// The fields of a range, as their ids have them.
pub const FULL_SCALE: &str = "full-scale";
/// See [`FULL_SCALE`].
pub const RESOLUTION: &str = "resolution";
/// See [`FULL_SCALE`].
pub const OF_READING: &str = "of-reading";
/// See [`FULL_SCALE`].
pub const OF_RANGE: &str = "of-range";
/// See [`FULL_SCALE`].
pub const COUNTS: &str = "counts";
/// See [`FULL_SCALE`].
pub const PPM: &str = "ppm";
/// See [`FULL_SCALE`].
pub const ABSOLUTE: &str = "absolute";

/// The id of such a field.
pub fn range_field(index: usize, part: &str) -> String {
    format!("range-{index}-{part}")
}

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

    /// The range at a place in the list, or the field of it that can't be read.
    pub fn read(&self, index: usize, sign: DecimalSign) -> Result<Range, Misread> {
        let scale = Scale::plain(self.unit.0);
        let difference = Scale::plain(self.unit.0.of_difference());
        let id = |part: &str| range_field(index, part);
        let field = |part: &str, text: &str, scale| {
            read(text, scale, sign).map_err(|error| Misread::of(id(part), error))
        };
        let number = |part: &str, text: &str| match text.trim().is_empty() {
            true => Ok(None),
            false => read_number(text, sign)
                .map(Some)
                .map_err(|error| Misread::of(id(part), error)),
        };
        let counts = match self.counts.trim() {
            "" => None,
            text => Some(
                text.parse::<u32>()
                    .map_err(|_| Misread::of(id(COUNTS), words::COUNTS_UNREADABLE))?,
            ),
        };
        let absolute = match self.absolute.trim().is_empty() {
            true => None,
            false => Some(field(ABSOLUTE, &self.absolute, difference)?),
        };
        Ok(Range {
            full_scale: field(FULL_SCALE, &self.full_scale, scale)?,
            resolution: field(RESOLUTION, &self.resolution, difference)?,
            accuracy: Accuracy {
                percent_of_reading: number(OF_READING, &self.percent_of_reading)?,
                percent_of_range: number(OF_RANGE, &self.percent_of_range)?,
                counts,
                ppm: number(PPM, &self.ppm)?,
                absolute,
            },
        })
    }
}
