//! Instruments against published specification arithmetic.

mod common;

use common::{n, q};
use halfturn::metrology::date::Date;
use halfturn::metrology::instrument::{
    Ability, Accuracy, Correction, Further, Instrument, Range, prove, time_base_corrected,
    time_base_ppm,
};
use halfturn::metrology::uncertainty::{Budget, Contribution, Evaluation, Shape};
use halfturn::metrology::{Margin, Statistics, Tolerance};

fn range(full_scale: &str, resolution: &str, accuracy: Accuracy) -> Range {
    Range {
        full_scale: q(full_scale),
        resolution: q(resolution),
        accuracy,
    }
}

fn instrument(ranges: Vec<Range>, corrections: Vec<Correction>) -> Instrument {
    Instrument {
        role: "meter".to_owned(),
        name: "bench meter".to_owned(),
        asset: "7".to_owned(),
        calibrated: "2024-03-01".parse().ok(),
        due: "2025-03-01".parse().ok(),
        ranges,
        corrections,
        further: Vec::new(),
        loss: None,
    }
}

fn percent(reading: &str, of_range: &str) -> Accuracy {
    Accuracy {
        percent_of_reading: Some(n(reading)),
        percent_of_range: Some(n(of_range)),
        ..Accuracy::default()
    }
}

// Check: 5 V in the 10 V range at ±(0.0020 % of reading + 0.0005 % of range): ±150 µV
// Source: user's guide of a digital multimeter maker
// Known by: read
#[test]
fn accuracy_adds_up_as_makers_print_it() {
    let range = range("10 V", "0.00001 V", percent("0.0020", "0.0005"));
    let half_width = range.accuracy.half_width(&q("5 V").base(), &range);
    assert_eq!(half_width, q("150 µV").base());
}

// Check: 27.185 MHz at ±1 ppm with one count of 1 Hz: 28.185 Hz worst case, 15.7 Hz combined when
// the count is a limit of ±1 Hz too
// Source: closed form
// Known by: computed
#[test]
fn a_counter_adds_its_time_base_and_its_count() {
    let accuracy = Accuracy {
        ppm: Some(n("1")),
        counts: Some(1),
        ..Accuracy::default()
    };
    let range = range("100 MHz", "1 Hz", accuracy);
    let half_width = range.accuracy.half_width(&q("27.185 MHz").base(), &range);
    assert_eq!(half_width, q("28.185 Hz").base());
    let rectangular = |half_width| {
        let shape = Shape::Rectangular;
        Contribution::new("", Evaluation::Limits { half_width, shape })
    };
    let budget = Budget::of(vec![rectangular(27.185), rectangular(1.0)]).unwrap();
    common::agrees(budget.combined, 15.7058823906);
}

// Check: a counter that shows 10 000 005 Hz for 10 MHz is 0.5 ppm high; raw and corrected reading
// Source: NCVEC question pool E4B03, error in Hz = frequency · ppm
// Known by: closed form
#[test]
fn a_time_base_is_put_right_by_a_reference() {
    let correction = Correction::TimeBase {
        reference: q("10 MHz"),
        reading: q("10.000005 MHz"),
    };
    assert_eq!(&correction.ppm().unwrap(), n("0.5").decimal());
    let counter = instrument(Vec::new(), vec![correction]);
    assert_eq!(counter.corrected(&q("27.185000 MHz")), q("27.184986 MHz"));
    assert_eq!(counter.corrected(&q("5.00 V")), q("5.00 V"));
    common::agrees(time_base_ppm(10_000_005.0, 10e6).unwrap(), 0.5);
    let corrected = time_base_corrected(27.185e6, 0.5).unwrap();
    common::agrees(corrected, 27_184_986.4075068);
    assert!(time_base_ppm(10e6, 0.0).is_err());
}

// Check: an offset is added in the unit of a difference
// Source: this project's own rule
// Known by: own rule
#[test]
fn an_offset_is_added_to_levels_and_volts() {
    let meter = instrument(Vec::new(), vec![Correction::Offset(q("20.3 dB"))]);
    assert_eq!(meter.corrected(&q("-10.0 dBm")), q("10.3 dBm"));
    assert_eq!(meter.corrected(&q("1.0 V")), q("1.0 V"));
}

// Check: a reading takes the smallest range that holds it and its budget has every part
// Source: JCGM 100:2008, 4.3.7, F.2.2.1 and 4.2.3
// Known by: closed form
#[test]
fn a_reading_takes_the_smallest_range_that_holds_it() {
    let meter = instrument(
        vec![
            range("100 V", "0.01 V", percent("1", "0")),
            range("10 V", "0.001 V", percent("0.3", "0")),
        ],
        Vec::new(),
    );
    assert_eq!(meter.range_for(&q("8.0 V")).unwrap().full_scale, q("10 V"));
    assert_eq!(
        meter.range_for(&q("10.1 V")).unwrap().full_scale,
        q("100 V")
    );
    let readings = ["8.001", "8.003", "8.002"].map(n);
    let statistics = Statistics::of(&readings).unwrap();
    let budget = meter
        .budget(&q("8.000 V"), Some(Contribution::of_repeats(&statistics)))
        .unwrap();
    let names: Vec<_> = budget
        .lines
        .iter()
        .map(|l| l.contribution.name.as_str())
        .collect();
    assert_eq!(names, ["Accuracy", "Resolution", "Repeatability"]);
    let expected = (0.024f64 / 3f64.sqrt())
        .hypot(0.001 / 12f64.sqrt())
        .hypot(0.001 / 3f64.sqrt());
    common::agrees(budget.combined, expected);
}

// Check: a range holds what lies on its end, in any prefix; which levels it holds depends on its
// side of zero, since a data sheet gives the highest input of a meter and the floor of an analyser
// Source: none
// Known by: common practice
#[test]
fn a_range_is_found_wherever_a_reading_lies_in_it() {
    let plain = |full_scale: &str| range(full_scale, "0.1 dB", percent("1", "0"));
    let found = |ranges: &[&str], reading: &str| {
        let meter = instrument(ranges.iter().map(|end| plain(end)).collect(), vec![]);
        let found = meter.range_for(&q(reading));
        found.map(|range| range.full_scale.to_string())
    };
    for (ranges, reading, end) in [
        (&["10 V", "100 V"][..], "10.000 V", "10 V"),
        (&["4000 mV", "40 V"], "4.0 V", "4000 mV"),
        (&["100 MHz"], "100000000 Hz", "100 MHz"),
        (&["20 dBm"], "-73 dBm", "20 dBm"),
        (&["0 dBm"], "0.0 dBm", "0 dBm"),
        (&["100 dB"], "60 dB", "100 dB"),
        (&["-80 dBc"], "-60 dBc", "-80 dBc"),
        (&["20 dBm", "-130 dBm"], "-73 dBm", "-130 dBm"),
        (&["20 dBm", "-130 dBm"], "-10 dBm", "20 dBm"),
    ] {
        assert_eq!(found(ranges, reading).as_deref(), Ok(end), "{reading}");
    }
    for (ranges, reading, sentence) in [
        (
            &["10 V", "100 V"][..],
            "200 V",
            "200\u{a0}V is beyond the ranges of “bench meter”, which end at 100\u{a0}V; enter a wider one, or choose another instrument.",
        ),
        (
            &["-80 dBc"],
            "-90 dBc",
            "\u{2212}90\u{a0}dBc is beyond the ranges of “bench meter”, which end at \u{2212}80\u{a0}dBc; enter a wider one, or choose another instrument.",
        ),
        (
            &["10 V", "2 A", "100 V"],
            "8.0 V rms",
            "“bench meter” has no range in V rms, only in V, A; enter one, or choose another instrument.",
        ),
        (
            &[],
            "8.0 V",
            "The range for this reading of “bench meter” is missing; enter it first.",
        ),
    ] {
        let fault = found(ranges, reading).unwrap_err();
        assert_eq!(fault.to_string(), sentence);
    }
}

// Check: what proves ±5 % of 8 V, and which accuracy would do
// Source: ANSI/NCSL Z540.3 for 4 : 1
// Known by: memory
#[test]
fn an_instrument_knows_what_it_can_prove() {
    let tolerance = Tolerance::plus_minus(q("8.0 V"), Margin::Percent(n("5")));
    let proof = |accuracy: &str| {
        let meter = instrument(
            vec![range("10 V", "0.001 V", percent(accuracy, "0"))],
            vec![],
        );
        meter.can_prove(&tolerance).unwrap()
    };
    assert_eq!(proof("0.5").ability, Ability::Comfortable);
    assert_eq!(proof("3").ability, Ability::Narrow);
    assert_eq!(proof("6").ability, Ability::None);
    let needed = proof("6").accuracy_needed.unwrap();
    let u = (needed / 3f64.sqrt()).hypot(0.001 / 12f64.sqrt());
    common::agrees(0.4 / (1.959963984540054 * u), 4.0);
    assert_eq!(prove(0.001, 1.0, 1.0).unwrap().accuracy_needed, None);
    let meter = instrument(vec![range("10 V", "0.001 V", percent("0.5", "0"))], vec![]);
    let one_sided = meter.can_prove(&Tolerance::AtMost(q("8.0 V"))).unwrap();
    assert_eq!(
        (one_sided.ability, one_sided.ratio),
        (Ability::OneSided, None)
    );
    assert!(prove(0.0, 1.0, 1.0).is_err());
}

// Check: a calibration runs out the day after it is due; days that no calendar has are refused
// Source: Gregorian calendar
// Known by: closed form
#[test]
fn a_calibration_runs_out_after_its_day() {
    let day = |text: &str| text.parse::<Date>();
    let meter = instrument(Vec::new(), Vec::new());
    assert!(!meter.is_overdue(day("2025-03-01").unwrap()));
    assert!(meter.is_overdue(day("2025-03-02").unwrap()));
    assert_eq!(day("2024-02-29").unwrap().to_string(), "2024-02-29");
    for text in [
        "2025-02-29",
        "1900-02-29",
        "2025-13-01",
        "2025-00-10",
        "2025-1-1",
        "x",
        "2025-04-31",
    ] {
        assert!(day(text).is_err(), "{text}");
    }
}

// Check: an instrument survives a document and refuses fields that it does not know
// Source: this project's own rule
// Known by: own rule
#[test]
fn an_instrument_is_a_document() {
    let meter = instrument(
        vec![range("10 V", "0.001 V", percent("0.3", "0.1"))],
        vec![Correction::Offset(q("2 mV"))],
    );
    let json = serde_json::to_string(&meter).unwrap();
    assert!(json.contains("percent-of-reading"));
    assert_eq!(serde_json::from_str::<Instrument>(&json).unwrap(), meter);
    let extra = json.replacen("{", "{\"colour\":\"red\",", 1);
    assert!(serde_json::from_str::<Instrument>(&extra).is_err());
}

/// What else an instrument's readings are uncertain by, as a file says it.
fn with_further(instrument: Instrument, further: serde_json::Value) -> Instrument {
    let further: Vec<Further> = serde_json::from_value(further).unwrap();
    Instrument {
        further,
        ..instrument
    }
}

fn wattmeter(accuracy: Accuracy) -> Instrument {
    instrument(vec![range("10 W", "0.01 W", accuracy)], Vec::new())
}

// Check: a certificate's U goes into a budget as U/k, the tolerance of a load and of a tap as
// limits over √3, a mismatch of unknown phase over √2
// Source: JCGM 100:2008, 4.3.3 and 4.3.7; documentation of the library GTC for the U shape
// Known by: closed form
#[test]
fn what_no_data_sheet_states_is_part_of_every_reading_in_its_unit() {
    let bare = wattmeter(percent("2", "0"));
    let whole = with_further(
        bare.clone(),
        serde_json::json!([
            {"from": {"certificate": {"coverage": "2"}}, "of": "W", "within": {"amount": "0.06 W"}},
            {"from": "load", "of": "W", "within": {"percent": "5"}},
            {"from": "tap", "of": "W", "within": {"percent": "1"}},
            {"from": "leads", "of": "W", "within": {"percent": "0.5"}},
            {"from": "mismatch", "of": "W", "within": {"percent": "3"}},
            {"from": "load", "of": "V", "within": {"percent": "50"}},
        ]),
    );
    let alone = bare.budget(&q("4.00 W"), None).unwrap();
    let budget = whole.budget(&q("4.00 W"), None).unwrap();
    let names: Vec<_> = budget
        .lines
        .iter()
        .map(|l| l.contribution.name.as_str())
        .collect();
    let expected = [
        "Accuracy",
        "Resolution",
        "Certificate",
        "Load",
        "Tap or attenuator",
        "Leads and connectors",
        "Mismatch",
    ];
    assert_eq!(names, expected);
    let by_hand = [
        0.03,
        0.2 / 3f64.sqrt(),
        0.04 / 3f64.sqrt(),
        0.02 / 3f64.sqrt(),
        0.12 / 2f64.sqrt(),
    ];
    let combined = by_hand.iter().fold(alone.combined, |sum, u| sum.hypot(*u));
    common::agrees(budget.combined, combined);
    // A power that is read on a load of ± 5 % is proved to ± 0.25 W at best, not to the meter's ± 0.1 W.
    assert!(alone.expanded < 0.1 && budget.expanded > 0.25);
}

// Check: a certificate says what its instrument is good for, the tolerance of a load does not
// Source: none
// Known by: common practice
#[test]
fn a_certificate_alone_is_an_accuracy_and_a_load_alone_is_none() {
    let certified = with_further(
        wattmeter(Accuracy::default()),
        serde_json::json!([
            {"from": {"certificate": {"coverage": "2.00"}}, "of": "W", "within": {"percent": "3"}},
        ]),
    );
    let budget = certified.budget(&q("4.00 W"), None).unwrap();
    common::agrees(budget.combined, 0.06f64.hypot(0.01 / 12f64.sqrt()));
    let loaded = with_further(
        wattmeter(Accuracy::default()),
        serde_json::json!([{"from": "load", "of": "W", "within": {"percent": "5"}}]),
    );
    assert!(loaded.budget(&q("4.00 W"), None).is_err());
}

// Check: through one path the error of a load is the same for two readings; through two it isn't
// Source: JCGM 100:2008, 5.2.2, for fully correlated errors
// Known by: closed form
#[test]
fn what_two_readings_share_of_a_path_cancels() {
    let load = serde_json::json!([{"from": "load", "of": "W", "within": {"percent": "5"}}]);
    let meter = with_further(wattmeter(percent("2", "0")), load.clone());
    let other = with_further(
        Instrument {
            name: "the other".to_owned(),
            ..wattmeter(percent("2", "0"))
        },
        load,
    );
    let combined =
        |own, reference, by| common::combined_against([own, reference], [&meter, by], 1.0);
    let steps = 2f64.sqrt() * 0.01 / 12f64.sqrt();
    common::agrees(combined("4.00 W", "4.00 W", &meter), steps);
    // 7 % of the 1 W between them, 5 % of them the load's.
    let between = (0.02 / 3f64.sqrt()).hypot(0.05 / 3f64.sqrt());
    common::agrees(combined("5.00 W", "4.00 W", &meter), steps.hypot(between));
    let apart = 2f64.sqrt() * (0.08 / 3f64.sqrt()).hypot(0.2 / 3f64.sqrt());
    common::agrees(combined("4.00 W", "4.00 W", &other), steps.hypot(apart));
}
