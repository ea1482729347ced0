//! The table of readings that a step is a cell of: what stands in each cell, and the walk from
//! one to the next.

use crate::app::platform::device;
use crate::app::screens::work::step::At;
use crate::app::shell::route::Route;
use crate::app::ui::{StatusMark, Wide};
use crate::app::words::work::several as words;
use crate::exchange::report::plots;
use crate::job::{Progress, Status, StepProgress};
use crate::procedure::{Axis, Id, Procedure, ReadingTable};
use crate::quantity::DecimalSign;
use leptos::prelude::*;
use std::sync::Arc;

/// The numbers of a table's steps.
pub fn numbers(procedure: &Procedure, table: &ReadingTable) -> String {
    let number = |id: Option<&Id>| {
        id.and_then(|id| procedure.number_of(id))
            .unwrap_or_default()
    };
    words::numbers(number(table.steps().next()), number(table.steps().last()))
}

/// Goes on to the next cell of the step's table, where it is one and this reading lets go on.
pub fn walk_on(at: At) {
    let id = at.id();
    let next = at.procedure.with_value(|procedure| {
        let table = procedure.table_of(&id)?;
        let next = |progress: &Option<Progress>| progress.as_ref()?.next_cell(table, &id);
        at.bench.progress.with_untracked(next)
    });
    if let Some(next) = next {
        at.bench.walked.set(Some(id));
        at.bench.turn_to(&Route::Step {
            job: at.job.get_value(),
            step: Some(next),
        });
    }
}

/// The table of the step, if it is a cell of one.
pub fn table(at: At) -> Option<impl IntoView> {
    let id = at.id();
    let procedure = at.procedure.get_value();
    let table = Arc::new(procedure.table_of(&id)?.clone());
    let title = table.title.clone();
    let headings = (0..table.columns.names.len())
        .map(|column| view! { <th scope="col">{table.columns.heading(column).to_owned()}</th> })
        .collect_view();
    let rows = (0..table.rows.names.len())
        .map(|row| {
            let cells = (0..table.columns.names.len())
                .map(|column| cell(at, table.cell(row, column)))
                .collect_view();
            view! { <tr><th scope="row">{table.rows.heading(row).to_owned()}</th>{cells}</tr> }
        })
        .collect_view();
    let standing = {
        let table = table.clone();
        move || {
            at.bench.progress.with(|progress| {
                let standing = progress.as_ref()?.table(&table);
                let outside = standing.status == Status::Outside;
                let settled = (standing.done, standing.waived);
                Some(words::standing(settled, standing.cells, outside))
            })
        }
    };
    // Within its own room: what is read and what it must be stay where they are.
    device::after_paint(|| device::into_middle(".several-here"));
    Some(view! {
        <section class="several" aria-label=title.clone()>
            <p class="several-title"><strong>{title.clone()}</strong>" "<span>{standing}</span></p>
            <p class="unseen" role="status">{just_read(at)}</p>
            <Wide name=title.clone()>
                <table class="several-table">
                    <thead><tr><td>{corner(&table.rows)}</td>{headings}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </Wide>
        </section>
    })
}

/// The table drawn, where its headings are numbers. What the picture says, the table says too.
pub fn pictures(at: At) -> impl IntoView {
    let id = at.id();
    let table = at
        .procedure
        .with_value(|procedure| procedure.table_of(&id).cloned());
    let drawn = Memo::new(move |_| {
        let sign = at.bench.sign();
        at.bench.progress.with(|progress| {
            let (progress, table) = progress.as_ref().zip(table.as_ref())?;
            let plots = |procedure: &Arc<Procedure>| plots(procedure, progress, table, sign);
            Some(at.procedure.with_value(plots))
        })
    });
    move || {
        let drawn = drawn.get().unwrap_or_default();
        (!drawn.is_empty()).then(|| {
            let figures = drawn.into_iter().map(|(_, svg)| {
                view! { <figure class="report" inner_html=svg></figure> }
            });
            view! { <div class="several-plot">{figures.collect_view()}</div> }
        })
    }
}

/// What the rows differ in.
fn corner(rows: &Axis) -> String {
    match rows.is_plain() {
        true => String::new(),
        false => rows.sets.name().to_owned(),
    }
}

/// What was read in the cell before, said once this screen is there to say it.
fn just_read(at: At) -> impl Fn() -> Option<String> {
    let walked = at.bench.walked;
    let cell = walked.try_update_untracked(Option::take).flatten();
    let text = RwSignal::new(None);
    let sign = at.bench.sign_now();
    device::after_paint(move || {
        let said = at.bench.progress.with_untracked(|progress| {
            let cell = progress.as_ref()?.step(cell.as_ref()?)?;
            let title = |p: &Arc<Procedure>| Some(p.step(&cell.id)?.title.clone());
            // Who types fast has left this screen before it was painted.
            let title = at.procedure.try_with_value(title).flatten()?;
            let left = cell.left.as_ref()?;
            let verdict = left.verdict.as_ref().map(|verdict| verdict.words(sign));
            Some(words::just_read(
                &title,
                &left.judged.typeset(sign),
                &verdict.unwrap_or_default(),
            ))
        });
        text.try_set(said);
    });
    move || text.get()
}

/// What stands in a cell: the reading, what it was found at where that differs, and its state.
#[derive(Clone, PartialEq)]
struct Stands {
    reading: Option<String>,
    found: Option<String>,
    state: Result<Status, &'static str>,
    behind: Option<usize>,
}

impl Stands {
    fn of(standing: &StepProgress, sign: DecimalSign) -> Self {
        let left = standing.left.as_ref();
        let found = standing.found.as_ref();
        let print = |group: &crate::job::Group| group.judged.typeset(sign);
        let differs = found.filter(|found| left.is_some_and(|left| left.judged != found.judged));
        let is_plain = standing.tolerance.is_none() && standing.status == Status::Done;
        Stands {
            reading: left.or(found).map(print),
            found: differs.map(|found| words::found(&print(found))),
            state: match standing.status {
                _ if standing.waits_for_its_target() => Err(words::WAITS),
                _ if is_plain => Err(words::READ),
                status => Ok(status),
            },
            behind: standing.behind,
        }
    }
}

fn cell(at: At, id: Option<&Id>) -> AnyView {
    let Some(id) = id.cloned() else {
        return view! { <td class="several-none"><span class="unseen">{words::NOTHING}</span></td> }
            .into_any();
    };
    let is_here = at.id() == id;
    let address = Route::Step {
        job: at.job.get_value(),
        step: Some(id.clone()),
    }
    .address();
    let stands = Memo::new(move |_| {
        let sign = at.bench.sign();
        at.bench.progress.with(|progress| {
            let standing = progress.as_ref()?.step(&id)?;
            Some(Stands::of(standing, sign))
        })
    });
    let shown = move || {
        let stands = stands.get()?;
        let state = match stands.state {
            Ok(status) => view! { <StatusMark status behind=stands.behind/> }.into_any(),
            Err(word) => view! { <span class="status">{word}</span> }.into_any(),
        };
        let reading = stands.reading.unwrap_or_else(|| words::NOT_READ.to_owned());
        Some(view! {
            <span class="several-reading">{reading}</span>
            {stands.found.map(|found| view! { <span class="several-found">{found}</span> })}
            {state}
        })
    };
    view! {
        <td class:several-here=is_here>
            <a href=address aria-current=is_here.then_some("step")>{shown}</a>
        </td>
    }
    .into_any()
}
