//! What came of the job, a line each: the readings as left, what was fitted, what is still to be
//! done, and what was measured with after its calibration had run out.

use crate::exchange::report::section::{sections, summary};
use crate::exchange::report::{Source, typed, words};
use crate::job::{OffState, Status};
use crate::procedure::Id;

/// The lines, those that say something.
pub fn lines(source: &Source) -> Vec<String> {
    let parts = summary::changes(source).len();
    let owed = source.progress.owed().count();
    let is_off = |state: &OffState| matches!(state, OffState::Off);
    let off = source.progress.off.iter().filter(|it| is_off(&it.state));
    let off = off.count();
    let overdue: Vec<String> = sections::overdue(source)
        .map(|used| typed(&used.name))
        .collect();
    let outside = outside(source);
    readings(source)
        .into_iter()
        .chain((outside > 0).then(|| words::result_of_outside(outside)))
        .chain((parts > 0).then(|| words::result_of_parts(parts)))
        .chain((owed > 0).then(|| words::owed(owed)))
        .chain((off > 0).then(|| words::result_of_off(off)))
        .chain((!overdue.is_empty()).then(|| words::result_of_overdue(&overdue)))
        .collect()
}

/// How many steps were read outside and are not left so.
fn outside(source: &Source) -> usize {
    let is_left = |id: &Id| summary::left(source).any(|(step, ..)| step.id == *id);
    let steps = source.progress.steps.iter();
    steps
        .filter(|step| step.status == Status::Outside && !is_left(&step.id))
        .count()
}

/// How many readings are within their limits as left; `None` where none was judged.
fn readings(source: &Source) -> Option<String> {
    let (mut all, mut inside, mut not_shown) = (0, 0, 0);
    for (_, standing, verdict) in summary::left(source) {
        all += 1;
        inside += usize::from(verdict.is_inside());
        not_shown += usize::from(standing.status == Status::Unproved);
    }
    (all > 0).then(|| words::result_of_readings(inside, all, not_shown))
}
