//! Steps that were gone through until they held: what each pass showed.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::typed;
use crate::exchange::report::{Cell, Part, Section, Table, words};
use crate::job::{Pass, PassRead, Passes};
use crate::procedure::{Repeat, Step, Work};

/// A table for each step that repeats others, once one of these was read.
pub fn section(source: &Source) -> Option<Section> {
    let steps = source
        .progress
        .course
        .procedure
        .steps()
        .zip(&source.progress.steps);
    let tables: Vec<Part> = steps
        .filter_map(|(step, standing)| match &step.work {
            Work::Repeat(repeat) => {
                let passes = standing.passes.as_ref().filter(|passes| is_begun(passes))?;
                Some(Part::Table(table(
                    source,
                    (step, repeat),
                    standing.number,
                    passes,
                )))
            }
            _ => None,
        })
        .collect();
    (!tables.is_empty()).then(|| Section {
        parts: tables,
        ..Section::new(words::PASSES)
    })
}

fn is_begun(passes: &Passes) -> bool {
    let mut reads = passes.all.iter().flat_map(|pass| &pass.reads);
    reads.any(|read| read.ends.is_some())
}

fn table(
    source: &Source,
    (step, repeat): (&Step, &Repeat),
    number: usize,
    passes: &Passes,
) -> Table {
    let sign = source.look.sign;
    let procedure = &source.progress.course.procedure;
    let title = |read: &PassRead| {
        let step = procedure.steps().nth(read.step - 1);
        words::step_column(read.step, step.map_or("", |step| &step.title))
    };
    let reads = passes.all.first().map_or(&[][..], |pass| &pass.reads);
    let columns: Vec<String> = [words::PASS.to_owned()]
        .into_iter()
        .chain(reads.iter().map(title))
        .collect();
    let last = passes.number();
    let rows = passes.all.iter().enumerate().map(|(index, pass)| {
        let shows = (index + 1 == last).then(|| words::shows(passes, sign));
        row(source, index + 1, pass, shows)
    });
    let asked = repeat.words(sign, |id| procedure.number_of(id));
    Table {
        caption: words::passes_of(number, &typed(&step.title), &asked),
        columns,
        ..Table::new("passes", &[]).with_rows(rows)
    }
}

fn row(source: &Source, number: usize, pass: &Pass, shows: Option<String>) -> Vec<Cell> {
    let begun = pass.begun.map(source.look.when);
    let below: Vec<String> = begun.into_iter().chain(shows).collect();
    let cells = pass.reads.iter().map(|read| reading(source, read));
    let head = Cell::of(number.to_string()).with(below.join("; "));
    [head].into_iter().chain(cells).collect()
}

/// The last reading of a step in a pass, and below it the first, where that was another.
fn reading(source: &Source, read: &PassRead) -> Cell {
    let sign = source.look.sign;
    let Some((first, last)) = &read.ends else {
        return Cell::of(words::NONE);
    };
    let found =
        (first.order != last.order).then(|| words::began_at(&first.corrected.typeset(sign)));
    Cell::of(last.corrected.typeset(sign)).with(found.unwrap_or_default())
}
