//! What of a figure goes into the step, or why it can't.

use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::{budgeted, decimals, decimals_of, two_digits};
use crate::app::screens::audio::series::gathered::of_set_up;
use crate::app::screens::audio::series::squelch;
use crate::app::screens::audio::units::{in_unit, units};
use crate::app::shell::open_step::OpenStep;
use crate::job::takes;
use crate::procedure::SetUp;
use crate::quantity::{Number, Quantity, Scale, Unit};
use crate::signal::Figure;
use crate::signal::measure::Measure;
use leptos::prelude::*;

/// Why a figure can't go into the step, whatever it comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Obstacle {
    /// It takes no reading, or none any more.
    NoReading,
    /// The figure is a level of the generator, and the step states at what that stands.
    LevelStands,
    /// The step reads a power, and what the input is worth in volts is not known.
    NoVolts,
    /// The figure is in a unit that can't be given in the step's.
    Unit {
        /// The figure's, where it has one.
        figure: Option<Unit>,
        /// The step's.
        due: Unit,
    },
}

/// What keeps a figure out of the step.
pub fn obstacle(state: State, step: &OpenStep, measure: Measure) -> Option<Obstacle> {
    let Some(due) = step.scale else {
        return Some(Obstacle::NoReading);
    };
    let stands = || of_set_up(state.bench, &step.id, SetUp::states_generator_level);
    if measure.is_of_generator() && stands() == Some(true) {
        return Some(Obstacle::LevelStands);
    }
    if reads_power(measure, due.unit) {
        let known = state.power_at_reference();
        return known.is_none().then_some(Obstacle::NoVolts);
    }
    let of_series = squelch::way(measure).map(|_| state.series.scale.get_value());
    let scale = of_series.or_else(|| Some(Scale::plain(unit_for(measure, due.unit)?)));
    let goes = scale.is_some_and(|scale| {
        let one = Number::from_f64(1.0, 0).map(|one| Quantity::new(one, scale));
        // Levels of the generator go in as they are typed.
        one.is_some_and(|one| fits(state, step, &one)) && of_series.is_none_or(|it| it == due)
    });
    (!goes).then_some(Obstacle::Unit {
        figure: scale.map(|scale| scale.unit),
        due: due.unit,
    })
}

/// Whether a response goes into a step as the power that it is.
fn reads_power(measure: Measure, due: Unit) -> bool {
    let of_response = matches!(measure, Measure::Response | Measure::SweptResponse);
    of_response && due == Unit::DecibelMilliwatt
}

/// The load of a figure that goes into a step as a power.
pub fn load(state: State, step: &OpenStep, measure: Measure) -> Option<Quantity> {
    let is_power = reads_power(measure, step.scale?.unit);
    Some(state.power_at_reference().filter(|_| is_power)?.load)
}

/// The unit in which a figure goes into a step: the step's own, or else its first.
fn unit_for(measure: Measure, due: Unit) -> Option<Unit> {
    if reads_power(measure, due) {
        return Some(due);
    }
    let known = units(measure);
    let own = known.iter().find(|unit| **unit == due);
    own.or(known.first()).copied()
}

/// A figure as the step takes it, with its uncertainty in the unit of a difference.
pub fn fitting(state: State, step: &OpenStep, figure: Figure) -> Option<(Quantity, Quantity)> {
    let measure = state.chosen.get_untracked();
    let due = step.scale?.unit;
    if obstacle(state, step, measure).is_some() {
        return None;
    }
    let figure = match reads_power(measure, due) {
        true => state.power_at_reference()?.plus(figure),
        false => figure,
    };
    let standard = budgeted(figure);
    let figure = Figure { standard, ..figure };
    if squelch::way(measure).is_some() {
        return fitting_level(state, step, figure);
    }
    let unit = unit_for(measure, due)?;
    let figure = in_unit(measure, figure, unit);
    if matches!(unit, Unit::VoltEmf | Unit::VoltPd) {
        return in_scale(step.scale?, figure);
    }
    let plain = |value: f64, decimals: u8, unit: Unit| {
        let number = Number::from_f64(value, decimals)?;
        Some(Quantity::new(number, Scale::plain(unit)))
    };
    let value = plain(figure.value, decimals_of(measure, figure.standard), unit)?;
    let finer = two_digits(figure.standard);
    let standard = plain(figure.standard, finer, unit.of_difference())?;
    let taken = match unit == due {
        true => step.reading(Some(value))?,
        false => value,
    };
    fits(state, step, &taken).then_some((taken, standard))
}

/// A small voltage, with its digits in the step's own scale.
fn in_scale(scale: Scale, figure: Figure) -> Option<(Quantity, Quantity)> {
    let one = Quantity::new(Number::from_f64(1.0, 0)?, scale).base_f64();
    let standard = figure.standard / one;
    let number = |value: f64, places: u8| Number::from_f64(value, places);
    let value = number(figure.value / one, decimals(standard))?;
    let standard = number(standard, two_digits(standard))?;
    Some((Quantity::new(value, scale), Quantity::new(standard, scale)))
}

/// A level of the generator, as the step takes it where levels are typed in its scale.
fn fitting_level(state: State, step: &OpenStep, figure: Figure) -> Option<(Quantity, Quantity)> {
    let value = state.level_quantity(figure.value)?;
    let unit = value.unit().of_difference();
    let scale = match unit == value.unit() {
        true => value.scale,
        false => Scale::plain(unit),
    };
    let one = Quantity::new(Number::from_f64(1.0, 0)?, scale).base_f64();
    let size = figure.standard / one;
    let standard = Quantity::new(Number::from_f64(size, two_digits(size))?, scale);
    fits(state, step, &value).then_some((value, standard))
}

fn fits(state: State, step: &OpenStep, taken: &Quantity) -> bool {
    let fits = state.bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        let gauge = procedure.step(&step.id)?.work.gauge()?;
        takes(gauge, taken).ok()
    });
    fits.is_some()
}
