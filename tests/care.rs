//! Looking after the set while it is worked on: what is off, breaks, waits, changes, sockets.

mod support;

use halfturn::job::{
    BREAK_AFTER, Break, Change, Deed, Ended, Event, Header, Job, Log, OffState, Progress, Refusal,
    Reply, SocketFault, Status, StepProgress, Unfinished, UsedInstrument, breaks, is_break_due,
    minutes_and_seconds, waits,
};
use halfturn::metrology::decision::Rule;
use halfturn::metrology::instrument::Instrument;
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{
    Expectation, Gauge, Holds, Id, Pin, Procedure, Removable, Section, Socket, Step, Work,
};
use proptest::prelude::*;
use support::{cases, does, header, id, note, q, sign_off, stamp, tick, undo};

fn removable(what: &str) -> Removable {
    Removable {
        what: what.to_owned(),
        place: "Front".to_owned(),
        orientation: "Flat side down".to_owned(),
        note: String::new(),
    }
}

fn stop(confirm: &str) -> Work {
    Work::Stop {
        confirm: confirm.to_owned(),
        holds: Holds::default(),
        reads: None,
    }
}

/// A short procedure with everything that this file is about.
fn procedure() -> Procedure {
    let step = |name: &str, work| Step::new(id(name), format!("Do {name}"), work);
    let power = Work::Read {
        gauge: Gauge::new(id("SK1"), id("meter"), "W".parse().unwrap()),
        target: None,
    };
    let steps = vec![
        Step {
            takes_off: vec![removable("Volume knob"), removable("Cover")],
            ..step("open", Work::Tick)
        },
        step("load", stop("The dummy load is on")),
        Step {
            needs: vec![id("load")],
            ..step("power", power)
        },
        Step {
            wait: Some(10),
            ..step("warm", Work::Tick)
        },
        step("wires", Work::Socket(socket())),
        Step {
            puts_back: vec!["Volume knob".to_owned()],
            ..step("close", Work::Tick)
        },
    ];
    Procedure {
        covers: "Trainers".to_owned(),
        test_points: Vec::new(),
        sections: vec![Section {
            title: "All".to_owned(),
            steps,
        }],
        ..Procedure::new(id("care"), "Care")
    }
}

fn volts(text: &str) -> Tolerance {
    Tolerance::plus_minus(q(text), Margin::Absolute(q("500 mV")))
}

/// Four pins: ground, supply, keying, audio bias.
fn socket() -> Socket {
    let pin = |name: &str, states: &[(&str, Tolerance)]| Pin {
        pin: id(name),
        signal: format!("Signal {name}"),
        from: "Board".to_owned(),
        colour: String::new(),
        expects: states
            .iter()
            .map(|(state, tolerance)| Expectation {
                state: id(state),
                tolerance: tolerance.clone(),
            })
            .collect(),
    };
    Socket {
        name: "SK4".to_owned(),
        with: id("meter"),
        pins: vec![
            pin("1", &[("RX", volts("0 V")), ("TX", volts("0 V"))]),
            pin("2", &[("RX", volts("8 V")), ("TX", volts("8 V"))]),
            pin("3", &[("RX", volts("5 V")), ("TX", volts("0 V"))]),
            pin("4", &[("RX", volts("2 V")), ("TX", volts("2 V"))]),
        ],
    }
}

fn fresh() -> Job {
    Job::open(id("job-1"), procedure(), header(), stamp(1))
}

fn taken_off(what: &str) -> Deed {
    Deed::TakenOff {
        step: None,
        item: removable(what),
    }
}

fn put_back(item: &str) -> Deed {
    Deed::PutBack {
        item: item.to_owned(),
    }
}

fn stays_off(item: &str, reason: &str) -> Deed {
    Deed::StaysOff {
        item: item.to_owned(),
        reason: reason.to_owned(),
    }
}

fn power() -> Deed {
    support::as_left("power", "4.0 W")
}

fn names(progress: &Progress) -> Vec<&str> {
    progress
        .still_off()
        .map(|off| off.item.what.as_str())
        .collect()
}

fn refused(job: &Job, deed: Deed) -> Option<Refusal> {
    job.clone().record(stamp(999), deed).err()
}

// The put-back list

#[test]
fn what_comes_off_is_listed_in_the_order_in_which_it_did() {
    let mut job = fresh();
    does(&mut job, taken_off("Probe"));
    does(&mut job, tick("open"));
    let link = does(&mut job, taken_off("Link"));
    assert_eq!(
        names(&job.progress()),
        ["Probe", "Volume knob", "Cover", "Link"]
    );
    does(&mut job, put_back("open/Cover"));
    does(
        &mut job,
        stays_off(link.as_str(), "The owner wants it open"),
    );
    does(&mut job, tick("load"));
    does(&mut job, tick("close"));
    let progress = job.progress();
    assert_eq!(names(&progress), ["Probe"]);
    let state = |what: &str| {
        let off = progress.off.iter().find(|off| off.item.what == what);
        off.unwrap().state.clone()
    };
    assert_eq!(state("Cover"), OffState::Back);
    assert_eq!(state("Volume knob"), OffState::Back);
    let reason = "The owner wants it open".to_owned();
    assert_eq!(state("Link"), OffState::StaysOff(reason));
}

#[test]
fn nothing_is_signed_off_while_something_is_off() {
    let mut job = fresh();
    for deed in all_ticked() {
        does(&mut job, deed);
    }
    does(&mut job, power());
    assert_eq!(
        refused(&job, sign_off("Bench")),
        Some(Refusal::StillOff(1)),
        "the cover"
    );
    let blank = stays_off("open/Cover", "  ");
    assert!(matches!(refused(&job, blank), Some(Refusal::Blank(_))));
    assert_eq!(refused(&job, put_back("Lid")), Some(Refusal::NotOff));
    does(&mut job, put_back("open/Cover"));
    does(&mut job, sign_off("Bench"));
    // Opening it again by an undo would leave a finished job with something off.
    let back = job.log.events().nth_back(1).unwrap().id.clone();
    assert_eq!(refused(&job, undo(&back)), Some(Refusal::SignedOff));
}

// Breaks

/// The same job with a stop that holds for the whole of it.
fn with_whole_job_stop() -> Job {
    let mut procedure = procedure();
    for step in procedure
        .sections
        .iter_mut()
        .flat_map(|part| &mut part.steps)
    {
        if let Work::Stop { holds, .. } = &mut step.work {
            *holds = Holds::WholeJob;
        }
    }
    Job::open(id("job-1"), procedure, header(), stamp(1))
}

/// Everything done, and only the sign-off left.
fn worked(mut job: Job) -> Job {
    for deed in all_ticked() {
        does(&mut job, deed);
    }
    does(&mut job, put_back("open/Cover"));
    does(&mut job, power());
    job
}

fn status(job: &Job, step: &str) -> Status {
    job.progress().step(&id(step)).unwrap().status
}

#[test]
fn a_break_closes_all_below_a_stop_until_it_is_confirmed_again() {
    let mut job = worked(fresh());
    does(&mut job, Deed::Paused);
    let progress = job.progress();
    assert_eq!(status(&job, "load"), Status::Lapsed);
    assert!(!progress.step(&id("load")).unwrap().holds);
    let behind: Vec<_> = progress.steps.iter().map(|step| step.behind).collect();
    assert_eq!(behind, [None, None, Some(2), Some(2), Some(2), Some(2)]);
    let pin = Deed::PinRead {
        step: id("wires"),
        pin: id("3"),
        state: id("RX"),
        value: q("5.0 V"),
    };
    for deed in [power(), tick("warm"), tick("wires"), pin, tick("close")] {
        let said = refused(&job, deed).map(|refusal| refusal.to_string());
        assert_eq!(
            said.as_deref(),
            Some("Paused: re-confirm hold point 2 first")
        );
    }
    assert_eq!(
        refused(&job, tick("open")),
        None,
        "it stands above the stop"
    );
    does(&mut job, tick("load"));
    assert_eq!(status(&job, "load"), Status::Done);
    assert_eq!(refused(&job, power()), None);
}

#[test]
fn a_stop_that_lapsed_is_owed_and_keeps_the_job_from_being_signed_off() {
    let mut job = worked(fresh());
    does(&mut job, Deed::Paused);
    let owed: Vec<usize> = job.progress().owed().map(|step| step.number).collect();
    assert_eq!(owed, [2]);
    let refusal = refused(&job, sign_off("Bench"));
    assert_eq!(refusal, Some(Refusal::Lapsed(2)));
    assert_eq!(
        refusal.unwrap().to_string(),
        "Paused: re-confirm hold point 2 before you sign off"
    );
    does(&mut job, tick("load"));
    does(&mut job, sign_off("Bench"));
    // Nor does an undo bring a sign-off back over a break.
    let reason = "One more look".to_owned();
    let reopened = does(&mut job, Deed::Reopened { reason });
    does(&mut job, Deed::Paused);
    assert_eq!(refused(&job, undo(&reopened)), Some(Refusal::Lapsed(2)));
}

#[test]
fn a_stop_that_holds_for_the_whole_job_outlasts_a_break() {
    let mut job = worked(with_whole_job_stop());
    assert!(!is_break_due(&job, &job.progress(), i64::MAX));
    does(&mut job, Deed::Paused);
    assert_eq!(status(&job, "load"), Status::Done);
    assert_eq!(refused(&job, power()), None);
    assert_eq!(breaks(&job, &job.progress())[0].ended, []);
    does(&mut job, sign_off("Bench"));
}

/// Logs from before the rule: work went on after a break, and the job was signed off.
#[test]
fn a_finished_job_that_went_on_over_a_break_stays_finished_and_says_so() {
    let mut job = worked(fresh());
    for deed in [Deed::Paused, power(), sign_off("Bench")] {
        let next = stamp(job.log.len() + 1);
        job.log.append(next, deed);
    }
    assert!(job.progress().is_closed());
    let ended = Ended {
        stop: 2,
        again: None,
        worked: true,
    };
    assert_eq!(breaks(&job, &job.progress())[0].ended, [ended]);
    let reopen = Deed::Reopened {
        reason: "One more look".to_owned(),
    };
    does(&mut job, reopen);
    assert_eq!(status(&job, "load"), Status::Lapsed);
}

#[test]
fn what_became_of_a_stop_after_a_break_is_what_the_log_holds() {
    let ended = |deeds: Vec<Deed>| {
        let mut job = fresh();
        for deed in deeds {
            let next = stamp(job.log.len() + 1);
            job.log.append(next, deed);
        }
        let of_break = |pause: Break| -> Vec<(bool, bool)> {
            let stops = pause.ended.iter();
            stops
                .map(|stop| (stop.again.is_some(), stop.worked))
                .collect()
        };
        breaks(&job, &job.progress())
            .into_iter()
            .map(of_break)
            .collect::<Vec<_>>()
    };
    let confirm = || tick("load");
    for (deeds, expected) in [
        (vec![Deed::Paused, confirm()], vec![vec![]]),
        (vec![confirm(), Deed::Paused], vec![vec![(false, false)]]),
        (
            vec![confirm(), Deed::Paused, tick("open"), confirm(), power()],
            vec![vec![(true, false)]],
        ),
        (
            vec![confirm(), Deed::Paused, power(), confirm()],
            vec![vec![(true, true)]],
        ),
        (
            vec![confirm(), Deed::Paused, power()],
            vec![vec![(false, true)]],
        ),
        // The second break finds it ended already.
        (
            vec![confirm(), Deed::Paused, Deed::Paused, confirm()],
            vec![vec![(true, false)], vec![]],
        ),
        // What was confirmed and taken back is not confirmed, and work that was taken back was
        // done all the same.
        (vec![confirm(), undo(&id("e2")), Deed::Paused], vec![vec![]]),
        (
            vec![confirm(), Deed::Paused, power(), undo(&id("e4")), confirm()],
            vec![vec![(true, true)]],
        ),
        (
            vec![confirm(), Deed::Paused, confirm(), undo(&id("e4")), power()],
            vec![vec![(false, true)]],
        ),
    ] {
        assert_eq!(ended(deeds.clone()), expected, "{deeds:?}");
    }
}

#[test]
fn a_rest_of_more_than_half_an_hour_is_a_break() {
    let mut job = fresh();
    let due = |job: &Job, after: i64| {
        let last = job.log.events().next_back().unwrap().at;
        is_break_due(job, &job.progress(), last.saturating_add(after))
    };
    assert!(!due(&job, 10 * BREAK_AFTER), "no stop holds yet");
    does(&mut job, tick("load"));
    for (after, expected) in [
        (0, false),
        (BREAK_AFTER, false),
        (BREAK_AFTER + 1, true),
        (-BREAK_AFTER, false),
        (i64::MAX, true),
        (i64::MIN, false),
    ] {
        assert_eq!(due(&job, after), expected, "{after}");
    }
    does(&mut job, Deed::Paused);
    assert!(!due(&job, 10 * BREAK_AFTER), "the break is noted already");
}

#[test]
fn a_finished_job_taken_up_again_after_long_had_a_break() {
    let mut job = worked(fresh());
    does(&mut job, sign_off("Bench"));
    let end = job.log.events().next_back().unwrap().at;
    let reopen = |after: i64| {
        let mut job = job.clone();
        let stamp = halfturn::job::Stamp {
            id: id("later"),
            at: end + after,
        };
        let reason = "One more look".to_owned();
        job.record(stamp, Deed::Reopened { reason }).unwrap();
        is_break_due(&job, &job.progress(), end + after)
    };
    assert!(reopen(BREAK_AFTER + 1));
    assert!(!reopen(BREAK_AFTER));
}

// Waits

#[test]
fn a_wait_runs_from_its_beginning_by_the_clock() {
    let mut job = fresh();
    assert_eq!(waits(&job.procedure, &job.progress()), []);
    does(&mut job, Deed::WaitBegun { step: id("warm") });
    let begun = job.log.events().next_back().unwrap().at;
    let wait = waits(&job.procedure, &job.progress()).remove(0);
    assert_eq!((wait.number, wait.settled), (4, false));
    for (after, seconds, shown) in [
        (0, 600, "10:00"),
        (1, 600, "10:00"),
        (1000, 599, "9:59"),
        (535_000, 65, "1:05"),
        (599_001, 1, "0:01"),
        (600_000, 0, "0:00"),
        (i64::MAX - begun, 0, "0:00"),
    ] {
        assert_eq!(wait.seconds_left(begun + after), seconds, "{after}");
        assert_eq!(minutes_and_seconds(seconds), shown);
    }
    assert!(wait.is_over(begun + 600_000) && !wait.is_over(begun + 599_999));
    // Early is allowed.
    does(&mut job, tick("load"));
    does(&mut job, tick("warm"));
    assert!(waits(&job.procedure, &job.progress())[0].settled);
    let no_wait = Deed::WaitBegun { step: id("open") };
    assert!(refused(&job, no_wait).is_some());
}

// Sockets

fn pin(pin: &str, state: &str, value: &str) -> Deed {
    Deed::PinRead {
        step: id("wires"),
        pin: id(pin),
        state: id(state),
        value: q(value),
    }
}

fn sheet(rx: [&str; 4], tx: [&str; 4]) -> Vec<Deed> {
    let mut all = Vec::new();
    for (state, values) in [("RX", rx), ("TX", tx)] {
        for (name, value) in ["1", "2", "3", "4"].into_iter().zip(values) {
            if !value.is_empty() {
                all.push(pin(name, state, value));
            }
        }
    }
    all
}

/// Every step ticked in order, and the socket measured.
fn all_ticked() -> Vec<Deed> {
    let ticks = ["open", "load", "warm", "wires", "close"].map(tick);
    [ticks.to_vec(), sheet(GOOD, SENT)].concat()
}

const GOOD: [&str; 4] = ["0.0 V", "8.1 V", "5.0 V", "2.0 V"];
const SENT: [&str; 4] = ["0.0 V", "8.1 V", "0.1 V", "2.0 V"];

/// Where the socket stands after these deeds, allowed or not.
fn wires(deeds: Vec<Deed>) -> StepProgress {
    let mut log = fresh().log;
    for (index, deed) in deeds.into_iter().enumerate() {
        log.append(stamp(10 + index), deed);
    }
    let progress = Progress::of(&procedure().into(), &log);
    progress.step(&id("wires")).unwrap().clone()
}

#[test]
fn swapped_and_missing_lines_stand_out() {
    let (good, sent) = (GOOD, SENT);
    let swapped = |a, b| SocketFault::Swapped(id(a), id(b));
    let missing = |pin| SocketFault::Missing(id(pin));
    let outside = |pin, state| SocketFault::Outside(id(pin), id(state));
    let unread = |pin, state| SocketFault::Unread(id(pin), id(state));
    let table = [
        (sheet(good, sent), vec![]),
        // 2 and 4 crossed, seen in both states.
        (
            sheet(
                ["0.0 V", "2.0 V", "5.0 V", "8.1 V"],
                ["0.0 V", "2.0 V", "0.0 V", "8.1 V"],
            ),
            vec![swapped("2", "4")],
        ),
        // 1 and 3 differ in RX only, and there both are wrong.
        (
            sheet(["5.0 V", "8.0 V", "0.0 V", "2.0 V"], sent),
            vec![swapped("1", "3")],
        ),
        // Crossed in one state and straight in the other is no swap.
        (
            sheet(["0.0 V", "2.0 V", "5.0 V", "8.1 V"], sent),
            vec![outside("2", "RX"), outside("4", "RX")],
        ),
        // Nothing where something is due, whatever is due elsewhere.
        (
            sheet(["0.0 V", "8.0 V", "0.02 V", "2.0 V"], sent),
            vec![missing("3")],
        ),
        (
            sheet(
                ["0.0 V", "0.1 V", "5.0 V", "2.0 V"],
                ["0.0 V", "-0.1 V", "0.0 V", "2.0 V"],
            ),
            vec![missing("2")],
        ),
        // Nothing in one state only is a reading outside.
        (
            sheet(good, ["0.0 V", "0.0 V", "0.0 V", "2.0 V"]),
            vec![outside("2", "TX")],
        ),
        // Too low is not missing.
        (
            sheet(["0.0 V", "8.0 V", "4.0 V", "2.0 V"], sent),
            vec![outside("3", "RX")],
        ),
        // What isn't measured is said last.
        (
            sheet(["", "8.0 V", "9.0 V", "2.0 V"], sent),
            vec![unread("1", "RX"), outside("3", "RX")],
        ),
        (
            sheet(["", "", "", ""], ["", "8.0 V", "0.0 V", "2.0 V"]),
            vec![
                unread("1", "RX"),
                unread("1", "TX"),
                unread("2", "RX"),
                unread("3", "RX"),
                unread("4", "RX"),
            ],
        ),
        // A reading in another unit, which only a forged file has, fits nothing.
        (
            sheet(["0.0 A", "8.0 V", "5.0 V", "2.0 V"], sent),
            vec![outside("1", "RX")],
        ),
    ];
    for (readings, expected) in table {
        let found = wires(readings.clone()).wiring;
        assert_eq!(found, expected, "{readings:?}");
    }
}

#[test]
fn a_tick_alone_does_not_wire_a_socket() {
    let status = |deeds: Vec<Deed>| wires(deeds).status;
    let ticked = |deeds: Vec<Deed>| status([deeds, vec![tick("wires")]].concat());
    assert_eq!(ticked(vec![]), Status::Open, "nothing is measured");
    let mut wild = sheet(GOOD, SENT);
    wild[1] = pin("2", "RX", "9999 V");
    assert_eq!(ticked(wild.clone()), Status::Outside);
    assert_eq!(status(wild[..2].to_vec()), Status::Outside, "at once");
    let all_but_one = sheet(GOOD, SENT).split_off(1);
    assert_eq!(ticked(all_but_one), Status::Open, "one pin is not measured");
    assert_eq!(ticked(sheet(GOOD, SENT)), Status::Done);
    assert_eq!(status(sheet(GOOD, SENT)), Status::Open, "nobody ticked it");
    // A tick that came first counts once the pins are measured.
    let first = [vec![tick("wires")], sheet(GOOD, SENT)].concat();
    assert_eq!(status(first), Status::Done);
    // What is left so on purpose is waived, as anywhere.
    let waived = Deed::Waived {
        step: id("wires"),
        reason: "The remote is not fitted".to_owned(),
    };
    assert_eq!(ticked([wild, vec![waived]].concat()), Status::Waived);
}

#[test]
fn a_pin_is_judged_by_the_corrected_reading_and_the_rule_of_the_job() {
    let meter = |zero: &str, accuracy: &str| -> Instrument {
        serde_json::from_value(serde_json::json!({
            "name": "Club meter", "role": "meter",
            "corrections": [{"offset": zero}],
            "ranges": [{"full-scale": "20 V", "resolution": "0.1 V",
                "accuracy": {"absolute": accuracy}}],
        }))
        .unwrap()
    };
    let standing = |rule: Rule, meter: Instrument, rx: [&str; 4]| {
        let used = UsedInstrument {
            role: id("meter"),
            name: meter.name.clone(),
            record: Some(meter),
        };
        let header = Header {
            rule,
            instruments: vec![used],
            ..header()
        };
        let mut job = Job::open(id("job-1"), procedure(), header, stamp(1));
        does(&mut job, tick("load"));
        for deed in sheet(rx, SENT) {
            does(&mut job, deed);
        }
        does(&mut job, tick("wires"));
        job.progress().step(&id("wires")).unwrap().clone()
    };
    // 8.6 V is 0.6 V high as shown, and 0.4 V high put right.
    let high = ["0.2 V", "8.6 V", "5.2 V", "2.2 V"];
    let right = standing(Rule::default(), meter("-0.2 V", "0.01 V"), high);
    assert_eq!(right.status, Status::Done);
    let read = right.pin(&id("2"), &id("RX")).unwrap();
    assert_eq!(read.result.value, q("8.4 V"));
    // What is heard is what is seen.
    let heard: Vec<bool> = right
        .judged()
        .into_iter()
        .map(|(_, inside)| inside)
        .collect();
    assert_eq!(heard, [true; 8]);
    let raw = standing(Rule::default(), meter("0.0 V", "0.01 V"), high);
    let heard: Vec<bool> = raw.judged().into_iter().map(|(_, inside)| inside).collect();
    assert_eq!((raw.status, heard[1]), (Status::Outside, false));
    let guard_band = Rule::GuardBand {
        ratio: "1".parse().unwrap(),
    };
    // Within 0.5 V by 0.4 V, read to 0.3 V: inside, and not proved with a guard band.
    let guarded = standing(guard_band, meter("-0.2 V", "0.3 V"), high);
    assert_eq!(guarded.status, Status::Unproved);
}

#[test]
fn a_begun_socket_is_not_left_in_silence() {
    let step = procedure().step(&id("wires")).unwrap().clone();
    let open = |deeds: Vec<Deed>| Unfinished::of(&step, &wires(deeds), "");
    assert_eq!(open(vec![]), None);
    assert_eq!(
        open([sheet(GOOD, SENT), vec![tick("wires")]].concat()),
        None
    );
    let wrong = open(vec![pin("2", "RX", "9.0 V"), tick("wires")]);
    let Some(Unfinished::Socket { wiring, status }) = wrong else {
        panic!("{wrong:?}");
    };
    assert_eq!((wiring.len(), status), (8, Status::Outside));
    let unticked = open(sheet(GOOD, SENT));
    let Some(Unfinished::Socket { wiring, status }) = unticked else {
        panic!("{unticked:?}");
    };
    assert_eq!((wiring.len(), status), (0, Status::Open));
}

#[test]
fn the_last_reading_of_a_pin_counts() {
    let mut job = fresh();
    does(&mut job, tick("load"));
    let read = |value: &str| pin("3", "RX", value);
    does(&mut job, read("0.0 V"));
    does(&mut job, read("5.1 V"));
    let progress = job.progress();
    let standing = progress.step(&id("wires")).unwrap();
    let [pin] = &standing.pins[..] else {
        panic!("{:?}", standing.pins);
    };
    assert_eq!(pin.result.value, q("5.1 V"));
    assert_eq!(standing.pins_before[0].result.value, q("0.0 V"));
    assert!(refused(&job, read("5 A")).is_some());
}

// Changes

#[test]
fn changes_are_kept_with_what_was_agreed() {
    let mut job = fresh();
    let change = Change {
        out: "10 µF".to_owned(),
        fitted: "22 µF".to_owned(),
        why: "Hum".to_owned(),
        agreed: Reply::Yes,
        reversible: Reply::No,
        ..Change::default()
    };
    let deed = |change: &Change| Deed::Changed {
        first: None,
        step: Some(id("open")),
        change: change.clone().into(),
    };
    let event = does(&mut job, deed(&change));
    let progress = job.progress();
    assert_eq!(progress.changes.len(), 1);
    assert_eq!(progress.changes[0].change, change);
    let nothing = Change {
        fitted: " ".to_owned(),
        ..change
    };
    assert!(matches!(
        refused(&job, deed(&nothing)),
        Some(Refusal::Blank(_))
    ));
    does(&mut job, undo(&event));
    assert_eq!(job.progress().changes, []);
}

/// Once there was only a tick: what was not ticked was not denied.
#[test]
fn an_old_tick_is_a_yes_and_none_was_not_asked() {
    let read = |text: &str| serde_json::from_str::<Change>(text).unwrap();
    let old = r#"{"in":"22 µF","agreed":true,"reversible":false,"touches-approval":false}"#;
    let change = read(old);
    assert_eq!(change.agreed, Reply::Yes);
    assert_eq!(change.reversible, Reply::NotAsked);
    assert_eq!(
        serde_json::to_string(&change).unwrap(),
        old,
        "its digest stays"
    );
    assert_eq!(read(r#"{"in":"22 µF"}"#).agreed, Reply::NotAsked);
    let denied = read(r#"{"in":"22 µF","agreed":"no"}"#);
    assert_eq!(denied.agreed, Reply::No);
    assert_eq!(read(&serde_json::to_string(&denied).unwrap()), denied);
    assert!(serde_json::from_str::<Change>(r#"{"agreed":"perhaps"}"#).is_err());
}

// Properties

fn deed() -> impl Strategy<Value = Deed> {
    let step = || prop::sample::select(vec!["open", "load", "warm", "wires", "close"]);
    let item = || {
        prop::sample::select(vec![
            "open/Volume knob".to_owned(),
            "open/Cover".to_owned(),
            "a-0-3".to_owned(),
            "nowhere".to_owned(),
        ])
    };
    let pin = (
        prop::sample::select(vec!["1", "2", "3", "4"]),
        prop::sample::select(vec!["RX", "TX"]),
        -20i32..200,
    );
    prop_oneof![
        4 => step().prop_map(tick),
        2 => Just(power()),
        2 => Just(Deed::Paused),
        3 => "[a-z]{0,6}".prop_map(|what| taken_off(&what)),
        2 => item().prop_map(|item| put_back(&item)),
        2 => (item(), "[a-z]{0,3}").prop_map(|(item, reason)| stays_off(&item, &reason)),
        1 => step().prop_map(|step| Deed::WaitBegun { step: id(step) }),
        1 => "[a-z]{0,3}".prop_map(|fitted| Deed::Changed {
            first: None,
            step: None,
            change: Change { fitted, ..Change::default() }.into(),
        }),
        3 => pin.prop_map(|(pin, state, tenths)| Deed::PinRead {
            step: id("wires"),
            pin: id(pin),
            state: id(state),
            value: q(&format!("{}.{} V", tenths / 10, (tenths % 10).abs())),
        }),
        1 => Just(note(None, "A word")),
        1 => Just(sign_off("Bench")),
    ]
}

/// A log with the deeds behind it, allowed or not; one in eight is undone at once.
fn written(log: &Log, author: &str, deeds: &[(Deed, u8)]) -> Log {
    let mut log = log.clone();
    for (index, (deed, luck)) in deeds.iter().enumerate() {
        let name = id(&format!("{author}-{luck}-{index}"));
        let stamp = |id: Id| halfturn::job::Stamp { id, at: 0 };
        let event = log.append(stamp(name), deed.clone());
        if *luck == 0 {
            log.append(stamp(id(&format!("{author}-undo-{index}"))), undo(&event));
        }
    }
    log
}

fn deeds(most: usize) -> impl Strategy<Value = Vec<(Deed, u8)>> {
    prop::collection::vec((deed(), 0u8..8), 0..=most)
}

/// The names on the list under which something was put back or left off in a log.
fn dealt_with(log: &Log) -> Vec<String> {
    let undone = log.undone();
    let names = log.events().filter(|event| !undone.contains(&event.id));
    names
        .filter_map(|event| match &event.did {
            Deed::PutBack { item } | Deed::StaysOff { item, .. } => Some(item.clone()),
            _ => None,
        })
        .collect()
}

proptest! {
    #![proptest_config(cases(96))]

    #[test]
    fn every_beginning_of_a_log_can_be_replayed(deeds in deeds(24)) {
        let log = written(&fresh().log, "a", &deeds);
        for length in 0..=log.len() {
            let events: Vec<Event> = log.events().take(length).cloned().collect();
            let progress = Progress::of(&procedure().into(), &Log::from_events(events).unwrap());
            let mut keys: Vec<&str> = progress.off.iter().map(|off| off.key.as_str()).collect();
            prop_assert!(progress.off.is_sorted_by_key(|off| off.order));
            keys.sort_unstable();
            keys.dedup();
            prop_assert_eq!(keys.len(), progress.off.len(), "each thing is listed once");
            let standing = progress.step(&id("wires")).unwrap();
            let unread = standing.wiring.iter().filter(|fault| !fault.is_wrong()).count();
            prop_assert_eq!(unread + standing.pins.len(), 8);
            for wait in waits(&procedure(), &progress) {
                prop_assert!(wait.seconds_left(i64::MIN) >= wait.seconds_left(i64::MAX));
            }
        }
    }

    /// The rules of the log are enough for every sentence about a break to be the good one.
    #[test]
    fn no_work_below_a_stop_gets_into_a_log_between_a_break_and_its_confirmation(
        deeds in deeds(40),
    ) {
        let mut job = fresh();
        does(&mut job, tick("load"));
        for (index, (deed, _)) in deeds.into_iter().enumerate() {
            let _ = job.record(stamp(100 + index), deed);
        }
        let all = breaks(&job, &job.progress());
        prop_assert!(all.iter().flat_map(|pause| &pause.ended).all(|stop| !stop.worked));
        if job.progress().signed_off.is_some() {
            prop_assert!(all.iter().flat_map(|pause| &pause.ended).all(|stop| stop.again.is_some()));
        }
    }

    #[test]
    fn undoing_the_last_event_gives_the_state_before(past in deeds(20), next in deeds(4)) {
        let mut job = fresh();
        job.log = written(&job.log, "a", &past);
        for (index, (deed, _)) in next.into_iter().enumerate() {
            let bare = |job: &Job| {
                let mut progress = job.progress();
                progress.span = None;
                progress
            };
            let before = bare(&job);
            let can_be_undone = deed.can_be_undone();
            let Ok(event) = job.record(stamp(500 + 2 * index), deed) else {
                continue;
            };
            if can_be_undone {
                prop_assert_eq!(job.last_undoable().map(|last| last.id.clone()), Some(event.clone()));
                job.record(stamp(501 + 2 * index), undo(&event)).expect("an undo");
                prop_assert_eq!(bare(&job), before);
            }
        }
    }

    #[test]
    fn merging_never_loses_what_is_owed(common in deeds(8), a in deeds(8), b in deeds(8)) {
        let common = written(&fresh().log, "common", &common);
        let here = written(&common, "a", &a);
        let there = written(&common, "b", &b);
        let merged = here.merge(&there);
        prop_assert_eq!(&merged, &there.merge(&here));
        let after = Progress::of(&procedure().into(), &merged);
        let mut dealt = dealt_with(&here);
        dealt.extend(dealt_with(&there));
        for log in [&here, &there] {
            for off in Progress::of(&procedure().into(), log).still_off() {
                // Only a copy that put it back, by hand or by a step, takes it off the list.
                let by_hand = dealt.contains(&off.key);
                let by_step = off.item.what == "Volume knob";
                let undone = merged.undone();
                let gone = undone.iter().any(|id| id.as_str() == off.key);
                let kept = after.still_off().any(|other| other.key == off.key);
                prop_assert!(kept || by_hand || by_step || gone, "{off:?}");
            }
        }
    }

    #[test]
    fn pins_exchanged_are_found_whatever_they_carry(
        a in 0usize..4, b in 0usize..4, wobble in -4i32..=4,
    ) {
        let wobble = |text: &str| {
            let volts = q(text).base_f64() + f64::from(wobble) / 10.0;
            format!("{volts:.1} V")
        };
        let mut rx = ["0 V", "8 V", "5 V", "2 V"].map(wobble);
        let mut tx = ["0 V", "8 V", "0 V", "2 V"].map(wobble);
        rx.swap(a, b);
        tx.swap(a, b);
        let text = |all: &[String; 4]| [0, 1, 2, 3].map(|i| all[i].clone());
        let (rx, tx) = (text(&rx), text(&tx));
        let readings = sheet(
            [&rx[0], &rx[1], &rx[2], &rx[3]].map(String::as_str),
            [&tx[0], &tx[1], &tx[2], &tx[3]].map(String::as_str),
        );
        let name = |index: usize| id(&(index + 1).to_string());
        let expected = match a == b {
            true => vec![],
            false => vec![SocketFault::Swapped(name(a.min(b)), name(a.max(b)))],
        };
        prop_assert_eq!(wires(readings).wiring, expected);
    }
}
