//! What readings say of the frequency plan, with the sums done by hand.

mod two_oscillators;

use bigdecimal::BigDecimal;
use halfturn::exchange::demo;
use halfturn::job::{ChannelView, Header, Job, ModeView, Predicted, Status, Unproved, plan_view};
use halfturn::metrology::decision::Rule;
use halfturn::metrology::instrument::Instrument;
use halfturn::metrology::uncertainty::Budget;
use halfturn::radio::plan::Readings;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;
use two_oscillators::*;

fn view(job: &Job) -> Vec<ChannelView> {
    plan_view(&job.procedure, &job.progress())
}

fn of_mode<'a>(channel: &'a ChannelView, name: &str) -> &'a ModeView {
    channel.modes.iter().find(|mode| mode.mode == name).unwrap()
}

/// Loop and carrier of each mode on channel 19, and the air.
fn steps() -> Vec<Value> {
    let mut steps = Vec::new();
    for mode in ["AM", "USB", "LSB"] {
        steps.push(sets(&format!("loop {mode}"), mode, "19", "loop"));
        steps.push(sets(&format!("carrier {mode}"), mode, "19", "carrier"));
    }
    steps.push(reads(
        "air",
        "AM",
        "19",
        "counter",
        "MHz",
        channel_within("50"),
    ));
    steps
}

/// ± 1 ppm ± 1 count, one count being 1 Hz.
fn counter(name: &str) -> Instrument {
    let accuracy = json!({"ppm": "1", "counts": 1});
    instrument(name, "50 MHz", "1 Hz", accuracy)
}

fn budget(predicted: &Predicted) -> &Budget {
    predicted.uncertainty.as_ref().unwrap()
}

#[track_caller]
fn is_near(value: f64, by_hand: f64) {
    assert!((value - by_hand).abs() < 5e-4, "{value}, by hand {by_hand}");
}

// Check: 27.185 MHz as loop and carrier: 16.4900 + 10.6950 (AM), 16.4925 + 10.6925 (USB),
// 16.4875 + 10.6975 (LSB), with no error on the air and full agreement of the modes
// Source: none; two-oscillator sets of the 27 MHz band
// Known by: common practice
#[test]
fn readings_on_their_targets_predict_the_channel() {
    let readings = [
        ("loop AM", "16.490000 MHz"),
        ("carrier AM", "10.695000 MHz"),
        ("loop USB", "16.492500 MHz"),
        ("carrier USB", "10.692500 MHz"),
        ("loop LSB", "16.487500 MHz"),
        ("carrier LSB", "10.697500 MHz"),
    ];
    let view = view(&job(procedure(steps()), Header::default(), &readings));
    assert_eq!(view.len(), 1);
    assert_eq!(view[0].channel.name, "19");
    assert_eq!(view[0].modes.len(), 3);
    for mode in &view[0].modes {
        let predicted = mode.predicted.as_ref().unwrap();
        assert_eq!(predicted.frequency, q("27.185000 MHz"), "{}", mode.mode);
        assert_eq!(predicted.error, q("0 Hz"));
        assert_eq!(mode.last, None);
        for oscillator in &mode.oscillators {
            assert_eq!(oscillator.error, Some(q("0 Hz")));
            let target = oscillator.target.as_ref().unwrap();
            let reading = oscillator.reading.as_ref().unwrap();
            assert_eq!(target.base(), reading.base(), "{}", oscillator.name);
            assert!(!oscillator.is_open());
        }
    }
    assert_eq!(view[0].spread, Some(q("0 Hz")));
}

// Check: the sum, its error, the spread of the modes and the last target to the hertz
// Source: closed form, on-air = Σ k·f
// Known by: computed; by hand
#[test]
fn errors_add_up_and_the_last_oscillator_makes_up_for_them() {
    let readings = [
        // 16.490012 + 10.694995 = 27.185007.
        ("loop AM", "16.490012 MHz"),
        ("carrier AM", "10.694995 MHz"),
        // 16.492490 + 10.6924985 = 27.1849885.
        ("loop USB", "16.492490 MHz"),
        ("carrier USB", "10.6924985 MHz"),
        // 27.185 − 10.697507 = 16.487493.
        ("carrier LSB", "10.697507 MHz"),
        ("air", "27.185009 MHz"),
    ];
    let view = view(&job(procedure(steps()), Header::default(), &readings));
    let am = of_mode(&view[0], "AM");
    let predicted = am.predicted.as_ref().unwrap();
    assert_eq!(predicted.frequency, q("27.185007 MHz"));
    assert_eq!(predicted.error, q("7 Hz"));
    // 7/27.185 = 0.25749….
    is_near(predicted.ppm, 0.2575);
    let measured = am.measured.as_ref().unwrap();
    assert_eq!(measured.frequency, q("27.185009 MHz"));
    assert_eq!(measured.error, q("9 Hz"));
    assert_eq!(
        (measured.step.number, measured.step.status),
        (7, Status::Done)
    );

    let usb = of_mode(&view[0], "USB");
    let predicted = usb.predicted.as_ref().unwrap();
    assert_eq!(predicted.frequency, q("27.1849885 MHz"));
    assert_eq!(predicted.error, q("-11.5 Hz"));
    assert_eq!(usb.measured, None);
    // 7 − (−11.5).
    assert_eq!(view[0].spread, Some(q("18.5 Hz")));

    let lsb = of_mode(&view[0], "LSB");
    assert_eq!(lsb.predicted, None);
    let last = lsb.last.as_ref().unwrap();
    assert_eq!(last.oscillator, "loop");
    assert_eq!(last.target, q("16.487493 MHz"));
    assert_eq!(last.inside, Some(true));
    assert_eq!(lsb.oscillators[0].step.as_ref().unwrap().number, 5);
}

#[test]
fn an_oscillator_left_outside_is_open_and_its_prediction_stands_beside_the_last_target() {
    let readings = [
        ("carrier AM", "10.695004 MHz"),
        ("loop AM", "16.490031 MHz"),
    ];
    let view_with = |carrier: &str| {
        let mut readings = readings;
        readings[0].1 = carrier;
        view(&job(procedure(steps()), Header::default(), &readings))
    };
    let view = view_with("10.695004 MHz");
    let am = of_mode(&view[0], "AM");
    assert_eq!(am.predicted.as_ref().unwrap().error, q("35 Hz"));
    let last = am.last.as_ref().unwrap();
    assert_eq!(
        (last.oscillator.as_str(), last.inside),
        ("loop", Some(true))
    );
    assert_eq!(last.target, q("16.489996 MHz"));
    // With both outside there is no last one yet.
    let view = view_with("10.695025 MHz");
    assert_eq!(of_mode(&view[0], "AM").last, None);
    assert_eq!(of_mode(&view[0], "USB").last, None);
}

#[test]
fn a_last_target_outside_its_own_step_says_so() {
    // The step that reads the carrier record only stands by whatever it reads.
    let mut steps = steps();
    let margin = json!({"absolute": "1 kHz"});
    let target = json!({"oscillator": {"name": "carrier", "below": margin, "above": margin}});
    steps[1] = reads("carrier AM", "AM", "19", "counter", "MHz", target);
    let readings = [("carrier AM", "10.695300 MHz")];
    let view = view(&job(procedure(steps), Header::default(), &readings));
    let last = of_mode(&view[0], "AM").last.clone().unwrap();
    assert_eq!(last.target, q("16.4897 MHz"));
    assert_eq!(last.inside, Some(false));
}

// Check: standard uncertainty of a sum read with one counter: the counts in quadrature, the time
// base linearly, √(2·(1/3 + 1/12) + 27.185²/3) = 15.7219 Hz
// Source: JCGM 100:2008, 5.1.2 and 5.2.2
// Known by: memory; figures by hand
#[test]
fn one_counter_moves_all_its_readings_together() {
    let readings = [
        ("loop AM", "16.490000 MHz"),
        ("carrier AM", "10.695000 MHz"),
    ];
    let one = counter("One");
    let header = header(Rule::default(), &[("counter", &one)]);
    let job = job(procedure(steps()), header, &readings);
    let view = view(&job);
    let predicted = of_mode(&view[0], "AM").predicted.clone().unwrap();
    let budget = budget(&predicted);
    is_near(budget.combined, 15.7219);
    // k = 1.95996 for 95 % with no end of degrees of freedom.
    is_near(budget.expanded, 30.8143);
    assert_eq!(predicted.expanded, Some(q("31 Hz")));
    let names: Vec<_> = budget
        .lines
        .iter()
        .map(|l| l.contribution.name.as_str())
        .collect();
    assert_eq!(names, ["loop", "carrier", "Time base of One"]);
    // √(1/3 + 1/12) of each reading, 27.185/√3 of the time base.
    is_near(budget.lines[0].effect, 0.6455);
    is_near(budget.lines[1].effect, 0.6455);
    is_near(budget.lines[2].effect, 15.6953);

    // The plan's own sum comes to the same.
    let mode = &job.procedure.plan.as_ref().unwrap().modes[0];
    let read: Readings = [("loop", "16.490000 MHz"), ("carrier", "10.695000 MHz")]
        .map(|(name, value)| (name.to_owned(), q(value)))
        .into();
    let alone: BTreeMap<String, f64> = ["loop", "carrier"]
        .map(|name| (name.to_owned(), (5.0_f64 / 12.0).sqrt()))
        .into();
    let plan = mode.uncertainty(&read, &alone, 1e-6 / 3f64.sqrt()).unwrap();
    assert!((budget.combined - plan).abs() < 1e-9 * plan);
}

// Check: with a counter for each oscillator the time bases add in quadrature,
// √(5/6 + (16.49² + 10.695²)/3) = 11.3843 Hz
// Source: JCGM 100:2008, 5.1.2
// Known by: memory; figures by hand
#[test]
fn two_counters_err_on_their_own() {
    let mut steps = steps();
    steps[1]["work"]["set"]["gauge"]["with"] = json!("second");
    let readings = [
        ("loop AM", "16.490000 MHz"),
        ("carrier AM", "10.695000 MHz"),
    ];
    let combined = |second: &Instrument| {
        let one = counter("One");
        let header = header(Rule::default(), &[("counter", &one), ("second", second)]);
        let view = view(&job(procedure(steps.clone()), header, &readings));
        budget(of_mode(&view[0], "AM").predicted.as_ref().unwrap()).combined
    };
    is_near(combined(&counter("Two")), 11.3843);
    // The same counter in both roles is still one.
    is_near(combined(&counter("One")), 15.7219);
}

// Check: where the carrier is taken off, the time base's parts are taken off each other:
// 37.880 − 10.695 MHz leaves 27.185/√3 = 15.6953 Hz
// Source: JCGM 100:2008, 5.2.2
// Known by: memory; figures by hand
#[test]
fn a_difference_takes_the_time_base_off_itself() {
    let steps = vec![
        sets("loop", "AM high", "19", "loop"),
        sets("carrier", "AM high", "19", "carrier"),
    ];
    let one = counter("One");
    let header = header(Rule::default(), &[("counter", &one)]);
    let readings = [("loop", "37.880010 MHz"), ("carrier", "10.695004 MHz")];
    let view = view(&job(procedure(steps), header, &readings));
    let mode = of_mode(&view[0], "AM high");
    let predicted = mode.predicted.as_ref().unwrap();
    assert_eq!(predicted.error, q("6 Hz"));
    is_near(budget(predicted).lines[2].effect, 15.6953);
    // The image lies as far above the injection as the channel lies below it.
    let image = &mode.responses.as_ref().unwrap().image;
    assert_eq!(*image, q("48.575 MHz").base());
}

#[test]
fn readings_are_put_right_and_means_bring_their_spread() {
    // 16.490020 and 10.695013 by a counter that reads 1.2 ppm high: 16.490 000 21 and 10.695000.
    let one = checked(counter("One"), "10 MHz", "10.000012 MHz");
    let header = header(Rule::default(), &[("counter", &one)]);
    let readings = [
        ("loop AM", "16.490018 MHz"),
        ("loop AM", "16.490020 MHz"),
        ("loop AM", "16.490022 MHz"),
        ("carrier AM", "10.695013 MHz"),
    ];
    let view = view(&job(procedure(steps()), header, &readings));
    let am = of_mode(&view[0], "AM");
    assert_eq!(am.oscillators[0].reading, Some(q("16.490000 MHz")));
    assert_eq!(am.oscillators[1].reading, Some(q("10.695000 MHz")));
    let predicted = am.predicted.as_ref().unwrap();
    assert_eq!(predicted.error, q("0.2 Hz"));
    // s = 2 Hz of three readings: √(5/12 + 4/3).
    is_near(budget(predicted).lines[0].effect, 1.3229);
    assert!(budget(predicted).freedom.is_finite());
}

#[test]
fn without_an_instrument_of_the_kit_only_the_uncertainty_is_missing() {
    let readings = [
        ("loop AM", "16.490000 MHz"),
        ("carrier AM", "10.695000 MHz"),
        ("air", "27.185000 MHz"),
    ];
    let view = view(&job(procedure(steps()), Header::default(), &readings));
    let am = of_mode(&view[0], "AM");
    let unknown = Unproved::NoInstrument(id("counter"));
    assert_eq!(
        am.predicted.as_ref().unwrap().uncertainty,
        Err(unknown.clone())
    );
    assert_eq!(am.measured.as_ref().unwrap().expanded, Err(unknown));
}

#[test]
fn channels_are_kept_apart_and_limits_by_distance_are_read_on_the_air() {
    let limit = |name: &str| json!({"limit": {"set": "47-cfr-95-d", "limit": name}});
    let steps = vec![
        sets("loop 1", "AM", "1", "loop"),
        sets("carrier 19", "AM", "19", "carrier"),
        reads("air 19", "AM", "19", "counter", "MHz", limit("frequency")),
        reads(
            "power 30",
            "AM",
            "30",
            "wattmeter",
            "W",
            limit("carrier-power"),
        ),
    ];
    let readings = [
        ("loop 1", "16.270000 MHz"),
        ("carrier 19", "10.695000 MHz"),
        ("air 19", "27.185300 MHz"),
        ("power 30", "3.9 W"),
    ];
    let view = view(&job(procedure(steps), Header::default(), &readings));
    let names: Vec<_> = view.iter().map(|v| v.channel.name.as_str()).collect();
    assert_eq!(names, ["1", "19"]);
    assert!(view.iter().all(|channel| channel.spread.is_none()));
    let [on_1, on_19] = [&view[0], &view[1]].map(|channel| of_mode(channel, "AM"));
    assert_eq!(on_1.predicted, None);
    // 26.965 − 16.270.
    assert_eq!(on_1.last.as_ref().unwrap().target, q("10.695 MHz"));
    assert_eq!(on_1.last.as_ref().unwrap().inside, None);
    assert_eq!(on_19.measured.as_ref().unwrap().error, q("300 Hz"));
}

#[test]
fn nothing_is_said_without_a_plan() {
    let mut job = job(procedure(steps()), Header::default(), &[]);
    let untouched = view(&job);
    assert!(untouched[0].modes.iter().all(|mode| mode.last.is_none()));
    Arc::make_mut(&mut job.procedure).plan = None;
    assert_eq!(view(&job), []);
}

#[test]
fn the_demo_shows_three_modes_that_agree() {
    let mut count = 0;
    let fresh = || {
        count += 1;
        id(&format!("e{count}"))
    };
    let job = demo::half_done(0, fresh).unwrap();
    let view = view(&job);
    assert_eq!(view.len(), 1);
    assert_eq!(view[0].channel.name, "1");
    let names: Vec<_> = view[0].modes.iter().map(|m| m.mode.as_str()).collect();
    assert_eq!(names, ["AM", "FM", "USB", "LSB"]);
    let [thirty, forty] = [30, 40].map(BigDecimal::from);
    for name in ["AM", "USB", "LSB"] {
        let mode = of_mode(&view[0], name);
        let predicted = mode.predicted.as_ref().unwrap();
        assert!(predicted.error.base().abs() < thirty, "{name}");
    }
    assert!(view[0].spread.as_ref().unwrap().base() < forty);
    // FM is read on the air alone, and that is still to come.
    let fm = of_mode(&view[0], "FM");
    assert!(fm.predicted.is_none() && fm.measured.is_none() && fm.last.is_none());
}
