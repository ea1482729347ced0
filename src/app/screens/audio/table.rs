//! The cells of a table that one series answers, and the key that fills them.

use crate::app::screens::audio::figures::{decimals, two_digits};
use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::series::quantity;
use crate::app::screens::audio::take::budgeted;
use crate::app::shell::bench::Bench;
use crate::app::shell::open_step::OpenStep;
use crate::app::words::audio as words;
use crate::job::{Deed, Heard, Phase, Progress, Span, takes};
use crate::procedure::{Id, SetUp, Setting};
use crate::quantity::{Number, Quantity, Scale, Unit};
use crate::signal::measure::Measure;
use crate::signal::{Figure, Weighting};
use leptos::prelude::*;

/// A cell that is set up as the open step but for one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    id: Id,
    phase: Phase,
    /// What is set for it.
    pub set: Quantity,
    /// Whether it is owed.
    is_owed: bool,
}

/// What a series says of a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answer {
    pub measure: Measure,
    pub figure: Figure,
    pub count: usize,
    /// How long each stretch of sound was, in milliseconds.
    pub window: u32,
}

/// The cells in decibels of the open step's table that differ from it in a setting alone, in the
/// order in which they are read.
pub fn cells(bench: Bench, step: &OpenStep, of: Setting) -> Vec<Cell> {
    bench.progress.with(|progress| {
        let found = progress.as_ref().and_then(|it| cells_in(it, step, of));
        found.unwrap_or_default()
    })
}

fn cells_in(progress: &Progress, step: &OpenStep, of: Setting) -> Option<Vec<Cell>> {
    let procedure = &progress.course.procedure;
    let table = procedure.table_of(&step.id)?;
    let own = but_for(&procedure.step(&step.id)?.set_up, of);
    let cell = |id: &Id| {
        let other = procedure.step(id)?;
        let in_decibels = other.work.gauge()?.scale == Scale::plain(Unit::Decibel);
        let standing = progress.step(id)?;
        let alike = in_decibels && but_for(&other.set_up, of) == own;
        alike.then_some(Cell {
            id: id.clone(),
            phase: standing.next_phase(&other.work),
            set: quantity(other.set_up.settings.get(&of)?)?,
            is_owed: standing.status.is_owed(),
        })
    };
    Some(table.steps().filter_map(cell).collect())
}

/// What has to be alike. Controls are not in it: they name the setting in words, as a volume does
/// that is set at one level.
fn but_for(set_up: &SetUp, of: Setting) -> SetUp {
    let mut alike = set_up.clone();
    alike.controls.clear();
    alike.settings.remove(&of);
    alike
}

/// The key that fills the cells that are owed and that the series answers; none where there are
/// no cells.
pub fn fill(
    state: State,
    of: Setting,
    reference: impl Fn() -> Option<Quantity> + Copy + Send + Sync + 'static,
    answer: impl Fn(&Quantity) -> Option<Answer> + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let deeds = move || {
        let step = state.step.get_value()?;
        let source = state.source.get()?;
        let zero = reference()?;
        let due = cells(state.bench, &step, of).into_iter();
        let entry = |cell: Cell| {
            let answer = answer(&cell.set)?;
            let (value, standard) = reading(answer.figure)?;
            let fits = state.bench.progress.with(|progress| {
                let procedure = &progress.as_ref()?.course.procedure;
                takes(procedure.step(&cell.id)?.work.gauge()?, &value).ok()
            });
            fits?;
            Some(Deed::Reading {
                step: cell.id,
                phase: cell.phase,
                value,
                tool: None,
                repeat: false,
                heard: Some(Box::new(Heard {
                    input: source.input.name.clone(),
                    measure: answer.measure,
                    weighting: Weighting::Whole,
                    window: answer.window,
                    rate: source.rate.round() as u32,
                    count: answer.count as u32,
                    standard,
                    span: Some(Span {
                        from: zero.clone(),
                        to: cell.set,
                    }),
                })),
            })
        };
        let owed = due.filter(|cell| cell.is_owed);
        Some((owed.filter_map(entry).collect::<Vec<Deed>>(), step))
    };
    let press = move |_| {
        if let Some((deeds, step)) = untrack(deeds)
            && !deeds.is_empty()
            && state.bench.record_all(deeds)
        {
            state.bench.go(&step.route);
        }
    };
    // The look that comes ten times a second makes no new key: a finger would miss it.
    let count = Memo::new(move |_| deeds().map_or(0, |(deeds, _)| deeds.len()));
    let key = move || {
        let count = Some(count.get()).filter(|count| *count > 0)?;
        Some(view! {
            <button type="button" class="main" on:click=press>{words::fill(count)}</button>
        })
    };
    view! { <div class="row">{key}</div> }
}

/// A level in decibels as a cell takes it, with its uncertainty.
fn reading(figure: Figure) -> Option<(Quantity, Quantity)> {
    let scale = Scale::plain(Unit::Decibel);
    let standard = budgeted(figure);
    let shown = match standard > 0.0 {
        true => decimals(standard).min(2),
        // The reference is the zero itself.
        false => 2,
    };
    let finer = two_digits(standard);
    let value = Quantity::new(Number::from_f64(figure.value, shown)?, scale);
    Some((
        value,
        Quantity::new(Number::from_f64(standard, finer)?, scale),
    ))
}
