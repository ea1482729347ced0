//! What the checks against published figures share.
#![allow(dead_code)] // Each test file uses its own part.

use halfturn::metrology::instrument::{AsRead, Instrument};
use halfturn::quantity::{Number, Quantity};
use std::fs;

/// A quantity in the spelling of documents.
pub fn q(text: &str) -> Quantity {
    text.parse().unwrap()
}

/// A number.
pub fn n(text: &str) -> Number {
    text.parse().unwrap()
}

/// The rows of a table under `tests/facts`, without its source and heading.
pub fn facts(name: &str) -> Vec<Vec<String>> {
    let path = format!("{}/tests/facts/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let csv = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    let cells = |line: &str| line.split(',').map(str::to_owned).collect();
    csv.lines().skip(2).map(cells).collect()
}

/// The floats of a row; an empty cell is not a number.
pub fn floats(row: &[String]) -> Vec<f64> {
    row.iter()
        .map(|cell| cell.parse().unwrap_or(f64::NAN))
        .collect()
}

/// Asserts that a value rounds to the printed figure.
#[track_caller]
pub fn prints_as(value: f64, printed: &str) {
    let decimals = printed
        .split_once('.')
        .map_or(0, |(_, digits)| digits.len());
    let half_count = 0.5 * 10f64.powi(-(decimals as i32));
    let expected: f64 = printed.parse().unwrap();
    let allowed = half_count * (1.0 + 1e-9);
    assert!(
        (value - expected).abs() <= allowed,
        "{value} does not print as {printed}"
    );
}

/// Asserts that a value agrees with a recomputed one, which has 12 significant digits.
#[track_caller]
pub fn agrees(value: f64, computed: f64) {
    if value == computed {
        return;
    }
    let miss = (value - computed).abs() / computed.abs();
    assert!(
        miss <= 6e-12,
        "{value} differs from {computed} by {miss:.1e}"
    );
}

/// The combined uncertainty of a reading against `slope` times another, each seen once.
pub fn combined_against(
    [own, reference]: [&str; 2],
    [by, reference_by]: [&Instrument; 2],
    slope: f64,
) -> f64 {
    let (own, reference) = (q(own), q(reference));
    let places = [own.resolution(), reference.resolution()];
    let read = |value, place| AsRead {
        value,
        place,
        scatter: None,
    };
    let (own, reference) = (read(&own, &places[0]), read(&reference, &places[1]));
    by.budget_against(own, reference, slope, reference_by)
        .expect("a budget")
        .combined
}
