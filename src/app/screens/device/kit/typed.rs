//! An instrument as it is typed, and what can be read of that.

use crate::app::words::device::kit as words;
use crate::app::words::shared;
use crate::metrology::date::Date;
use crate::metrology::instrument::{
    Accuracy, Correction, Further, Instrument, Loss, Range, Share, Source,
};
use crate::quantity::{DecimalSign, Family, Number, Prefix, Scale, Unit, read, read_number};
use serde::{Deserialize, Serialize};

/// An instrument as typed, not yet read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Typed {
    pub role: String,
    pub name: String,
    pub asset: String,
    pub calibrated: String,
    pub due: String,
    pub ranges: Vec<TypedRange>,
    pub reference: String,
    pub shown: String,
    /// Corrections that this form has no field for are kept as they are.
    pub others: Vec<Correction>,
    #[serde(default)]
    pub further: Vec<TypedFurther>,
    #[serde(default)]
    pub loss: String,
    #[serde(default)]
    pub loss_within: String,
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

/// What else a reading is uncertain by, as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TypedFurther {
    pub from: Origin,
    pub unit: UnitSymbol,
    pub within: String,
    pub coverage: String,
}

/// Where it comes from, without its figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Origin {
    Certificate,
    Load,
    Tap,
    Leads,
    Mismatch,
}

impl Origin {
    pub const ALL: [Origin; 5] = [
        Origin::Certificate,
        Origin::Load,
        Origin::Tap,
        Origin::Leads,
        Origin::Mismatch,
    ];

    pub const fn words(self) -> &'static str {
        match self {
            Origin::Certificate => words::FROM_CERTIFICATE,
            Origin::Load => words::FROM_LOAD,
            Origin::Tap => words::FROM_TAP,
            Origin::Leads => words::FROM_LEADS,
            Origin::Mismatch => words::FROM_MISMATCH,
        }
    }
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

impl TypedFurther {
    pub fn blank(unit: Unit) -> Self {
        TypedFurther {
            from: Origin::Load,
            unit: UnitSymbol(unit),
            within: String::new(),
            coverage: String::new(),
        }
    }

    pub fn of(further: &Further, sign: DecimalSign) -> Self {
        let (from, coverage) = match &further.from {
            Source::Certificate { coverage } => {
                (Origin::Certificate, plain(&coverage.to_string(), sign))
            }
            Source::Load => (Origin::Load, String::new()),
            Source::Tap => (Origin::Tap, String::new()),
            Source::Leads => (Origin::Leads, String::new()),
            Source::Mismatch => (Origin::Mismatch, String::new()),
            // None of the kit has it.
            Source::Samples => (Origin::Leads, String::new()),
        };
        let within = typed_share(&further.within);
        TypedFurther {
            from,
            unit: UnitSymbol(further.of.unit),
            within: plain(&within, sign),
            coverage,
        }
    }

    /// What it says, or what can't be read of it.
    pub fn read(&self, sign: DecimalSign) -> Result<Further, String> {
        let from = match self.from {
            Origin::Certificate => Source::Certificate {
                coverage: self.read_coverage(sign)?,
            },
            Origin::Load => Source::Load,
            Origin::Tap => Source::Tap,
            Origin::Leads => Source::Leads,
            Origin::Mismatch => Source::Mismatch,
        };
        let unit = self.unit.0;
        let unreadable = || words::within_unreadable(unit.of_difference().symbol());
        let within = match self.within.trim().strip_suffix('%') {
            Some(_) if unit.family() == Family::Level => {
                return Err(words::PERCENT_OF_A_LEVEL.to_owned());
            }
            Some(percent) => {
                let percent = read_number(percent, sign).map_err(|_| unreadable())?;
                Share::Percent(percent)
            }
            None => {
                let scale = Scale::plain(unit.of_difference());
                Share::Amount(read(&self.within, scale, sign).map_err(|_| unreadable())?)
            }
        };
        let size = match &within {
            Share::Percent(percent) => percent,
            Share::Amount(amount) => &amount.number,
        };
        if !is_above_zero(size) {
            return Err(unreadable());
        }
        Ok(Further {
            from,
            of: Scale::plain(unit),
            within,
        })
    }

    /// The coverage factor, which is not guessed where the certificate's is not typed.
    fn read_coverage(&self, sign: DecimalSign) -> Result<Number, String> {
        let coverage = read_number(&self.coverage, sign).ok();
        let coverage = coverage.filter(is_above_zero);
        coverage.ok_or_else(|| words::COVERAGE_UNREADABLE.to_owned())
    }
}

fn typed_share(share: &Share) -> String {
    match share {
        Share::Percent(percent) => format!("{percent} %"),
        Share::Amount(amount) => amount.to_string(),
    }
}

/// A loss as it is typed: `10 dB`, `×10`.
fn typed_loss(loss: &Loss) -> String {
    match loss.by.unit() {
        Unit::Decibel => loss.by.to_string(),
        _ => format!("×{}", loss.by.number),
    }
}

fn is_above_zero(number: &Number) -> bool {
    !number.is_negative() && number.to_f64() != 0.0
}

/// A document's number as it is typed here.
fn plain(text: &str, sign: DecimalSign) -> String {
    text.replace('.', sign.symbol())
}

impl Typed {
    pub fn of(instrument: &Instrument, sign: DecimalSign) -> Self {
        let (time_bases, others): (Vec<_>, Vec<_>) = instrument
            .corrections
            .iter()
            .cloned()
            .partition(|c| matches!(c, Correction::TimeBase { .. }));
        let (reference, shown) = match time_bases.first() {
            Some(Correction::TimeBase { reference, reading }) => (
                plain(&reference.to_string(), sign),
                plain(&reading.to_string(), sign),
            ),
            _ => (String::new(), String::new()),
        };
        let day = |date: Option<Date>| date.map_or(String::new(), |d| d.to_string());
        Typed {
            role: instrument.role.clone(),
            name: instrument.name.clone(),
            asset: instrument.asset.clone(),
            calibrated: day(instrument.calibrated),
            due: day(instrument.due),
            ranges: instrument
                .ranges
                .iter()
                .map(|range| TypedRange::of(range, sign))
                .collect(),
            reference,
            shown,
            others,
            loss: instrument
                .loss
                .as_ref()
                .map_or(String::new(), |loss| plain(&typed_loss(loss), sign)),
            loss_within: instrument
                .loss
                .as_ref()
                .and_then(|loss| loss.within.as_ref())
                .map_or(String::new(), |within| plain(&typed_share(within), sign)),
            further: instrument
                .further
                .iter()
                .map(|further| TypedFurther::of(further, sign))
                .collect(),
        }
    }

    /// The instrument, or the first thing that can't be read.
    pub fn read(&self, sign: DecimalSign) -> Result<Instrument, String> {
        if self.name.trim().is_empty() {
            return Err(words::NAME_MISSING.to_owned());
        }
        let day = |name: &str, text: &str| {
            Date::typed(text).map_err(|error| shared::of_field(name, error))
        };
        let ranges = self
            .ranges
            .iter()
            .enumerate()
            .map(|(index, range)| {
                let place = |error: String| words::of_range(index + 1, &error);
                range.read(sign).map_err(place)
            })
            .collect::<Result<_, _>>()?;
        let further = self
            .further
            .iter()
            .enumerate()
            .map(|(index, further)| {
                let place = |error: String| words::of_further(index + 1, &error);
                further.read(sign).map_err(place)
            })
            .collect::<Result<_, _>>()?;
        let mut corrections = self.others.clone();
        corrections.extend(self.time_base(sign)?);
        Ok(Instrument {
            role: self.role.trim().to_owned(),
            name: self.name.trim().to_owned(),
            asset: self.asset.trim().to_owned(),
            calibrated: day(words::CALIBRATED, &self.calibrated)?,
            due: day(words::DUE, &self.due)?,
            ranges,
            corrections,
            further,
            loss: self.read_loss(sign)?,
        })
    }

    /// What it takes away of a signal that passes it; nothing where it is no pad, coupler or probe.
    fn read_loss(&self, sign: DecimalSign) -> Result<Option<Loss>, String> {
        let (by, within) = (self.loss.trim(), self.loss_within.trim());
        if by.is_empty() && within.is_empty() {
            return Ok(None);
        }
        let unreadable = || words::LOSS_UNREADABLE.to_owned();
        let ratio = by.strip_prefix(['×', 'x', 'X']);
        let (digits, unit) = match ratio {
            Some(ratio) => (ratio.trim(), Unit::Ratio),
            None => (by, Unit::Decibel),
        };
        let by = read(digits, Scale::plain(unit), sign).map_err(|_| unreadable())?;
        if !is_above_zero(&by.number) {
            return Err(unreadable());
        }
        let within = self.read_loss_within(sign)?;
        Ok(Some(Loss { by, within }))
    }

    /// How far the loss may be off; nothing where nobody knows.
    fn read_loss_within(&self, sign: DecimalSign) -> Result<Option<Share>, String> {
        let within = self.loss_within.trim();
        if within.is_empty() {
            return Ok(None);
        }
        let unreadable = || words::LOSS_WITHIN_UNREADABLE.to_owned();
        let share = match within.strip_suffix('%') {
            Some(percent) => Share::Percent(read_number(percent, sign).map_err(|_| unreadable())?),
            None => {
                let decibels = read(within, Scale::plain(Unit::Decibel), sign);
                Share::Amount(decibels.map_err(|_| unreadable())?)
            }
        };
        let size = match &share {
            Share::Percent(percent) => percent,
            Share::Amount(amount) => &amount.number,
        };
        match is_above_zero(size) {
            true => Ok(Some(share)),
            false => Err(unreadable()),
        }
    }

    pub fn time_base(&self, sign: DecimalSign) -> Result<Option<Correction>, String> {
        if self.reference.trim().is_empty() && self.shown.trim().is_empty() {
            return Ok(None);
        }
        let megahertz = Scale::new(Prefix::Mega, Unit::Hertz);
        let field = |name: &str, text: &str| {
            read(text, megahertz, sign).map_err(|error| shared::of_field(name, error))
        };
        let correction = Correction::TimeBase {
            reference: field(words::REFERENCE, &self.reference)?,
            reading: field(words::SHOWN, &self.shown)?,
        };
        match correction.ppm() {
            Some(ppm) if ppm.abs() <= 1000 => Ok(Some(correction)),
            _ => Err(words::TIME_BASE_ODD.to_owned()),
        }
    }
}
