//! A job is worked by the procedure that it was started with, if it was, and by what its work took
//! on since: other procedures, and steps that none foresaw.

mod support;

use halfturn::exchange::report::{self, Report};
use halfturn::exchange::{Backup, Document, demo, read, starters, write};
use halfturn::job::{
    Deed, Event, Job, Line, Log, Origin, OwnFault, OwnField, OwnKind, Phase, Refusal, Status,
    TypedStep, before,
};
use halfturn::procedure::{
    Id, JoinFault, Procedure, Repeat, Section, Step, Target, Until, Work, joined,
};
use halfturn::quantity::DecimalSign;
use serde_json::Value;
use std::collections::HashSet;
use support::{
    does, fresh_job, good_deeds, header, id, look, procedure, q, reading, stamp, tick, undo,
};

/// A set that was booked in without a procedure.
fn booked_in() -> Job {
    Job::open(id("job-18"), Procedure::none(), header(), stamp(1))
}

fn takes_on(procedure: Procedure) -> Deed {
    Deed::TookOn {
        procedure: Box::new(procedure),
    }
}

/// A procedure of one step that looks.
fn look_over() -> Procedure {
    let mut procedure = Procedure::new(id("look-over"), "Look over");
    procedure.revision = 2;
    procedure.sections = vec![Section {
        title: "Outside".to_owned(),
        steps: vec![Step::new(id("look"), "Look at the case", Work::Inspect)],
    }];
    procedure
}

fn rail() -> TypedStep {
    TypedStep {
        title: "Rail at the driver".to_owned(),
        at: "R47".to_owned(),
        scale: "V".parse().ok(),
        limit: "8.5 to 9.5".to_owned(),
        mode: "FM".to_owned(),
        ..TypedStep::default()
    }
}

fn adds(typed: &TypedStep, name: &str, needs: &[&str]) -> Deed {
    let needs = needs.iter().map(|need| id(need)).collect();
    let added = typed.read(id(name), needs, DecimalSign::Point);
    Deed::AddedStep {
        added: Box::new(added.expect("a step")),
    }
}

fn titles(job: &Job) -> Vec<(usize, String)> {
    let progress = job.progress();
    let steps = progress.course.procedure.steps().zip(&progress.steps);
    steps
        .map(|(step, at)| (at.number, step.title.clone()))
        .collect()
}

fn refused(job: &mut Job, deed: Deed) -> Refusal {
    let next = stamp(job.log.len() + 1);
    job.record(next, deed).expect_err("a refusal")
}

#[test]
fn a_set_booked_in_without_a_procedure_has_nothing_to_do_yet() {
    let job = booked_in();
    let progress = job.progress();
    assert_eq!(progress.steps, []);
    assert_eq!(progress.course.procedures().count(), 1);
    assert!(progress.course.procedures().all(|name| name.is_none()));
}

#[test]
fn each_step_keeps_its_number_whatever_comes_after_it() {
    let mut job = booked_in();
    does(&mut job, takes_on(look_over()));
    does(&mut job, adds(&rail(), "own-1", &[]));
    let before = titles(&job);
    assert_eq!(before.len(), 2);
    does(&mut job, takes_on(procedure()));
    does(&mut job, adds(&rail(), "own-2", &[]));
    let now = titles(&job);
    assert_eq!(now[..2], before);
    assert_eq!(now.len(), 2 + 12 + 1);
    let progress = job.progress();
    let from: Vec<_> = progress
        .course
        .parts
        .iter()
        .map(|part| &part.from)
        .collect();
    assert!(matches!(
        from[..],
        [
            Origin::Start(_),
            Origin::TakenOn { .. },
            Origin::Bench,
            Origin::TakenOn { .. },
            Origin::Bench
        ]
    ));
}

#[test]
fn a_procedure_that_was_taken_on_is_worked_like_one_that_a_job_starts_with() {
    let mut job = booked_in();
    does(&mut job, takes_on(procedure()));
    let of = |step: &Id| joined(&procedure().id, step);
    for deed in good_deeds() {
        let deed = match deed {
            Deed::Reading {
                step,
                phase,
                value,
                tool,
                repeat,
                heard,
            } => Deed::Reading {
                step: of(&step),
                phase,
                value,
                tool,
                repeat,
                heard,
            },
            Deed::Ticked { step } => Deed::Ticked { step: of(&step) },
            Deed::Answered { step, answer, note } => Deed::Answered {
                step: of(&step),
                answer,
                note,
            },
            other => panic!("{other:?}"),
        };
        does(&mut job, deed);
    }
    let whole = support::job_with(good_deeds()).progress();
    let progress = job.progress();
    let standing = |progress: &halfturn::job::Progress| -> Vec<_> {
        let steps = progress.steps.iter();
        let told = steps.map(|step| (step.number, step.status, step.tolerance.clone()));
        told.collect()
    };
    assert_eq!(standing(&progress), standing(&whole));
    assert!(progress.is_closed());
    does(&mut job, support::sign_off("Bench 1"));
}

#[test]
fn a_target_that_leans_on_another_step_finds_it_by_its_new_name() {
    let mut job = booked_in();
    does(&mut job, takes_on(procedure()));
    let course = job.course();
    let mixed = course
        .procedure
        .step(&joined(&procedure().id, &id("mixed")))
        .unwrap();
    let to = mixed.work.target().and_then(Target::leans_on).unwrap();
    assert!(course.procedure.step(to).is_some(), "{to}");
}

/// Every text below a field that holds names of steps.
fn collect(value: &Value, names_steps: bool, texts: &mut HashSet<String>) {
    const FIELDS: [&str; 8] = [
        "id",
        "needs",
        "shares-null-with",
        "to",
        "from",
        "power",
        "disturbs",
        "cells",
    ];
    match value {
        Value::String(text) if names_steps => drop(texts.insert(text.clone())),
        Value::Array(all) => all.iter().for_each(|one| collect(one, names_steps, texts)),
        Value::Object(all) => {
            for (field, one) in all {
                let is_list = one
                    .as_array()
                    .is_some_and(|all| all.iter().all(Value::is_string));
                let names = FIELDS.contains(&field.as_str()) || (field == "steps" && is_list);
                collect(one, names, texts);
            }
        }
        _ => {}
    }
}

#[test]
fn every_name_of_a_step_is_renamed_in_all_that_ships() {
    let starters = starters(DecimalSign::Point).into_iter();
    let shipped = starters.map(|starter| starter.draft.read(DecimalSign::Point).0);
    for procedure in shipped.chain([demo::procedure().unwrap()]) {
        let mut whole = Procedure::none();
        whole.can_take_on(&procedure).unwrap();
        whole.take_on(&procedure);
        let mut texts = HashSet::new();
        collect(&serde_json::to_value(&whole).unwrap(), false, &mut texts);
        for step in procedure.steps() {
            let name = step.id.as_str();
            let is_a_thing = procedure.test_point(&step.id).is_some()
                || procedure.adjuster(&step.id).is_some()
                || procedure.instrument(&step.id).is_some();
            assert!(
                is_a_thing || !texts.contains(name),
                "{name} in {}",
                procedure.title
            );
        }
        let said = |of: &Procedure| halfturn::procedure::faults(of).len();
        assert_eq!(said(&whole), said(&procedure), "{}", procedure.title);
    }
}

#[test]
fn a_stop_closes_what_comes_below_it_in_its_own_procedure_alone() {
    let mut job = fresh_job();
    does(&mut job, takes_on(look_over()));
    does(&mut job, adds(&rail(), "free", &[]));
    does(&mut job, adds(&rail(), "held", &["load"]));
    let behind = |job: &Job| {
        let progress = job.progress();
        let of = |step: &str| progress.step(&id(step)).unwrap().behind;
        [of("osc"), of("look-over/look"), of("free"), of("held")]
    };
    assert_eq!(behind(&job), [Some(4), None, None, Some(4)]);
    let read = || reading("held", Phase::AsFound, "9.0 V");
    assert_eq!(refused(&mut job, read()), Refusal::Behind(4));
    for deed in good_deeds().into_iter().take(4) {
        does(&mut job, deed);
    }
    assert_eq!(behind(&job), [None, None, None, None]);
    does(&mut job, read());
    does(&mut job, Deed::Paused);
    assert_eq!(behind(&job), [Some(4), None, None, Some(4)]);
    assert_eq!(refused(&mut job, read()), Refusal::BehindLapsed(4));
}

#[test]
fn work_at_a_step_that_a_stop_does_not_hold_is_none_below_it() {
    let mut job = fresh_job();
    does(&mut job, adds(&rail(), "free", &[]));
    for deed in good_deeds().into_iter().take(4) {
        does(&mut job, deed);
    }
    does(&mut job, Deed::Paused);
    does(&mut job, reading("free", Phase::AsFound, "9.0 V"));
    let progress = job.progress();
    let breaks = halfturn::job::breaks(&job, &progress);
    let worked: Vec<bool> = breaks
        .iter()
        .flat_map(|it| &it.ended)
        .map(|it| it.worked)
        .collect();
    assert_eq!(worked, [false]);
}

#[test]
fn the_stops_above_a_step_are_those_of_its_own_procedure_and_those_it_names() {
    let mut job = fresh_job();
    does(&mut job, takes_on(look_over()));
    does(&mut job, adds(&rail(), "held", &["load"]));
    let course = job.course();
    for (step, above) in [
        ("look", vec![]),
        ("load", vec![id("load")]),
        ("osc", vec![id("load")]),
        ("power", vec![id("load"), id("hot")]),
        ("look-over/look", vec![]),
        ("held", vec![id("load")]),
        ("nowhere", vec![]),
    ] {
        assert_eq!(course.stops_above(&id(step)), above, "{step}");
    }
}

#[test]
fn a_reading_that_no_procedure_has_is_judged_by_its_own_limit() {
    let mut job = booked_in();
    does(&mut job, adds(&rail(), "own-1", &[]));
    for (value, status) in [("8.4", Status::Outside), ("8.5", Status::Done)] {
        let value = format!("{value} V");
        does(&mut job, reading("own-1", Phase::AsFound, &value));
        let progress = job.progress();
        assert_eq!(
            progress.step(&id("own-1")).unwrap().status,
            status,
            "{value}"
        );
    }
    let unlimited = TypedStep {
        limit: String::new(),
        ..rail()
    };
    does(&mut job, adds(&unlimited, "own-2", &[]));
    does(&mut job, reading("own-2", Phase::AsFound, "1 V"));
    let progress = job.progress();
    let step = progress.step(&id("own-2")).unwrap();
    assert_eq!(step.status, Status::Done);
    assert_eq!(step.tolerance, None);
}

#[test]
fn a_limit_with_two_decimal_signs_is_none() {
    use halfturn::authoring::table::read_limit;
    let volts = "V".parse().expect("a scale");
    for sign in [DecimalSign::Point, DecimalSign::Comma] {
        for text in ["at most 1.200,5", "1.200,5 to 1.300,5", "at most 1,2,5"] {
            assert_eq!(read_limit(text, volts, sign), None, "{text}");
        }
    }
    // As printed tables have it.
    let read = read_limit("at most 60,000.5", volts, DecimalSign::Point);
    let shown = read.map(|it| it.typeset(DecimalSign::Point));
    assert_eq!(shown.as_deref(), Some("at most 60000.5\u{a0}V"));
}

#[test]
fn what_is_typed_becomes_a_step_or_says_why_not() {
    let cases: [(TypedStep, OwnFault); 6] = [
        // It may group digits or be a decimal sign.
        (
            TypedStep {
                limit: "13,800 to 14,200".to_owned(),
                ..rail()
            },
            OwnFault::Comma,
        ),
        (
            TypedStep {
                title: " ".to_owned(),
                ..rail()
            },
            OwnFault::Blank(OwnField::Title),
        ),
        (
            TypedStep {
                at: String::new(),
                ..rail()
            },
            OwnFault::Blank(OwnField::At),
        ),
        (
            TypedStep {
                scale: None,
                ..rail()
            },
            OwnFault::Blank(OwnField::Scale),
        ),
        (
            TypedStep {
                limit: "about nine".to_owned(),
                ..rail()
            },
            OwnFault::Limit("V".parse().unwrap()),
        ),
        (
            TypedStep {
                limit: "8.5 to 9.5 A".to_owned(),
                ..rail()
            },
            OwnFault::Limit("V".parse().unwrap()),
        ),
    ];
    for (typed, fault) in cases {
        let read = typed.read(id("own"), Vec::new(), DecimalSign::Point);
        assert_eq!(read, Err(fault), "{typed:?}");
    }
    let long = TypedStep {
        at: "x".repeat(65),
        ..rail()
    };
    let read = long.read(id("own"), Vec::new(), DecimalSign::Point);
    assert!(matches!(read, Err(OwnFault::Name(OwnField::At, _))));
    // What only a reading has is not asked of what is looked at.
    for kind in [OwnKind::Inspect, OwnKind::Tick] {
        let typed = TypedStep {
            kind,
            title: "Behind the shield".to_owned(),
            limit: "about nine".to_owned(),
            ..TypedStep::default()
        };
        assert!(
            typed
                .read(id("own"), Vec::new(), DecimalSign::Point)
                .is_ok()
        );
    }
}

#[test]
fn what_does_not_go_together_is_refused() {
    let mut job = fresh_job();
    let twice = |revision| Procedure {
        revision,
        ..procedure()
    };
    let not = Refusal::NotTakenOn;
    assert_eq!(refused(&mut job, takes_on(twice(3))), not(JoinFault::Twice));
    assert_eq!(refused(&mut job, takes_on(twice(4))), not(JoinFault::Twice));
    assert_eq!(
        refused(&mut job, takes_on(Procedure::none())),
        not(JoinFault::Empty)
    );
    does(&mut job, takes_on(demo::procedure().unwrap()));
    let other = Procedure {
        id: id("other"),
        ..demo::procedure().unwrap()
    };
    let plan = other.plan.clone().map(|plan| halfturn::radio::plan::Plan {
        name: "Another".to_owned(),
        ..plan
    });
    let other_plan = Procedure {
        plan,
        ..other.clone()
    };
    assert_eq!(
        refused(&mut job, takes_on(other_plan)),
        not(JoinFault::OtherPlan)
    );
    let channels = other.channels.clone().map(|mut table| {
        table.channels.pop();
        table
    });
    let other_channels = Procedure {
        channels,
        ..other.clone()
    };
    assert_eq!(
        refused(&mut job, takes_on(other_channels)),
        not(JoinFault::OtherChannels)
    );
    // With the same plan and the same channels it may be.
    does(&mut job, takes_on(other));
    does(&mut job, adds(&rail(), "own-1", &[]));
    assert_eq!(
        refused(&mut job, adds(&rail(), "own-1", &[])),
        not(JoinFault::Twice)
    );
}

#[test]
fn an_adjuster_that_two_procedures_name_is_one_and_the_same() {
    let mut job = fresh_job();
    let again = Procedure {
        id: id("again"),
        ..procedure()
    };
    does(&mut job, takes_on(again));
    let procedure = job.course().procedure;
    let named: Vec<_> = procedure
        .adjusters
        .iter()
        .map(|it| it.id.to_string())
        .collect();
    assert_eq!(named, ["L1", "L2", "R1"]);
    for adjuster in &procedure.adjusters {
        for step in &adjuster.disturbs {
            assert!(procedure.step(step).is_some(), "{step}");
        }
    }
}

#[test]
fn what_was_taken_on_is_taken_back_by_an_undo_and_its_readings_count_for_nothing_then() {
    let mut job = booked_in();
    let added = does(&mut job, adds(&rail(), "own-1", &[]));
    does(&mut job, undo(&added));
    assert_eq!(job.progress().steps, []);
    let read = reading("own-1", Phase::AsFound, "9 V");
    assert_eq!(refused(&mut job, read), Refusal::NoStep(id("own-1")));
    // A copy that was worked on meanwhile holds a reading of it: its file opens all the same.
    let mut copy = booked_in();
    does(&mut copy, adds(&rail(), "own-1", &[]));
    let next = stamp(90);
    copy.record(next, reading("own-1", Phase::AsFound, "9 V"))
        .unwrap();
    let mut merged = job.clone();
    merged.log = merged.log.merge(&copy.log);
    assert_eq!(merged.log.fault(&merged.procedure), None);
    assert_eq!(merged.progress().steps, []);
}

#[test]
fn the_course_is_the_same_whichever_copy_is_merged_into_which() {
    let mut here = booked_in();
    let mut there = here.clone();
    does(&mut here, takes_on(look_over()));
    let late = stamp(50);
    there.record(late, adds(&rail(), "own-1", &[])).unwrap();
    let one = here.log.merge(&there.log);
    let other = there.log.merge(&here.log);
    let of = |log: Log| {
        Job {
            log,
            ..here.clone()
        }
        .course()
    };
    assert_eq!(of(one), of(other));
}

#[test]
fn a_job_with_all_of_it_goes_through_a_file_and_a_backup() {
    let mut job = booked_in();
    does(&mut job, takes_on(look_over()));
    does(&mut job, adds(&rail(), "own-1", &[]));
    does(&mut job, reading("own-1", Phase::AsFound, "9.0 V"));
    let text = write(&Document::Job(job.clone()));
    assert_eq!(read(&text).unwrap(), Document::Job(job.clone()));
    let backup = Backup::of(None, Vec::new(), Vec::new(), vec![job.clone()]);
    let text = write(&Document::Backup(backup.clone()));
    assert_eq!(read(&text).unwrap(), Document::Backup(backup));
}

/// A job that was booked in, with these entries behind, as copies of it or a file may bring them.
fn forged(deeds: impl IntoIterator<Item = Deed>) -> Job {
    let job = booked_in();
    let opened = job.log.events().cloned().collect::<Vec<_>>();
    let events = deeds.into_iter().enumerate().map(|(index, did)| Event {
        id: id(&format!("forged-{index}")),
        seq: index as u64 + 2,
        at: 0,
        did,
    });
    let log = Log::from_events(opened.into_iter().chain(events)).unwrap();
    Job { log, ..job }
}

#[test]
fn what_two_copies_took_on_is_in_the_job_once_and_its_file_opens() {
    let revised = Procedure {
        revision: 3,
        sections: vec![Section {
            title: "Outside".to_owned(),
            steps: vec![
                Step::new(id("look"), "Look at the case", Work::Inspect),
                Step::new(id("feet"), "Look at the feet", Work::Inspect),
            ],
        }],
        ..look_over()
    };
    let job = forged([
        takes_on(look_over()),
        takes_on(look_over()),
        takes_on(revised),
        tick_of("look-over/look"),
        // Of a step that only the revision has which came too late.
        tick_of("look-over/feet"),
    ]);
    assert_eq!(titles(&job), [(1, "Look at the case".to_owned())]);
    // The other revision is told of; the same once more is none.
    let left_out = job.course().left_out;
    let told: Vec<_> = left_out
        .iter()
        .map(|it| (it.name.revision, it.why))
        .collect();
    assert_eq!(told, [(3, JoinFault::Twice)]);
    let sheet = report::html::fragment(&Report::of(&job, &[], &look()));
    let sheet = sheet.replace(['\u{2068}', '\u{2069}'], "");
    let said = "Look over, revision 3, for the job has it in another revision.";
    assert!(sheet.contains(said), "{sheet}");
    let read = read(&write(&Document::Job(job.clone()))).unwrap();
    assert_eq!(read, Document::Job(job));
}

#[test]
fn a_file_that_takes_on_what_is_unsound_in_itself_is_not_opened() {
    let nameless = Procedure {
        title: String::new(),
        ..look_over()
    };
    let mut odd = adds(&rail(), "own-1", &[]);
    if let Deed::AddedStep { added } = &mut odd {
        added.point = None;
    }
    let stray = reading("own-9", Phase::AsFound, "9 V");
    for (deed, said) in [
        (takes_on(nameless), "has no title"),
        (odd, "R47"),
        (stray, "own-9"),
    ] {
        let refused = read(&write(&Document::Job(forged([deed]))))
            .unwrap_err()
            .to_string();
        assert!(refused.contains(said), "{refused}");
    }
    // A stop that is not there holds nothing.
    let job = forged([adds(&rail(), "own-1", &["nowhere"])]);
    assert!(read(&write(&Document::Job(job.clone()))).is_ok());
    assert_eq!(job.progress().steps[0].behind, None);
}

#[test]
fn what_follows_one_entry_at_a_time_is_what_follows_from_the_whole() {
    let mut job = booked_in();
    let mut known = job.progress();
    let deeds = [
        takes_on(look_over()),
        adds(&rail(), "own-1", &[]),
        reading("own-1", Phase::AsFound, "9.0 V"),
        takes_on(procedure()),
        reading("own-1", Phase::AsFound, "9.1 V"),
        adds(&rail(), "own-2", &[]),
    ];
    for deed in deeds {
        does(&mut job, deed);
        known = job.progress_after(Some(&known));
        assert_eq!(known, job.progress());
    }
    let last = job.log.events().next_back().unwrap().id.clone();
    does(&mut job, undo(&last));
    assert_eq!(job.progress_after(Some(&known)), job.progress());
}

#[test]
fn nothing_of_another_job_that_was_on_the_screen_before_stays() {
    let other = support::job_with(good_deeds()).progress();
    let mut taken_on = booked_in();
    does(&mut taken_on, takes_on(look_over()));
    for job in [booked_in(), taken_on, fresh_job()] {
        assert_eq!(job.progress_after(Some(&other)), job.progress());
    }
}

#[test]
fn a_repeat_that_is_called_by_the_steps_it_repeats_is_called_by_their_numbers_in_the_job() {
    let repeat = |from: &str, to: &str| {
        Work::Repeat(Repeat {
            from: id(from),
            to: id(to),
            until: Until::Inside,
            passes: None,
        })
    };
    let mut repeating = procedure();
    repeating.sections[2].steps.extend([
        Step::new(id("again"), "Repeat steps 5 to 6", repeat("osc", "mixed")),
        Step::new(id("named"), "Both once more", repeat("osc", "mixed")),
    ]);
    let mut job = booked_in();
    does(&mut job, adds(&rail(), "own-1", &[]));
    does(&mut job, takes_on(repeating));
    let named: Vec<String> = titles(&job)
        .into_iter()
        .rev()
        .take(2)
        .map(|(_, title)| title)
        .collect();
    assert_eq!(named, ["Both once more", "Repeat steps 6 to 7"]);
}

#[test]
fn the_sheet_names_each_procedure_with_its_revision_and_what_was_added() {
    let mut job = fresh_job();
    does(&mut job, takes_on(look_over()));
    does(&mut job, adds(&rail(), "own-1", &[]));
    does(&mut job, reading("own-1", Phase::AsFound, "9.0 V"));
    let report = Report::of(&job, &[], &look());
    let plain = |text: String| text.replace(['\u{2068}', '\u{2069}'], "");
    let sheet = plain(report::html::fragment(&report));
    for said in [
        "Quillmere trainer, short check, revision 3",
        "Look over, revision 2, taken on",
        "Added at the bench",
        "Rail at the driver",
        "Mode FM",
    ] {
        assert!(sheet.contains(said), "{said} in {sheet}");
    }
    let table = report::csv::readings(&job, &look());
    let row = table
        .lines()
        .find(|line| line.contains("Rail at the driver"))
        .unwrap();
    for said in ["Added at the bench", "R47", "FM", "9.0"] {
        assert!(row.contains(said), "{said} in {row}");
    }
    // Where there is but one, nothing is said of several.
    let alone = report::html::fragment(&Report::of(&fresh_job(), &[], &look()));
    assert!(!alone.contains("taken on"));
}

#[test]
fn the_next_visit_knows_a_step_whether_the_job_started_with_it_or_took_it_on() {
    let mut first = fresh_job();
    for deed in good_deeds() {
        does(&mut first, deed);
    }
    let mut second = booked_in();
    does(&mut second, takes_on(procedure()));
    let name = joined(&procedure().id, &id("power"));
    let (earlier, now) = (first.progress(), second.progress());
    let step = now.course.procedure.step(&name).unwrap();
    let standing = now.step(&name).unwrap();
    let told = before([&earlier], &now.course, step, standing).expect("a reading");
    assert_eq!(told.left, q("4.0 W"));
    // And the other way round.
    let step = procedure().step(&id("osc")).unwrap().clone();
    let standing = earlier.step(&step.id).unwrap();
    assert_eq!(before([&now], &earlier.course, &step, standing), None);
}

#[test]
fn a_line_names_what_was_taken_on_and_a_search_finds_it() {
    let mut job = booked_in();
    does(&mut job, takes_on(look_over()));
    let line = Line::of(&job);
    let named: Vec<&str> = line.procedures().map(|name| name.title.as_str()).collect();
    assert_eq!(named, ["Without a procedure", "Look over"]);
    assert!(halfturn::job::Search::of("look over").finds_job(&line));
    does(&mut job, tick_of("look-over/look"));
    assert!(job.progress().is_closed());
}

fn tick_of(step: &str) -> Deed {
    Deed::Answered {
        step: id(step),
        answer: halfturn::job::Finding::Sound,
        note: String::new(),
    }
}

#[test]
fn a_name_that_would_be_too_long_is_made_shorter_and_stays_one_of_its_own() {
    let long = id(&"p".repeat(60));
    let names: Vec<Id> = ["one", "other", "y"]
        .map(|step| joined(&long, &id(step)))
        .to_vec();
    assert!(names.iter().all(|name| name.as_str().chars().count() <= 64));
    assert_ne!(names[0], names[1]);
    assert_eq!(names[0], joined(&long, &id("one")));
    let _ = tick("load");
}

#[test]
fn a_step_of_the_jobs_own_is_put_right_and_what_was_read_is_judged_by_that() {
    let mut job = booked_in();
    let first = does(&mut job, adds(&rail(), "own", &[]));
    does(&mut job, adds(&rail(), "own-2", &[]));
    does(&mut job, reading("own", Phase::AsFound, "9.7 V"));
    let status = |job: &Job| job.progress().step(&id("own")).map(|step| step.status);
    assert_eq!(status(&job), Some(Status::Outside));
    let wider = TypedStep {
        title: "Rail at the driver, unloaded".to_owned(),
        limit: "8.5 to 10".to_owned(),
        ..rail()
    };
    let second = does(&mut job, adds(&wider, "own", &[]));
    assert_eq!(status(&job), Some(Status::Done));
    let names = [
        (1, "Rail at the driver, unloaded".to_owned()),
        (2, "Rail at the driver".to_owned()),
    ];
    assert_eq!(titles(&job), names);
    assert!(job.log.fault(&job.procedure).is_none());
    does(&mut job, undo(&second));
    assert_eq!(status(&job), Some(Status::Outside));
    assert_ne!(first, second);
}

#[test]
fn a_step_keeps_its_kind_unit_and_instrument_and_one_of_a_procedure_stays_as_it_is() {
    let mut job = booked_in();
    does(&mut job, adds(&rail(), "own", &[]));
    does(&mut job, takes_on(look_over()));
    let volts = rail();
    let cases = [
        (
            "own",
            TypedStep {
                scale: "A".parse().ok(),
                limit: String::new(),
                ..volts.clone()
            },
        ),
        (
            "own",
            TypedStep {
                with: "scope".to_owned(),
                ..volts.clone()
            },
        ),
        (
            "own",
            TypedStep {
                kind: OwnKind::Tick,
                ..volts.clone()
            },
        ),
        (
            "look-over/look",
            TypedStep {
                kind: OwnKind::Inspect,
                ..volts.clone()
            },
        ),
    ];
    for (name, typed) in cases {
        let refusal = refused(&mut job, adds(&typed, name, &[]));
        assert_eq!(refusal, Refusal::NotTakenOn(JoinFault::Twice), "{name}");
    }
}

#[test]
fn a_step_that_was_added_is_typed_as_it_stands() {
    for sign in [DecimalSign::Point, DecimalSign::Comma] {
        for limit in [
            "",
            "8.5 to 9.5",
            "13.8 V ± 0.2 V",
            "at least 60",
            "at most 1.20",
            "9 + 0.5 - 0.2",
        ] {
            let limit = limit.replace('.', sign.symbol());
            let typed = TypedStep {
                limit: limit.clone(),
                supply: "13.8 V".to_owned(),
                note: "With the lid off".to_owned(),
                ..rail()
            };
            let read = typed.read(id("own"), Vec::new(), sign).expect("a step");
            let again = TypedStep::of(&read.step, sign);
            let again = again.read(id("own"), Vec::new(), sign);
            assert_eq!(again, Ok(read), "{limit}");
        }
    }
}
