//! Steps that are gone through until they hold: "repeat steps 1 and 2 until both are within
//! limits", "until no further change".

mod support;

use halfturn::authoring::differences;
use halfturn::authoring::draft::{Draft, DraftStep};
use halfturn::exchange::report::{Report, csv, html};
use halfturn::job::{Deed, Job, LookAgain, Passes, Phase, Refusal, Shows, Status};
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{
    Adjuster, AdjusterKind, Gauge, Instrument, Procedure, Repeat, Section, Step, Target, TestPoint,
    Until, Work, faults, spoken,
};
use halfturn::quantity::DecimalSign::{Comma, Point};
use support::{as_left, does, header, id, look, q, reading, sign_off, stamp, undo, waive};

fn gauge(at: &str) -> Gauge {
    Gauge::new(id(at), id("meter"), "V".parse().unwrap())
}

fn set(name: &str, at: &str, adjuster: &str) -> Step {
    let margin = Margin::Absolute(q("0.2 V"));
    let work = Work::Set {
        gauge: gauge(at),
        adjuster: id(adjuster),
        target: Target::Fixed(Tolerance::plus_minus(q("5.0 V"), margin)),
    };
    Step::new(id(name), format!("Set {name}"), work)
}

fn again(until: Until, passes: Option<u32>) -> Step {
    let repeat = Repeat {
        from: id("low"),
        to: id("high"),
        until,
        passes,
    };
    Step::new(id("again"), "Both ends", Work::Repeat(repeat))
}

fn procedure(until: Until, passes: Option<u32>) -> Procedure {
    let adjuster = |name: &str| Adjuster {
        id: id(name),
        kind: AdjusterKind::Core,
        note: String::new(),
        tool: String::new(),
        clockwise: None,
        disturbs: Vec::new(),
    };
    let point = |name: &str| TestPoint {
        id: id(name),
        place: String::new(),
        also: Vec::new(),
    };
    Procedure {
        covers: "Trainers".to_owned(),
        adjusters: vec![adjuster("L1"), adjuster("C1")],
        test_points: vec![point("TP1"), point("TP2")],
        instruments: vec![Instrument {
            role: id("meter"),
            needs: "10 V".to_owned(),
        }],
        sections: vec![Section {
            title: "All".to_owned(),
            steps: vec![
                set("low", "TP1", "L1"),
                set("high", "TP2", "C1"),
                again(until, passes),
            ],
        }],
        ..Procedure::new(id("ends"), "Both ends")
    }
}

fn fresh(until: Until, passes: Option<u32>) -> Job {
    Job::open(id("job-1"), procedure(until, passes), header(), stamp(1))
}

fn begin() -> Deed {
    Deed::PassBegun { step: id("again") }
}

/// A step that is turned until it is right.
fn turned(job: &mut Job, step: &str, found: &str, left: &str) {
    does(job, reading(step, Phase::AsFound, found));
    does(job, reading(step, Phase::Try, left));
    does(job, as_left(step, left));
}

/// Both steps turned once: the second may have moved the first.
fn first_pass(until: Until, passes: Option<u32>) -> Job {
    let mut job = fresh(until, passes);
    turned(&mut job, "low", "4.2 V", "5.0 V");
    turned(&mut job, "high", "4.6 V", "5.0 V");
    job
}

fn passes(job: &Job) -> Passes {
    let progress = job.progress();
    progress.step(&id("again")).unwrap().passes.clone().unwrap()
}

fn shows(job: &Job) -> Shows {
    passes(job).shows
}

fn status(job: &Job, step: &str) -> Status {
    job.progress().step(&id(step)).unwrap().status
}

fn due(job: &Job) -> Option<usize> {
    job.progress().current().map(|step| step.number)
}

fn refused(job: &Job, deed: Deed) -> Option<Refusal> {
    job.clone().record(stamp(999), deed).err()
}

#[test]
fn what_was_turned_after_another_was_read_asks_for_another_pass() {
    let mut job = fresh(Until::Inside, None);
    assert_eq!(shows(&job), Shows::Open(vec![1, 2]));
    assert_eq!(refused(&job, begin()), Some(Refusal::PassOpen(1)));
    turned(&mut job, "low", "4.2 V", "5.0 V");
    assert_eq!(shows(&job), Shows::Open(vec![2]));
    turned(&mut job, "high", "4.6 V", "5.0 V");
    assert_eq!(shows(&job), Shows::Turned { step: 2, read: 1 });
    assert_eq!((status(&job, "again"), due(&job)), (Status::Open, Some(3)));
    assert!(passes(&job).may_go_on());
}

#[test]
fn a_pass_opens_the_steps_again_and_ends_where_all_are_inside_in_it() {
    let mut job = first_pass(Until::Inside, None);
    does(&mut job, begin());
    assert_eq!(passes(&job).number(), 2);
    assert_eq!(due(&job), Some(1));
    let because = |job: &Job| job.progress().steps[0].look_again.clone();
    let pass = LookAgain::Pass {
        pass: 2,
        repeated_by: 3,
    };
    assert_eq!(
        (status(&job, "low"), because(&job)),
        (Status::LookAgain, Some(pass))
    );
    // Still inside, nothing turned.
    does(&mut job, as_left("low", "5.1 V"));
    assert_eq!(
        (status(&job, "low"), shows(&job)),
        (Status::Done, Shows::Open(vec![2]))
    );
    does(&mut job, as_left("high", "5.0 V"));
    assert_eq!(
        (shows(&job), status(&job, "again")),
        (Shows::Holds, Status::Done)
    );
    assert_eq!(due(&job), None);
    does(&mut job, sign_off("Bench"));
}

#[test]
fn a_reading_outside_in_a_pass_is_said_and_turning_asks_for_the_next() {
    let mut job = first_pass(Until::Inside, None);
    does(&mut job, begin());
    does(&mut job, as_left("low", "5.6 V"));
    does(&mut job, as_left("high", "5.0 V"));
    let outside = Shows::NotDone {
        step: 1,
        status: Status::Outside,
    };
    assert_eq!(shows(&job), outside);
    does(&mut job, reading("low", Phase::Try, "5.0 V"));
    does(&mut job, as_left("low", "5.0 V"));
    assert_eq!(shows(&job), Shows::Turned { step: 1, read: 2 });
    does(&mut job, begin());
    does(&mut job, as_left("low", "5.0 V"));
    does(&mut job, as_left("high", "5.0 V"));
    assert_eq!((shows(&job), passes(&job).number()), (Shows::Holds, 3));
    // What spoils a step later opens the whole again.
    does(&mut job, as_left("high", "5.9 V"));
    assert_eq!(status(&job, "again"), Status::Open);
}

#[test]
fn no_further_change_counts_from_where_the_pass_before_left_each() {
    let mut job = first_pass(Until::Steady(q("50 mV")), None);
    assert_eq!(shows(&job), Shows::NothingBefore);
    does(&mut job, begin());
    // It was found 0.2 V off and set back to the very same figure: that is a change.
    does(&mut job, as_left("low", "4.8 V"));
    does(&mut job, reading("low", Phase::Try, "5.0 V"));
    does(&mut job, as_left("low", "5.0 V"));
    does(&mut job, as_left("high", "5.03 V"));
    let changed = Shows::Changed {
        step: 1,
        by: q("200 mV"),
    };
    assert_eq!(shows(&job), changed);
    does(&mut job, begin());
    does(&mut job, as_left("low", "5.05 V"));
    does(&mut job, as_left("high", "5.03 V"));
    assert_eq!(shows(&job), Shows::Holds, "as much as it may is not more");
    assert_eq!(passes(&job).number(), 3);
}

#[test]
fn behind_the_last_pass_there_is_none_and_a_reason_settles_it() {
    let mut job = first_pass(Until::Inside, Some(2));
    does(&mut job, begin());
    does(&mut job, as_left("low", "5.6 V"));
    does(&mut job, as_left("high", "5.0 V"));
    assert!(passes(&job).is_last() && !passes(&job).may_go_on());
    assert_eq!(refused(&job, begin()), Some(Refusal::NoMorePasses(2)));
    does(&mut job, waive("again", "The core is at its end"));
    does(&mut job, waive("low", "The core is at its end"));
    assert_eq!(status(&job, "again"), Status::Waived);
    does(&mut job, sign_off("Bench"));
}

#[test]
fn taking_back_the_start_of_a_pass_closes_its_steps_again() {
    let mut job = first_pass(Until::Inside, None);
    let begun = does(&mut job, begin());
    does(&mut job, undo(&begun));
    assert_eq!(
        (passes(&job).number(), status(&job, "low")),
        (1, Status::Done)
    );
}

#[test]
fn only_a_step_that_repeats_others_has_passes() {
    let job = first_pass(Until::Inside, None);
    let begin = Deed::PassBegun { step: id("low") };
    assert_eq!(refused(&job, begin), Some(Refusal::NotInStep("pass")));
}

#[test]
fn each_pass_stands_on_the_sheet_and_beside_each_reading_of_the_table() {
    let mut job = first_pass(Until::Inside, None);
    does(&mut job, begin());
    does(&mut job, as_left("low", "5.1 V"));
    does(&mut job, as_left("high", "5.0 V"));
    let sheet = html::fragment(&Report::of(&job, &[], &look())).replace('\u{a0}', " ");
    let sheet = sheet.replace(['\u{2068}', '\u{2069}'], "");
    for said in [
        "Step 3, Both ends: Repeat steps 1 to 2 until all of them are inside in one pass",
        "began at 4.2 V",
        "It holds in this pass.",
    ] {
        assert!(sheet.contains(said), "{said}: {sheet}");
    }
    let table = csv::readings(&job, &look());
    let place = table
        .lines()
        .next()
        .unwrap()
        .split(',')
        .position(|it| it == "pass");
    let pass = |row: &str| row.split(',').nth(place.unwrap()).unwrap().to_owned();
    let column: Vec<String> = table.trim_end().lines().map(pass).collect();
    assert_eq!(column, ["pass", "1", "1", "1", "1", "1", "1", "2", "2"]);
}

#[test]
fn it_is_read_aloud_compared_and_written_like_any_other_step() {
    let was = procedure(Until::Steady(q("50 mV")), Some(5));
    let said = spoken(&was, was.step(&id("again")).unwrap(), None);
    assert_eq!(
        said.replace('\u{a0}', " "),
        "Step 3. Both ends. Repeat steps 1 to 2 until no reading changes by more than 50 mV from \
         one pass to the next, in 5 passes at most."
    );
    let is = procedure(Until::Inside, Some(5));
    let said: Vec<String> = differences(&was, &is, Point)
        .into_iter()
        .map(|it| it.what)
        .collect();
    assert!(said.contains(&"Repeats of step 3".to_owned()), "{said:?}");
    for sign in [Point, Comma] {
        for procedure in [&was, &is] {
            let (read, unread) = Draft::of(procedure, sign).read(sign);
            assert_eq!((unread, &read.sections), (Vec::new(), &procedure.sections));
        }
    }
}

#[test]
fn what_can_not_be_repeated_is_a_fault() {
    let said = |change: &dyn Fn(&mut Procedure, &mut Repeat)| -> Vec<String> {
        let mut procedure = procedure(Until::Inside, None);
        let mut repeat = match &procedure.sections[0].steps[2].work {
            Work::Repeat(repeat) => repeat.clone(),
            _ => unreachable!(),
        };
        change(&mut procedure, &mut repeat);
        let last = procedure.sections[0].steps.len() - 1;
        procedure.sections[0].steps[last].work = Work::Repeat(repeat);
        faults(&procedure).iter().map(ToString::to_string).collect()
    };
    assert_eq!(said(&|_, _| {}), [""; 0]);
    type Change<'a> = &'a dyn Fn(&mut Procedure, &mut Repeat);
    let all: [(Change, &str); 8] = [
        (
            &|_, it| it.to = id("gone"),
            "Step 3: it repeats a step “gone” that isn't there: choose another",
        ),
        (
            &|_, it| it.to = id("again"),
            "Step 3: it repeats step 3, which does not come before it: choose an earlier one",
        ),
        (
            &|_, it| (it.from, it.to) = (id("high"), id("low")),
            "Step 3: it repeats from step 2 to step 1: the first of them comes before the last",
        ),
        (
            &|all, _| {
                all.sections[0].steps[0..2]
                    .iter_mut()
                    .for_each(|step| step.work = Work::Tick)
            },
            "Step 3: none of the steps that it repeats takes a reading: choose others",
        ),
        (
            &|_, it| it.passes = Some(1),
            "Step 3: it allows a single pass: allow two at least, or any number",
        ),
        (
            &|_, it| it.until = Until::Steady(q("20 Hz")),
            "Step 3: its largest change is in Hz, but step 1 changes in V: leave that step out, or type another",
        ),
        (
            &|_, it| it.until = Until::Steady(q("-1 V")),
            "Step 3: its largest change is below zero: type how much may still change",
        ),
        (
            &|all, it| {
                let inner = all.sections[0].steps[2].clone();
                let outer = Step {
                    id: id("outer"),
                    ..inner
                };
                all.sections[0].steps.push(outer);
                it.to = id("again");
            },
            "Step 4: it repeats step 3, which repeats others itself: choose the steps before or behind that",
        ),
    ];
    for (change, told) in all {
        assert_eq!(said(change), [told]);
    }
}

#[test]
fn without_a_title_it_is_called_by_what_it_repeats_in_every_draft_and_revision() {
    let mut draft = Draft::of(&procedure(Until::Inside, None), Point);
    let retitle = |draft: &mut Draft| {
        let again = draft.steps_mut().filter(|step| step.id == id("again"));
        again.for_each(|step| step.title = String::new());
    };
    retitle(&mut draft);
    let published = |draft: &Draft| {
        let (procedure, unread) = draft.read(Point);
        assert_eq!(unread, []);
        assert_eq!(faults(&procedure), []);
        procedure
    };
    let first = published(&draft);
    let title = |procedure: &Procedure| procedure.step(&id("again")).unwrap().title.clone();
    assert_eq!(title(&first), "Repeat steps 1 to 2");
    // The next revision begins from it, and a step comes before those that are repeated.
    let mut next = Draft::of(&first, Point);
    let fresh = DraftStep {
        title: "Supply on".to_owned(),
        ..DraftStep::blank(id("on"))
    };
    next.sections[0].steps.insert(0, fresh);
    let again = next.step(&id("again")).unwrap();
    assert_eq!(next.title_of(again), "Repeat steps 2 to 3");
    assert_eq!(title(&published(&next)), "Repeat steps 2 to 3");
}
