//! A stop with a reading: "below 10 V at TP1, then go on". A reading inside opens it, and nothing
//! else does.

mod support;

use halfturn::authoring::draft::Draft;
use halfturn::authoring::{ConfirmedBy, Kind, differences};
use halfturn::exchange::report::{Report, csv, html};
use halfturn::job::{
    BREAK_AFTER, Deed, Job, Phase, Refusal, Status, StepProgress, Unfinished, UsedInstrument,
    breaks, is_break_due, stops_brought,
};
use halfturn::metrology::decision::Rule;
use halfturn::metrology::{Margin, Tolerance};
use halfturn::procedure::{
    Gauge, HoldPoint, Holds, Instrument, Procedure, Section, Step, Target, TestPoint, Work, faults,
    spoken,
};
use halfturn::quantity::DecimalSign::{Comma, Point};
use halfturn::quantity::Number;
use support::{as_left, does, header, id, look, q, reading, sign_off, stamp, tick, undo, waive};

fn below_ten_volts(holds: Holds) -> Work {
    Work::Stop {
        confirm: "The reservoir capacitor is discharged.".to_owned(),
        holds,
        reads: Some(HoldPoint {
            gauge: Gauge::new(id("TP1"), id("meter"), "V".parse().unwrap()),
            target: Target::Fixed(Tolerance::AtMost(q("10 V"))),
        }),
    }
}

fn procedure(holds: Holds) -> Procedure {
    let step = |name: &str, title: &str, work| Step::new(id(name), title, work);
    Procedure {
        covers: "Trainers".to_owned(),
        test_points: vec![TestPoint {
            id: id("TP1"),
            place: "Reservoir capacitor".to_owned(),
            also: Vec::new(),
        }],
        instruments: vec![Instrument {
            role: id("meter"),
            needs: "400 V".to_owned(),
        }],
        sections: vec![Section {
            title: "All".to_owned(),
            steps: vec![
                step("off", "Supply off", Work::Tick),
                step("discharge", "Discharge", below_ten_volts(holds)),
                step("part", "Change the capacitor", Work::Tick),
            ],
        }],
        ..Procedure::new(id("hold"), "Hold point")
    }
}

fn fresh(holds: Holds) -> Job {
    Job::open(id("job-1"), procedure(holds), header(), stamp(1))
}

/// At the stop, with these readings taken.
fn read(values: &[&str]) -> Job {
    let mut job = fresh(Holds::UntilABreak);
    does(&mut job, tick("off"));
    for value in values {
        does(&mut job, reading("discharge", Phase::AsFound, value));
    }
    job
}

fn stop(job: &Job) -> StepProgress {
    job.progress().step(&id("discharge")).unwrap().clone()
}

fn behind(job: &Job) -> Option<usize> {
    job.progress().step(&id("part")).unwrap().behind
}

fn refused(job: &Job, deed: Deed) -> Option<Refusal> {
    job.clone().record(stamp(999), deed).err()
}

#[test]
fn a_reading_outside_keeps_all_below_closed_and_one_on_the_limit_opens_it() {
    let job = read(&[]);
    assert_eq!((stop(&job).status, behind(&job)), (Status::Open, Some(2)));
    let job = read(&["32.1 V"]);
    assert_eq!(
        (stop(&job).status, behind(&job)),
        (Status::Outside, Some(2))
    );
    assert_eq!(refused(&job, tick("part")), Some(Refusal::Behind(2)));
    let lapsed = false;
    let of_stop = |job: &Job| {
        Unfinished::of(
            &job.procedure.steps().nth(1).unwrap().clone(),
            &stop(job),
            "",
        )
    };
    assert_eq!(of_stop(&job), Some(Unfinished::Unconfirmed { lapsed }));
    let job = read(&["32.1 V", "10.1 V"]);
    assert_eq!(
        (stop(&job).status, behind(&job)),
        (Status::Outside, Some(2))
    );
    let job = read(&["32.1 V", "10.1 V", "10.0 V"]);
    assert_eq!((stop(&job).status, behind(&job)), (Status::Done, None));
    assert!(stop(&job).ticked.is_some());
    assert_eq!(of_stop(&job), None);
    assert_eq!(refused(&job, tick("part")), None);
}

#[test]
fn no_hand_confirms_it_and_no_reason_waives_it() {
    let mut job = read(&["32.1 V"]);
    assert_eq!(refused(&job, tick("discharge")), Some(Refusal::StopReads));
    assert_eq!(
        Refusal::StopReads.to_string(),
        "This hold point opens by its reading alone: take one that is inside its limits"
    );
    assert_eq!(
        refused(&job, waive("discharge", "No time")),
        Some(Refusal::StopWaived)
    );
    // Nor does an entry that only a file can bring.
    for deed in [tick("discharge"), waive("discharge", "No time")] {
        let next = stamp(job.log.len() + 1);
        job.log.append(next, deed);
    }
    assert_eq!(
        (stop(&job).status, behind(&job)),
        (Status::Outside, Some(2))
    );
    assert_eq!(refused(&job, sign_off("Bench")), Some(Refusal::Owed(2)));
}

#[test]
fn what_takes_the_reading_away_closes_it_again() {
    let mut job = read(&["32.1 V"]);
    let good = does(&mut job, reading("discharge", Phase::AsFound, "8.2 V"));
    assert_eq!(behind(&job), None);
    let mut undone = job.clone();
    does(&mut undone, undo(&good));
    assert_eq!(
        (stop(&undone).status, behind(&undone)),
        (Status::Outside, Some(2))
    );
    let mut struck = job.clone();
    let strike = Deed::Struck {
        step: id("discharge"),
        reading: good,
        reason: "The probe was off".to_owned(),
    };
    does(&mut struck, strike);
    assert_eq!(behind(&struck), Some(2));
    // It charges up again by itself.
    does(&mut job, reading("discharge", Phase::AsFound, "14 V"));
    assert_eq!(
        (stop(&job).status, behind(&job)),
        (Status::Outside, Some(2))
    );
}

#[test]
fn a_charge_the_other_way_round_keeps_it_closed() {
    for (value, status) in [
        ("-120 V", Status::Outside),
        ("-10.1 V", Status::Outside),
        ("-10.0 V", Status::Done),
        ("-0.3 V", Status::Done),
    ] {
        assert_eq!(stop(&read(&[value])).status, status, "{value}");
    }
}

#[test]
fn where_the_accuracy_is_known_a_stop_opens_only_by_what_the_rule_accepts() {
    let strict = |record: Option<serde_json::Value>| {
        let mut job = read(&[]);
        let mut header = header();
        header.rule = Rule::GuardBand {
            ratio: Number::from(1),
        };
        header
            .instruments
            .extend(record.map(|record| UsedInstrument {
                role: id("meter"),
                name: "Club meter".to_owned(),
                record: serde_json::from_value(record).expect("an instrument"),
            }));
        does(&mut job, Deed::Amended(Box::new(header)));
        does(&mut job, reading("discharge", Phase::AsFound, "9.9 V"));
        job
    };
    // Nobody knows how well it was read: it is inside as it was read, and the sheet says so.
    let unknown = strict(None);
    assert_eq!(
        (stop(&unknown).status, behind(&unknown)),
        (Status::Done, None)
    );
    let mut coarse = strict(Some(serde_json::json!({
        "role": "meter", "name": "Club meter",
        "ranges": [{"full-scale": "20 V", "resolution": "0.1 V", "accuracy": {"percent-of-range": "5"}}],
    })));
    assert_eq!(
        (stop(&coarse).status, behind(&coarse)),
        (Status::Unproved, Some(2))
    );
    does(&mut coarse, as_left("discharge", "2.0 V"));
    assert_eq!(
        (stop(&coarse).status, behind(&coarse)),
        (Status::Done, None)
    );
}

#[test]
fn a_break_ends_it_and_a_new_reading_opens_it_again() {
    let mut job = read(&["8.2 V"]);
    does(&mut job, tick("part"));
    let later = job.log.events().next_back().unwrap().at + BREAK_AFTER + 1;
    assert!(is_break_due(&job, &job.progress(), later));
    does(&mut job, Deed::Paused);
    assert_eq!((stop(&job).status, behind(&job)), (Status::Lapsed, Some(2)));
    assert_eq!(refused(&job, sign_off("Bench")), Some(Refusal::Lapsed(2)));
    does(&mut job, as_left("discharge", "12 V"));
    assert_eq!(
        (stop(&job).status, behind(&job)),
        (Status::Outside, Some(2))
    );
    let again = |job: &Job| breaks(job, &job.progress())[0].ended[0].again;
    assert_eq!(again(&job), None);
    does(&mut job, as_left("discharge", "7 V"));
    assert_eq!((stop(&job).status, behind(&job)), (Status::Done, None));
    assert!(again(&job).is_some());
    does(&mut job, sign_off("Bench"));
}

#[test]
fn one_that_holds_for_the_whole_job_outlasts_a_break() {
    let mut job = fresh(Holds::WholeJob);
    does(&mut job, tick("off"));
    does(&mut job, as_left("discharge", "7 V"));
    does(&mut job, Deed::Paused);
    assert_eq!((stop(&job).status, behind(&job)), (Status::Done, None));
    assert_eq!(breaks(&job, &job.progress())[0].ended, []);
}

#[test]
fn its_reading_is_on_the_sheet_and_in_the_table_of_readings_and_is_no_finding() {
    let mut job = read(&["32.1 V", "8.2 V"]);
    does(&mut job, tick("part"));
    let sheet = html::fragment(&Report::of(&job, &[], &look()));
    let sheet = sheet.replace('\u{a0}', " ");
    assert!(sheet.contains("confirmed by 8.2 V"), "{sheet}");
    assert!(sheet.contains("32.1 V"), "as it was read first");
    assert!(!sheet.contains("as found were"), "{sheet}");
    assert!(!sheet.contains("was judged as found"), "{sheet}");
    let table = csv::readings(&job, &look());
    let rows: Vec<&str> = table
        .lines()
        .filter(|row| row.contains("Discharge"))
        .collect();
    assert_eq!(rows.len(), 2, "{table}");
    assert!(
        rows[0].contains("over the upper limit") && rows[1].contains("inside"),
        "{table}"
    );
}

#[test]
fn it_is_read_aloud_compared_and_written_like_any_other_step() {
    let was = procedure(Holds::UntilABreak);
    let step = was.step(&id("discharge")).unwrap();
    let said = spoken(&was, step, Some("at most 10 V".to_owned()));
    assert_eq!(
        said,
        "Step 2. Discharge. Test point TP1, Reservoir capacitor, with the meter. Hold point. A reading inside its \
         target confirms: The reservoir capacitor is discharged. Target: at most 10 V."
    );
    let mut is = was.clone();
    if let Work::Stop { reads, .. } = &mut is.sections[0].steps[1].work {
        *reads = None;
    }
    let said: Vec<String> = differences(&was, &is, Point)
        .into_iter()
        .map(|it| it.what)
        .collect();
    assert!(said.contains(&"Confirmed of step 2".to_owned()), "{said:?}");
    for sign in [Point, Comma] {
        let draft = Draft::of(&was, sign);
        let typed = draft.step(&id("discharge")).unwrap();
        assert_eq!(
            (typed.kind, typed.confirmed_by),
            (Kind::Stop, ConfirmedBy::Reading)
        );
        let (read, unread) = draft.read(sign);
        assert_eq!((unread, read.sections), (Vec::new(), was.sections.clone()));
    }
}

#[test]
fn a_stop_waits_for_a_figure_of_its_own() {
    let mut procedure = procedure(Holds::UntilABreak);
    assert_eq!(faults(&procedure), []);
    if let Work::Stop {
        reads: Some(reads), ..
    } = &mut procedure.sections[0].steps[1].work
    {
        reads.target = Target::Channel {
            below: Margin::Absolute(q("20 Hz")),
            above: Margin::Absolute(q("20 Hz")),
        };
    }
    let said: Vec<String> = faults(&procedure).iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        ["Step 2: a hold point opens at a figure of its own: state its target as one"]
    );
    let mut draft = Draft::of(&procedure, Point);
    for step in draft.steps_mut().filter(|step| step.kind == Kind::Stop) {
        step.target = Default::default();
        step.at = String::new();
    }
    let (_, unread) = draft.read(Point);
    let said: Vec<&str> = unread
        .iter()
        .map(|(.., sentence)| sentence.as_str())
        .collect();
    assert_eq!(
        said,
        [
            "no test point is chosen yet",
            "it has no target: choose how it is stated"
        ]
    );
}

#[test]
fn a_stop_without_a_reading_is_written_as_it_always_was() {
    let text = r#"{"stop":{"confirm":"I see the load."}}"#;
    let plain: Work = serde_json::from_str(text).unwrap();
    assert_eq!(serde_json::to_string(&plain).unwrap(), text);
}

#[test]
fn the_stops_that_a_copy_brings_confirmed_are_named() {
    let before = read(&[]);
    let open = read(&["32.1 V"]);
    let confirmed = read(&["8.2 V"]);
    for (here, comes, brings) in [
        (None, &confirmed, vec![2]),
        (Some(&before), &confirmed, vec![2]),
        (None, &open, vec![]),
        // It was confirmed here already.
        (Some(&confirmed), &confirmed, vec![]),
    ] {
        let here = here.map(Job::progress);
        assert_eq!(stops_brought(here.as_ref(), &comes.progress()), brings);
    }
    // What holds for the whole job doesn't end by a break.
    let mut job = fresh(Holds::WholeJob);
    does(&mut job, tick("off"));
    does(&mut job, reading("discharge", Phase::AsFound, "8.2 V"));
    assert!(stops_brought(None, &job.progress()).is_empty());
}
