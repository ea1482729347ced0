//! What was wrong with the set: symptom, what was measured, cause, cure and proof.

use crate::exchange::report::section::sections::step_cell;
use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Cell, Section, Table, words};
use crate::job::{Fault, FaultOf, Outcome, StepProgress};
use crate::procedure::Id;

/// The records, each in a row, with the readings that they name.
pub fn section(source: &Source) -> Option<Section> {
    let rows = source
        .progress
        .faults
        .iter()
        .map(|fault| row(source, fault));
    let columns = [
        words::SYMPTOM,
        words::SHOWN_BY,
        words::CAUSE,
        words::CURE,
        words::PROOF,
    ];
    Section::of_table(words::FAULTS, Table::new("plain", &columns).with_rows(rows))
}

/// What answers the fault that was reported, or that nothing does.
pub fn answer(source: &Source) -> Option<String> {
    let progress = source.progress;
    let reported = progress
        .faults
        .iter()
        .filter(|it| it.record.of == FaultOf::Report);
    let answers: Vec<String> = reported
        .map(|fault| words::fault_answer(&fault.record, &progress.cure_shown(&fault.record)))
        .collect();
    match answers.is_empty() {
        false if progress.answers_differ() => {
            let said = [words::ANSWERS_DIFFER.to_owned()].into_iter();
            Some(words::sentences(&said.chain(answers).collect::<Vec<_>>()))
        }
        false => Some(words::sentences(&answers)),
        true => progress
            .owes_an_answer()
            .then(|| words::NO_ANSWER.to_owned()),
    }
}

fn row(source: &Source, fault: &Fault) -> Vec<Cell> {
    let record = &fault.record;
    let reported = balanced(&source.progress.header.fault);
    let of = match record.of {
        FaultOf::Report if reported.is_empty() => words::AS_REPORTED.to_owned(),
        FaultOf::Report => words::as_reported(&reported),
        FaultOf::Bench => words::NOT_REPORTED.to_owned(),
    };
    let proof = match record.outcome {
        Outcome::Cured => words::cure_shown(&source.progress.cure_shown(record)),
        _ => String::new(),
    };
    let (shown, proved) = (
        read(source, &record.shown_by, found),
        read(source, &record.proved_by, left),
    );
    vec![
        Cell::of(balanced(&record.seen)).with(of),
        Cell::of(shown),
        Cell::of(balanced(&record.cause)).with(balanced(&record.place)),
        Cell::of(balanced(&record.cure)).with(words::outcome(record.outcome)),
        Cell::of(proved).with(proof),
    ]
}

/// The readings of steps, each with where it should lie.
fn read(source: &Source, steps: &[Id], of: fn(&StepProgress) -> Option<Reading>) -> String {
    let sign = source.look.sign;
    let told = steps.iter().filter_map(|id| {
        let standing = source.progress.step(id)?;
        let step = source.progress.course.procedure.step(id)?;
        let name = step_cell(step, standing).text;
        let due = standing.tolerance.as_ref().and_then(|it| it.as_ref().ok());
        let due = due.map(|due| due.typeset(sign));
        let value = of(standing).map(|value| value.typeset(sign));
        Some(words::reading_and_due(
            &name,
            value.as_deref(),
            due.as_deref(),
        ))
    });
    told.collect::<Vec<_>>().join("; ")
}

type Reading = crate::quantity::Quantity;

fn found(standing: &StepProgress) -> Option<Reading> {
    let group = standing.found.as_ref().or(standing.left.as_ref());
    Some(group?.judged.clone())
}

fn left(standing: &StepProgress) -> Option<Reading> {
    Some(standing.left.as_ref()?.judged.clone())
}
