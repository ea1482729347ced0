//! Student's t and the normal distribution against published tables.

mod common;

use common::{agrees, facts, prints_as};
use halfturn::metrology::distribution::{normal, student};

// Check: t-factors for 28 degrees of freedom and 6 coverage probabilities
// Source: NIST Technical Note 1297, Table B.1 (JCGM 100 Table G.2); its row 35, 90 % prints 1.70 for 1.690
// Known by: read
#[test]
fn coverage_factors_print_as_in_the_table() {
    let rows = facts("t_factors");
    assert!(rows.len() >= 160);
    for row in rows {
        let freedom = row[0].parse().unwrap_or(f64::INFINITY);
        let percent: f64 = row[1].parse().unwrap();
        let k = student::coverage_factor(percent / 100.0, freedom).unwrap();
        agrees(k, row[3].parse().unwrap());
        let sigmas = normal_share(percent);
        let exact = student::coverage_factor(sigmas, freedom).unwrap();
        agrees(exact, row[4].parse().unwrap());
        if (row[0].as_str(), percent) != ("35", 90.0) {
            prints_as(exact, &row[2]);
        }
    }
}

/// The share within one, two or three standard deviations that a percentage stands for.
fn normal_share(percent: f64) -> f64 {
    let sigmas = match percent {
        68.27 => 1.0,
        95.45 => 2.0,
        99.73 => 3.0,
        _ => return percent / 100.0,
    };
    1.0 - 2.0 * normal::cdf(-sigmas)
}

// Check: z for a conformance of 0.80, 0.90, 0.95, 0.99 and 0.999
// Source: JCGM 106:2012, 7.3 Table 1
// Known by: memory
#[test]
fn normal_quantiles_print_as_in_the_table() {
    for (p, printed, computed) in [
        (0.80, "0.84", 0.841621233573),
        (0.90, "1.28", 1.28155156554),
        (0.95, "1.64", 1.64485362695),
        (0.99, "2.33", 2.32634787404),
        (0.999, "3.09", 3.09023230617),
    ] {
        let z = normal::quantile(p).unwrap();
        prints_as(z, printed);
        agrees(z, computed);
        agrees(normal::cdf(z), p);
    }
    assert_eq!(normal::quantile(0.5).unwrap(), 0.0);
}

// Check: many degrees of freedom go over into the normal distribution without a step
// Source: closed form
// Known by: closed form
#[test]
fn the_two_distributions_join_without_a_step() {
    for p in [1e-9, 0.001, 0.3, 0.975, 0.999_999] {
        let (below, above) = (999_999.0, 1_000_001.0);
        let (a, b) = (
            student::quantile(p, below).unwrap(),
            student::quantile(p, above).unwrap(),
        );
        assert!((a / b - 1.0).abs() < 1e-10, "{p}: {a} {b}");
        let (a, b) = (
            student::cdf(a, below).unwrap(),
            student::cdf(a, above).unwrap(),
        );
        assert!((a / b - 1.0).abs() < 1e-9, "{p}: {a} {b}");
        let normal = normal::quantile(p).unwrap();
        assert_eq!(student::quantile(p, f64::INFINITY).unwrap(), normal);
    }
}

// Check: a probability of 0 or 1 and less than one degree of freedom are refused in a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn impossible_probabilities_are_sentences() {
    assert_eq!(
        normal::quantile(1.0).unwrap_err().to_string(),
        "The probability is 1; enter a value below 1."
    );
    assert_eq!(
        student::quantile(0.9, 0.5).unwrap_err().to_string(),
        "The number of degrees of freedom is 0.5, which is too low; enter 1 or more."
    );
    assert!(student::quantile(0.9, f64::NAN).is_err());
}
