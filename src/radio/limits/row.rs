//! One limit as the tables of the rules hold it.

use crate::quantity::{DecimalSign, Number, Quantity};
use serde::{Deserialize, Serialize};

/// One limit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Limit {
    /// A short name to cite it by, unique in its set.
    pub id: String,
    /// What is limited, and when.
    pub what: String,
    /// The limit.
    pub bound: Bound,
    /// Section or clause.
    pub clause: String,
    /// How the figure is known.
    pub known: Known,
}

/// A limit, exact.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Bound {
    /// Plus or minus parts per million of the nominal value.
    WithinPpm(Number),
    /// Plus or minus an amount around the nominal value.
    Within(Quantity),
    /// This much or less.
    AtMost(Quantity),
    /// From one value to another.
    Between(Quantity, Quantity),
    /// So many dB and 10 log₁₀ P below the power P in watts, which is measured.
    BelowPower(Number),
    /// So many dB and 10 log₁₀ P below the power P in watts, but never more than the second.
    BelowPowerUpTo(Number, Number),
}

impl Bound {
    /// Whether it goes by a power that is measured.
    pub const fn goes_by_power(&self) -> bool {
        matches!(self, Bound::BelowPower(_) | Bound::BelowPowerUpTo(..))
    }

    /// What it asks for in words, where it goes by a power.
    pub fn by_power(&self, sign: DecimalSign) -> Option<String> {
        let below = |decibels: &Number| {
            let decibels = decibels.typeset(sign);
            format!("{decibels}\u{a0}dB + 10\u{a0}log\u{a0}P below the power P in watts")
        };
        match self {
            Bound::BelowPower(decibels) => Some(below(decibels)),
            Bound::BelowPowerUpTo(decibels, most) => Some(format!(
                "{}, or {}\u{a0}dB where that is less",
                below(decibels),
                most.typeset(sign)
            )),
            _ => None,
        }
    }

    /// The most decibels that it asks for, where it has an end.
    pub const fn most_asked(&self) -> Option<&Number> {
        match self {
            Bound::BelowPowerUpTo(_, most) => Some(most),
            _ => None,
        }
    }
}

/// How a figure is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Known {
    /// Seen in a copy of the document.
    Read,
    /// Seen in another document that quotes it.
    ReadSecondHand,
    /// From memory: verify it before relying on it.
    FromMemory,
    /// Usual at benches; no document says so.
    CommonPractice,
    /// Worked out from figures that are known.
    WorkedOut,
}

impl Known {
    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Known::Read => "read in the document",
            Known::ReadSecondHand => "read where another document quotes it",
            Known::FromMemory => "from memory",
            Known::CommonPractice => "common practice",
            Known::WorkedOut => "worked out",
        }
    }
}

/// A limit as it is written below: id, what, bound, clause, how it is known.
pub(super) type Row = (&'static str, &'static str, Text, &'static str, Known);

/// A bound in the spelling of documents.
pub(super) enum Text {
    Ppm(i32),
    PpmOf(&'static str),
    Within(&'static str),
    AtMost(&'static str),
    Between(&'static str, &'static str),
    BelowPower(i32),
    BelowPowerUpTo(i32, i32),
}

impl Text {
    pub(super) fn parsed(&self) -> Option<Bound> {
        let quantity = |text: &str| text.parse().ok();
        Some(match self {
            Text::Ppm(ppm) => Bound::WithinPpm((*ppm).into()),
            Text::PpmOf(text) => Bound::WithinPpm(text.parse().ok()?),
            Text::Within(text) => Bound::Within(quantity(text)?),
            Text::AtMost(text) => Bound::AtMost(quantity(text)?),
            Text::Between(low, high) => Bound::Between(quantity(low)?, quantity(high)?),
            Text::BelowPower(decibels) => Bound::BelowPower((*decibels).into()),
            Text::BelowPowerUpTo(decibels, most) => {
                Bound::BelowPowerUpTo((*decibels).into(), (*most).into())
            }
        })
    }
}
