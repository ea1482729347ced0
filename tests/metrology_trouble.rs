//! What the bench does to readings: pull of a tool, drift, one bad reading, a second opinion.

mod common;

use common::{facts, floats, prints_as};
use halfturn::metrology::distribution::outlier;
use halfturn::metrology::distribution::outlier::suspect;
use halfturn::metrology::inference::agreement::{Agreement, Measured, normalised_error};
use halfturn::metrology::inference::drift::{Drift, Steadiness, Timed};
use halfturn::metrology::inference::pull::{Origin, Pull, Try};
use halfturn::quantity::Fault;
use proptest::prelude::*;
use std::fs;
use std::path::PathBuf;

#[track_caller]
fn close(value: f64, expected: f64, relative: f64) {
    let miss = (value - expected).abs();
    assert!(miss <= relative * expected.abs(), "{value} for {expected}");
}

fn timed(minutes: &[f64], values: &[f64]) -> Vec<Timed> {
    let reading = |(&minutes, &value)| Timed { minutes, value };
    minutes.iter().zip(values).map(reading).collect()
}

/// The Norris data where the Python library that ships them is installed for the vectors.
fn norris() -> Option<String> {
    let home = |name| std::env::var_os(name).map(PathBuf::from);
    let cache = home("XDG_CACHE_HOME").or_else(|| Some(home("HOME")?.join(".cache")))?;
    let libraries = fs::read_dir(cache.join("halfturn/oracle/lib")).ok()?;
    libraries.flatten().find_map(|python| {
        let data = "site-packages/scipy/stats/tests/data/nist_linregress/Norris.dat";
        fs::read_to_string(python.path().join(data)).ok()
    })
}

// Check: Norris, where its data are at hand: slope 1.00211681802045, intercept −0.262323073774029
// and their scatter, to 11 digits
// Source: NIST StRD, linear regression
// Known by: read
#[test]
fn norris_has_the_certified_line() {
    let Some(text) = norris() else {
        println!("skipped: Norris.dat is not there; tests/oracle/run installs it");
        return;
    };
    let readings: Vec<Timed> = text
        .lines()
        .skip(60)
        .filter_map(|line| {
            let (value, minutes) = line.trim().split_once(char::is_whitespace)?;
            Some(Timed {
                minutes: minutes.trim().parse().ok()?,
                value: value.parse().ok()?,
            })
        })
        .collect();
    assert_eq!(readings.len(), 36);
    let drift = Drift::of(&readings, 0.0).unwrap();
    close(drift.slope, 1.00211681802045, 1e-11);
    close(drift.intercept, -0.262323073774029, 1e-11);
    close(drift.standard, 0.429796848199937e-3, 1e-11);
    close(drift.deviation, 0.884796396144373, 1e-11);
}

// Check: first set of the quartet: slope 0.500 ± 0.118, intercept 3.00
// Source: F. J. Anscombe, Graphs in Statistical Analysis, 1973
// Known by: read; the uncertainty of the slope from memory
#[test]
fn the_quartet_has_its_printed_line() {
    let x = [10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0];
    let y = [
        8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68,
    ];
    let drift = Drift::of(&timed(&x, &y), 0.0).unwrap();
    prints_as(drift.slope, "0.500");
    prints_as(drift.intercept, "3.00");
    prints_as(drift.standard, "0.118");
}

// Check: 40 lines through timed readings of up to 10 MHz: slope, intercept, u and U
// Source: vectors made with scipy
// Known by: computed
#[test]
fn lines_agree_with_a_general_library() {
    for row in facts("line_fit") {
        let row = floats(&row);
        let count = row[0] as usize;
        let readings = timed(&row[1..=count], &row[count + 1..=2 * count]);
        let drift = Drift::of(&readings, 0.0).unwrap();
        let [slope, intercept, standard, expanded] = row[2 * count + 1..] else {
            panic!("{row:?}");
        };
        close(drift.slope, slope, 1e-8);
        close(drift.intercept, intercept, 1e-12);
        close(drift.standard, standard, 1e-7);
        close(drift.expanded, expanded, 1e-7);
        close(drift.at(0.0), intercept, 1e-12);
    }
}

// Check: settled and drifting only beyond doubt; like readings within seconds settle nothing
// Source: own rule
// Known by: own rule
#[test]
fn settled_needs_more_than_like_readings() {
    let steady = |minutes: &[f64], values: &[f64], step: f64, limit: f64| {
        let drift = Drift::of(&timed(minutes, values), step).unwrap();
        drift.steadiness(limit).unwrap()
    };
    let long = [0.0, 2.0, 4.0, 6.0, 8.0];
    let warm = [10.0, 90.0, 172.0, 249.0, 330.0];
    let cold = [10.0, 11.0, 10.0, 9.0, 10.0];
    assert_eq!(steady(&long, &cold, 1.0, 1.0), Steadiness::Settled);
    assert_eq!(steady(&long, &cold, 1.0, 0.2), Steadiness::Unsure);
    assert_eq!(steady(&long, &warm, 1.0, 1.0), Steadiness::Drifting);
    assert_eq!(steady(&long, &warm, 1.0, 50.0), Steadiness::Settled);
    let hasty = [0.0, 0.05, 0.1];
    let like = [10.0, 10.0, 10.0];
    assert_eq!(steady(&hasty, &like, 1.0, 1.0), Steadiness::Unsure);
    assert_eq!(
        steady(&[0.0, 20.0, 40.0], &like, 1.0, 1.0),
        Steadiness::Settled
    );
    let few = Drift::of(&timed(&[0.0, 1.0], &[1.0, 2.0]), 0.0);
    assert_eq!(
        few.unwrap_err().to_string(),
        "Too few timed readings: 2 of at least 3; add more."
    );
    assert!(Drift::of(&timed(&[1.0; 3], &like), 0.0).is_err());
    assert!(Drift::of(&timed(&[0.0, 1.0, f64::NAN], &like), 0.0).is_err());
    assert!(Drift::of(&timed(&hasty, &like), -1.0).is_err());
}

// Check: Eₙ of 10.2 ± 0.3 and 10.0 ± 0.4 is 0.4; at 1 they still agree, above they don't
// Source: ISO/IEC 17043 as two providers of proficiency tests print it
// Known by: read
#[test]
fn a_second_opinion_counts_both_uncertainties() {
    let measured = |value, expanded| Measured { value, expanded };
    for (x, ux, y, uy, en, agreement) in [
        (10.2, 0.3, 10.0, 0.4, "0.40", Agreement::Agree),
        (9.0, 0.3, 10.0, 0.4, "-2.00", Agreement::Disagree),
        (3.0, 3.0, 8.0, 4.0, "-1.00", Agreement::Agree),
        (3.0, 0.0, 8.0, 4.0, "-1.25", Agreement::Disagree),
    ] {
        let got = normalised_error(measured(x, ux), measured(y, uy)).unwrap();
        prints_as(got, en);
        assert_eq!(Agreement::of(got), agreement, "{en}");
    }
    assert!(normalised_error(measured(1.0, 0.0), measured(1.0, 0.0)).is_err());
    assert!(normalised_error(measured(1.0, -0.1), measured(1.0, 0.1)).is_err());
    assert!(normalised_error(measured(f64::NAN, 0.1), measured(1.0, 0.1)).is_err());
}

// Check: critical values for 3 to 14 readings at 5 and 1 %, but for the row of 7, which is misprinted
// Source: Appendix 7 of an open textbook of analytical chemistry, Grubbs' test
// Known by: read
#[test]
fn critical_values_are_as_printed() {
    let printed = [
        (3, 1.155, 1.155),
        (4, 1.481, 1.496),
        (5, 1.715, 1.764),
        (6, 1.887, 1.973),
        (8, 2.126, 2.274),
        (9, 2.215, 2.387),
        (10, 2.290, 2.482),
        (11, 2.355, 2.564),
        (12, 2.412, 2.636),
        (13, 2.462, 2.699),
        (14, 2.507, 2.755),
    ];
    for (count, five, one) in printed {
        for (risk, value) in [(0.05, five), (0.01, one)] {
            let got = outlier::critical(count, risk).unwrap();
            assert!((got - value).abs() < 0.0011, "{count}: {got} for {value}");
        }
    }
}

// Check: critical values for 3 to 30 readings at 5 and 1 %
// Source: vectors made with scipy
// Known by: computed
#[test]
fn critical_values_agree_with_a_general_library() {
    for row in facts("grubbs_critical") {
        let row = floats(&row);
        close(
            outlier::critical(row[0] as usize, row[1]).unwrap(),
            row[2],
            1e-12,
        );
    }
}

// Check: eight isotope ratios with one of 245.57: G = 2.469
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1
// Known by: memory
#[test]
fn the_handbook_s_outlier_is_found() {
    let readings = [
        199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57,
    ];
    let found = suspect(&readings, 0.0).unwrap().unwrap();
    assert_eq!(found.index, 7);
    prints_as(found.statistic, "2.469");
    prints_as(found.off, "44.73");
    assert_eq!(suspect(&readings[..7], 0.0).unwrap(), None);
}

// Check: one count of difference is no slip, a wrong digit is; too few readings say nothing
// Source: own rule
// Known by: own rule
#[test]
fn only_an_obvious_slip_is_suspected() {
    let index = |readings: &[f64], step| suspect(readings, step).unwrap().map(|s| s.index);
    assert_eq!(index(&[5.0, 5.0, 5.01], 0.01), None);
    assert_eq!(index(&[5.0, 5.0, 5.0, 5.01], 0.01), None);
    assert_eq!(index(&[5.0, 5.01, 5.0, 5.9, 5.0], 0.01), Some(3));
    assert_eq!(index(&[5.0, 5.0, 5.0, 5.0], 0.01), None);
    assert_eq!(index(&[5.0, 5.0, 5.0, 5.0], 0.0), None);
    assert_eq!(index(&[5.0, 5.0, 5.0, 6.0], 0.0), Some(3));
    assert!(matches!(
        suspect(&[1.0, 2.0], 0.0),
        Err(Fault::TooFew { .. })
    ));
    assert!(suspect(&[1.0, 2.0, f64::INFINITY], 0.0).is_err());
}

fn tries(pulls: &[f64]) -> Vec<Try> {
    let with_tool = |(at, pull): (usize, &f64)| {
        let tool_in = 9e6 + 100.0 * at as f64;
        Try {
            tool_in,
            tool_out: tool_in + pull,
        }
    };
    pulls.iter().enumerate().map(with_tool).collect()
}

// Check: 40 samples: the half-width of the prediction interval and the chance to settle inside
// Source: vectors made with scipy
// Known by: computed
#[test]
fn predictions_agree_with_a_general_library() {
    for row in facts("next_reading") {
        let row = floats(&row);
        let count = row[0] as usize;
        let [low, high, mean, half_width, chance] = row[count + 1..] else {
            panic!("{row:?}");
        };
        let pull = Pull::learn(&tries(&row[1..=count]), &[], 0.0).unwrap();
        close(pull.mean, mean, 1e-9);
        let aim = pull.aim(9e6).unwrap();
        close(aim.stop_at, 9e6 - mean, 1e-12);
        close(aim.half_width.unwrap(), half_width, 1e-7);
        assert_eq!(aim.origin, Origin::Own);
        let limits = (Some(9e6 + low), Some(9e6 + high));
        let got = pull.chance(aim.stop_at, limits.0, limits.1).unwrap();
        assert!((got.unwrap() - chance).abs() < 1e-8, "{got:?} for {chance}");
    }
}

// Check: own tries first; sisters only as a first guess, marked so; a display hides what it steps
// Source: own rule
// Known by: own rule
#[test]
fn sisters_give_a_first_guess() {
    let sisters = [tries(&[-400.0, -420.0]), tries(&[-500.0, -520.0, -510.0])];
    let own = |pulls: &[f64]| Pull::learn(&tries(pulls), &sisters, 0.0).unwrap();

    let guess = own(&[]);
    // Means −410 and −510: s² = 5000 between the two, with one degree of freedom; 400/3 within
    // them with three, of which 1 − (1/2 + 1/3)/2 is not averaged out.
    assert_eq!((guess.origin, guess.count), (Origin::Sisters, 2));
    close(guess.mean, -460.0, 1e-12);
    let within: f64 = 400.0 / 3.0 * 7.0 / 12.0;
    let spread = guess.spread.unwrap();
    close(spread.deviation, (5000.0 + within).sqrt(), 1e-12);
    let freedom = (5000.0 + within).powi(2) / (5000f64.powi(2) + within.powi(2) / 3.0);
    close(spread.freedom, freedom, 1e-12);
    let first = own(&[-300.0]);
    assert_eq!((first.origin, first.mean), (Origin::Sisters, -300.0));
    // Squares 200 and 200 within the sisters, with 1 + 2 degrees of freedom.
    let spread = first.spread.unwrap();
    assert_eq!(spread.freedom, 3.0);
    close(spread.deviation, (400.0f64 / 3.0).sqrt(), 1e-12);
    let second = own(&[-300.0, -310.0]);
    assert_eq!((second.origin, second.mean), (Origin::Own, -305.0));

    let alone = Pull::learn(&tries(&[-300.0]), &[], 1.0).unwrap();
    let aim = alone.aim(9e6).unwrap();
    assert_eq!((aim.stop_at, aim.half_width), (9_000_300.0, None));
    assert_eq!(alone.chance(9e6, None, None).unwrap(), None);
    let like = Pull::learn(&tries(&[-300.0, -300.0]), &[], 1.0).unwrap();
    close(like.spread.unwrap().deviation, 1.0 / 6f64.sqrt(), 1e-12);
    let sure = Pull::learn(&tries(&[-300.0, -300.0]), &[], 0.0).unwrap();
    let chance = |tool_in| sure.chance(tool_in, Some(9e6), None).unwrap();
    assert_eq!(chance(9_000_300.0), Some(1.0));
    assert_eq!(chance(9_000_299.0), Some(0.0));

    assert!(matches!(
        Pull::learn(&[], &[], 0.0),
        Err(Fault::TooFew { .. })
    ));
    assert!(Pull::learn(&tries(&[f64::NAN]), &[], 0.0).is_err());
    assert!(sure.chance(1.0, Some(2.0), Some(1.0)).is_err());
}

proptest! {
    // Check: half of all chances lie on either side of an aim, and 95 % within its half-width
    // Source: closed form
    // Known by: closed form
    #[test]
    fn an_aim_is_in_the_middle_of_where_it_settles(
        pulls in proptest::collection::vec(-500.0..500.0f64, 2..8),
        target in -1e3..1e3f64,
    ) {
        let pull = Pull::learn(&tries(&pulls), &[], 0.1).unwrap();
        let aim = pull.aim(target).unwrap();
        let width = aim.half_width.unwrap();
        let inside = pull.chance(aim.stop_at, Some(target - width), Some(target + width));
        prop_assert!((inside.unwrap().unwrap() - 0.95).abs() < 1e-9);
        let above = pull.chance(aim.stop_at, Some(target), None);
        prop_assert!((above.unwrap().unwrap() - 0.5).abs() < 1e-9);
    }

    // Check: a slope follows its readings' scale and ignores where they start
    // Source: closed form
    // Known by: closed form
    #[test]
    fn a_slope_does_not_depend_on_the_start(
        values in proptest::collection::vec(-100i32..100, 3..10),
        start in -1_000_000i32..1_000_000,
        factor in 1i32..100,
    ) {
        let minutes: Vec<f64> = (0..values.len()).map(|at| at as f64).collect();
        let whole = |value: i32| -> f64 { value.into() };
        let plain: Vec<f64> = values.iter().map(|&value| whole(value)).collect();
        let moved: Vec<f64> = values.iter().map(|&v| whole(start + factor * v)).collect();
        let plain = Drift::of(&timed(&minutes, &plain), 0.0).unwrap();
        let moved = Drift::of(&timed(&minutes, &moved), 0.0).unwrap();
        prop_assert!((moved.slope - whole(factor) * plain.slope).abs() < 1e-7);
        prop_assert!((moved.expanded - whole(factor) * plain.expanded).abs() < 1e-5);
    }

    // Check: the order of readings doesn't change which value is suspected
    // Source: closed form
    // Known by: closed form
    #[test]
    fn the_suspect_is_the_same_in_any_order(
        values in proptest::collection::vec(-50i32..50, 3..12),
        wild in 0i32..2000,
        turned_by in 0usize..12,
    ) {
        let mut readings: Vec<f64> = values.iter().map(|&value| value.into()).collect();
        readings.push(wild.into());
        let value = |readings: &[f64]| suspect(readings, 1.0).unwrap().map(|s| readings[s.index]);
        let before = value(&readings);
        let by = turned_by % readings.len();
        readings.rotate_left(by);
        prop_assert_eq!(before, value(&readings));
    }
}
