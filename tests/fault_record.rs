//! A fault from its symptom to its proof, and what the sheet answers to the one that was reported.

mod support;

use halfturn::exchange::report::{self, Report};
use halfturn::job::{CureShown, Deed, FaultOf, FaultRecord, Header, Job, Outcome, Phase, Refusal};
use halfturn::procedure::Id;
use support::{does, header, id, look, procedure, reading, stamp, undo};

fn reported() -> Job {
    let header = Header {
        fault: "No power on USB".to_owned(),
        ..header()
    };
    let mut job = Job::open(id("job-17"), procedure(), header, stamp(1));
    for deed in support::good_deeds().into_iter().take(9) {
        does(&mut job, deed);
    }
    job
}

fn cured() -> FaultRecord {
    FaultRecord {
        seen: "0.3 W, drive is there".to_owned(),
        place: "Output stage".to_owned(),
        cause: "C47 open".to_owned(),
        cure: "C47 replaced".to_owned(),
        outcome: Outcome::Cured,
        shown_by: vec![id("power")],
        proved_by: vec![id("power")],
        ..FaultRecord::default()
    }
}

/// A record that comes to this end.
fn told(of: FaultOf, outcome: Outcome) -> FaultRecord {
    let whole = FaultRecord {
        of,
        outcome,
        ..cured()
    };
    match outcome {
        Outcome::NotSeen => FaultRecord {
            cause: String::new(),
            cure: String::new(),
            ..whole
        },
        _ => whole,
    }
}

fn notes(first: Option<&Id>, record: FaultRecord) -> Deed {
    Deed::FaultNoted {
        first: first.cloned(),
        record: Box::new(record),
    }
}

fn sheet(job: &Job) -> String {
    let html = report::html::fragment(&Report::of(job, &[], &look()));
    let html = html.replace(['\u{2068}', '\u{2069}'], "");
    html.replace(['\u{a0}', '\u{202f}'], " ")
}

fn refused(job: &mut Job, deed: Deed) -> Refusal {
    let next = stamp(job.log.len() + 1);
    job.record(next, deed).expect_err("a refusal")
}

#[test]
fn a_reported_fault_is_answered_only_by_a_record_that_comes_to_an_end() {
    for (of, outcome, owed) in [
        (FaultOf::Report, Outcome::Open, true),
        (FaultOf::Report, Outcome::NotSeen, false),
        (FaultOf::Report, Outcome::NotFound, false),
        (FaultOf::Report, Outcome::Found, false),
        (FaultOf::Report, Outcome::Cured, false),
        (FaultOf::Bench, Outcome::Cured, true),
    ] {
        let mut job = reported();
        assert!(job.progress().owes_an_answer());
        does(&mut job, notes(None, told(of, outcome)));
        assert_eq!(job.progress().owes_an_answer(), owed, "{of:?} {outcome:?}");
    }
    assert!(!support::fresh_job().progress().owes_an_answer());
}

#[test]
fn a_later_entry_takes_the_place_of_the_record_and_an_undo_brings_it_back() {
    let mut job = reported();
    let open = FaultRecord {
        seen: "Nothing at TP3".to_owned(),
        ..FaultRecord::default()
    };
    let first = does(&mut job, notes(None, open.clone()));
    let second = does(&mut job, notes(Some(&first), cured()));
    let records = |job: &Job| -> Vec<_> {
        let faults = job.progress().faults.into_iter();
        faults.map(|fault| (fault.name, fault.record)).collect()
    };
    assert_eq!(records(&job), [(first.clone(), cured())]);
    does(&mut job, undo(&second));
    assert_eq!(records(&job), [(first.clone(), open)]);
    does(&mut job, undo(&first));
    assert_eq!(records(&job), []);
    assert_eq!(
        refused(&mut job, notes(Some(&first), cured())),
        Refusal::NoFault
    );
}

#[test]
fn a_record_says_what_its_outcome_says() {
    let mut job = reported();
    let blank = FaultRecord::default;
    for (record, missing) in [
        (blank(), "what is seen"),
        (
            FaultRecord {
                outcome: Outcome::Found,
                ..blank()
            },
            "the cause that was found",
        ),
        (
            FaultRecord {
                outcome: Outcome::Cured,
                cause: "C47".to_owned(),
                ..blank()
            },
            "what cured it",
        ),
    ] {
        assert_eq!(
            refused(&mut job, notes(None, record)),
            Refusal::Blank(missing)
        );
    }
    let not_seen = FaultRecord {
        outcome: Outcome::NotSeen,
        ..blank()
    };
    does(&mut job, notes(None, not_seen));
}

#[test]
fn a_cure_is_shown_by_readings_inside_their_limits_and_by_nothing_else() {
    let mut job = reported();
    let shown = |job: &Job| job.progress().cure_shown(&cured());
    assert_eq!(shown(&job), CureShown::Not(vec![10]));
    does(&mut job, reading("power", Phase::AsFound, "0.3 W"));
    assert_eq!(shown(&job), CureShown::Not(vec![10]));
    does(&mut job, reading("power", Phase::AsLeft, "4.0 W"));
    assert_eq!(shown(&job), CureShown::Inside);
    // A reading without a limit proves nothing.
    does(&mut job, reading("current", Phase::AsLeft, "850 mA"));
    let record = FaultRecord {
        proved_by: vec![id("current")],
        ..cured()
    };
    assert_eq!(job.progress().cure_shown(&record), CureShown::Not(vec![11]));
    let none = FaultRecord {
        proved_by: Vec::new(),
        ..cured()
    };
    assert_eq!(job.progress().cure_shown(&none), CureShown::NoStep);
}

#[test]
fn a_reading_from_before_the_fault_showed_proves_no_cure() {
    let mut job = reported();
    let record = |shown_by: &[&str]| FaultRecord {
        shown_by: shown_by.iter().map(|step| id(step)).collect(),
        ..cured()
    };
    // Read once, and inside: nothing says that it was read after the cure.
    does(&mut job, reading("power", Phase::AsFound, "4.0 W"));
    let shown = |job: &Job, by: &[&str]| job.progress().cure_shown(&record(by));
    assert_eq!(shown(&job, &[]), CureShown::Not(vec![10]));
    assert_eq!(shown(&job, &["power"]), CureShown::Not(vec![10]));
    // The fault showed at another step after that.
    does(&mut job, reading("current", Phase::AsFound, "2 A"));
    assert_eq!(shown(&job, &["current"]), CureShown::Not(vec![10]));
    does(&mut job, reading("power", Phase::AsLeft, "4.0 W"));
    for by in [&[][..], &["power"], &["current"]] {
        assert_eq!(shown(&job, by), CureShown::Inside, "{by:?}");
    }
}

#[test]
fn a_fault_that_does_not_show_has_neither_cause_nor_cure() {
    let mut job = reported();
    for (cause, cure) in [("C47", ""), ("", "C47 replaced")] {
        let record = FaultRecord {
            cause: cause.to_owned(),
            cure: cure.to_owned(),
            outcome: Outcome::NotSeen,
            ..FaultRecord::default()
        };
        assert_eq!(refused(&mut job, notes(None, record)), Refusal::NotSeen);
    }
}

#[test]
fn the_sheet_answers_the_fault_that_was_reported() {
    let mut job = reported();
    assert!(sheet(&job).contains("does not say whether the reported fault was found"));
    does(&mut job, reading("power", Phase::AsFound, "0.3 W"));
    let first = does(&mut job, notes(None, cured()));
    assert!(sheet(&job).contains("Not shown by all readings named for the cure: see step 10."));
    does(&mut job, reading("power", Phase::AsLeft, "4.0 W"));
    let whole = sheet(&job);
    for said in [
        "The reported fault is cured, as the technician says. Cause: C47 open. Cure: C47 replaced.",
        "The readings named for the cure are inside their limits.",
        "Reported: No power on USB",
        "0.3 W, drive is there",
        "Output stage",
    ] {
        assert!(whole.contains(said), "{said} in {whole}");
    }
    // Beside the reading as found stands what is expected there.
    assert!(whole.contains(": 0.3 W (limit"), "{whole}");
    does(
        &mut job,
        notes(Some(&first), told(FaultOf::Report, Outcome::NotSeen)),
    );
    let whole = sheet(&job);
    assert!(whole.contains("The reported fault did not show on the bench."));
    assert!(!whole.contains("is cured"));
}

#[test]
fn records_of_the_reported_fault_that_contradict_each_other_are_told() {
    use FaultOf::{Bench, Report as Reported};
    use Outcome::{Cured, Found, NotFound, NotSeen, Open};
    for (first, second, differ) in [
        ((Reported, NotSeen), (Reported, Cured), true),
        ((Reported, NotFound), (Reported, Found), true),
        ((Reported, NotSeen), (Reported, NotFound), true),
        ((Reported, Found), (Reported, Cured), false),
        ((Reported, Open), (Reported, Cured), false),
        ((Reported, NotSeen), (Bench, Cured), false),
        ((Reported, Cured), (Reported, Cured), false),
    ] {
        let mut job = reported();
        for (of, outcome) in [first, second] {
            does(&mut job, notes(None, told(of, outcome)));
        }
        assert_eq!(
            job.progress().answers_differ(),
            differ,
            "{first:?} {second:?}"
        );
        let said = sheet(&job).contains(report::words::ANSWERS_DIFFER);
        assert_eq!(said, differ, "{first:?} {second:?}");
    }
}
