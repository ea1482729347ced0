//! What stands in the path before an instrument and takes away some of what is measured.

use crate::metrology::instrument::further::Share;
use crate::quantity::decibel::log_of_ten;
use crate::quantity::{DecimalSign, Family, Quantity, Unit};
use bigdecimal::BigDecimal;
use num_traits::Zero;
use serde::{Deserialize, Serialize};

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
