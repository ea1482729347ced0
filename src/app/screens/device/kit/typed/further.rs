//! What else adds to its uncertainty, as it is typed.

use crate::app::screens::device::kit::typed::misread::Misread;
use crate::app::screens::device::kit::typed::range::UnitSymbol;
use crate::app::words::device::kit as words;
use crate::metrology::instrument::{Further, Share, Source};
use crate::quantity::{DecimalSign, Family, Number, Scale, Unit, read, read_number};
use serde::{Deserialize, Serialize};

/// The fields of such a thing, as their ids have them.
pub const WITHIN: &str = "within";
/// See [`WITHIN`].
pub const COVERAGE: &str = "k";

/// The id of such a field.
pub fn further_field(index: usize, part: &str) -> String {
    format!("further-{index}-{part}")
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

    /// What the one at a place in the list says, or the field of it that can't be read.
    pub fn read(&self, index: usize, sign: DecimalSign) -> Result<Further, Misread> {
        let from = match self.from {
            Origin::Certificate => Source::Certificate {
                coverage: self.read_coverage(index, sign)?,
            },
            Origin::Load => Source::Load,
            Origin::Tap => Source::Tap,
            Origin::Leads => Source::Leads,
            Origin::Mismatch => Source::Mismatch,
        };
        let unit = self.unit.0;
        let id = || further_field(index, WITHIN);
        let unreadable = || {
            Misread::of(
                id(),
                words::within_unreadable(unit.of_difference().symbol()),
            )
        };
        let within = match self.within.trim().strip_suffix('%') {
            Some(_) if unit.family() == Family::Level => {
                return Err(Misread::of(id(), words::PERCENT_OF_A_LEVEL));
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
    fn read_coverage(&self, index: usize, sign: DecimalSign) -> Result<Number, Misread> {
        let coverage = read_number(&self.coverage, sign).ok();
        let coverage = coverage.filter(is_above_zero);
        let unreadable = || Misread::of(further_field(index, COVERAGE), words::COVERAGE_UNREADABLE);
        coverage.ok_or_else(unreadable)
    }
}

pub(super) fn typed_share(share: &Share) -> String {
    match share {
        Share::Percent(percent) => format!("{percent} %"),
        Share::Amount(amount) => amount.to_string(),
    }
}

pub(super) fn is_above_zero(number: &Number) -> bool {
    !number.is_negative() && number.to_f64() != 0.0
}

/// A document's number as it is typed here.
pub(super) fn plain(text: &str, sign: DecimalSign) -> String {
    text.replace('.', sign.symbol())
}
