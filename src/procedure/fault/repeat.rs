//! What is wrong with a step that repeats others.

use crate::procedure::fault::place::Wrong;
use crate::procedure::{Field, Procedure, Repeat, Step, Until, Work};

/// What is wrong with what a step repeats.
pub(super) fn repeat_fault(procedure: &Procedure, index: usize, repeat: &Repeat) -> Option<Wrong> {
    let wrong = |sentence: String| Some((Field::Repeats, sentence));
    for id in [&repeat.from, &repeat.to] {
        match procedure.number_of(id) {
            None => {
                return wrong(format!(
                    "it repeats a step “{id}” that isn't there: choose another"
                ));
            }
            Some(number) if number > index => {
                return wrong(format!(
                    "it repeats step {number}, which does not come before it: choose an earlier one"
                ));
            }
            Some(_) => {}
        }
    }
    let range = procedure.range_of(repeat)?;
    let (first, last) = (range.start() + 1, range.end() + 1);
    if first > last {
        return wrong(format!(
            "it repeats from step {first} to step {last}: the first of them comes before the last"
        ));
    }
    let steps: Vec<(usize, &Step)> = procedure.steps().enumerate().collect();
    let steps = &steps[range];
    if let Some((other, _)) = steps
        .iter()
        .find(|(_, step)| matches!(step.work, Work::Repeat(_)))
    {
        return wrong(format!(
            "it repeats step {}, which repeats others itself: choose the steps before or behind that",
            other + 1
        ));
    }
    let mut measured = steps
        .iter()
        .filter(|(_, step)| step.work.measures())
        .peekable();
    if measured.peek().is_none() {
        return wrong(
            "none of the steps that it repeats takes a reading: choose others".to_owned(),
        );
    }
    if repeat.passes.is_some_and(|most| most < 2) {
        let sentence = "it allows a single pass: allow two at least, or any number";
        return Some((Field::Passes, sentence.to_owned()));
    }
    let sentence = match &repeat.until {
        Until::Inside => measured
            .all(|(_, step)| step.work.target().is_none())
            .then(|| "none of the steps that it repeats has limits: state a largest change".to_owned()),
        Until::Steady(most) if most.number.is_negative() => {
            Some("its largest change is below zero: type how much may still change".to_owned())
        }
        Until::Steady(most) => measured.find_map(|(place, step)| {
            let unit = step.work.gauge()?.scale.unit.of_difference();
            (unit != most.unit()).then(|| {
                format!(
                    "its largest change is in {}, but step {} changes in {}: leave that step out, or type another",
                    most.unit().symbol(),
                    place + 1,
                    unit.symbol()
                )
            })
        }),
    };
    sentence.map(|sentence| (Field::Until, sentence))
}
