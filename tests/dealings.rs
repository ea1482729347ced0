//! Parts from the want to the fitting, what the owner is asked, and who took the set home: where a
//! job stands in the lists follows from them.

mod support;

use halfturn::exchange::report::{self, Report};
use halfturn::job::{
    Awaits, Change, Deed, Job, Line, PartDue, PartRecord, PartState, Refusal, ordered_together,
};
use halfturn::procedure::Id;
use support::{does, fresh_job, good_deeds, id, look, sign_off, stamp, undo};

fn part(state: PartState) -> PartRecord {
    PartRecord {
        what: "Electrolytic 470 µF".to_owned(),
        number: "EL-470".to_owned(),
        count: 2,
        state,
        ..PartRecord::default()
    }
}

fn notes(first: Option<&Id>, part: PartRecord) -> Deed {
    Deed::PartNoted {
        first: first.cloned(),
        part: Box::new(part),
    }
}

fn asks() -> Deed {
    Deed::OwnerAsked {
        question: "Renew the capacitor?".to_owned(),
    }
}

fn refused(job: &mut Job, deed: Deed) -> Refusal {
    let next = stamp(job.log.len() + 1);
    job.record(next, deed).expect_err("a refusal")
}

fn collected() -> Deed {
    Deed::Collected {
        by: "The owner".to_owned(),
    }
}

fn finished() -> Job {
    let mut job = support::job_with(good_deeds());
    does(&mut job, sign_off("Bench 1"));
    job
}

#[test]
fn a_job_waits_for_a_part_from_its_order_until_it_is_here_or_dropped() {
    for (state, waits, due) in [
        (PartState::Needed, false, true),
        (PartState::Ordered, true, true),
        (PartState::Here, false, false),
        (PartState::Dropped, false, false),
    ] {
        let mut job = fresh_job();
        does(&mut job, notes(None, part(state)));
        let line = Line::of(&job);
        assert_eq!(line.awaits == [Awaits::Parts], waits, "{state:?}");
        assert_eq!(!line.parts_due.is_empty(), due, "{state:?}");
    }
}

#[test]
fn a_part_is_fitted_by_the_change_that_names_it_and_by_nothing_else() {
    let mut job = fresh_job();
    let wanted = does(&mut job, notes(None, part(PartState::Ordered)));
    let changed = |part: Option<&Id>| Deed::Changed {
        first: None,
        step: None,
        change: Box::new(Change {
            fitted: "Electrolytic 470 µF".to_owned(),
            part: part.cloned(),
            ..Change::default()
        }),
    };
    does(&mut job, changed(None));
    assert_eq!(job.progress().parts_due().count(), 1);
    let fitting = does(&mut job, changed(Some(&wanted)));
    assert_eq!(job.progress().parts_due().count(), 0);
    assert_eq!(job.progress().awaits(), []);
    does(&mut job, undo(&fitting));
    assert_eq!(job.progress().awaits(), [Awaits::Parts]);
}

#[test]
fn a_later_entry_takes_the_place_of_what_was_said_of_a_part() {
    let mut job = fresh_job();
    let first = does(&mut job, notes(None, part(PartState::Needed)));
    does(&mut job, notes(Some(&first), part(PartState::Ordered)));
    let line = Line::of(&job);
    let due = PartDue {
        what: "Electrolytic 470 µF".to_owned(),
        number: "EL-470".to_owned(),
        count: 2,
        ordered: true,
    };
    assert_eq!(line.parts_due, [due]);
    let nowhere = id("nowhere");
    let entry = notes(Some(&nowhere), part(PartState::Here));
    assert_eq!(refused(&mut job, entry), Refusal::NoEntry);
    let blank = notes(None, PartRecord::default());
    assert_eq!(refused(&mut job, blank), Refusal::Blank("what is wanted"));
}

#[test]
fn a_job_waits_for_the_owner_from_the_question_to_the_answer() {
    let mut job = fresh_job();
    let asked = does(&mut job, asks());
    assert_eq!(Line::of(&job).awaits, [Awaits::Owner]);
    let answer = |asked: &Id| Deed::OwnerAnswered {
        asked: asked.clone(),
        answer: "Yes, up to 40".to_owned(),
    };
    assert_eq!(refused(&mut job, answer(&id("nowhere"))), Refusal::NoEntry);
    does(&mut job, answer(&asked));
    assert_eq!(Line::of(&job).awaits, []);
}

#[test]
fn a_set_is_collected_once_its_job_is_finished_and_a_job_taken_up_again_has_it_back() {
    let mut job = fresh_job();
    assert_eq!(refused(&mut job, collected()), Refusal::NotFinished);
    let mut job = finished();
    assert_eq!(Line::of(&job).collected, None);
    let home = does(&mut job, collected());
    assert_eq!(Line::of(&job).collected.unwrap().by, "The owner");
    let mut slip = job.clone();
    does(&mut slip, undo(&home));
    assert_eq!(Line::of(&slip).collected, None);
    assert!(slip.progress().signed_off.is_some());
    does(&mut job, support::reopen("Came back"));
    assert_eq!(Line::of(&job).collected, None);
}

#[test]
fn a_stop_does_not_hold_any_more_once_the_set_was_away() {
    let holds = |job: &Job| job.progress().step(&id("load")).unwrap().holds;
    let mut stayed = finished();
    let mut went = finished();
    does(&mut went, collected());
    for job in [&mut stayed, &mut went] {
        does(job, support::reopen("Came back"));
    }
    assert!(holds(&stayed));
    assert!(!holds(&went));
    let again = support::reading("power", halfturn::job::Phase::AsLeft, "4.0 W");
    assert_eq!(refused(&mut went, again), Refusal::BehindLapsed(4));
}

#[test]
fn a_collection_stays_on_the_sheet_when_the_job_is_taken_up_again() {
    let mut job = finished();
    does(&mut job, collected());
    does(&mut job, support::reopen("Came back"));
    let html = report::html::fragment(&Report::of(&job, &[], &look()));
    let html = html.replace(['\u{2068}', '\u{2069}'], "");
    assert!(html.contains("Collected by The owner."), "{html}");
}

#[test]
fn nothing_else_is_written_into_a_finished_job() {
    let mut job = finished();
    assert_eq!(refused(&mut job, asks()), Refusal::SignedOff);
    let entry = notes(None, part(PartState::Needed));
    assert_eq!(refused(&mut job, entry), Refusal::SignedOff);
}

#[test]
fn the_sheet_says_what_was_asked_and_answered_what_is_still_to_come_and_who_collected() {
    let mut job = fresh_job();
    let asked = does(&mut job, asks());
    does(&mut job, notes(None, part(PartState::Ordered)));
    let sheet = |job: &Job| {
        let html = report::html::fragment(&Report::of(job, &[], &look()));
        html.replace(['\u{2068}', '\u{2069}'], "")
            .replace('\u{a0}', " ")
    };
    let open = sheet(&job);
    for said in [
        "Renew the capacitor?",
        "not answered",
        "Electrolytic 470 µF",
        "EL-470",
        "ordered",
    ] {
        assert!(open.contains(said), "{said}");
    }
    let answered = Deed::OwnerAnswered {
        asked,
        answer: "Yes, up to 40".to_owned(),
    };
    does(&mut job, answered);
    assert!(sheet(&job).contains("Yes, up to 40"));
    for deed in good_deeds() {
        does(&mut job, deed);
    }
    does(&mut job, sign_off("Bench 1"));
    assert!(!sheet(&job).contains("Collected"));
    does(&mut job, collected());
    assert!(sheet(&job).contains("Collected"));
}

#[test]
fn what_is_to_be_ordered_under_one_number_is_added_up_however_it_is_written() {
    let due = |number: &str, count, ordered| PartDue {
        what: "Electrolytic 470 µF".to_owned(),
        number: number.to_owned(),
        count,
        ordered,
    };
    let all = [
        due("EL-470", 2, false),
        due("el-470 ", 3, false),
        due("EL 470", 1, false),
        due("EL-470", 9, true),
        due("", 5, false),
        due("", 5, false),
        due("TR-1", 1, false),
    ];
    let sums: Vec<_> = ordered_together(&all)
        .into_iter()
        .map(|it| (it.number, it.count, it.rows))
        .collect();
    assert_eq!(sums, [("EL-470".to_owned(), 5, 2)]);
}

#[test]
fn a_change_is_put_right_by_a_later_entry_and_undone_it_stands_as_it_did() {
    let mut job = fresh_job();
    let wanted = does(&mut job, notes(None, part(PartState::Here)));
    let fits = |first: Option<&Id>, fitted: &str, price: &str| Deed::Changed {
        first: first.cloned(),
        step: None,
        change: Box::new(Change {
            fitted: fitted.to_owned(),
            price: price.parse().ok(),
            part: Some(wanted.clone()),
            ..Change::default()
        }),
    };
    let first = does(&mut job, fits(None, "Electrolytic 470 nF", "0.35"));
    let at = job.progress().changes[0].at;
    let second = does(&mut job, fits(Some(&first), "Electrolytic 470 µF", "0.53"));
    let progress = job.progress();
    let now: Vec<_> = progress
        .changes
        .iter()
        .map(|it| (it.name.clone(), it.change.fitted.as_str(), it.at))
        .collect();
    assert_eq!(now, [(first.clone(), "Electrolytic 470 µF", at)]);
    assert!(progress.fitted(&wanted).is_some());
    assert_eq!(report::cost::total(&job).to_string(), "0.53");
    does(&mut job, undo(&second));
    assert_eq!(
        job.progress().changes[0].change.fitted,
        "Electrolytic 470 nF"
    );
    let unknown = refused(&mut job, fits(Some(&id("nothing")), "Fuse", "1"));
    assert_eq!(unknown, Refusal::NoEntry);
}
