//! What a job promises: a log that merges whatever the clocks say, and progress that follows
//! from it.

mod support;

use halfturn::job::{Deed, Event, Job, Log, LogFault, Phase, Progress, Refusal, Status};
use halfturn::metrology::Place;
use halfturn::procedure::TargetFault;
use proptest::prelude::*;
use std::collections::HashSet;
use std::sync::Arc;
use support::*;

fn status(job: &Job, step: &str) -> Status {
    standing(&job.progress(), step).status
}

fn standing<'a>(progress: &'a Progress, step: &str) -> &'a halfturn::job::StepProgress {
    progress.step(&id(step)).expect("a step of the procedure")
}

fn refusal(job: &Job, deed: Deed) -> Option<Refusal> {
    let mut copy = job.clone();
    copy.record(stamp(999), deed).err()
}

/// Progress with every time in it set to nought.
fn timeless(mut progress: Progress) -> Progress {
    progress.span = None;
    progress.notes.iter_mut().for_each(|note| note.at = 0);
    progress.photos.iter_mut().for_each(|photo| photo.at = 0);
    let ended = progress.signed_off.iter_mut();
    let ended = ended.chain(&mut progress.ended_before);
    ended.for_each(|end| end.at = 0);
    progress.reopened.iter_mut().for_each(|note| note.at = 0);
    for step in &mut progress.steps {
        step.readings
            .iter_mut()
            .for_each(|taken| Arc::make_mut(taken).at = 0);
        let groups = step.found.iter_mut().chain(&mut step.left);
        groups.for_each(|group| group.at = 0);
        step.wait_begun.iter_mut().for_each(|at| *at = 0);
        step.ticked.iter_mut().for_each(|at| *at = 0);
        step.answer.iter_mut().for_each(|answer| answer.at = 0);
        step.waived.iter_mut().for_each(|note| note.at = 0);
        step.notes.iter_mut().for_each(|note| note.at = 0);
    }
    progress
}

fn without_span(mut progress: Progress) -> Progress {
    progress.span = None;
    progress
}

// Merging

proptest! {
    #![proptest_config(cases(64))]

    #[test]
    fn copies_of_a_log_merge_in_any_order_to_the_same(
        common in drafts(8), a in drafts(6), b in drafts(6), c in drafts(6),
    ) {
        let common = written(&fresh_job().log, "common", &common);
        let a = written(&common, "a", &a);
        let b = written(&common, "b", &b);
        let c = written(&common, "c", &c);
        prop_assert_eq!(a.merge(&b), b.merge(&a));
        prop_assert_eq!(a.merge(&b).merge(&c), a.merge(&b.merge(&c)));
        prop_assert_eq!(a.merge(&a), a.clone());
        prop_assert_eq!(a.merge(&common), a.clone());
        prop_assert_eq!(a.merge(&b).merge(&b), a.merge(&b));
    }

    #[test]
    fn merging_loses_and_invents_nothing(common in drafts(6), a in drafts(6), b in drafts(6)) {
        let common = written(&fresh_job().log, "common", &common);
        let here = written(&common, "a", &a);
        let there = written(&common, "b", &b);
        let merged = here.merge(&there);
        prop_assert_eq!(merged.len(), common.len() + a.len() + b.len());
        prop_assert_eq!(merged.lacks(&here) + merged.lacks(&there), 0);
        prop_assert_eq!(here.lacks(&there), b.len());
    }

    /// Only damaged or forged files give two events one id.
    #[test]
    fn of_copies_that_disagree_about_an_event_the_one_here_stays_however_they_are_grouped(
        a in drafts(6), b in drafts(6), c in drafts(6),
    ) {
        let [a, b, c] = [a, b, c].map(|drafts| written(&Log::default(), "same", &drafts));
        let merged = a.merge(&b);
        for event in a.events() {
            prop_assert!(merged.events().any(|other| other == event));
        }
        let there = |event| b.events().find(|other| other.id == event);
        for (here, other) in a.clashes(&b) {
            prop_assert!(here != other && there(here.id.clone()) == Some(other));
        }
        prop_assert_eq!(a.clashes(&merged), vec![]);
        prop_assert_eq!(a.merge(&b).merge(&c), a.merge(&b.merge(&c)));
        prop_assert!(Log::from_events(a.merge(&b).events().cloned()).is_ok());
    }

    #[test]
    fn no_clock_changes_what_merging_gives(
        common in drafts(6), a in drafts(6), b in drafts(6), skew in any::<i64>(),
    ) {
        let common = written(&fresh_job().log, "common", &common);
        let a = written(&common, "a", &a);
        let b = written(&common, "b", &b);
        let merged = |a: &Log, b: &Log| {
            let log = a.merge(b);
            let order: Vec<_> = log.events().map(|event| event.id.clone()).collect();
            (order, timeless(Progress::of(&procedure().into(), &log)))
        };
        let stopped = |log: &Log| with_times(log, |_| 0);
        let wrong = |log: &Log| with_times(log, |at| skew.wrapping_sub(at));
        prop_assert_eq!(merged(&a, &b), merged(&stopped(&a), &stopped(&b)));
        prop_assert_eq!(merged(&a, &b), merged(&wrong(&a), &wrong(&b)));
    }

    #[test]
    fn the_order_in_which_events_arrive_does_not_matter(
        (sorted, shuffled) in drafts(12).prop_flat_map(|drafts| {
            let log = written(&fresh_job().log, "a", &drafts);
            let events: Vec<_> = log.events().cloned().collect();
            (Just(log), Just(events).prop_shuffle())
        }),
    ) {
        prop_assert_eq!(Log::from_events(shuffled), Ok(sorted));
    }
}

// Replay

proptest! {
    #![proptest_config(cases(64))]

    #[test]
    fn every_beginning_of_a_log_can_be_replayed(drafts in drafts(20)) {
        let log = written(&Log::default(), "a", &drafts);
        for length in 0..=log.len() {
            let beginning = Log::from_events(log.events().take(length).cloned());
            let progress = Progress::of(&procedure().into(), &beginning.expect("a log"));
            prop_assert_eq!(progress.steps.len(), 12);
            prop_assert_eq!(progress.settled() + progress.owed().count(), 12);
        }
    }

    #[test]
    fn undoing_the_last_event_gives_what_was_before(
        past in drafts(20), next in drafts(4),
    ) {
        let mut job = worked_job();
        record_allowed(&mut job, "a", &past);
        for draft in next {
            let before = without_span(job.progress());
            let deed = draft.deed(&job.log);
            let can_be_undone = deed.can_be_undone();
            let recorded = job.record(draft.stamp("b", &job.log), deed);
            let (Ok(event), true) = (recorded, can_be_undone) else {
                continue;
            };
            let mut trial = job.clone();
            let taken_back = trial.record(stamp(900), undo(&event));
            prop_assert!(taken_back.is_ok(), "{:?}", taken_back);
            prop_assert_eq!(without_span(trial.progress()), before);
        }
    }

    #[test]
    fn undo_upon_undo_leads_back_to_the_start(past in drafts(12)) {
        let mut job = fresh_job();
        record_allowed(&mut job, "a", &past);
        let written = job.log.len();
        while let Some(last) = job.last_undoable().map(|event| event.id.clone()) {
            does(&mut job, undo(&last));
        }
        prop_assert!(job.log.len() >= written);
        prop_assert_eq!(timeless(job.progress()), timeless(fresh_job().progress()));
    }

    #[test]
    fn a_finished_job_owes_nothing_whatever_was_recorded_and_undone(past in drafts(24)) {
        let mut job = finished_job();
        for draft in past {
            record_allowed(&mut job, "a", &[draft]);
            let progress = job.progress();
            prop_assert!(progress.signed_off.is_none() || progress.current().is_none());
        }
    }
}

// Steps

#[test]
fn every_kind_of_step_opens_is_done_and_is_counted() {
    let mut job = fresh_job();
    assert_eq!(job.progress().settled(), 0);
    for (index, deed) in good_deeds().into_iter().enumerate() {
        let progress = job.progress();
        let current = progress.current().map(|step| step.number);
        assert_eq!(current, Some(index + 1));
        does(&mut job, deed);
        assert_eq!(job.progress().settled(), index + 1);
    }
    assert_eq!(job.progress().current(), None);
}

#[test]
fn a_reading_outside_is_owed_until_it_is_corrected() {
    let mut job = worked_job();
    does(&mut job, as_left("power", "4.5 W"));
    assert_eq!(status(&job, "power"), Status::Outside);
    assert_eq!(job.progress().owed().count(), 1);
    does(&mut job, as_left("power", "4.2 W"));
    assert_eq!(status(&job, "power"), Status::Done);
}

#[test]
fn a_reading_on_the_limit_is_inside() {
    for (step, value, expected) in [
        ("power", "3.6 W", Status::Done),
        ("power", "3600 mW", Status::Done),
        ("power", "3.599999 W", Status::Outside),
        ("power", "4.40 W", Status::Done),
        ("power", "4.400001 W", Status::Outside),
        ("leak", "0.020 V p-p", Status::Done),
        ("leak", "20.1 mV p-p", Status::Outside),
        ("osc", "10.24002 MHz", Status::Done),
        ("osc", "10239980 Hz", Status::Done),
        ("osc", "10239979.9 Hz", Status::Outside),
    ] {
        let mut job = worked_job();
        does(&mut job, as_left(step, value));
        assert_eq!(status(&job, step), expected, "{step} {value}");
    }
}

#[test]
fn an_adjustment_is_done_only_while_its_last_reading_is_as_left() {
    let mut job = worked_job();
    for (phase, expected) in [
        (Phase::AsFound, Status::Open),
        (Phase::Try, Status::Open),
        (Phase::AsLeft, Status::Done),
        (Phase::Try, Status::Open),
        (Phase::AsLeft, Status::Done),
    ] {
        does(&mut job, reading("osc", phase, "10.24000 MHz"));
        assert_eq!(status(&job, "osc"), expected, "{phase:?}");
    }
}

/// All but the power is done.
fn power_is_due() -> Job {
    let of_power = |deed: &Deed| matches!(deed, Deed::Reading { step, .. } if *step == id("power"));
    job_with(good_deeds().into_iter().filter(|deed| !of_power(deed)))
}

#[test]
fn a_plain_reading_counts_in_any_phase() {
    for phase in [Phase::AsFound, Phase::Try, Phase::AsLeft] {
        let mut job = power_is_due();
        does(&mut job, reading("power", phase, "4.1 W"));
        assert_eq!(status(&job, "power"), Status::Done, "{phase:?}");
    }
}

#[test]
fn once_something_was_read_as_left_only_another_reading_as_left_takes_its_place() {
    let mut job = power_is_due();
    for (phase, value, expected) in [
        (Phase::AsFound, "4.0 W", Status::Done),
        (Phase::AsLeft, "5.0 W", Status::Outside),
        (Phase::AsFound, "4.0 W", Status::Open),
        (Phase::AsLeft, "4.0 W", Status::Done),
        (Phase::AsFound, "4.0 W", Status::Open),
    ] {
        does(&mut job, reading("power", phase, value));
        assert_eq!(status(&job, "power"), expected, "{phase:?} {value}");
    }
}

#[test]
fn a_reading_for_the_record_has_no_verdict_and_is_done() {
    let progress = worked_job().progress();
    let current = standing(&progress, "current");
    assert_eq!(current.status, Status::Done);
    assert_eq!(current.readings[0].verdict, None);
}

/// The last reading once more, with nothing changed in between.
fn again(step: &str, phase: Phase, value: &str) -> Deed {
    Deed::Reading {
        step: id(step),
        phase,
        value: q(value),
        tool: None,
        repeat: true,
        heard: None,
    }
}

#[test]
fn a_repeat_outside_holds_the_step_whatever_the_mean_of_all() {
    // 3.6 W to 4.4 W; each mean lies inside.
    for (values, expected) in [
        (["4.0 W", "4.2 W", "3.8 W"], Status::Done),
        (["4.0 W", "4.5 W", "4.0 W"], Status::Outside),
        (["4.5 W", "4.0 W", "4.0 W"], Status::Outside),
        (["4.0 W", "4.0 W", "3.5 W"], Status::Outside),
    ] {
        for phase in [Phase::AsFound, Phase::AsLeft] {
            let mut job = power_is_due();
            does(&mut job, reading("power", phase, values[0]));
            for value in &values[1..] {
                does(&mut job, again("power", phase, value));
            }
            assert_eq!(status(&job, "power"), expected, "{values:?} {phase:?}");
        }
    }
    let mut job = worked_job();
    does(&mut job, as_left("power", "4.0 W"));
    let slip = does(&mut job, again("power", Phase::AsLeft, "4.5 W"));
    let progress = job.progress();
    let left = standing(&progress, "power").left.clone().expect("a group");
    assert_eq!((left.value, left.judged), (q("4.2 W"), q("4.5 W")));
    let strike = Deed::Struck {
        step: id("power"),
        reading: slip,
        reason: "The lead slipped".to_owned(),
    };
    let struck = does(&mut job, strike);
    assert_eq!(status(&job, "power"), Status::Done, "a slip does not count");
    does(&mut job, undo(&struck));
    does(&mut job, as_left("power", "4.1 W"));
    assert_eq!(
        status(&job, "power"),
        Status::Done,
        "put right and read anew"
    );
}

#[test]
fn repeats_as_found_are_one_group_like_those_as_left() {
    let found = |deeds: Vec<Deed>| {
        let progress = job_with(good_deeds().into_iter().take(4).chain(deeds)).progress();
        let found = standing(&progress, "osc").found.clone().expect("a group");
        let place = found.verdict.expect("a verdict").place;
        (found.value, found.readings.len(), place)
    };
    let as_found = |value: &str| reading("osc", Phase::AsFound, value);
    let again = |value: &str| again("osc", Phase::AsFound, value);
    for (deeds, value, count, place) in [
        (
            vec![as_found("10.24001 MHz")],
            "10.24001 MHz",
            1,
            Place::Inside,
        ),
        (
            vec![as_found("10.24001 MHz"), again("10.23999 MHz")],
            "10.24000 MHz",
            2,
            Place::Inside,
        ),
        (
            vec![
                as_found("10.24001 MHz"),
                again("10.23990 MHz"),
                again("10.24000 MHz"),
            ],
            "10.23997 MHz",
            3,
            Place::Low,
        ),
        // Turning it ends the group, and so does reading it anew.
        (
            vec![
                as_found("10.24001 MHz"),
                reading("osc", Phase::Try, "10.2410 MHz"),
                again("10.24003 MHz"),
            ],
            "10.24001 MHz",
            1,
            Place::Inside,
        ),
        (
            vec![as_found("10.24001 MHz"), as_found("10.25000 MHz")],
            "10.24001 MHz",
            1,
            Place::Inside,
        ),
    ] {
        let expected = (q(value), count, place);
        assert_eq!(found(deeds.clone()), expected, "{deeds:?}");
    }
}

#[test]
fn the_next_phase_is_the_likely_one_and_no_repeat_changes_it() {
    use Phase::{AsFound, AsLeft, Try};
    const IN: &str = "10.24000 MHz";
    const OUT: &str = "10.24100 MHz";
    for (step, taken, expected) in [
        ("osc", vec![], AsFound),
        ("osc", vec![(AsFound, IN, false)], Try),
        (
            "osc",
            vec![(AsFound, OUT, false), (AsFound, OUT, true)],
            Try,
        ),
        ("osc", vec![(Try, IN, false)], Try),
        ("osc", vec![(AsLeft, IN, false)], AsLeft),
        ("osc", vec![(AsLeft, OUT, false)], Try),
        ("osc", vec![(AsLeft, IN, false), (AsLeft, IN, true)], AsLeft),
        (
            "osc",
            vec![(AsLeft, IN, false), (AsLeft, OUT, true)],
            AsLeft,
        ),
        ("osc", vec![(AsLeft, OUT, false), (AsLeft, OUT, true)], Try),
        (
            "osc",
            vec![(AsLeft, IN, false), (AsLeft, OUT, true), (Try, IN, false)],
            Try,
        ),
        ("power", vec![], AsFound),
        ("power", vec![(AsFound, "4 W", false)], AsLeft),
        (
            "power",
            vec![(AsFound, "4 W", false), (AsFound, "5 W", true)],
            AsLeft,
        ),
        ("power", vec![(AsLeft, "5 W", false)], AsLeft),
    ] {
        let before = good_deeds().into_iter().filter(
            |deed| !matches!(deed, Deed::Reading { step: other, .. } if *other == id(step)),
        );
        let mut job = job_with(before);
        for (phase, value, repeat) in &taken {
            let deed = match repeat {
                true => again(step, *phase, value),
                false => reading(step, *phase, value),
            };
            does(&mut job, deed);
        }
        let work = &job.procedure.step(&id(step)).expect("a step").work;
        let next = standing(&job.progress(), step).next_phase(work);
        assert_eq!(next, expected, "{step} {taken:?}");
    }
}

#[test]
fn a_peak_is_the_largest_and_a_dip_the_smallest_reading_in_any_prefix() {
    let mut job = worked_job();
    for value in ["2.6 V p-p", "900 mV p-p", "2.5 V p-p"] {
        does(&mut job, reading("drive", Phase::Try, value));
        does(&mut job, reading("leak", Phase::Try, value));
    }
    let progress = job.progress();
    for (step, best) in [("drive", "2.6 V p-p"), ("leak", "12 mV p-p")] {
        let work = &job.procedure.step(&id(step)).expect("a step").work;
        let found = standing(&progress, step).best(work);
        assert_eq!(found.map(|taken| taken.value.clone()), Some(q(best)));
    }
}

#[test]
fn a_target_relative_to_a_step_follows_its_reading() {
    let mut job = worked_job();
    assert_eq!(status(&job, "mixed"), Status::Done);
    does(&mut job, as_left("osc", "10.23998 MHz"));
    assert_eq!(status(&job, "mixed"), Status::Outside);
    does(&mut job, as_left("mixed", "1.23998 MHz"));
    assert_eq!(status(&job, "mixed"), Status::Done);
    does(&mut job, reading("osc", Phase::Try, "10.2400 MHz"));
    assert_eq!(status(&job, "mixed"), Status::Open, "it waits again");
    let progress = job.progress();
    assert_eq!(
        standing(&progress, "mixed").tolerance,
        Some(Err(TargetFault::Waiting(id("osc"))))
    );
}

// Waiving

#[test]
fn a_waived_step_is_settled_until_a_new_reading_speaks_for_itself() {
    let mut job = worked_job();
    does(&mut job, as_left("power", "5 W"));
    let waiver = does(&mut job, waive("power", "Owner wants it so"));
    assert_eq!(status(&job, "power"), Status::Waived);
    does(&mut job, undo(&waiver));
    assert_eq!(status(&job, "power"), Status::Outside);
    does(&mut job, waive("power", "Owner insists"));
    let outside = does(&mut job, as_left("power", "6 W"));
    assert_eq!(status(&job, "power"), Status::Outside);
    does(&mut job, undo(&outside));
    assert_eq!(status(&job, "power"), Status::Waived);
    does(&mut job, as_left("power", "4 W"));
    assert_eq!(status(&job, "power"), Status::Done);
}

#[test]
fn a_waived_step_that_is_done_after_all_is_done() {
    for (step, deed) in [("look", answer("look")), ("lead", tick("lead"))] {
        let mut job = job_with([waive(step, "Seen last week")]);
        assert_eq!(status(&job, step), Status::Waived);
        does(&mut job, deed);
        assert_eq!(status(&job, step), Status::Done);
    }
}

// Stops

#[test]
fn a_stop_keeps_the_steps_after_it_shut_until_it_is_confirmed() {
    let behind = |job: &Job| -> Vec<Option<usize>> {
        let progress = job.progress();
        progress.steps.iter().map(|step| step.behind).collect()
    };
    let mut job = fresh_job();
    assert_eq!(behind(&job)[..4], [None; 4]);
    assert_eq!(behind(&job)[4..], [Some(4); 8]);
    let confirmed = does(&mut job, tick("load"));
    assert_eq!(behind(&job)[..9], [None; 9]);
    assert_eq!(behind(&job)[9..], [Some(9); 3]);
    does(&mut job, undo(&confirmed));
    assert_eq!(behind(&job)[4..], [Some(4); 8]);
}

#[test]
fn a_stop_that_a_file_claims_to_be_waived_is_owed_all_the_same() {
    let mut job = fresh_job();
    job.log.append(stamp(2), waive("load", "In a hurry"));
    let progress = job.progress();
    assert_eq!(standing(&progress, "load").status, Status::Open);
    assert_eq!(standing(&progress, "osc").behind, Some(4));
}

// Refusals

#[test]
fn what_cannot_be_done_now_is_refused_with_a_sentence_and_not_written() {
    let fresh = fresh_job();
    let worked = worked_job();
    let finished = finished_job();
    let one_left = job_with(good_deeds().into_iter().skip(1));
    let finished_sentence = "This job is finished: reopen it to change anything";
    let table = [
        (&finished, as_left("power", "4 W"), finished_sentence),
        (&finished, note(None, "late"), finished_sentence),
        (&finished, Deed::Amended(header().into()), finished_sentence),
        (&finished, sign_off("Someone else"), finished_sentence),
        (&finished, undo(&id("e5")), finished_sentence),
        (
            &fresh,
            reopen("why not"),
            "This job is still in hand: there is nothing to reopen",
        ),
        (
            &fresh,
            as_left("osc", "10.24 MHz"),
            "Locked until hold point 4 is confirmed: go there first",
        ),
        (
            &fresh,
            tick("hot"),
            "Locked until hold point 4 is confirmed: go there first",
        ),
        (
            &fresh,
            tick("polish"),
            "There is no step “polish” in this job's procedure",
        ),
        (
            &fresh,
            note(Some("polish"), "shine"),
            "There is no step “polish” in this job's procedure",
        ),
        (
            &fresh,
            tick("look"),
            "This is a step of the kind “inspect”: it takes another answer",
        ),
        (
            &worked,
            answer("power"),
            "This is a step of the kind “read”: it takes another answer",
        ),
        (
            &worked,
            as_left("close", "4 W"),
            "This is a step of the kind “tick”: it takes another answer",
        ),
        (
            &worked,
            as_left("osc", "5 V"),
            "The reading is in V, but the step wants Hz: check the instrument and its range",
        ),
        (
            &worked,
            as_left("drive", "2 V rms"),
            "The reading is in V rms, but the step wants V p-p: check the instrument and its range",
        ),
        (
            &fresh,
            waive("load", "in a hurry"),
            "A hold point is there for safety and can't be waived: confirm it",
        ),
        (&fresh, waive("look", "  "), "Type the reason first"),
        (&finished, reopen(""), "Type the reason first"),
        (&fresh, note(None, "\n"), "Type the note first"),
        (
            &worked,
            sign_off(" "),
            "Type the name of who signs off first",
        ),
        (
            &one_left,
            sign_off("Quillmere bench"),
            "One step is still open: do it, or waive it with a reason",
        ),
        (
            &fresh,
            sign_off("Quillmere bench"),
            "12 steps are still open: do them, or waive each with a reason",
        ),
        (&fresh, undo(&id("e1")), "There is nothing left to undo"),
        (&fresh, undo(&id("e77")), "There is nothing left to undo"),
    ];
    for (job, deed, sentence) in table {
        let mut copy = job.clone();
        let refused = copy.record(stamp(99), deed.clone());
        let said = refused.map_err(|refusal| refusal.to_string());
        assert_eq!(said, Err(sentence.to_owned()), "{deed:?}");
        assert_eq!(copy, *job, "{deed:?}");
    }
}

#[test]
fn the_same_event_is_not_undone_twice() {
    let mut job = job_with([answer("look")]);
    let answered = id("e2");
    does(&mut job, undo(&answered));
    assert_eq!(refusal(&job, undo(&answered)), Some(Refusal::NothingToUndo));
}

// Finishing

#[test]
fn a_job_with_every_step_done_or_waived_is_signed_off_reopened_and_signed_off_again() {
    let mut job = job_with(good_deeds().into_iter().skip(1));
    does(&mut job, waive("look", "Seen last week"));
    let end = does(&mut job, sign_off("Quillmere bench"));
    assert_eq!(
        job.progress().signed_off.map(|end| end.by),
        Some("Quillmere bench".to_owned())
    );
    does(&mut job, undo(&end));
    assert_eq!(job.progress().signed_off, None);
    does(&mut job, sign_off("Quillmere bench"));
    does(&mut job, reopen("A screw was left over"));
    assert_eq!(job.progress().signed_off, None);
    does(&mut job, sign_off("Quillmere bench"));
    assert!(job.progress().signed_off.is_some());
}

#[test]
fn an_undo_does_not_bring_a_sign_off_back_while_steps_are_owed() {
    let mut job = finished_job();
    let reopened = does(&mut job, reopen("Smoke"));
    does(&mut job, as_left("power", "0.1 W"));
    assert_eq!(refusal(&job, undo(&reopened)), Some(Refusal::Owed(1)));
    does(&mut job, as_left("power", "4.0 W"));
    assert_eq!(refusal(&job, undo(&reopened)), None);
}

// The log

#[test]
fn a_log_whose_numbers_have_come_to_their_end_takes_no_entry_and_can_be_read_back() {
    let mut event = fresh_job().log.events().next().cloned().expect("an event");
    event.seq = (1 << 53) - 1;
    let log = Log::from_events([event]).expect("a log");
    let mut job = Job { log, ..fresh_job() };
    assert_eq!(job.record(stamp(2), tick("lead")), Err(Refusal::NoRoom));
    assert_eq!(Log::from_events(job.log.events().cloned()), Ok(job.log));
}

#[test]
fn a_file_may_bring_only_logs_that_leave_room() {
    let log = |seq| {
        let event = fresh_job().log.events().next().cloned();
        let event = event.map(|event| Event { seq, ..event });
        Log::from_events(event).expect("a log")
    };
    let highest = (1 << 53) - 1;
    let fault = LogFault::NoRoom(id("e1"));
    assert_eq!(log(1).file_fault(), None);
    assert_eq!(log(highest - (1 << 32)).file_fault(), None);
    assert_eq!(
        log(highest - (1 << 32) + 1).file_fault(),
        Some(fault.clone())
    );
    assert_eq!(log(highest).file_fault(), Some(fault));
    assert_eq!(Log::default().file_fault(), None);
}

/// A log as a file can bring it: no hand was asked.
fn forged(deeds: impl IntoIterator<Item = Deed>) -> Log {
    let mut log = fresh_job().log;
    for (index, deed) in deeds.into_iter().enumerate() {
        log.append(stamp(700 + index), deed);
    }
    log
}

#[test]
fn what_no_button_takes_back_no_file_takes_back() {
    let opened = id("e1");
    let blank = forged([undo(&opened)]);
    assert_eq!(blank.undone(), HashSet::new());
    assert_eq!(blank.header(), fresh_job().log.header());
    let unpaused = forged([Deed::Paused, undo(&id("e700"))]);
    assert_eq!(unpaused.undone(), HashSet::new());
    // An undo holds: what it took back doesn't come again.
    let undone_twice = forged([tick("lead"), undo(&id("e700")), undo(&id("e701"))]);
    assert_eq!(undone_twice.undone(), HashSet::from([id("e700")]));
    for log in [blank, unpaused, undone_twice] {
        assert_eq!(log.void_undos(), 1);
    }
    let honest = forged([tick("lead"), undo(&id("e700")), undo(&id("elsewhere"))]);
    assert_eq!(honest.void_undos(), 0);
}

#[test]
fn an_undo_takes_back_only_what_stands_before_it() {
    let early = forged([undo(&id("e701")), tick("lead")]);
    assert_eq!(early.undone(), HashSet::new());
}

#[test]
fn a_button_is_refused_what_the_log_does_not_let_it_take_back() {
    let mut job = fresh_job();
    let taken = does(&mut job, answer("look"));
    let undone = does(&mut job, undo(&taken));
    let paused = does(&mut job, Deed::Paused);
    for event in [id("e1"), taken, undone, paused] {
        assert_eq!(refusal(&job, undo(&event)), Some(Refusal::NothingToUndo));
    }
}
