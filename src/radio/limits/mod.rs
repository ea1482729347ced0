//! Published limits as named, sourced sets that a step can cite.

mod row;

pub use self::row::{Bound, Known, Limit};

use crate::radio::limits::row::Row;
mod airband;
mod amateur;
mod land_mobile;
mod marine;
mod personal;

use self::airband::{AIRCRAFT, GROUND, ICAO_AIRBORNE, ICAO_GROUND};
use self::amateur::{RADIO_REGULATIONS, US as US_AMATEUR};
use self::personal::{
    EUROPE_DECISION, EUROPE_FM, EUROPE_STANDARD, EUROPE_STANDARD_1995, UK, UK_FROM_1997, US,
    US_FORMER, US_OF_ONE_POWER,
};
use super::levels::decibels_of_power_ratio;
use crate::quantity::Fault;
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

/// The name of the set that is in force in the United States.
const US_ID: &str = "47-cfr-95-d";

/// The sets that come with the app: a short name, the document, its rows.
const SETS: &[(&str, &str, &[Row])] = &[
    (US_ID, "47 CFR Part 95 Subpart D", US),
    ("47-cfr-95-635", "47 CFR 95.635, former text", US_FORMER),
    (
        "ecc-dec-11-03",
        "ECC/DEC/(11)03, amended 2016",
        EUROPE_DECISION,
    ),
    ("en-300-433", "EN 300 433 V2.1.1", EUROPE_STANDARD),
    (
        "ets-300-433-1995",
        "ETS 300 433, edition 1 of 1995",
        EUROPE_STANDARD_1995,
    ),
    ("en-300-135", "EN 300 135", EUROPE_FM),
    ("mpt-1320", "MPT 1320 (27/81)", UK),
    (
        "47-cfr-90-150",
        "47 CFR Part 90, 150 to 174 MHz",
        land_mobile::US_VHF,
    ),
    (
        "47-cfr-90-421",
        "47 CFR Part 90, 421 to 512 MHz",
        land_mobile::US_UHF,
    ),
    ("47-cfr-90", "47 CFR Part 90", land_mobile::US),
    ("en-300-086", "EN 300 086", land_mobile::EUROPE),
    ("47-cfr-80", "47 CFR Part 80", marine::US),
    ("en-300-162", "EN 300 162", marine::EUROPE),
    ("47-cfr-87-aircraft", "47 CFR Part 87 (aircraft)", AIRCRAFT),
    ("47-cfr-87-ground", "47 CFR Part 87 (ground)", GROUND),
    (
        "annex-10-airborne",
        "ICAO Annex 10 (airborne)",
        ICAO_AIRBORNE,
    ),
    ("annex-10-ground", "ICAO Annex 10 (ground)", ICAO_GROUND),
    ("47-cfr-97", "47 CFR Part 97", US_AMATEUR),
    (
        "itu-rr-3",
        "ITU Radio Regulations, Appendix 3",
        RADIO_REGULATIONS,
    ),
    ("mpt-1382", "MPT 1382, from 1997", UK_FROM_1997),
];

/// The sets that come with the app.
pub fn built_in() -> Vec<LimitSet> {
    let set = |(id, title, rows): &(&str, &str, &[Row])| LimitSet {
        id: (*id).into(),
        title: (*title).into(),
        limits: rows.iter().filter_map(limit).collect(),
    };
    SETS.iter().map(set).collect()
}

/// The document of a set, and the limit of this name in it; also one that is offered no more. No
/// other row is read for it: each step that cites a limit asks for it with each entry.
pub fn find(set: &str, limit: &str) -> Option<(&'static str, Option<Limit>)> {
    let (_, title, rows) = SETS.iter().find(|(id, ..)| *id == set)?;
    let older = US_OF_ONE_POWER.iter().filter(|_| set == US_ID);
    let found = rows.iter().chain(older).find(|(id, ..)| *id == limit);
    Some((title, found.and_then(self::limit)))
}

/// Whether a set offers a limit of this name.
pub fn offers(set: &str, limit: &str) -> bool {
    let rows = SETS
        .iter()
        .find(|(id, ..)| *id == set)
        .map(|(.., rows)| rows);
    rows.is_some_and(|rows| rows.iter().any(|(id, ..)| *id == limit))
}

/// Attenuation in dB below a transmitter power in watts above zero that rules of the form
/// base + 10·log₁₀(P) ask for.
///
/// Source: 47 CFR 95.979(a)(3) with 53 dB (from memory); 47 CFR 95.779(a) with 43 dB.
pub fn attenuation_required(base: f64, watts: f64) -> Result<f64, Fault> {
    Ok(base + decibels_of_power_ratio(watts)?)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_spelled_so_that_it_can_be_read() {
        for ((.., rows), set) in SETS.iter().zip(built_in()) {
            assert_eq!(rows.len(), set.limits.len(), "{}", set.title);
        }
    }
}
