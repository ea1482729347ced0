//! Published limits as named, sourced sets that a step can cite.

use super::levels::decibels_of_power_ratio;
use crate::quantity::{Fault, Number, Quantity};
use serde::{Deserialize, Serialize};

/// What every list of limits says first.
pub const NOTICE: &str = "Limits differ by country and change. The rules in force where the set \
     is used, and the licence, decide; check them before relying on a figure here.";

/// A set of limits from one document.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct LimitSet {
    /// A short name to cite it by.
    pub id: String,
    /// The document.
    pub title: String,
    /// Its limits.
    pub limits: Vec<Limit>,
}

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
    /// All, the surest first.
    pub const ALL: [Known; 5] = [
        Known::Read,
        Known::ReadSecondHand,
        Known::FromMemory,
        Known::CommonPractice,
        Known::WorkedOut,
    ];

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

use Known::{FromMemory, Read, ReadSecondHand};

/// A limit as it is written below: id, what, bound, clause, how it is known.
type Row = (&'static str, &'static str, Text, &'static str, Known);

/// A bound in the spelling of documents.
enum Text {
    Ppm(i32),
    Within(&'static str),
    AtMost(&'static str),
    Between(&'static str, &'static str),
    BelowPower(i32),
}

use Text::{AtMost, BelowPower, Between, Ppm, Within};

/// The name of the set that is in force in the United States.
const US_ID: &str = "47-cfr-95-d";

const US: &[Row] = &[
    (
        "frequency",
        "Carrier frequency, for SSB the reference frequency",
        Ppm(50),
        "95.965",
        Read,
    ),
    (
        "carrier-power",
        "Mean carrier power, AM or FM",
        AtMost("4 W"),
        "95.967(a)",
        Read,
    ),
    (
        "pep",
        "Peak envelope power, SSB",
        AtMost("12 W PEP"),
        "95.967(b)",
        Read,
    ),
    (
        "depth",
        "Modulation depth, AM voice",
        Between("85 %", "100 %"),
        "95.975(a)",
        Read,
    ),
    (
        "deviation",
        "Peak deviation, FM",
        AtMost("2 kHz"),
        "95.975(c)",
        Read,
    ),
    (
        "bandwidth-am-fm",
        "Authorized bandwidth, AM or FM",
        AtMost("8 kHz"),
        "95.973",
        ReadSecondHand,
    ),
    (
        "bandwidth-ssb",
        "Authorized bandwidth, SSB",
        AtMost("4 kHz"),
        "95.973",
        ReadSecondHand,
    ),
    (
        "unwanted-am-fm-near",
        "Unwanted emissions, AM or FM, 4 to 8 kHz from the centre",
        AtMost("-25 dBc"),
        "95.979(a)(1)",
        FromMemory,
    ),
    (
        "unwanted-am-fm-far",
        "Unwanted emissions, AM or FM, 8 to 20 kHz from the centre",
        AtMost("-35 dBc"),
        "95.979(a)(2)",
        FromMemory,
    ),
    (
        "unwanted-ssb-near",
        "Unwanted emissions, SSB, 2 to 6 kHz from the centre",
        AtMost("-25 dBc"),
        "95.979(a)(1)",
        FromMemory,
    ),
    (
        "unwanted-ssb-far",
        "Unwanted emissions, SSB, 6 to 10 kHz from the centre",
        AtMost("-35 dBc"),
        "95.979(a)(2)",
        FromMemory,
    ),
    (
        "unwanted-am-fm-beyond",
        "Unwanted emissions, AM or FM, beyond 20 kHz from the centre",
        BelowPower(53),
        "95.979(a)(3)",
        FromMemory,
    ),
    (
        "unwanted-ssb-beyond",
        "Unwanted emissions, SSB, beyond 10 kHz from the centre",
        BelowPower(53),
        "95.979(a)(3)",
        FromMemory,
    ),
    (
        "harmonics",
        "Emissions centred on each harmonic",
        AtMost("-60 dBc"),
        "95.979(a)(4)",
        FromMemory,
    ),
];

/// Rows of [`US`] that older procedures cite: the same for one power, with the power taken as known.
const US_OF_ONE_POWER: &[Row] = &[
    (
        "unwanted-4-w",
        "Unwanted emissions beyond 20 kHz from the centre, at 4 W: 53 + 10 log P",
        AtMost("-59.02 dBc"),
        "95.979(a)(3)",
        FromMemory,
    ),
    (
        "unwanted-12-w",
        "Unwanted emissions beyond 10 kHz from the centre, SSB at 12 W: 53 + 10 log P",
        AtMost("-63.79 dBc"),
        "95.979(a)(3)",
        FromMemory,
    ),
];

const US_FORMER: &[Row] = &[
    (
        "unwanted-am-near",
        "Unwanted emissions, AM, from 50 % to 100 % of the authorized bandwidth",
        AtMost("-25 dBc"),
        "95.635(b)(1)",
        Read,
    ),
    (
        "unwanted-ssb-near",
        "Unwanted emissions, SSB, from 50 % to 150 % of the authorized bandwidth",
        AtMost("-25 dBc"),
        "95.635(b)(2)",
        Read,
    ),
    (
        "unwanted-am-far",
        "Unwanted emissions, AM, from 100 % to 250 % of the authorized bandwidth",
        AtMost("-35 dBc"),
        "95.635(b)(3)",
        Read,
    ),
];

const EUROPE_DECISION: &[Row] = &[
    (
        "power-angle",
        "Radiated power, FM",
        AtMost("4 W"),
        "technical requirements",
        Read,
    ),
    (
        "power-dsb",
        "Radiated power, AM, RMS",
        AtMost("4 W"),
        "technical requirements",
        Read,
    ),
    (
        "power-ssb",
        "Radiated peak envelope power, SSB",
        AtMost("12 W PEP"),
        "technical requirements",
        Read,
    ),
];

const EUROPE_STANDARD: &[Row] = &[
    (
        "frequency",
        "Frequency error",
        Within("0.6 kHz"),
        "frequency error",
        FromMemory,
    ),
    (
        "carrier-power",
        "Carrier power, FM and AM",
        AtMost("4 W"),
        "carrier power",
        FromMemory,
    ),
    (
        "pep",
        "Peak envelope power, SSB",
        AtMost("12 W PEP"),
        "carrier power",
        FromMemory,
    ),
    (
        "adjacent",
        "Adjacent channel power",
        AtMost("20 µW"),
        "adjacent channel power",
        FromMemory,
    ),
    (
        "spurious-broadcast",
        "Conducted spurious emissions while transmitting, in the listed broadcast bands",
        AtMost("4 nW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "spurious-low",
        "Conducted spurious emissions while transmitting, elsewhere below 1 GHz",
        AtMost("0.25 µW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "spurious-high",
        "Conducted spurious emissions while transmitting, above 1 GHz",
        AtMost("1 µW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "standby-low",
        "Conducted spurious emissions in standby, below 1 GHz",
        AtMost("2 nW"),
        "spurious emissions",
        FromMemory,
    ),
    (
        "standby-high",
        "Conducted spurious emissions in standby, above 1 GHz",
        AtMost("20 nW"),
        "spurious emissions",
        FromMemory,
    ),
];

const EUROPE_FM: &[Row] = &[(
    "deviation",
    "Peak deviation, FM",
    AtMost("2 kHz"),
    "deviation",
    FromMemory,
)];

const UK: &[Row] = &[
    (
        "frequency",
        "Frequency error",
        Within("1.5 kHz"),
        "tolerance",
        FromMemory,
    ),
    (
        "deviation",
        "Peak deviation",
        AtMost("2.5 kHz"),
        "deviation",
        FromMemory,
    ),
];

/// The sets that come with the app.
pub fn built_in() -> Vec<LimitSet> {
    vec![
        set(US_ID, "47 CFR Part 95 Subpart D", US),
        set("47-cfr-95-635", "47 CFR 95.635, former text", US_FORMER),
        set(
            "ecc-dec-11-03",
            "ECC/DEC/(11)03, amended 2016",
            EUROPE_DECISION,
        ),
        set("en-300-433", "EN 300 433", EUROPE_STANDARD),
        set("en-300-135", "EN 300 135", EUROPE_FM),
        set("mpt-1320", "MPT 1320 (27/81)", UK),
    ]
}

/// The limit of this name in a set, with the set; also one that is offered no more.
pub fn find(set: &str, limit: &str) -> Option<(LimitSet, Option<Limit>)> {
    let set = built_in().into_iter().find(|it| it.id == set)?;
    let offered = set.limits.iter().find(|it| it.id == limit).cloned();
    let mut older = US_OF_ONE_POWER
        .iter()
        .filter(|(id, ..)| set.id == US_ID && *id == limit);
    let found = offered.or_else(|| older.find_map(self::limit));
    Some((set, found))
}

/// Attenuation in dB below a transmitter power in watts above zero that rules of the form
/// base + 10·log₁₀(P) ask for.
///
/// Source: 47 CFR 95.979(a)(3) with 53 dB (from memory); 47 CFR 95.779(a) with 43 dB.
pub fn attenuation_required(base: f64, watts: f64) -> Result<f64, Fault> {
    Ok(base + decibels_of_power_ratio(watts)?)
}

fn set(id: &str, title: &str, rows: &[Row]) -> LimitSet {
    LimitSet {
        id: id.into(),
        title: title.into(),
        limits: rows.iter().filter_map(limit).collect(),
    }
}

/// The limit of a row; a test reads every row.
fn limit((id, what, bound, clause, known): &Row) -> Option<Limit> {
    Some(Limit {
        id: (*id).into(),
        what: (*what).into(),
        bound: bound.parsed()?,
        clause: (*clause).into(),
        known: *known,
    })
}

impl Text {
    fn parsed(&self) -> Option<Bound> {
        let quantity = |text: &str| text.parse().ok();
        Some(match self {
            Ppm(ppm) => Bound::WithinPpm((*ppm).into()),
            Within(text) => Bound::Within(quantity(text)?),
            AtMost(text) => Bound::AtMost(quantity(text)?),
            Between(low, high) => Bound::Between(quantity(low)?, quantity(high)?),
            BelowPower(decibels) => Bound::BelowPower((*decibels).into()),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_spelled_so_that_it_can_be_read() {
        for (rows, set) in [
            US,
            US_FORMER,
            EUROPE_DECISION,
            EUROPE_STANDARD,
            EUROPE_FM,
            UK,
        ]
        .iter()
        .zip(built_in())
        {
            assert_eq!(rows.len(), set.limits.len(), "{}", set.title);
        }
    }
}
