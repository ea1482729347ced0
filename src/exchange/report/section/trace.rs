//! The looks along a path by which a fault was looked for.

use crate::exchange::report::sheet::Source;
use crate::exchange::report::text::balanced;
use crate::exchange::report::{Cell, Section, Table, words};
use crate::job::{Seen, Trace};

/// What was looked at, in the order in which it was.
pub fn section(source: &Source) -> Option<Section> {
    let columns = [
        words::STAGE,
        words::LOOKED_AT,
        words::EXPECTED,
        words::SHOWED,
    ];
    let traces = source.progress.traces.iter();
    let looks = traces.flat_map(|trace| trace.looks.iter().map(move |look| (trace, look)));
    let rows = looks.filter_map(|(trace, look)| row(source, trace, look));
    Section::of_table(
        words::LOOKED_ALONG,
        Table::new("plain", &columns).with_rows(rows),
    )
}

/// A look at a place that the path still has.
fn row(source: &Source, trace: &Trace, look: &Seen) -> Option<Vec<Cell>> {
    let (stage, check) = trace.path.check(&look.check)?;
    let step = look.step.as_ref();
    let step = step.and_then(|step| source.progress.step(step));
    let value = look.value.as_ref();
    let value = value.map_or(String::new(), |it| it.typeset(source.look.sign));
    let read_in = step.map_or(String::new(), |step| words::read_in(&value, step.number));
    Some(vec![
        Cell::of(balanced(&stage.name)).with(balanced(&trace.path.title)),
        Cell::of(balanced(&check.what)).with(balanced(&check.at)),
        Cell::of(balanced(&check.expect)),
        Cell::of(words::showed(look.showed)).with(read_in),
    ])
}
