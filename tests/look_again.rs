//! What has to be looked at again: after a break that may have left the set cold, and after an
//! adjuster was turned that moves the reading.

mod two_oscillators;

use halfturn::exchange::starters;
use halfturn::job::{BREAK_AFTER, Deed, Job, LookAgain, Phase, Stamp, Status, is_break_due};
use halfturn::metrology::decision::Rule;
use halfturn::procedure::{Chase, Procedure, Step, Work};
use halfturn::quantity::DecimalSign;
use serde_json::{Value, json};
use two_oscillators::*;

const MINUTE: i64 = 60_000;

fn fixed() -> Value {
    json!({"fixed": {"around": {"nominal": "9.000000 MHz",
        "below": {"absolute": "26 Hz"}, "above": {"absolute": "26 Hz"}}}})
}

fn record(job: &mut Job, minute: i64, deed: Deed) {
    let stamp = Stamp {
        id: id(&format!("e{}", job.log.len())),
        at: minute * MINUTE,
    };
    job.record(stamp, deed).unwrap();
}

fn now(job: &Job, step: &str) -> Status {
    job.progress().step(&id(step)).unwrap().status
}

// Warm-ups

/// Ten minutes to warm up, and one reading after it.
fn warm_up() -> Job {
    let mut procedure = procedure(vec![reads("osc", "AM", "19", "counter", "MHz", fixed())]);
    let warm = Step {
        wait: Some(10),
        ..Step::new(id("warm"), "Warm up", Work::Tick)
    };
    procedure.sections[0].steps.insert(0, warm);
    job(procedure, header(Rule::default(), &[]), &[])
}

fn tick() -> Deed {
    Deed::Ticked { step: id("warm") }
}

fn begin() -> Deed {
    Deed::WaitBegun { step: id("warm") }
}

fn reading(step: &str, phase: Phase, value: &str, repeat: bool) -> Deed {
    Deed::Reading {
        step: id(step),
        phase,
        value: q(value),
        tool: None,
        repeat,
        heard: None,
    }
}

fn is_due(job: &Job, minute: i64) -> bool {
    is_break_due(job, &job.progress(), minute * MINUTE)
}

#[test]
fn a_break_ends_a_warm_up_while_something_is_still_to_be_read() {
    let mut job = warm_up();
    record(&mut job, 0, begin());
    record(&mut job, 10, tick());
    assert_eq!(now(&job, "warm"), Status::Done);
    let half_an_hour = BREAK_AFTER / MINUTE;
    assert!(!is_due(&job, 10 + half_an_hour));
    assert!(is_due(&job, 11 + half_an_hour));
    record(&mut job, 900, Deed::Paused);
    assert_eq!(now(&job, "warm"), Status::WaitAgain);
    assert!(now(&job, "warm").is_owed());
    assert!(!is_due(&job, 2000), "the break is noted already");
    let begun = |job: &Job| job.progress().step(&id("warm")).unwrap().wait_begun;
    assert_eq!(begun(&job), None);
    // What is read cold does not bring the warm-up back.
    let mut cold = job.clone();
    record(
        &mut cold,
        901,
        reading("osc", Phase::AsLeft, "9.000000 MHz", false),
    );
    assert_eq!(now(&cold, "warm"), Status::WaitAgain);
    // Nor is the wait over where somebody ticks it without having started it again.
    record(&mut cold, 902, tick());
    assert_eq!(now(&cold, "warm"), Status::Done);
    assert_eq!(begun(&cold), None);
    record(&mut job, 901, begin());
    assert_eq!(begun(&job), Some(901 * MINUTE));
    record(&mut job, 911, tick());
    assert_eq!(now(&job, "warm"), Status::Done);
    // Once all is read, there is nothing to be warm for.
    record(
        &mut job,
        912,
        reading("osc", Phase::AsLeft, "9.000000 MHz", false),
    );
    assert!(!is_due(&job, 2000));
    record(&mut job, 2000, Deed::Paused);
    assert_eq!(now(&job, "warm"), Status::Done);
}

#[test]
fn a_wait_that_runs_is_no_absence_but_a_night_ends_it() {
    let mut job = warm_up();
    record(&mut job, 0, begin());
    // Half an hour behind its end, the wait explains that nothing was entered.
    assert!(!is_due(&job, 40));
    assert!(is_due(&job, 41));
    let begun = |job: &Job| job.progress().step(&id("warm")).unwrap().wait_begun;
    let mut at_once = job.clone();
    record(&mut at_once, 5, Deed::Paused);
    assert_eq!(begun(&at_once), Some(0));
    record(&mut at_once, 900, Deed::Paused);
    assert_eq!(begun(&at_once), None);
    record(&mut job, 41, Deed::Paused);
    assert_eq!((begun(&job), now(&job, "warm")), (None, Status::Open));
}

// Turns

fn because(job: &Job, step: &str) -> Option<LookAgain> {
    job.progress().step(&id(step)).unwrap().look_again.clone()
}

fn was(adjuster: &str, turned_in: usize) -> Option<LookAgain> {
    Some(LookAgain::Turned {
        adjuster: id(adjuster),
        turned_in,
    })
}

fn worked(procedure: Procedure, readings: &[(&str, Phase, &str, bool)]) -> Job {
    let mut job = job(procedure, header(Rule::default(), &[]), &[]);
    for (step, phase, value, repeat) in readings {
        record(&mut job, 0, reading(step, *phase, value, *repeat));
    }
    job
}

const FOUND: Phase = Phase::AsFound;
const LEFT: Phase = Phase::AsLeft;

/// The loop in two modes, whose adjuster is one, and the air in both.
fn loop_and_air() -> Procedure {
    procedure(vec![
        sets("loop", "AM", "19", "loop"),
        reads("air", "AM", "19", "counter", "MHz", channel_within("5")),
        reads(
            "air-usb",
            "USB",
            "19",
            "counter",
            "MHz",
            channel_within("5"),
        ),
    ])
}

#[test]
fn repeats_whose_last_digit_moved_are_no_turn() {
    let steps = loop_and_air;
    let before = [
        ("loop", FOUND, "16.490000 MHz", false),
        ("air", LEFT, "27.185000 MHz", false),
    ];
    let repeated = |phase, first: &'static str, second: &'static str| {
        let more = [("loop", phase, first, false), ("loop", phase, second, true)];
        because(&worked(steps(), &[&before[..], &more].concat()), "air")
    };
    assert_eq!(repeated(LEFT, "16.490000 MHz", "16.490001 MHz"), None);
    assert_eq!(repeated(FOUND, "16.490000 MHz", "16.490001 MHz"), None);
    assert_eq!(
        repeated(LEFT, "16.490009 MHz", "16.490009 MHz"),
        was("L1", 1)
    );
}

#[test]
fn an_adjuster_of_the_plan_moves_what_the_plan_adds_up_from_it() {
    let job = worked(
        loop_and_air(),
        &[
            ("air", LEFT, "27.185000 MHz", false),
            ("air-usb", LEFT, "27.185000 MHz", false),
            ("loop", FOUND, "16.490009 MHz", false),
            ("loop", LEFT, "16.490001 MHz", false),
        ],
    );
    assert_eq!(now(&job, "air"), Status::LookAgain);
    assert_eq!(because(&job, "air"), was("L1", 1));
    assert_eq!(
        because(&job, "air-usb"),
        was("L1", 1),
        "L1 sets the loop there too"
    );
    // In a mode whose sum it does not set, it moves nothing.
    let mut other = loop_and_air();
    let plan = other.plan.as_mut().unwrap();
    let usb = plan
        .modes
        .iter_mut()
        .find(|mode| mode.name == "USB")
        .unwrap();
    usb.terms[0].adjuster = "L3".to_owned();
    let job = worked(
        other,
        &[
            ("air-usb", LEFT, "27.185000 MHz", false),
            ("loop", FOUND, "16.490009 MHz", false),
            ("loop", LEFT, "16.490001 MHz", false),
        ],
    );
    assert_eq!(because(&job, "air-usb"), None);
}

#[test]
fn a_look_that_finds_the_reading_moved_by_another_turn_is_no_turn() {
    let two = || {
        procedure(vec![
            sets("loop", "AM", "19", "loop"),
            sets("loop-usb", "USB", "19", "loop"),
        ])
    };
    let readings = [
        ("loop", FOUND, "16.490009 MHz", false),
        ("loop", LEFT, "16.490001 MHz", false),
        ("loop-usb", FOUND, "16.492509 MHz", false),
        ("loop-usb", LEFT, "16.492501 MHz", false),
    ];
    let mut job = worked(two(), &readings);
    assert_eq!(because(&job, "loop"), was("L1", 2));
    // A look that finds it moved is no turn, so that it ends there.
    record(&mut job, 0, reading("loop", LEFT, "16.489993 MHz", false));
    assert_eq!(
        (now(&job, "loop"), now(&job, "loop-usb")),
        (Status::Done, Status::Done)
    );
}

/// Two steps that set an adjuster, with no plan that would say what it moves.
fn two_that_set(first: &str, second: &str) -> Procedure {
    let margin = json!({"absolute": "0.1 V"});
    let target =
        json!({"fixed": {"around": {"nominal": "5.0 V", "below": margin, "above": margin}}});
    let set = |name: &str, adjuster: &str| {
        let gauge = json!({"at": "TP1", "with": "meter", "in": "V"});
        let work = json!({"set": {"gauge": gauge, "adjuster": adjuster, "target": target}});
        json!({"id": name, "title": name, "work": work})
    };
    procedure(vec![set("cold", first), set("hot", second)])
}

#[test]
fn an_adjuster_that_two_steps_set_moves_what_the_other_left() {
    let readings = [
        ("cold", LEFT, "5.0 V", false),
        ("hot", FOUND, "4.5 V", false),
        ("hot", LEFT, "5.0 V", false),
    ];
    let one = worked(two_that_set("L1", "L1"), &readings);
    assert_eq!(because(&one, "cold"), was("L1", 2));
    let two = worked(two_that_set("L1", "L2"), &readings);
    assert_eq!(because(&two, "cold"), None);
}

#[test]
fn of_steps_that_pull_each_other_a_turn_in_one_asks_for_a_look_at_the_others_until_none_is_turned()
{
    let mut both = two_that_set("L1", "L2");
    both.chases.push(Chase {
        title: "Both".to_owned(),
        steps: vec![id("cold"), id("hot")],
    });
    let mut job = worked(
        both,
        &[
            ("cold", LEFT, "5.0 V", false),
            ("hot", FOUND, "4.5 V", false),
            ("hot", LEFT, "5.0 V", false),
        ],
    );
    assert_eq!(because(&job, "cold"), was("L2", 2));
    // Turned once more, it moves the other in its turn.
    record(&mut job, 0, reading("cold", Phase::Try, "4.8 V", false));
    record(&mut job, 0, reading("cold", LEFT, "5.0 V", false));
    assert_eq!(because(&job, "cold"), None);
    assert_eq!(because(&job, "hot"), was("L1", 1));
    // A look that needs no turn ends it.
    record(&mut job, 0, reading("hot", LEFT, "5.0 V", false));
    assert_eq!(because(&job, "hot"), None);
    assert_eq!(
        (now(&job, "cold"), now(&job, "hot")),
        (Status::Done, Status::Done)
    );
}

/// A balance with a resistor and a trimmer, each turned for the least carrier, in these modes.
fn one_null(of_resistor: &str, of_trimmer: &str) -> Procedure {
    let dip = |name: &str, mode: &str, adjuster: &str| {
        let gauge = json!({"at": "TP1", "with": "meter", "in": "mV"});
        let bound = json!({"fixed": {"at-most": "8.0 mV"}});
        let work = json!({"dip": {"gauge": gauge, "adjuster": adjuster, "bound": bound}});
        json!({"id": name, "title": name, "set-up": {"mode": mode}, "work": work})
    };
    procedure(vec![
        dip("resistor", of_resistor, "L1"),
        dip("trimmer", of_trimmer, "L2"),
    ])
}

#[test]
fn of_two_adjusters_that_make_one_null_a_turn_of_one_asks_for_a_look_at_the_other() {
    let readings = [
        ("resistor", FOUND, "20.0 mV", false),
        ("resistor", LEFT, "7.0 mV", false),
        ("trimmer", FOUND, "7.0 mV", false),
        ("trimmer", LEFT, "3.0 mV", false),
    ];
    let mut job = worked(one_null("USB", "USB"), &readings);
    assert_eq!(because(&job, "resistor"), was("L2", 2));
    assert_eq!(now(&job, "resistor"), Status::LookAgain);
    assert_eq!(now(&job, "trimmer"), Status::Done);
    // A look that finds what the other left ends it: nothing was turned for it.
    record(&mut job, 0, reading("resistor", LEFT, "3.0 mV", false));
    assert_eq!(
        (now(&job, "resistor"), now(&job, "trimmer")),
        (Status::Done, Status::Done)
    );
    // Turned for less, it asks for the other in its turn.
    record(&mut job, 0, reading("resistor", LEFT, "2.0 mV", false));
    assert_eq!(because(&job, "trimmer"), was("L1", 1));
    // The null of another mode is another null.
    let other = worked(one_null("USB", "LSB"), &readings);
    assert_eq!(because(&other, "resistor"), None);
}

#[test]
fn the_alignment_starter_says_what_its_adjusters_move() {
    let starters = starters(DecimalSign::Point);
    let mut drafts = starters.iter().map(|starter| &starter.draft);
    let align = drafts.find(|draft| draft.id.as_str() == "starter-align");
    let align = align.expect("the alignment");
    for name in [
        "? reference trimmer",
        "? AM carrier",
        "? USB offset",
        "? ALC pot",
    ] {
        let mut adjusters = align.adjusters.iter();
        let adjuster = adjusters.find(|known| known.name == name);
        assert!(!adjuster.expect("it").disturbs.is_empty(), "{name}");
    }
}
