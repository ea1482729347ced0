use super::*;
use crate::procedure::Gauge;
use crate::procedure::Procedure;
use crate::procedure::Step;
use crate::procedure::{Section, SetUp, Work};
use crate::radio::channels::ChannelTable;
use crate::radio::plan::Plan;

fn q(text: &str) -> Quantity {
    text.parse().unwrap()
}

fn id(text: &str) -> Id {
    text.parse().unwrap()
}

fn margin(text: &str) -> Margin {
    Margin::Absolute(q(text))
}

fn relative(offset: &str) -> Target {
    Target::Relative {
        to: id("s1"),
        offset: q(offset),
        below: margin("20 Hz"),
        above: margin("20 Hz"),
    }
}

fn step(target: Target, scale: &str, mode: &str, channel: &str) -> Step {
    let gauge = Gauge::new(id("TP1"), id("counter"), scale.parse().unwrap());
    let work = Work::Read {
        gauge,
        target: Some(target),
    };
    Step {
        set_up: SetUp {
            mode: Some(mode.to_owned()),
            channel: Some(channel.to_owned()),
            ..SetUp::default()
        },
        ..Step::new(id("s2"), "Read", work)
    }
}

/// A 27 MHz set as is common practice, no source: 16.49 MHz and 10.695 MHz added.
fn procedure(step: Step) -> Procedure {
    let plan: Plan = serde_json::from_value(serde_json::json!({
        "name": "two oscillators",
        "modes": [
            {"name": "AM", "terms": [
                {"oscillator": "loop", "factor": 1, "target": "follows-channel"},
                {"oscillator": "carrier", "factor": 1, "target": {"fixed": "10.6950 MHz"}}]},
            {"name": "USB", "terms": [
                {"oscillator": "loop", "factor": 1, "target": "follows-channel"},
                {"oscillator": "carrier", "factor": 1, "target": {"fixed": "10.6925 MHz"}}]},
            {"name": "LSB", "terms": [
                {"oscillator": "loop", "factor": 1, "target": "follows-channel"},
                {"oscillator": "carrier", "factor": 1, "target": {"fixed": "10.6975 MHz"}}]}]
    }))
    .unwrap();
    Procedure {
        plan: Some(plan),
        channels: Some(ChannelTable::us_27_megahertz()),
        sections: vec![Section {
            title: String::new(),
            steps: vec![step],
        }],
        ..Procedure::new(id("p"), "p")
    }
}

fn worked_out(step: Step, reading: Option<&str>) -> Result<Tolerance, TargetFault> {
    let procedure = procedure(step);
    let step = procedure.steps().next().unwrap();
    procedure.tolerance(step, |_| reading.map(q)).unwrap()
}

#[test]
fn a_relative_target_moves_with_the_other_reading() {
    for (reading, offset, nominal) in [
        ("9.001512 MHz", "-3 kHz", "8.998512 MHz"),
        ("-20.5 dBm", "-40 dB", "-60.5 dBm"),
        // 20 log 2 is 6.0206 dB, ARRL Handbook, from memory.
        ("2.00 V rms", "-6.0206 dB", "1.0000 V rms"),
        // 10 log 0.5 is −3.0103 dB.
        ("4.0 W", "-3.0103 dB", "2.000 W"),
    ] {
        let step = step(relative(offset), "MHz", "AM", "19");
        let tolerance = worked_out(step, Some(reading)).unwrap();
        assert_eq!(tolerance.nominal(), Some(&q(nominal)), "{reading}");
    }
}

#[test]
fn a_relative_target_waits_for_its_reading_and_refuses_odd_units() {
    let step = || step(relative("-3 kHz"), "MHz", "AM", "19");
    assert!(matches!(
        worked_out(step(), None),
        Err(TargetFault::Waiting(_))
    ));
    let odd = worked_out(step(), Some("4 W"));
    assert!(matches!(odd, Err(TargetFault::Units { .. })));
}

#[test]
fn a_target_by_the_plan_follows_mode_and_channel() {
    // Common practice, no source: 27.185 MHz = 16.4900 + 10.6950 (AM),
    // 16.4925 + 10.6925 (USB), 16.4875 + 10.6975 (LSB).
    for (mode, channel, oscillator, nominal) in [
        ("AM", "19", "loop", "16.490000 MHz"),
        ("USB", "19", "loop", "16.492500 MHz"),
        ("LSB", "19", "loop", "16.487500 MHz"),
        ("LSB", "19", "carrier", "10.697500 MHz"),
        // 47 CFR 95.963: channel 23 is 27.255 MHz, 24 is 27.235 MHz.
        ("AM", "23", "loop", "16.560000 MHz"),
        ("AM", "24", "loop", "16.540000 MHz"),
    ] {
        let target = Target::Oscillator {
            name: oscillator.to_owned(),
            below: margin("20 Hz"),
            above: margin("20 Hz"),
        };
        let tolerance = worked_out(step(target, "MHz", mode, channel), None).unwrap();
        assert_eq!(tolerance.nominal(), Some(&q(nominal)), "{mode} {channel}");
    }
}

#[test]
fn a_limit_becomes_a_tolerance_around_the_channel() {
    let limit = |name: &str, scale: &str| {
        let target = Target::Limit {
            set: limits::built_in()[0].id.clone(),
            limit: name.to_owned(),
            power: None,
        };
        worked_out(step(target, scale, "AM", "19"), None).unwrap()
    };
    // 47 CFR 95.965: 50 ppm of 27.185 MHz is 1359.25 Hz.
    let frequency = limit("frequency", "MHz");
    assert!(frequency.judge(&q("27.18635925 MHz")).is_inside());
    assert!(!frequency.judge(&q("27.18635926 MHz")).is_inside());
    // 47 CFR 95.967(a): 4 W.
    assert_eq!(limit("carrier-power", "W"), Tolerance::AtMost(q("4 W")));
}

fn beyond(power: Option<&str>) -> Target {
    Target::Limit {
        set: limits::built_in()[0].id.clone(),
        limit: "unwanted-am-fm-beyond".to_owned(),
        power: power.map(id),
    }
}

#[test]
fn a_limit_by_a_power_follows_what_was_read_and_is_never_stricter_than_the_rule() {
    // 53 + 10 log P: 59.0206 dB at 4 W and 63.7918 dB at 12 W, as in the published rule.
    for (power, most) in [
        ("4.00 W", "-59.02 dBc"),
        ("12.0 W", "-63.79 dBc"),
        ("3800 mW", "-58.79 dBc"),
        ("36.0 dBm", "-59.00 dBc"),
        ("1.0 W", "-53.00 dBc"),
        ("0.10 W", "-43.00 dBc"),
    ] {
        let step = step(beyond(Some("s1")), "dBc", "AM", "19");
        let tolerance = worked_out(step, Some(power)).unwrap();
        assert_eq!(tolerance, Tolerance::AtMost(q(most)), "{power}");
    }
}

#[test]
fn a_limit_by_a_power_waits_for_it_and_takes_nothing_else() {
    let read = |target, scale, reading| worked_out(step(target, scale, "AM", "19"), reading);
    assert_eq!(
        read(beyond(Some("s1")), "dBc", None),
        Err(TargetFault::Waiting(id("s1")))
    );
    for (target, scale, reading) in [
        (beyond(None), "dBc", "4 W"),
        (beyond(Some("s1")), "dBc", "0 W"),
        (beyond(Some("s1")), "dBc", "4 V"),
        (beyond(Some("s1")), "MHz", "4 W"),
    ] {
        let fault = read(target, scale, Some(reading));
        assert!(matches!(fault, Err(TargetFault::Missing(_))), "{reading}");
    }
}

#[test]
fn a_limit_by_a_power_moves_as_its_decibels_do() {
    let target = beyond(Some("s1"));
    // 10 log₁₀(4.04 / 4.00) is 0.0432 dB: one percent of a power, as a handbook has it.
    let slope = target.slope(&q("4.00 W")).unwrap();
    assert!((slope * 0.04 + 0.0432).abs() < 0.0003, "{slope}");
    assert_eq!(target.slope(&q("36.0 dBm")), Some(-1.0));
}

#[test]
fn a_limit_by_a_power_may_have_an_end() {
    // ITU Radio Regulations, Appendix 3, from memory: 43 + 10 log PEP, or 50 dB if that is less.
    let target = Target::Limit {
        set: "itu-rr-3".to_owned(),
        limit: "unwanted".to_owned(),
        power: Some(id("s1")),
    };
    for (power, most, slope) in [
        ("1 W PEP", "-43.00 dBc", -4.342_944_819_032_518),
        ("5 W PEP", "-49.98 dBc", -0.868_588_963_806_503_6),
        ("5.1 W PEP", "-50.00 dBc", 0.0),
        ("100 W PEP", "-50.00 dBc", 0.0),
    ] {
        let asked = worked_out(step(target.clone(), "dBc", "AM", "19"), Some(power));
        assert_eq!(asked, Ok(Tolerance::AtMost(q(most))), "{power}");
        let found = target.slope(&q(power)).unwrap();
        assert!((found - slope).abs() < 1e-12, "{power}: {found}");
    }
}

#[test]
fn limits_for_one_power_are_still_found_and_offered_no_more() {
    let us = &limits::built_in()[0];
    for (older, most) in [
        ("unwanted-4-w", "-59.02 dBc"),
        ("unwanted-12-w", "-63.79 dBc"),
    ] {
        let (_, limit) = cited(&us.id, older).unwrap();
        assert_eq!(limit.bound, Bound::AtMost(q(most)));
        assert!(us.limits.iter().all(|offered| offered.id != older));
        assert!(cited("en-300-433", older).is_err());
    }
}

#[test]
fn what_a_target_needs_and_does_not_find_is_said() {
    let oscillator = |name: &str| Target::Oscillator {
        name: name.to_owned(),
        below: margin("20 Hz"),
        above: margin("20 Hz"),
    };
    let odd_limit = Target::Limit {
        set: "nowhere".to_owned(),
        limit: "x".to_owned(),
        power: None,
    };
    for (step, part) in [
        (step(oscillator("loop"), "MHz", "CW", "19"), "CW"),
        (step(oscillator("tank"), "MHz", "AM", "19"), "tank"),
        (
            step(oscillator("loop"), "MHz", "AM", "41"),
            "no channel “41”",
        ),
        (
            step(odd_limit, "MHz", "AM", "19"),
            "no set of limits “nowhere”",
        ),
    ] {
        let sentence = worked_out(step, None).unwrap_err().to_string();
        assert!(sentence.contains(part), "{sentence}");
    }
}

#[test]
fn a_relative_target_is_said_in_words() {
    let said = |offset| {
        relative(offset)
            .typeset(DecimalSign::Point, |_| Some(7))
            .replace('\u{a0}', " ")
    };
    assert_eq!(said("-3 kHz"), "3 kHz below the reading of step 7 ± 20 Hz");
    assert_eq!(said("0 Hz"), "the reading of step 7 ± 20 Hz");
}
