//! An instrument as it is typed, and what can be read of that.

mod further;
mod misread;
mod range;

pub use self::further::{COVERAGE, Origin, TypedFurther, WITHIN, further_field};
pub use self::misread::Misread;
pub use self::range::{
    ABSOLUTE, COUNTS, FULL_SCALE, OF_RANGE, OF_READING, PPM, RESOLUTION, TypedRange, UnitSymbol,
    range_field,
};

use crate::app::screens::device::kit::typed::further::{is_above_zero, plain, typed_share};
use crate::app::words::device::kit as words;
use crate::metrology::date::Date;
use crate::metrology::instrument::{Correction, Instrument, Loss, Share};
use crate::quantity::{DecimalSign, Prefix, Scale, Unit, read, read_number};
use serde::{Deserialize, Serialize};

/// The ids of its fields.
pub const NAME: &str = "kit-name";
/// See [`NAME`].
pub const CALIBRATED: &str = "kit-calibrated";
/// See [`NAME`].
pub const DUE: &str = "kit-due";
/// See [`NAME`].
pub const LOSS: &str = "kit-loss";
/// See [`NAME`].
pub const LOSS_WITHIN: &str = "kit-loss-within";
/// See [`NAME`].
pub const REFERENCE: &str = "kit-reference";
/// See [`NAME`].
pub const SHOWN: &str = "kit-shown";

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

/// A loss as it is typed: `10 dB`, `×10`.
fn typed_loss(loss: &Loss) -> String {
    match loss.by.unit() {
        Unit::Decibel => loss.by.to_string(),
        _ => format!("×{}", loss.by.number),
    }
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

    /// The instrument, or the first field that can't be read.
    pub fn read(&self, sign: DecimalSign) -> Result<Instrument, Misread> {
        if self.name.trim().is_empty() {
            return Err(Misread::of(NAME, words::NAME_MISSING));
        }
        let day = |field, text: &str| Date::typed(text).map_err(|error| Misread::of(field, error));
        let ranges = self.ranges.iter().enumerate();
        let ranges = ranges.map(|(index, range)| range.read(index, sign));
        let ranges = ranges.collect::<Result<_, _>>()?;
        let further = self.further.iter().enumerate();
        let further = further.map(|(index, further)| further.read(index, sign));
        let further = further.collect::<Result<_, _>>()?;
        let mut corrections = self.others.clone();
        corrections.extend(self.time_base(sign)?);
        Ok(Instrument {
            role: self.role.trim().to_owned(),
            name: self.name.trim().to_owned(),
            asset: self.asset.trim().to_owned(),
            calibrated: day(CALIBRATED, &self.calibrated)?,
            due: day(DUE, &self.due)?,
            ranges,
            corrections,
            further,
            loss: self.read_loss(sign)?,
        })
    }

    /// What it takes away of a signal that passes it; nothing where it is no pad, coupler or probe.
    fn read_loss(&self, sign: DecimalSign) -> Result<Option<Loss>, Misread> {
        let (by, within) = (self.loss.trim(), self.loss_within.trim());
        if by.is_empty() && within.is_empty() {
            return Ok(None);
        }
        let unreadable = || Misread::of(LOSS, words::LOSS_UNREADABLE);
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
    fn read_loss_within(&self, sign: DecimalSign) -> Result<Option<Share>, Misread> {
        let within = self.loss_within.trim();
        if within.is_empty() {
            return Ok(None);
        }
        let unreadable = || Misread::of(LOSS_WITHIN, words::LOSS_WITHIN_UNREADABLE);
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

    pub fn time_base(&self, sign: DecimalSign) -> Result<Option<Correction>, Misread> {
        if self.reference.trim().is_empty() && self.shown.trim().is_empty() {
            return Ok(None);
        }
        let megahertz = Scale::new(Prefix::Mega, Unit::Hertz);
        let field = |field, text: &str| {
            read(text, megahertz, sign).map_err(|error| Misread::of(field, error))
        };
        let correction = Correction::TimeBase {
            reference: field(REFERENCE, &self.reference)?,
            reading: field(SHOWN, &self.shown)?,
        };
        match correction.ppm() {
            Some(ppm) if ppm.abs() <= 1000 => Ok(Some(correction)),
            _ => Err(Misread::of(SHOWN, words::TIME_BASE_ODD)),
        }
    }
}
