//! What came of the job, a line each: the readings as left, what was fitted, what is still to be
//! done, and what was measured with after its calibration had run out.

use crate::exchange::report::section::{sections, summary};
use crate::exchange::report::{Source, typed, words};
use crate::job::{OffState, StepProgress};

/// The lines, those that say something.
pub fn lines(source: &Source) -> Vec<String> {
    let parts = summary::changes(source).len();
    let owed: Vec<(usize, &str)> = source.progress.owed().map(|it| named(source, it)).collect();
    let is_off = |state: &OffState| matches!(state, OffState::Off);
    let off = source.progress.off.iter().filter(|it| is_off(&it.state));
    let off = off.count();
    let overdue: Vec<String> = sections::overdue(source)
        .map(|used| typed(&used.name))
        .collect();
    let outside = summary::open_outside(source);
    let outside: Vec<usize> = outside.map(|(_, standing)| standing.number).collect();
    // What was left so before is no word on the set as it is now.
    let before = source.progress.steps.iter().filter(|it| {
        let is_left = it.as_left().is_some_and(|left| left.verdict.is_some());
        is_left && source.progress.was_not_read_since(it)
    });
    let before: Vec<usize> = before.map(|it| it.number).collect();
    readings(source, outside.is_empty())
        .into_iter()
        .chain((!outside.is_empty()).then(|| words::result_of_outside(&outside)))
        .chain((parts > 0).then(|| words::result_of_parts(parts)))
        .chain((!before.is_empty()).then(|| words::result_of_not_read_since(&before)))
        .chain((!owed.is_empty()).then(|| words::result_of_owed(&owed)))
        .chain((off > 0).then(|| words::result_of_off(off)))
        .chain((!overdue.is_empty()).then(|| words::result_of_overdue(&overdue)))
        .collect()
}

/// A step by its number and its title.
fn named<'a>(source: &'a Source, standing: &StepProgress) -> (usize, &'a str) {
    let step = source.progress.course.procedure.step(&standing.id);
    (standing.number, step.map_or("", |step| &step.title))
}

/// How many readings are within their limits as left, which are all there are only where none is
/// outside and open beside them; `None` where none was judged.
fn readings(source: &Source, are_all: bool) -> Option<String> {
    let (mut all, mut inside, mut not_shown) = (0, 0, 0);
    for left in summary::left(source) {
        all += 1;
        inside += usize::from(left.verdict.is_inside());
        not_shown += usize::from(left.is_not_shown(source));
    }
    (all > 0).then(|| words::result_of_readings(inside, all, not_shown, are_all))
}
