//! What stays open when one goes away from a step: nothing is left silently.

mod support;

use halfturn::job::{Deed, Job, Phase, Tool, Unfinished};
use support::*;

fn open(job: &Job, step: &str, typed: &str) -> Option<Unfinished> {
    let progress = job.progress();
    let standing = progress.step(&id(step)).expect("a step of the procedure");
    let step = job.procedure.step(&id(step)).expect("the same step");
    Unfinished::of(step, standing, typed)
}

fn to_the_oscillator() -> Job {
    job_with(good_deeds().into_iter().take(4))
}

#[test]
fn what_is_typed_and_not_entered_stays_open_whatever_the_step() {
    let job = fresh_job();
    let typed = Some(Unfinished::Typed("0.4".to_owned()));
    assert_eq!(open(&job, "osc", " 0.4 "), typed);
    assert_eq!(open(&job, "look", "0.4"), typed);
    assert_eq!(open(&job, "look", "  "), None);
}

#[test]
fn a_stop_stays_open_until_it_is_confirmed_and_again_after_a_break() {
    let mut job = fresh_job();
    let unconfirmed = |lapsed| Some(Unfinished::Unconfirmed { lapsed });
    assert_eq!(open(&job, "load", ""), unconfirmed(false));
    does(&mut job, tick("load"));
    assert_eq!(open(&job, "load", ""), None);
    does(&mut job, Deed::Paused);
    assert_eq!(open(&job, "load", ""), unconfirmed(true));
}

#[test]
fn a_reading_inside_stays_open_until_it_is_recorded_as_left() {
    let mut job = to_the_oscillator();
    assert_eq!(open(&job, "osc", ""), None);
    does(&mut job, reading("osc", Phase::AsFound, "10.24001 MHz"));
    let said = open(&job, "osc", "");
    let Some(Unfinished::NotLeft(last)) = said else {
        panic!("{said:?}");
    };
    assert_eq!(last.value, q("10.24001 MHz"));
    does(&mut job, as_left("osc", "10.24001 MHz"));
    assert_eq!(open(&job, "osc", ""), None);
}

#[test]
fn a_reading_outside_or_with_the_tool_in_is_not_offered_to_be_left() {
    let mut job = to_the_oscillator();
    let is_begun = |job: &Job| matches!(open(job, "osc", ""), Some(Unfinished::Begun { .. }));
    does(&mut job, reading("osc", Phase::Try, "10.24100 MHz"));
    assert!(is_begun(&job));
    let pulled = Deed::Reading {
        step: id("osc"),
        phase: Phase::Try,
        value: q("10.24001 MHz"),
        tool: Some(Tool::In),
        repeat: false,
        heard: None,
    };
    does(&mut job, pulled);
    assert!(is_begun(&job));
}

#[test]
fn a_plain_reading_settles_by_itself() {
    let job = job_with(good_deeds());
    assert_eq!(open(&job, "power", ""), None);
    assert_eq!(open(&job, "close", ""), None);
}

#[test]
fn a_step_that_is_waived_leaves_nothing_open() {
    let mut job = to_the_oscillator();
    does(&mut job, reading("osc", Phase::AsFound, "10.24001 MHz"));
    does(&mut job, waive("osc", "not agreed"));
    assert_eq!(open(&job, "osc", ""), None);
}
