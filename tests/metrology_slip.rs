//! Slips of typing and reading: what is asked, and what never is.

mod common;

use common::{n, q};
use halfturn::metrology::inference::slip::{MOST, Neighbour, Slip, suspect};
use halfturn::metrology::{Margin, Tolerance};
use halfturn::quantity::{Number, Quantity, Scale};
use proptest::prelude::*;

fn around(nominal: &str, margin: &str) -> Tolerance {
    Tolerance::plus_minus(q(nominal), Margin::Absolute(q(margin)))
}

fn percent(nominal: &str, percent: &str) -> Tolerance {
    Tolerance::plus_minus(q(nominal), Margin::Percent(n(percent)))
}

/// Every scale of the tolerance's unit.
fn scales(tolerance: &Tolerance) -> Vec<Scale> {
    let unit = tolerance.unit();
    let scale = |&prefix| Scale::new(prefix, unit);
    unit.prefixes().iter().map(scale).collect()
}

fn asked(typed: &str, tolerance: &Tolerance) -> Vec<Slip<&'static str>> {
    suspect(&q(typed), tolerance, &scales(tolerance), &[])
}

fn sign(corrected: &str) -> Slip<&'static str> {
    Slip::Sign {
        corrected: q(corrected),
    }
}

fn prefix(corrected: &str) -> Slip<&'static str> {
    Slip::Prefix {
        corrected: q(corrected),
    }
}

fn decade(shift: i64, corrected: &str) -> Slip<&'static str> {
    Slip::Decade {
        shift,
        corrected: q(corrected),
    }
}

// Check: each slip is found with its digits kept, and nothing else
// Source: own rule
// Known by: own rule
#[test]
fn a_slip_is_told_by_what_it_would_mean() {
    let carrier = around("9.0015 MHz", "20 Hz");
    let supply = percent("8.0 V", "5");
    let grid = percent("-8.0 V", "5");
    let power = Tolerance::Between {
        low: q("3.6 W"),
        high: q("4.0 W"),
    };
    for (typed, tolerance, slips) in [
        ("-8.05 V", &supply, vec![sign("8.05 V")]),
        ("8.05 V", &grid, vec![sign("-8.05 V")]),
        ("9.00150 kHz", &carrier, vec![prefix("9.00150 MHz")]),
        ("9001.51 MHz", &carrier, vec![prefix("9001.51 kHz")]),
        ("8.02 mV", &supply, vec![prefix("8.02 V")]),
        ("90.0150 MHz", &carrier, vec![decade(-1, "9.00150 MHz")]),
        ("80.2 V", &supply, vec![decade(-1, "8.02 V")]),
        ("0.802 V", &supply, vec![decade(1, "8.02 V")]),
        ("38 W", &power, vec![decade(-1, "3.8 W")]),
        // Near is enough for a correction: 9 % off at ±5 %.
        ("72.8 V", &supply, vec![decade(-1, "7.28 V")]),
        // Too far off in every way.
        ("1.23 V", &supply, vec![]),
        ("9.1 MHz", &carrier, vec![]),
        // Inside, on the limit, and off but not far off.
        ("9.00151 MHz", &carrier, vec![]),
        ("9.00148 MHz", &carrier, vec![]),
        ("9.0016 MHz", &carrier, vec![]),
        ("6.1 V", &supply, vec![]),
    ] {
        assert_eq!(asked(typed, tolerance), slips, "{typed}");
    }
}

// Check: a target with one limit asks for sign and prefix, never for a decade
// Source: own rule
// Known by: own rule
#[test]
fn one_limit_is_doubted_less() {
    let leak = Tolerance::AtMost(q("-40 dBc"));
    let sensitivity = Tolerance::AtMost(q("0.5 µV EMF"));
    let output = Tolerance::AtLeast(q("3.6 W"));
    assert_eq!(asked("46 dBc", &leak), [sign("-46 dBc")]);
    assert_eq!(asked("0.4 mV EMF", &sensitivity), [prefix("0.4 µV EMF")]);
    assert_eq!(asked("3.8 mW", &output), [prefix("3.8 W")]);
    for (typed, tolerance) in [
        ("0.38 W", &output),
        ("400 W", &output),
        ("-4.0 dBc", &leak),
        ("-90 dBc", &leak),
        ("3.5 µV EMF", &sensitivity),
    ] {
        assert_eq!(asked(typed, tolerance), [], "{typed}");
    }
    assert_eq!(asked("-3 V", &Tolerance::AtLeast(q("0 V"))), []);
    assert_eq!(asked("-3 V", &around("3 V", "0 V")), []);
}

// Check: a reading for the step beside, and two carriers swapped
// Source: own rule
// Known by: own rule
#[test]
fn readings_in_each_others_place_are_found() {
    let upper = around("9.0015 MHz", "20 Hz");
    let lower = around("8.9985 MHz", "20 Hz");
    let supply = percent("8.0 V", "5");
    let ask = |typed: &str, beside: &[Neighbour<'_, &'static str>]| {
        suspect(&q(typed), &upper, &scales(&upper), beside)
    };
    let beside = |tolerance, reading| Neighbour {
        step: "beside",
        tolerance,
        reading,
    };
    let for_it = || vec![Slip::Neighbour { step: "beside" }];
    let (ours, theirs, other) = (q("9.001497 MHz"), q("8.998504 MHz"), q("8.9 MHz"));
    let swapped = Slip::Swapped {
        with: "beside",
        corrected: ours.clone(),
    };
    let typed = "8.998510 MHz";
    assert_eq!(ask(typed, &[]), []);
    assert_eq!(ask(typed, &[beside(&lower, None)]), for_it());
    assert_eq!(ask(typed, &[beside(&lower, Some(&other))]), for_it());
    assert_eq!(ask(typed, &[beside(&lower, Some(&ours))]), [swapped]);
    // Theirs is in place already, or they are in another unit.
    assert_eq!(ask(typed, &[beside(&lower, Some(&theirs))]), []);
    assert_eq!(ask(typed, &[beside(&supply, None)]), []);
    // A reading in another unit can only belong elsewhere.
    assert_eq!(ask("8.01 V", &[beside(&supply, None)]), for_it());
    assert_eq!(ask("8.01 V", &[]), []);
}

// Check: at most two, those that come out inside first
// Source: own rule
// Known by: own rule
#[test]
fn two_questions_are_the_most() {
    let drive = around("1.0 V", "0.2 V");
    let bias = around("-10.3 V", "1 V");
    let other = around("-10.0 V", "1 V");
    let neighbours = [("bias", &bias), ("other", &other)].map(|(step, tolerance)| Neighbour {
        step,
        tolerance,
        reading: None,
    });
    let slips = suspect(&q("-10.3 V"), &drive, &scales(&drive), &neighbours);
    assert_eq!(
        slips,
        [
            Slip::Neighbour { step: "bias" },
            Slip::Neighbour { step: "other" }
        ]
    );
    let upside = around("-1.2 V", "0.1 V");
    // The sign alone leaves 1.4 near, the neighbour is inside.
    let plus = around("1.4 V", "0.1 V");
    let neighbours = [Neighbour {
        step: "plus",
        tolerance: &plus,
        reading: None,
    }];
    assert_eq!(
        suspect(&q("1.4 V"), &upside, &scales(&upside), &neighbours),
        [Slip::Neighbour { step: "plus" }, sign("-1.4 V")]
    );
}

fn quantity(digits: i64, decimals: i64, scale: Scale) -> Quantity {
    let decimal = bigdecimal::BigDecimal::new(digits.into(), decimals);
    Quantity::new(Number::from_decimal(decimal), scale)
}

proptest! {
    // Check: no reading inside or near is doubted, no more than two slips, digits as typed
    // Source: own rule
    // Known by: own rule
    #[test]
    fn only_far_readings_are_doubted_and_digits_stay(
        typed in -99_999i64..99_999,
        decimals in 0i64..6,
        nominal in -999i64..999,
        width in 0i64..500,
        prefix in 0usize..5,
    ) {
        let all = scales(&around("1 V", "1 V"));
        let typed = quantity(typed, decimals, all[prefix]);
        let half_width = quantity(width, 2, all[3]);
        let nominal = quantity(nominal, 1, all[3]);
        let limit = half_width.base() * bigdecimal::BigDecimal::from(6);
        let off = (typed.base() - nominal.base()).abs();
        let tolerance = Tolerance::plus_minus(nominal, Margin::Absolute(half_width));
        let slips: Vec<Slip<u8>> = suspect(&typed, &tolerance, &all, &[]);
        prop_assert!(slips.len() <= MOST);
        prop_assert!(slips.is_empty() || off > limit);
        let digits = |quantity: &Quantity| {
            let text = quantity.number.to_string().replace(['.', '-'], "");
            text.trim_matches('0').to_owned()
        };
        for slip in &slips {
            let corrected = slip.corrected().unwrap();
            prop_assert_eq!(digits(corrected), digits(&typed));
            prop_assert_ne!(corrected.base(), typed.base());
        }
    }
}
