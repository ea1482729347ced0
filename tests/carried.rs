//! No more is said than the data carry: unknown accuracy, digits that were not typed, few readings.

mod common;
mod two_oscillators;

use common::{combined_against, q};
use halfturn::job::guidance::advice;
use halfturn::job::guidance::advice::Opinion;
use halfturn::job::{Group, Job, Stamp, Status, Unproved};
use halfturn::metrology::decision::{Rule, Statement};
use halfturn::metrology::inference::agreement::Agreement;
use halfturn::metrology::inference::coupling::Unsupported;
use halfturn::metrology::inference::pull::{Origin, Pull, Try};
use halfturn::metrology::instrument::{Ability, Instrument};
use halfturn::metrology::uncertainty::{Budget, Contribution, Evaluation, Shape};
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{Chase, Procedure};
use halfturn::quantity::DecimalSign;
use serde_json::{Value, json};
use two_oscillators::*;

fn left(job: &Job, step: &str) -> Group {
    standing(job, step).left.unwrap()
}

fn within(margin: &str) -> Procedure {
    let margin = json!({"absolute": margin});
    let target = json!({"channel": {"below": margin, "above": margin}});
    procedure(vec![reads("air", "AM", "19", "counter", "MHz", target)])
}

fn at_most(unit: &str, limit: &str) -> Procedure {
    let target = json!({"fixed": {"at-most": limit}});
    procedure(vec![reads("power", "AM", "19", "wattmeter", unit, target)])
}

fn range(full_scale: &str, resolution: &str, accuracy: Value) -> Value {
    json!({"full-scale": full_scale, "resolution": resolution, "accuracy": accuracy})
}

fn with_ranges(ranges: Vec<Value>) -> Instrument {
    let value = json!({"role": "any", "name": "Club meter", "ranges": ranges});
    serde_json::from_value(value).unwrap()
}

// Accuracy that isn't known

#[test]
fn an_accuracy_that_is_not_stated_proves_nothing() {
    for accuracy in [
        json!({}),
        json!({"counts": 0}),
        json!({"percent-of-reading": "0"}),
    ] {
        let meter = instrument("Club wattmeter", "10 W", "0.01 W", accuracy);
        let wattmeter = [("wattmeter", &meter)];
        let header = header(Rule::guard_band(), &wattmeter);
        let job = job(at_most("W", "4.0 W"), header, &[("power", "3.90 W")]);
        let unproved = left(&job, "power").proof.unwrap_err();
        assert!(matches!(unproved, Unproved::NoAccuracy(_)));
        assert_eq!(
            unproved.to_string(),
            "Conformity not shown: accuracy unknown. The accuracy of “Club wattmeter” is \
             missing; enter it first."
        );
        assert_eq!(status(&job, "power"), Status::Unproved);
    }
}

// Digits

#[test]
fn digits_that_were_not_typed_prove_nothing() {
    let counter = instrument("Club counter", "50 MHz", "1 Hz", json!({"ppm": "0.1"}));
    let probability = |typed: &str| {
        let header = header(Rule::guard_band(), &[("counter", &counter)]);
        let job = job(within("300 Hz"), header, &[("air", typed)]);
        (status(&job, "air"), left(&job, "air").proof.unwrap())
    };
    // Anywhere within ± 500 Hz, of which 300 are inside.
    let (status, coarse) = probability("27.185 MHz");
    assert_eq!(status, Status::Unproved);
    assert!((coarse.probability.unwrap() - 0.6).abs() < 0.001);
    let (status, fine) = probability("27.185000 MHz");
    assert_eq!(status, Status::Done);
    assert!(fine.probability.unwrap() > 0.999);
    // Digits beyond the display's prove no more than the display shows.
    let (_, finer) = probability("27.18500000 MHz");
    assert_eq!(finer.expanded, fine.expanded);
}

#[test]
fn the_range_follows_from_the_digits_and_where_they_leave_it_open_from_the_least_accurate() {
    let meter = with_ranges(vec![
        range("4 V", "0.001 V", json!({"percent-of-reading": "0.5"})),
        range("40 V", "0.01 V", json!({"percent-of-reading": "1"})),
    ]);
    let range = |typed: &str| {
        let typed = q(typed);
        meter
            .range_of(&typed, &typed.resolution())
            .unwrap()
            .full_scale
            .clone()
    };
    assert_eq!(range("3.900 V"), q("4 V"));
    assert_eq!(range("3.90 V"), q("40 V"));
    assert_eq!(range("5.000 V"), q("40 V"));
}

#[test]
fn a_correction_is_seen_and_judged_however_few_digits_were_typed() {
    let counter = instrument("Club counter", "50 MHz", "1 Hz", json!({"counts": 1}));
    let counter = checked(counter, "10 MHz", "10.0000021 MHz");
    let judged = |typed: &str| {
        let header = header(Rule::default(), &[("counter", &counter)]);
        let job = job(within("6 Hz"), header, &[("air", typed)]);
        (left(&job, "air").value, status(&job, "air"))
    };
    // 0.21 ppm of 27.185 MHz are 5.709 Hz.
    assert_eq!(judged("27.185 MHz"), (q("27.184994 MHz"), Status::Done));
    assert_eq!(judged("27.185000 MHz"), (q("27.184994 MHz"), Status::Done));
    // 6.291 Hz high is shown as 6 and is outside.
    assert_eq!(
        judged("27.185012 MHz"),
        (q("27.185006 MHz"), Status::Outside)
    );
    assert_eq!(judged("27.185011 MHz"), (q("27.185005 MHz"), Status::Done));
}

// Probabilities

#[test]
fn two_readings_are_too_few_for_a_probability() {
    let counter = instrument("Club counter", "50 MHz", "1 Hz", json!({"counts": 1}));
    let proof = |readings: &[&str]| {
        let readings: Vec<_> = readings.iter().map(|value| ("air", *value)).collect();
        let header = header(Rule::guard_band(), &[("counter", &counter)]);
        let job = job(within("60 Hz"), header, &readings);
        left(&job, "air").proof.unwrap()
    };
    let two = proof(&["27.185000 MHz", "27.185030 MHz"]);
    assert!((two.budget.coverage - 12.71).abs() < 0.01);
    assert_eq!(two.probability, None);
    let four = proof(&[
        "27.185000 MHz",
        "27.185030 MHz",
        "27.185010 MHz",
        "27.185020 MHz",
    ]);
    assert!(four.probability.unwrap() > 0.99);
}

// Check: inside probabilities of an even error, of two, of Student's t, and of both together:
// even within ±1 about 0.5 below 0.75; two of them within ±1; t of 4 degrees within 2.776; even
// within ±1 and a normal of σ, within ±1
// Source: closed forms; ∫Φ by parts, 1 − σ/√(2π) for limits at the ends of the even error
// Known by: closed form
#[test]
fn a_probability_follows_the_law_of_each_part() {
    let even = |half_width: f64| {
        let shape = Shape::Rectangular;
        Contribution::new("", Evaluation::Limits { half_width, shape })
    };
    let normal = |uncertainty: f64| Contribution::new("", Evaluation::Standard { uncertainty });
    let inside = |parts: Vec<Contribution>, value: f64, low: f64, high: f64| {
        let budget = Budget::of(parts).unwrap();
        let inside = budget.probability_within(value, Some(low), Some(high));
        inside.unwrap().unwrap()
    };
    let is_near = |found: f64, expected: f64| {
        assert!((found - expected).abs() < 1e-3, "{found} for {expected}");
    };
    is_near(inside(vec![even(1.0)], 0.5, -9.0, 0.75), 0.625);
    is_near(inside(vec![even(1.0)], 0.0, -1.0, 1.0), 1.0);
    is_near(inside(vec![even(1.0), even(1.0)], 0.0, -1.0, 1.0), 0.75);
    is_near(inside(vec![even(2.0), even(1.0)], 0.0, -1.0, 9.0), 0.75);
    is_near(
        inside(vec![normal(1.0).freedom(4.0)], 0.0, -2.776, 2.776),
        0.95,
    );
    for deviation in [0.2, 0.1] {
        let expected = 1.0 - deviation / (2.0 * std::f64::consts::PI).sqrt();
        is_near(
            inside(vec![even(1.0), normal(deviation)], 0.0, -1.0, 1.0),
            expected,
        );
    }
    let few = Budget::of(vec![normal(1.0).freedom(2.0)]).unwrap();
    assert_eq!(few.probability_within(0.0, None, Some(1.0)), Ok(None));
}

// Targets relative to another reading

/// Two levels, the second to lie 6 dB below the first within ± 0.5 dB.
fn six_decibels_down(second: &str) -> Procedure {
    let margin = json!({"absolute": "0.5 dB"});
    let target = json!({"relative": {
        "to": "first", "offset": "-6.0 dB", "below": margin, "above": margin}});
    let anywhere = json!({"fixed": {"between": {"low": "-20 dBm", "high": "20 dBm"}}});
    procedure(vec![
        reads("first", "AM", "19", "meter", "dBm", anywhere),
        reads("second", "AM", "19", second, "dBm", target),
    ])
}

#[test]
fn an_error_that_two_readings_share_does_not_count_between_them() {
    let level_meter = |name, accuracy| instrument(name, "20 dBm", "0.1 dB", accuracy);
    let meter = level_meter("Club level meter", json!({"absolute": "0.8 dB"}));
    let other = level_meter("Another level meter", json!({"absolute": "0.8 dB"}));
    let kit = [("meter", &meter), ("second", &other)];
    let readings = [("first", "10.0 dBm"), ("second", "4.2 dBm")];
    let proof = |second: &str| {
        let header = header(Rule::guard_band(), &kit);
        let job = job(six_decibels_down(second), header, &readings);
        left(&job, "second").proof.unwrap()
    };
    // 1.96·√(2·0.1²/12) dB of two resolutions.
    let alike = proof("meter");
    assert_eq!(alike.expanded, q("0.080 dB"));
    assert_eq!(alike.statement, Statement::Pass);
    // 1.96·√(2·(0.8²/3 + 0.1²/12)) dB: neither instrument knows of the other's error.
    let apart = proof("second");
    assert_eq!(apart.expanded, q("1.3 dB"));
    assert_eq!(apart.statement, Statement::Fail);
    // What isn't known of the reading that the target comes from isn't known of the target.
    let header = header(Rule::guard_band(), &kit[1..]);
    let job = job(six_decibels_down("second"), header, &readings);
    let unproved = left(&job, "second").proof.unwrap_err();
    assert!(matches!(unproved, Unproved::NoInstrument(role) if role.as_str() == "meter"));
}

#[test]
fn counts_and_other_ranges_are_not_shared() {
    let in_range = |full_scale, resolution| {
        let accuracy = json!({"percent-of-reading": "1", "counts": 1});
        range(full_scale, resolution, accuracy)
    };
    let meter = with_ranges(vec![in_range("10 V", "0.01 V"), in_range("100 V", "0.1 V")]);
    let budget =
        |own, reference, slope| combined_against([own, reference], [&meter, &meter], slope);
    // What one count and one step of the display leave, twice.
    let digits = 2.0 * (0.01f64.powi(2) / 3.0 + 0.01f64.powi(2) / 12.0);
    let near = |got: f64, expected: f64| assert!((got / expected - 1.0).abs() < 1e-9, "{got}");
    near(budget("8.00 V", "8.00 V", 1.0), digits.sqrt());
    // 1 % of the 2 V between them.
    near(
        budget("8.00 V", "6.00 V", 1.0),
        (digits + 0.02f64.powi(2) / 3.0).sqrt(),
    );
    // Half the reading against half of it: nothing of the 1 % is left.
    let digits = 1.25 * (0.01f64.powi(2) / 3.0 + 0.01f64.powi(2) / 12.0);
    near(budget("4.00 V", "8.00 V", 0.5), digits.sqrt());
    assert!(
        budget("8.00 V", "40.0 V", 0.2) > 0.05,
        "two ranges share nothing"
    );
}

// Limits to one side

#[test]
fn a_limit_that_no_reading_can_be_clear_of_is_hopeless() {
    let meter = instrument(
        "Club meter",
        "10 mV p-p",
        "0.1 mV p-p",
        json!({"percent-of-range": "5"}),
    );
    let ability = |tolerance: Tolerance| meter.can_prove(&tolerance).unwrap().ability;
    // U at zero is 0.57 mV.
    assert_eq!(ability(Tolerance::AtMost(q("0.5 mV p-p"))), Ability::None);
    assert_eq!(ability(Tolerance::AtMost(q("2 mV p-p"))), Ability::OneSided);
    assert_eq!(
        ability(Tolerance::AtLeast(q("9 mV p-p"))),
        Ability::OneSided
    );
    assert_eq!(ability(Tolerance::AtLeast(q("9.5 mV p-p"))), Ability::None);
}

#[test]
fn a_level_that_no_reading_can_be_clear_of_is_hopeless() {
    let analyser = |end| {
        instrument(
            "Club analyser",
            end,
            "0.1 dB",
            json!({"absolute": "1.0 dB"}),
        )
    };
    let ability = |end, tolerance| analyser(end).can_prove(&tolerance).unwrap().ability;
    // U is 1.13 dB.
    for (end, tolerance, expected) in [
        ("-80 dBc", Tolerance::AtMost(q("-79 dBc")), Ability::None),
        (
            "-80 dBc",
            Tolerance::AtMost(q("-78 dBc")),
            Ability::OneSided,
        ),
        (
            "20 dBm",
            Tolerance::AtMost(q("-100 dBm")),
            Ability::OneSided,
        ),
        ("20 dBm", Tolerance::AtLeast(q("19 dBm")), Ability::None),
        ("20 dBm", Tolerance::AtLeast(q("18 dBm")), Ability::OneSided),
    ] {
        let print = tolerance.typeset(DecimalSign::Point);
        assert_eq!(ability(end, tolerance), expected, "{end}: {print}");
    }
}

// Shares of what has none

// Check: 10 % of a power is +0.41/−0.46 dB, of a voltage +0.83/−0.92 dB
// Source: definition of the decibel
// Known by: closed form
#[test]
fn a_share_of_a_level_or_of_zero_is_refused_with_what_was_meant() {
    let percent = || Margin::Percent("10".parse().unwrap());
    let ppm = || Margin::Ppm("50".parse().unwrap());
    let said = |nominal: &str, margin: Margin| {
        let tolerance = Tolerance::plus_minus(q(nominal), margin);
        let fault = tolerance.fault(q(nominal).unit());
        fault.map(|fault| fault.to_string().replace('\u{a0}', " "))
    };
    let level = "its tolerance is 10 % of a level in dBm, which has no shares: give it in dB; \
                 10 % of the power is +0.41/−0.46 dB";
    assert_eq!(said("36 dBm", percent()).as_deref(), Some(level));
    let voltage = said("60 dBµV", percent()).unwrap();
    assert!(
        voltage.ends_with("10 % of the voltage is +0.83/−0.92 dB"),
        "{voltage}"
    );
    let fine = said("36 dBm", ppm()).unwrap();
    assert!(
        fine.ends_with("50 ppm of the power is +0.00022/−0.00022 dB"),
        "{fine}"
    );
    let zero = "its tolerance is a share of zero, which is nothing: give it as an amount in Hz";
    assert_eq!(said("0 Hz", ppm()).as_deref(), Some(zero));
    assert!(said("0 V", percent()).is_some());
    assert_eq!(said("27.185 MHz", ppm()), None);
    assert_eq!(said("4 W", percent()), None);
}

// Adjusters that seem to chase each other

#[test]
fn two_that_only_warm_up_get_no_aims() {
    let mut procedure = procedure(vec![
        sets("first", "AM", "19", "loop"),
        sets("second", "AM", "19", "carrier"),
    ]);
    let chase = Chase {
        title: "Loop and carrier".to_owned(),
        steps: vec![id("first"), id("second")],
    };
    procedure.chases = vec![chase.clone()];
    let mut job = job(procedure, header(Rule::default(), &[]), &[]);
    let visits = [
        ("first", "as-found", "16.490004 MHz"),
        ("second", "as-found", "10.695000 MHz"),
        ("first", "as-found", "16.490024 MHz"),
        ("first", "as-left", "16.490000 MHz"),
        ("second", "as-found", "10.695020 MHz"),
        ("second", "as-left", "10.695000 MHz"),
        ("first", "as-found", "16.490022 MHz"),
    ];
    for (number, (step, phase, value)) in visits.into_iter().enumerate() {
        let reading = json!({"reading": {"step": step, "phase": phase, "value": value}});
        let at = number as i64 * 60_000;
        let stamp = Stamp {
            id: id(&format!("r{number}")),
            at,
        };
        job.record(stamp, serde_json::from_value(reading).unwrap())
            .unwrap();
    }
    let rounds = advice::rounds(&job.procedure, &job.progress(), &chase, None).unwrap();
    let too_few = matches!(rounds.aims, Err(Unsupported::TooFewLooks { .. }));
    assert!(too_few, "{:?}", rounds.aims);
    // What was read after turning only is no reading before it.
    let before = |round: usize, at: usize| rounds.rounds[round][at].before.clone();
    assert_eq!(before(1, 0), Some(q("16.490024 MHz")));
    assert_eq!(rounds.rounds[2][0].after, None);
}

// A cross-check

#[test]
fn a_second_route_with_the_same_instrument_is_no_second_opinion() {
    let mut step = reads(
        "power",
        "AM",
        "19",
        "wattmeter",
        "W",
        json!({"fixed": {"at-most": "4 W"}}),
    );
    step["cross-check"] = json!({"text": "Again.", "compares": "same",
        "gauge": {"at": "TP1", "with": "second", "in": "W"}});
    let procedure = procedure(vec![step]);
    let opinion = |second: &str| {
        let meter =
            |name: &str| instrument(name, "10 W", "0.01 W", json!({"percent-of-range": "2"}));
        let (one, other) = (meter("Club meter"), meter(second));
        let header = header(Rule::default(), &[("wattmeter", &one), ("second", &other)]);
        let mut job = job(procedure.clone(), header, &[("power", "3.90 W")]);
        let cross = json!({"cross-read": {"step": "power", "value": "3.91 W"}});
        let stamp = Stamp {
            id: id("cross"),
            at: 99,
        };
        job.record(stamp, serde_json::from_value(cross).unwrap())
            .unwrap();
        let progress = job.progress();
        let cross = progress.step(&id("power")).unwrap().cross.clone();
        cross.unwrap().opinion.unwrap().opinion
    };
    assert_eq!(opinion("Club meter"), Opinion::SameInstrument);
    assert!(matches!(
        opinion("Another meter"),
        Opinion::Judged(_, Agreement::Agree)
    ));
}

// Where to aim

#[test]
fn one_sister_gives_no_interval_and_several_give_theirs() {
    let tries = |pulls: &[f64]| -> Vec<Try> {
        let one = |&pull: &f64| Try {
            tool_in: 0.0,
            tool_out: pull,
        };
        pulls.iter().map(one).collect()
    };
    let one = Pull::learn(&[], &[tries(&[10.0, 10.1, 9.9])], 0.0).unwrap();
    assert_eq!((one.spread, one.origin), (None, Origin::Sisters));
    assert_eq!(one.aim(100.0).unwrap().half_width, None);
    // Means 10 and 20, each very sure of itself: s = 7.07 with one degree of freedom.
    let two = [tries(&[10.0, 10.0]), tries(&[20.0, 20.0])];
    let two = Pull::learn(&[], &two, 0.0).unwrap();
    let spread = two.spread.unwrap();
    assert!((spread.deviation - 50f64.sqrt()).abs() < 1e-9);
    assert!((spread.freedom - 1.0).abs() < 1e-9);
    let half = two.aim(100.0).unwrap().half_width.unwrap();
    assert!((half - 12.706 * 75f64.sqrt()).abs() < 0.1, "{half}");
}
