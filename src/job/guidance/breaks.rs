//! The breaks in the work, and what has to be done again after one.

use crate::job::fold::pause::{BREAK_AFTER, is_past_wait, is_warm_up, wait_ends};
use crate::job::{Deed, Event, Job, Progress, Status, StepProgress};
use crate::procedure::{Procedure, Step, Work};

/// When the bench was left, and what became of the stops that held until then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Break {
    /// When, by the device's clock.
    pub at: i64,
    /// The stops that it ended, in the order of the procedure.
    pub ended: Vec<Ended>,
}

/// A stop that a break has ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ended {
    /// The number of the stop.
    pub stop: usize,
    /// When it was confirmed again, if it was.
    pub again: Option<i64>,
    /// Whether the log holds work below it from before that, even if it was taken back. The
    /// rules allow none, but logs from before there were such rules, and merged ones, may hold
    /// some.
    pub worked: bool,
}

/// Whether a break has to be put into the log now: the job has rested, and there is a
/// confirmed stop, a wait or a warm-up that a break ends. A clock that was set back says nothing;
/// nor does taking a finished job up again, for the set may have been away until then.
pub fn is_break_due(job: &Job, progress: &Progress, now: i64) -> bool {
    let mut events = job.log.events().rev();
    let last = events.find(|event| !matches!(event.did, Deed::Reopened { .. }));
    let rested = last.is_some_and(|last| now.saturating_sub(last.at) > BREAK_AFTER);
    let holds = |stop: &Step| progress.step(&stop.id).is_some_and(|step| step.holds);
    let ends_some = stops(&progress.course.procedure).any(holds) || cools_some(progress, now);
    rested && progress.signed_off.is_none() && ends_some
}

/// The numbers of the stops that a copy of a job brings confirmed, which may have been at another
/// bench: those that hold in it and not here.
pub fn stops_brought(here: Option<&Progress>, copy: &Progress) -> Vec<usize> {
    let holds =
        |progress: &Progress, stop: &Step| progress.step(&stop.id).is_some_and(|step| step.holds);
    let is_new = |stop: &&Step| holds(copy, stop) && !here.is_some_and(|here| holds(here, stop));
    let procedure = &copy.course.procedure;
    let new = stops(procedure).filter(|_| copy.signed_off.is_none());
    new.filter(is_new)
        .filter_map(|stop| procedure.number_of(&stop.id))
        .collect()
}

/// Whether a break now would end a wait that it outlasted, or a warm-up before a reading that is
/// still owed.
fn cools_some(progress: &Progress, now: i64) -> bool {
    let steps = progress.course.procedure.steps();
    let steps: Vec<(&Step, &StepProgress)> = steps.zip(&progress.steps).collect();
    let is_owed = |(step, standing): &(&Step, &StepProgress)| {
        step.work.measures() && standing.status.is_owed()
    };
    steps.iter().enumerate().any(|(index, (step, standing))| {
        let is_warm = is_warm_up(step) && standing.status == Status::Done;
        let is_outlasted = wait_ends(step, standing).is_some_and(|ends| is_past_wait(ends, now));
        (is_warm && steps[index + 1..].iter().any(is_owed))
            || (standing.status.is_owed() && is_outlasted)
    })
}

/// The breaks in their order.
pub fn breaks(job: &Job, progress: &Progress) -> Vec<Break> {
    let undone = job.log.undone();
    let events: Vec<(&Event, bool)> = job
        .log
        .events()
        .map(|event| (event, !undone.contains(&event.id)))
        .collect();
    let mut found = Vec::new();
    let mut since = 0;
    for (place, (event, counts)) in events.iter().enumerate() {
        if !matches!(event.did, Deed::Paused) || !counts {
            continue;
        }
        let (before, after) = (&events[since..place], &events[place..]);
        let procedure = &progress.course.procedure;
        let held = stops(procedure).filter(|stop| confirmed(before, stop, progress).is_some());
        found.push(Break {
            at: event.at,
            ended: held.map(|stop| ended(stop, after, progress)).collect(),
        });
        since = place;
    }
    found
}

/// The stops that a break ends.
fn stops(procedure: &Procedure) -> impl Iterator<Item = &Step> {
    let ends =
        |step: &&Step| matches!(&step.work, Work::Stop { holds, .. } if holds.is_until_a_break());
    procedure.steps().filter(ends)
}

fn ended(stop: &Step, after: &[(&Event, bool)], progress: &Progress) -> Ended {
    let course = &progress.course;
    let number = course.procedure.number_of(&stop.id);
    let again = confirmed(after, stop, progress);
    let unconfirmed = &after[..again.unwrap_or(after.len())];
    let is_below = |event: &Event| {
        let step = event.did.step();
        event.did.is_work() && step.is_some_and(|step| course.holds(&stop.id, step))
    };
    Ended {
        stop: number.unwrap_or(0),
        again: again.map(|place| after[place].0.at),
        worked: unconfirmed.iter().any(|(event, _)| is_below(event)),
    }
}

/// Where among the events the stop is confirmed first, by one that counts.
fn confirmed(events: &[(&Event, bool)], stop: &Step, progress: &Progress) -> Option<usize> {
    let confirms = |event: &Event| match (&event.did, stop.work.gauge()) {
        (Deed::Ticked { step }, None) => *step == stop.id,
        (Deed::Reading { step, .. }, Some(_)) => *step == stop.id && opens(progress, stop, event),
        _ => false,
    };
    let mut events = events.iter();
    events.position(|(event, counts)| *counts && confirms(event))
}

fn opens(progress: &Progress, stop: &Step, reading: &Event) -> bool {
    let Some(standing) = progress.step(&stop.id) else {
        return false;
    };
    let mut readings = standing.readings.iter();
    let taken = readings.find(|taken| taken.event == reading.id);
    taken.is_some_and(|taken| standing.is_opened_by(stop, taken, &progress.header.rule))
}
