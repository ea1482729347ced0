//! Mean and standard deviation on the NIST StRD univariate data sets.

mod common;

use bigdecimal::BigDecimal;
use bigdecimal::num_bigint::BigInt;
use common::facts;
use halfturn::metrology::Statistics;
use halfturn::quantity::Number;
use std::fs;

/// Asserts 12 digits of the certified mean and standard deviation.
#[track_caller]
fn certified(set: &str, readings: &[BigDecimal]) {
    let row = facts("nist_univariate_certified")
        .into_iter()
        .find(|row| row[0] == set)
        .unwrap();
    let got = Statistics::of_decimals(readings).unwrap();
    assert_eq!(got.count.to_string(), row[1], "{set}");
    for (value, certified) in [(got.mean, &row[2]), (got.deviation, &row[3])] {
        let certified: f64 = certified.parse().unwrap();
        let miss = (value / certified - 1.0).abs();
        assert!(miss < 1e-12, "{set}: {value} for {certified}");
    }
}

fn decimals(texts: &[&str]) -> Vec<BigDecimal> {
    texts.iter().map(|text| text.parse().unwrap()).collect()
}

/// The first value once, then the other two in turn 500 times.
fn alternating(first: &str, low: &str, high: &str) -> Vec<BigDecimal> {
    let mut readings = decimals(&[first]);
    for _ in 0..500 {
        readings.extend(decimals(&[low, high]));
    }
    readings
}

// Check: NumAcc1 to NumAcc4, made by their rule, to 12 digits
// Source: NIST StRD, univariate summary statistics
// Known by: read
#[test]
fn hard_data_sets_keep_their_digits() {
    certified("NumAcc1", &decimals(&["10000001", "10000003", "10000002"]));
    certified("NumAcc2", &alternating("1.2", "1.1", "1.3"));
    certified(
        "NumAcc3",
        &alternating("1000000.2", "1000000.1", "1000000.3"),
    );
    certified(
        "NumAcc4",
        &alternating("10000000.2", "10000000.1", "10000000.3"),
    );
}

/// arctan(1/x) times `unit`.
fn arctan_of_reciprocal(x: i32, unit: &BigInt) -> BigInt {
    let mut power = unit / x;
    let mut sum = power.clone();
    let mut divisor = 1;
    while power != BigInt::ZERO {
        power = -power / (x * x);
        divisor += 2;
        sum += &power / divisor;
    }
    sum
}

/// The digits of π from 3 on, by Machin's formula.
fn digits_of_pi(count: usize) -> String {
    let guard = 10;
    let unit = BigInt::from(10).pow((count + guard) as u32);
    let pi: BigInt = arctan_of_reciprocal(5, &unit) * 16 - arctan_of_reciprocal(239, &unit) * 4;
    pi.to_string()[..count].to_owned()
}

// Check: PiDigits, 5000 digits of π with the file's digit 957 (3 for 8), to 12 digits
// Source: NIST StRD, univariate summary statistics
// Known by: read
#[test]
fn the_digits_of_pi_have_the_certified_spread() {
    let digits = digits_of_pi(5000);
    assert_eq!(&digits[956..957], "8");
    let as_in_the_file = [&digits[..956], "3", &digits[957..]].concat();
    let readings: Vec<BigDecimal> = as_in_the_file
        .chars()
        .map(|digit| BigDecimal::from(digit.to_digit(10).unwrap()))
        .collect();
    certified("PiDigits", &readings);
}

// Check: Lottery, Lew, Mavro and Michelso, where their data are at hand, to 12 digits
// Source: NIST StRD, univariate summary statistics
// Known by: read
#[test]
fn measured_data_sets_keep_their_digits() {
    for set in ["Lottery", "Lew", "Mavro", "Michelso"] {
        let file = format!("nist_{}.csv", set.to_lowercase());
        let path = format!("{}/../shared/facts/{file}", env!("CARGO_MANIFEST_DIR"));
        let Ok(column) = fs::read_to_string(&path) else {
            println!("skipped {set}: ../shared/facts/{file} is not there");
            continue;
        };
        let values: Vec<&str> = column.lines().skip(1).map(str::trim).collect();
        certified(set, &decimals(&values));
    }
}

// Check: s/√n and n − 1; one reading is too few
// Source: JCGM 100:2008, 4.2.3 and G.3.3
// Known by: closed form
#[test]
fn the_mean_is_surer_than_a_reading() {
    let readings: Vec<Number> = ["1.0", "1.2", "1.4", "1.6"]
        .map(|t| t.parse().unwrap())
        .into();
    let statistics = Statistics::of(&readings).unwrap();
    assert_eq!(statistics.of_mean(), statistics.deviation / 2.0);
    assert_eq!(statistics.freedom(), 3.0);
    assert_eq!(
        Statistics::of(&readings[..1]).unwrap_err().to_string(),
        "Too few readings: 1 of at least 2; add more."
    );
}
