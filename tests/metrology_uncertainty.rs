//! Uncertainty by the GUM against its own examples.

mod common;

use common::{agrees, prints_as};
use halfturn::metrology::uncertainty::{Budget, Contribution, Evaluation, Shape, stated};

fn standard(name: &str, uncertainty: f64, freedom: f64) -> Contribution {
    Contribution::new(name, Evaluation::Standard { uncertainty }).freedom(freedom)
}

fn limits(name: &str, half_width: f64, shape: Shape) -> Contribution {
    Contribution::new(name, Evaluation::Limits { half_width, shape })
}

/// Length of the standard in nm.
const LENGTH: f64 = 50_000_623.0;

/// The difference of the two gauges: repeat observations and the comparator.
fn difference() -> Vec<Contribution> {
    vec![
        standard("repeat observations", 5.8, 24.0),
        standard("comparator, random", 3.9, 5.0),
        standard("comparator, systematic", 6.7, 8.0),
    ]
}

// Check: end gauge: u(d) 9.7, ν(d) 25.6, u 32, νeff 16.7, t99 2.92, U99 93 nm
// Source: JCGM 100:2008, H.1, inputs as in the documentation of the library GTC
// Known by: read; u(d), ν(d), νeff and U99 printed from memory
#[test]
fn the_end_gauge_comes_out_as_printed() {
    let d = Budget::of(difference()).unwrap();
    prints_as(d.combined, "9.7");
    agrees(d.combined, 9.68194195397);
    agrees(d.freedom, 25.4472507774);
    // The printed 25.6 arises with the rounded 9.7.
    prints_as(d.freedom * (9.7f64 / d.combined).powi(4), "25.6");

    let mut contributions = vec![standard("standard", 25.0, 18.0)];
    contributions.extend(difference());
    contributions.push(
        limits("difference of expansion", 1e-6, Shape::Rectangular)
            .sensitivity(-LENGTH * -0.1)
            .freedom(50.0),
    );
    contributions.push(
        limits("difference of temperature", 0.05, Shape::Rectangular)
            .sensitivity(-LENGTH * 11.5e-6)
            .freedom(2.0),
    );
    let gauge = Budget::at(0.99, contributions).unwrap();
    let effect = |index: usize| gauge.lines[index].effect;
    prints_as(effect(4), "2.9");
    prints_as(effect(5), "16.6");
    prints_as(gauge.combined, "32");
    assert!((gauge.combined - 31.6639).abs() < 1e-4);
    // The printed 16.7 arises with rounded contributions; both are cut to 16.
    assert!((gauge.freedom - 16.7519).abs() < 1e-4);
    prints_as(gauge.coverage, "2.92");
    assert!((gauge.expanded - 92.483).abs() < 1e-3);
    // The printed 93 arises with the rounded 2.92 and 32.
    prints_as(2.92 * 32.0, "93.44");
    let length = 50_000_838.into();
    let stated = stated(&length, gauge.expanded).unwrap().unwrap();
    assert_eq!(stated.expanded.to_string(), "92");
    assert_eq!(stated.value.to_string(), "50000838");
}

// Check: shares of a budget add up to the whole
// Source: JCGM 100:2008, 5.1.2
// Known by: closed form
#[test]
fn shares_add_up_to_the_whole() {
    let budget = Budget::of(difference()).unwrap();
    let sum: f64 = budget.lines.iter().map(|line| line.share).sum();
    assert!((sum - 1.0).abs() < 1e-12);
    let nothing = Budget::of(Vec::new()).unwrap();
    assert_eq!((nothing.combined, nothing.expanded), (0.0, 0.0));
}

// Check: ±0.40e−6 is 0.23e−6; 240 µg at 3 s is 80 µg; 0.29 δ; a/√6; a/√2
// Source: JCGM 100:2008, 4.3.7, 4.3.4, F.2.2.1, 4.3.9; documentation of the library GTC
// Known by: memory; the arcsine read
#[test]
fn divisors_give_the_printed_uncertainties() {
    let of = |evaluation: Evaluation| evaluation.standard().unwrap();
    let shaped = |half_width, shape| of(Evaluation::Limits { half_width, shape });
    prints_as(shaped(0.40, Shape::Rectangular), "0.23");
    agrees(shaped(0.40, Shape::Rectangular), 0.230940107676);
    agrees(shaped(1.0, Shape::Triangular), 0.408248290464);
    agrees(shaped(0.5, Shape::UShaped), 0.353553390593);
    let certificate = Evaluation::Expanded {
        uncertainty: 240.0,
        coverage: 3.0,
    };
    assert_eq!(of(certificate), 80.0);
    agrees(of(Evaluation::Resolution { step: 1.0 }), 0.288675134595);
}

// Check: a resolution of 0.001 is 0.0002887
// Source: note of a calibration laboratory on resolution uncertainty
// Known by: read
#[test]
fn a_resolution_is_a_rectangle_of_one_count() {
    let resolution = Evaluation::Resolution { step: 0.001 };
    prints_as(resolution.standard().unwrap(), "0.0002887");
}

// Check: 10.47 is stated as 11, 28.05 as 28, 10.057 62 Ω with 27 mΩ as 10.058 Ω, 100.021 47 g with 2.26 · 0.35 mg as ± 0.000 79 g; the result goes to the same place
// Source: JCGM 100:2008, 7.2.4 and 7.2.6
// Known by: memory
#[test]
fn results_are_stated_to_the_place_of_their_uncertainty() {
    for (value, expanded, said) in [
        ("1.23456", 10.47, ("1", "11")),
        ("27185123.4", 28.05, ("27185123", "28")),
        ("27185123.4", 2805.0, ("27185100", "2800")),
        ("10.69504", 0.000_29, ("10.69504", "0.00029")),
        ("10.695044", 0.000_295, ("10.69504", "0.00030")),
        ("3.5", 0.099_95, ("3.50", "0.10")),
        ("3.5", 0.095_7, ("3.500", "0.096")),
        ("3.5", 0.1, ("3.50", "0.10")),
        ("10.05762", 0.027, ("10.058", "0.027")),
        ("100.02147", 2.26 * 0.000_35, ("100.02147", "0.00079")),
    ] {
        let stated = stated(&value.parse().unwrap(), expanded).unwrap().unwrap();
        let (value, expanded) = (stated.value.to_string(), stated.expanded.to_string());
        assert_eq!((value.as_str(), expanded.as_str()), said);
    }
    assert_eq!(stated(&1.into(), 0.0).unwrap(), None);
}

// Check: a negative uncertainty, one reading alone and k = 0 are refused in a sentence
// Source: this project's own rule
// Known by: own rule
#[test]
fn impossible_contributions_are_sentences() {
    let said = |evaluation: Evaluation| evaluation.standard().unwrap_err().to_string();
    assert_eq!(
        said(Evaluation::Standard { uncertainty: -1.0 }),
        "The uncertainty is −1, which is too low; enter 0 or more."
    );
    assert_eq!(
        said(Evaluation::Repeated {
            deviation: 1.0,
            count: 1
        }),
        "The number of repeated readings is 1, which is too low; enter 2 or more."
    );
    assert_eq!(
        said(Evaluation::Expanded {
            uncertainty: 1.0,
            coverage: 0.0
        }),
        "The coverage factor is 0; enter a value above 0."
    );
}

/// The share of errors within ±U of an error that is even within ±a and another by Cauchy's law
/// (Student's t of one degree of freedom) with the scale d: the mean of
/// (atan((U + e)/d) + atan((U − e)/d))/π over e from −a to a, in closed form.
fn share_beside_two_readings(within: f64, a: f64, d: f64) -> f64 {
    let area = |x: f64| x * x.atan() - (1.0 + x * x).ln() / 2.0;
    let (low, high) = ((within - a) / d, (within + a) / d);
    (area(high) - area(low)) * d / a / std::f64::consts::PI
}

// Check: two readings beside an even error: U covers 95 % of what the error is made of
// Source: JCGM 101:2008, 6.4.2 and 6.4.9, as an elementary integral
// Known by: read
#[test]
fn two_readings_that_lie_close_do_not_narrow_the_uncertainty_too_far() {
    for deviation in [0.1, 0.3, 1.0, 3.0, 10.0] {
        let repeats = Evaluation::Repeated {
            deviation,
            count: 2,
        };
        let accuracy = limits("Accuracy", 1.0, Shape::Rectangular);
        let budget = Budget::of(vec![accuracy, Contribution::new("Repeats", repeats)]).unwrap();
        let share = share_beside_two_readings(budget.expanded, 1.0, deviation / 2f64.sqrt());
        assert!((0.949..0.953).contains(&share), "{deviation}: {share}");
    }
}
