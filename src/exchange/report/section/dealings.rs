//! Parts that are still to come, and what the owner was asked.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Cell, Section, Table, words};

/// The parts, where some are still to come.
pub fn parts(source: &Source) -> Option<Section> {
    let rows = source.progress.parts_due().map(|part| {
        let record = &part.record;
        vec![
            Cell::of(balanced(&record.what)).with(balanced(&record.note)),
            Cell::of(balanced(&record.number)),
            Cell::of(record.count.to_string()),
            Cell::of(words::part_state(record.state)),
        ]
    });
    let columns = [words::WHAT, words::PART_NUMBER, words::COUNT, words::STATE];
    Section::of_table(
        words::PARTS_WANTED,
        Table::new("plain", &columns).with_rows(rows),
    )
}

/// The questions, each with its answer, or that there is none.
pub fn owner(source: &Source) -> Option<Section> {
    let when = source.look.when;
    let rows = source.progress.dealings.asked.iter().map(|asked| {
        let answer = match &asked.answer {
            Some((answer, at)) => Cell::of(balanced(answer)).with(when(*at)),
            None => Cell::of(words::NOT_ANSWERED).strong_if(true),
        };
        vec![
            Cell::of(balanced(&asked.question)).with(when(asked.at)),
            answer,
        ]
    });
    let columns = [words::QUESTION, words::ANSWER];
    Section::of_table(
        words::OWNER_ASKED,
        Table::new("plain", &columns).with_rows(rows),
    )
}
