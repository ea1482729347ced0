//! The key that fills the cells of a table.

use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::{budgeted, decimals, rounded, two_digits};
use crate::app::screens::audio::series::cells::{Cell, cells};
use crate::app::words::audio as words;
use crate::job::{Deed, Heard, Span, takes};
use crate::procedure::Setting;
use crate::quantity::{Number, Quantity, Scale, Unit};
use crate::signal::measure::Measure;
use crate::signal::{Figure, Weighting};
use leptos::prelude::*;

/// What a series says of a cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answer {
    pub measure: Measure,
    pub figure: Figure,
    pub count: usize,
    /// How long each stretch of sound was, in milliseconds.
    pub window: u32,
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
        let power = state.power_at_reference();
        let entry = |cell: Cell| {
            let answer = answer(&cell.set)?;
            let power = power.as_ref().filter(|_| is_power(&cell));
            let figure = match (is_power(&cell), power) {
                (false, _) => answer.figure,
                (true, power) => power?.plus(answer.figure),
            };
            let (value, standard) = reading(figure, cell.scale)?;
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
                    into: power.map(|power| power.load.clone()),
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
    let lacks = Memo::new(move |_| {
        let step = state.step.get_value()?;
        let due = cells(state.bench, &step, of);
        let lacks = due.iter().any(is_power) && state.power_at_reference().is_none();
        lacks.then_some(words::VOLTS_FIRST)
    });
    view! {
        <div class="row">{key}</div>
        {move || lacks.get().map(|text| view! { <p class="hint">{text}</p> })}
    }
}

/// Whether a cell is read as a power, and not against the reference.
fn is_power(cell: &Cell) -> bool {
    cell.scale.unit == Unit::DecibelMilliwatt
}

/// A level as a cell takes it, with its uncertainty in decibels.
fn reading(figure: Figure, scale: Scale) -> Option<(Quantity, Quantity)> {
    let decibels = Scale::plain(Unit::Decibel);
    let standard = budgeted(rounded(Measure::SweptResponse, figure));
    let shown = match standard > 0.0 {
        true => decimals(standard).min(2),
        // The reference is the zero itself.
        false => 2,
    };
    let finer = two_digits(standard);
    let value = Quantity::new(Number::from_f64(figure.value, shown)?, scale);
    Some((
        value,
        Quantity::new(Number::from_f64(standard, finer)?, decibels),
    ))
}
