//! At a step: what the set's last visit left, and how far from there it is found now.

mod support;

use halfturn::job::{Before, Deed, Job, Phase, Progress, before};
use halfturn::procedure::Step;
use std::cmp::Ordering;
use support::*;

use Phase::{AsFound, AsLeft};

/// A visit with these entries behind its opening.
fn visit(deeds: Vec<Deed>) -> Progress {
    visit_by(fresh_job(), deeds)
}

fn visit_by(mut job: Job, deeds: Vec<Deed>) -> Progress {
    for (count, deed) in deeds.into_iter().enumerate() {
        job.log.append(stamp(100 + count), deed);
    }
    job.progress()
}

/// What is told at the step `current` in the last of these visits, the others being the latest
/// first.
fn told(earlier: &[Progress], now: &Progress) -> Option<Before> {
    let step = now.course.procedure.step(&id("current")).expect("a step");
    before(
        earlier,
        &now.course,
        step,
        now.step(&step.id).expect("a step"),
    )
}

#[test]
fn a_reading_that_an_earlier_revision_took_in_another_state_is_not_compared() {
    let changed = |change: fn(&mut Step)| {
        let mut procedure = procedure();
        let steps = procedure.sections.iter_mut().flat_map(|it| &mut it.steps);
        steps
            .filter(|step| step.id == id("current"))
            .for_each(change);
        let job = Job::open(id("job-18"), procedure, header(), stamp(1));
        visit_by(job, vec![reading("current", AsLeft, "2.50 mA")])
    };
    let now = visit(vec![reading("current", AsFound, "2.75 mA")]);
    let other_mode = changed(|step| step.set_up.mode = Some("LSB".to_owned()));
    assert_eq!(told(&[other_mode], &now), None);
    let other_words = changed(|step| step.text = "Look twice.".to_owned());
    assert!(told(&[other_words], &now).is_some());
}

#[test]
fn what_the_last_visit_left_stands_beside_what_is_found_with_the_difference() {
    let earlier = [visit(vec![reading("current", AsLeft, "2.50 mA")])];
    for (now, is, apart) in [
        ("2.75 mA", Ordering::Greater, "0.25 mA"),
        ("2.20 mA", Ordering::Less, "0.3 mA"),
        ("2.5 mA", Ordering::Equal, "0 mA"),
    ] {
        let told = told(&earlier, &visit(vec![reading("current", AsFound, now)]));
        let found = told.expect("a visit").found.expect("a reading");
        assert_eq!((found.value, found.is), (q(now), is), "{now}");
        assert_eq!(found.apart.base(), q(apart).base(), "{now}");
    }
}

#[test]
fn nothing_is_told_of_a_step_that_no_visit_left_a_reading_at() {
    let now = visit(vec![reading("current", AsFound, "2.5 mA")]);
    assert_eq!(told(&[], &now), None);
    assert_eq!(told(&[visit(vec![])], &now), None);
}

#[test]
fn a_visit_without_a_reading_gives_way_to_the_one_before_it() {
    let earlier = [
        visit(vec![]),
        visit(vec![reading("current", AsLeft, "2.40 mA")]),
        visit(vec![reading("current", AsLeft, "9.99 mA")]),
    ];
    let told = told(&earlier, &visit(vec![])).expect("a visit");
    assert_eq!((told.left, told.found), (q("2.40 mA"), None));
}

#[test]
fn readings_of_different_units_are_not_compared() {
    let earlier = [visit(vec![reading("current", AsLeft, "2.40 V")])];
    let now = visit(vec![reading("current", AsFound, "2.5 mA")]);
    let told = told(&earlier, &now).expect("a visit");
    assert_eq!((told.left, told.found), (q("2.40 V"), None));
}

#[test]
fn a_reading_that_was_struck_out_was_not_left() {
    let mut job: Job = fresh_job();
    let slip = job
        .log
        .append(stamp(100), reading("current", AsLeft, "24.0 mA"));
    let (step, reason) = (id("current"), "slip".to_owned());
    job.log.append(
        stamp(101),
        Deed::Struck {
            step,
            reading: slip,
            reason,
        },
    );
    let visits = [job.progress()];
    assert_eq!(told(&visits, &visit(vec![])), None);
}
