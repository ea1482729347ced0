//! The limits of land mobile and marine sets against what was read of the documents themselves.

use halfturn::procedure::cited;
use halfturn::quantity::Quantity;
use halfturn::radio::limits::{Bound, Known, built_in};
use std::collections::HashMap;

/// A row of the facts.
#[derive(Debug)]
struct Fact {
    value: String,
    place: String,
    known_by: String,
    /// What its condition and its note say beside the value.
    beside: String,
}

fn facts() -> HashMap<String, Fact> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/facts/limits_land_mobile_marine.csv"
    );
    let text = std::fs::read_to_string(path).expect("the facts");
    let (_, table) = text.split_once('\n').expect("a line that names the source");
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let fact = |row: csv::StringRecord| {
        let cell = |index: usize| row[index].to_owned();
        let fact = Fact {
            value: cell(4),
            place: cell(6),
            known_by: cell(7),
            beside: format!("{} {}", &row[3], &row[8]),
        };
        (cell(0), fact)
    };
    rows.records()
        .map(|row| fact(row.expect("a row")))
        .collect()
}

/// Each limit that the facts have, with its row there.
const ROWS: [(&str, &[(&str, &str)]); 6] = [
    (
        "47-cfr-90-150",
        &[
            ("frequency", "lmus-07"),
            ("frequency-narrow", "lmus-08"),
            ("frequency-small", "lmus-09"),
            ("frequency-base-25", "lmus-04"),
            ("frequency-base", "lmus-05"),
            ("frequency-base-narrow", "lmus-06"),
            ("transient-on", "lmus-31"),
            ("transient-settling", "lmus-32"),
            ("transient-off", "lmus-31"),
            ("transient-on-25", "lmus-29"),
            ("transient-settling-25", "lmus-30"),
            ("transient-off-25", "lmus-29"),
        ],
    ),
    (
        "47-cfr-90-421",
        &[
            ("frequency", "lmus-14"),
            ("frequency-25", "lmus-13"),
            ("frequency-narrow", "lmus-15"),
            ("frequency-base-25", "lmus-10"),
            ("frequency-base", "lmus-11"),
            ("frequency-base-narrow", "lmus-12"),
            ("transient-on", "lmus-31"),
            ("transient-settling", "lmus-32"),
            ("transient-off", "lmus-31"),
            ("transient-on-25", "lmus-29"),
            ("transient-settling-25", "lmus-30"),
            ("transient-off-25", "lmus-29"),
        ],
    ),
    (
        "47-cfr-90",
        &[
            ("frequency-low-band", "lmus-02"),
            ("frequency-low-band-small", "lmus-03"),
            ("bandwidth-25", "lmus-16"),
            ("bandwidth", "lmus-17"),
            ("bandwidth-narrow", "lmus-18"),
            ("mask-b-near", "lmus-19"),
            ("mask-b-far", "lmus-20"),
            ("mask-b-beyond", "lmus-21"),
            ("mask-d-beyond", "lmus-26"),
            ("mask-e-beyond", "lmus-28"),
            ("adjacent-22", "lmus-33"),
            ("adjacent-22-small", "lmus-33"),
            ("adjacent-22-far", "lmus-33"),
        ],
    ),
    (
        "en-300-086",
        &[
            ("deviation", "lmeu-03"),
            ("deviation-20", "lmeu-04"),
            ("deviation-25", "lmeu-05"),
            ("sensitivity", "lmeu-12"),
            ("adjacent", "lmeu-06"),
            ("adjacent-25", "lmeu-07"),
            ("spurious-low", "lmeu-08"),
            ("spurious-high", "lmeu-09"),
            ("standby-low", "lmeu-10"),
            ("standby-high", "lmeu-11"),
        ],
    ),
    (
        "47-cfr-80",
        &[
            ("frequency", "mar-01"),
            ("frequency-coast", "mar-02"),
            ("carrier-power", "mar-09"),
            ("carrier-power-handheld", "mar-12"),
            ("carrier-power-coast", "mar-13"),
            ("carrier-power-boat", "mar-21"),
            ("carrier-power-lakes", "mar-23"),
            ("reduced-power", "mar-10"),
            ("reduced-power-automatic", "mar-11"),
            ("reduced-power-cargo", "mar-14"),
            ("deviation", "mar-05"),
            ("deviation-most", "mar-04"),
            ("bandwidth", "mar-03"),
            ("unwanted-near", "mar-15"),
            ("unwanted-far", "mar-16"),
            ("unwanted-beyond", "mar-17"),
            ("quieting", "mar-19"),
            ("sensitivity-survival", "mar-24"),
            ("usable-sensitivity", "mar-18"),
        ],
    ),
    (
        "en-300-162",
        &[
            ("frequency", "mar-26"),
            ("carrier-power", "mar-27"),
            ("adjacent", "mar-28"),
            ("spurious", "mar-29"),
            ("sensitivity", "mar-30"),
        ],
    ),
];

/// Limits that no row has: worked out from a formula that was read, or from memory alone.
const BESIDE: [(&str, &[&str]); 2] = [
    (
        "47-cfr-90",
        &[
            "mask-d-6",
            "mask-d-7-5",
            "mask-d-9",
            "mask-d-10",
            "mask-d-12",
            "mask-d-12-5",
        ],
    ),
    (
        "en-300-162",
        &["reduced-power", "deviation", "deviation-most"],
    ),
];

/// The figures of a bound as the facts write them.
fn figures(bound: &Bound) -> String {
    let number = |quantity: &Quantity| quantity.number.to_f64().to_string();
    match bound {
        Bound::WithinPpm(ppm) => ppm.to_f64().to_string(),
        Bound::Within(most) | Bound::AtMost(most) => number(most),
        Bound::Between(low, high) => format!("{} to {}", number(low), number(high)),
        Bound::BelowPower(base) | Bound::BelowPowerUpTo(base, _) => {
            format!("{} + 10 log P", base.to_f64())
        }
    }
}

/// The clause without what is said beside it.
fn clause(written: &str) -> &str {
    written.split([' ', ',']).next().unwrap_or_default()
}

fn is_said_by(fact: &Fact, figures: &str) -> bool {
    let value = match fact.value.split_once(" to ") {
        // 0.1 to 1.0 is 0.1 to 1.
        Some((low, high)) => match (low.parse::<f64>(), high.parse::<f64>()) {
            (Ok(low), Ok(high)) => format!("{low} to {high}"),
            _ => fact.value.clone(),
        },
        None => fact.value.clone(),
    };
    let is_value = value == figures || value.starts_with(&format!("{figures} or "));
    is_value
        || value
            .parse::<f64>()
            .is_ok_and(|it| it.to_string() == figures)
        || fact.beside.contains(figures)
}

// Check: 71 limits of land mobile and marine sets: figure, clause and how it is known
// Source: 47 CFR Parts 80 and 90; EN 300 086, EN 300 162
// Known by: read; those of the European standards memory
#[test]
fn limits_of_land_mobile_and_marine_sets_are_those_of_the_documents() {
    let facts = facts();
    for (set, rows) in ROWS {
        for (id, row) in rows {
            let (_, limit) = cited(set, id).unwrap_or_else(|fault| panic!("{fault}"));
            let fact = facts.get(*row).unwrap_or_else(|| panic!("no row {row}"));
            let figures = figures(&limit.bound);
            assert!(
                is_said_by(fact, &figures),
                "{set} {id}: {figures}: {fact:?}"
            );
            let known = match limit.known {
                Known::Read => "read",
                Known::ReadSecondHand => "read second-hand",
                Known::FromMemory => "memory",
                other => panic!("{set} {id}: {other:?}"),
            };
            assert_eq!(known, fact.known_by, "{set} {id}");
            if limit.known == Known::Read {
                let place = format!("47 CFR {}", clause(&limit.clause));
                assert!(fact.place.starts_with(&place), "{set} {id}: {fact:?}");
            }
        }
    }
}

#[test]
fn no_limit_of_these_sets_goes_unchecked() {
    for (set, rows) in ROWS {
        let built_in = built_in();
        let found = built_in.iter().find(|it| it.id == set).expect(set);
        let beside = BESIDE.iter().filter(|(other, _)| *other == set);
        let beside: Vec<&str> = beside.flat_map(|(_, ids)| ids.iter().copied()).collect();
        for limit in &found.limits {
            let is_checked = rows.iter().any(|(id, _)| *id == limit.id);
            let is_beside = beside.contains(&limit.id.as_str());
            assert!(is_checked != is_beside, "{set} {}", limit.id);
            assert!(
                !is_beside || limit.known != Known::Read,
                "{set} {}",
                limit.id
            );
        }
        assert_eq!(found.limits.len(), rows.len() + beside.len(), "{set}");
    }
}
