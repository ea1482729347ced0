//! Into the step: with one key, or by itself once the figure is steady.

use crate::app::platform::device;
use crate::app::screens::audio::figures::{in_unit, said, units};
use crate::app::screens::audio::listen::{Shown, State};
use crate::app::screens::audio::numbers::{budgeted, decimals_of, exact, two_digits};
use crate::app::screens::audio::series::squelch;
use crate::app::shell::open_step::OpenStep;
use crate::app::words::audio as words;
use crate::job::{Deed, Heard, Span, takes};
use crate::procedure::Setting;
use crate::quantity::{Number, Quantity, Scale, Unit};
use crate::signal::measure::Measure;
use crate::signal::sweep::SPOT;
use crate::signal::{Figure, Weighting};
use leptos::prelude::*;

/// So many seconds apart from each other must agree.
const STRETCHES: usize = 3;

/// A figure of a second of its own, and how many samples had come by then.
#[derive(Clone, Copy)]
struct Stretch {
    came: f64,
    figure: Figure,
}

/// The step's target, its key, and the hands-free one.
pub fn take(state: State) -> impl IntoView {
    let hold = RwSignal::new(false);
    let stretches = StoredValue::new(Vec::<Stretch>::new());
    let have = RwSignal::new(0usize);
    Effect::new(move |_| {
        state.found.track();
        let chosen = state.chosen.get();
        let Some(figure) = state.shown(chosen).filter(|_| hold.get()) else {
            stretches.set_value(Vec::new());
            have.set(0);
            return;
        };
        let rate = state
            .source
            .with_untracked(|it| it.as_ref().map_or(1.0, |it| it.rate));
        let came = state.came.get_untracked();
        stretches.update_value(|all| gather(all, Stretch { came, figure }, rate));
        let steady = stretches.get_value();
        have.set(steady.len());
        if steady.len() >= STRETCHES {
            hold.set(false);
            enter(state, mean(&steady, chosen), steady.len());
        }
    });
    let key = move || {
        let step = state.step.get_value()?;
        let chosen = state.chosen.get();
        let figure = state.shown(chosen)?;
        fitting(state, &step, figure)?;
        let shown = Shown {
            measure: chosen,
            figure,
        };
        let (_, text) = said(state, shown);
        let press = move |_| {
            if let Some(figure) = state.shown(state.chosen.get_untracked()) {
                enter(state, figure, 1);
            }
        };
        Some(view! {
            <button type="button" class="main" on:click=press>{words::take(&text, step.number)}</button>
        })
    };
    let progress = move || {
        let text = match have.get() {
            0 | 1 => words::NOT_STEADY.to_owned(),
            have => words::steady(have, STRETCHES),
        };
        hold.get()
            .then(|| view! { <span class="hint">{text}</span> })
    };
    let any = state.step.with_value(Option::is_some);
    view! {
        {target(state)}
        <div class="row">
            {key}
            {any.then(|| view! {
                <button type="button" aria-pressed=move || hold.get().to_string()
                    on:click=move |_| hold.update(|on| *on = !*on)>{words::HOLD}</button>
            })}
            {progress}
        </div>
        {(!any).then(|| view! { <p class="hint">{words::NO_STEP}</p> })}
    }
}

/// The step's target, as its limits stand.
fn target(state: State) -> impl IntoView {
    move || {
        let step = state.step.get_value()?;
        let sign = state.bench.sign();
        let text = state.bench.progress.with(|progress| {
            let standing = progress.as_ref()?.step(&step.id)?;
            Some(standing.tolerance.clone()?.ok()?.typeset(sign))
        })?;
        Some(view! {
            <p class="target-line"><span class="term">{words::TARGET}</span><span class="target">{text}</span></p>
        })
    }
}

/// Keeps stretches that share no sample, and only as long as each agrees with the one before.
fn gather(all: &mut Vec<Stretch>, next: Stretch, rate: f64) {
    if all.last().is_some_and(|last| next.came < last.came + rate) {
        return;
    }
    let agrees = |each: &Stretch| {
        let apart = (each.figure.value - next.figure.value).abs();
        apart <= 3.0 * each.figure.standard.hypot(next.figure.standard)
    };
    if !all.iter().all(agrees) {
        all.clear();
    }
    all.push(next);
}

/// The mean. What is uncertain in all of them alike, as by the clock of the sound device or by one
/// reference, grows no smaller in it.
fn mean(all: &[Stretch], measure: Measure) -> Figure {
    let count = all.len() as f64;
    let standard = match shares_errors(measure) {
        true => all.iter().map(|it| it.figure.standard).fold(0.0, f64::max),
        false => {
            let variance = all.iter().map(|it| it.figure.standard.powi(2)).sum::<f64>();
            variance.sqrt() / count
        }
    };
    Figure {
        value: all.iter().map(|it| it.figure.value).sum::<f64>() / count,
        standard,
        freedom: all.iter().map(|it| it.figure.freedom).sum(),
    }
}

const fn shares_errors(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::Frequency
            | Measure::Voltage
            | Measure::Carrier
            | Measure::SignalAndNoise
            | Measure::Response
            | Measure::Sensitivity
            | Measure::SweptResponse
            | Measure::SquelchOpening
            | Measure::SquelchClosing
            | Measure::SquelchHysteresis
            | Measure::AgcLevel
            | Measure::AgcChange
    )
}

/// A figure as the step takes it, with its uncertainty in the unit of a difference.
fn fitting(state: State, step: &OpenStep, figure: Figure) -> Option<(Quantity, Quantity)> {
    let measure = state.chosen.get_untracked();
    let due = step.scale?.unit;
    if measure.is_of_generator() && has_level_of_generator(state, step) {
        return None;
    }
    let standard = budgeted(figure);
    let figure = Figure { standard, ..figure };
    if squelch::way(measure).is_some() {
        return fitting_level(state, step, figure);
    }
    let known = units(measure);
    let unit = known.iter().find(|unit| **unit == due).or(known.first())?;
    let figure = in_unit(measure, figure, *unit);
    let plain = |value: f64, decimals: u8, unit: Unit| {
        let number = Number::from_f64(value, decimals)?;
        Some(Quantity::new(number, Scale::plain(unit)))
    };
    let value = plain(figure.value, decimals_of(measure, figure.standard), *unit)?;
    let finer = two_digits(figure.standard);
    let standard = plain(figure.standard, finer, unit.of_difference())?;
    let taken = match *unit == due {
        true => step.reading(Some(value))?,
        false => value,
    };
    fits(state, step, &taken).then_some((taken, standard))
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
    let due = step.scale == Some(value.scale);
    (due && fits(state, step, &value)).then_some((value, standard))
}

/// Whether the step says at which level the generator stands. Then it asks for something else than
/// that, whatever its unit.
fn has_level_of_generator(state: State, step: &OpenStep) -> bool {
    let stated = state.bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        let settings = &procedure.step(&step.id)?.set_up.settings;
        let level = settings.get(&Setting::GeneratorLevel)?;
        let first = level
            .trim_start_matches(['-', '\u{2212}', '+'])
            .chars()
            .next();
        Some(first.is_some_and(|first| first.is_ascii_digit()))
    });
    stated == Some(true)
}

fn fits(state: State, step: &OpenStep, taken: &Quantity) -> bool {
    let fits = state.bench.progress.with_untracked(|progress| {
        let procedure = &progress.as_ref()?.course.procedure;
        let gauge = procedure.step(&step.id)?.work.gauge()?;
        takes(gauge, taken).ok()
    });
    fits.is_some()
}

/// Through which filter a figure is.
pub fn weighting(state: State, measure: Measure) -> Weighting {
    match measure {
        Measure::Sinad | Measure::ThdN | Measure::SignalAndNoise | Measure::Sensitivity => {
            state.weighting.get()
        }
        // Open and closed are told in the band of speech.
        Measure::SquelchOpening | Measure::SquelchClosing | Measure::SquelchHysteresis => {
            Weighting::Speech
        }
        // Fitted to the samples as they are.
        _ => Weighting::Whole,
    }
}

/// How long a stretch of sound is, in milliseconds.
pub const fn window(measure: Measure) -> u32 {
    match measure {
        Measure::SweptResponse => (SPOT * 1000.0) as u32,
        _ => 1000,
    }
}

/// How many stretches of sound a figure is from, and between which settings.
fn rests_on(state: State, measure: Measure, count: usize) -> (usize, Option<Span>) {
    let span = |from: Option<Quantity>, to: Option<Quantity>| {
        Some(Span {
            from: from?,
            to: to?,
        })
    };
    let hertz = |text| exact(state.number(text).ok()?, Scale::plain(Unit::Hertz));
    let tones = || span(hertz(state.reference), hertz(state.tone));
    match measure {
        Measure::Sensitivity => (state.points.with_untracked(Vec::len), None),
        Measure::Response => (count, tones()),
        Measure::SweptResponse => {
            let at = state
                .number(state.tone)
                .ok()
                .zip(state.number(state.reference).ok());
            let spots = at.and_then(|(hertz, reference)| {
                let sweep = state.series.sweep;
                Some(sweep.with(|sweep| sweep.at(hertz, reference))?.spots)
            });
            (spots.unwrap_or(count), tones())
        }
        Measure::SquelchOpening | Measure::SquelchClosing | Measure::SquelchHysteresis => {
            let edge = squelch::way(measure).and_then(|way| state.edge(way));
            let ends = edge.map(|edge| squelch::ends(state, edge));
            let span = ends.and_then(|[low, high]| span(low, high));
            (state.series.squelched.with(Vec::len), span)
        }
        Measure::AgcLevel => {
            let reference = state.level(state.series.agc_reference).ok();
            let [zero, own] = [reference, state.series.own_level.get_value()]
                .map(|level| state.level_quantity(level?));
            let times = state.own_output().map_or(count, |it| it.times);
            (times, span(zero, own))
        }
        Measure::AgcChange => match state.change() {
            Ok(found) => {
                let [low, high] = [found.low, found.high].map(|it| state.level_quantity(it));
                (found.change.times, span(low, high))
            }
            Err(_) => (count, None),
        },
        _ => (count, None),
    }
}

/// Writes the reading to the log, with where it is from and how it was measured, and shows the
/// step.
fn enter(state: State, figure: Figure, count: usize) {
    let (Some(step), Some(source)) = (state.step.get_value(), state.source.get_untracked()) else {
        return;
    };
    let Some((value, standard)) = fitting(state, &step, figure) else {
        return;
    };
    let measure = state.chosen.get_untracked();
    let (weighting, (count, span)) =
        untrack(|| (weighting(state, measure), rests_on(state, measure, count)));
    let reading = Deed::Reading {
        step: step.id.clone(),
        phase: step.phase,
        value,
        tool: None,
        repeat: false,
        heard: Some(Box::new(Heard {
            input: source.input.name,
            measure,
            weighting,
            window: window(measure),
            rate: source.rate.round() as u32,
            count: count as u32,
            standard,
            span,
        })),
    };
    if state.bench.record_all([reading]) {
        let bench = state.bench;
        let route = step.route.clone();
        // Not from within what the figure has just set off.
        device::after_paint(move || bench.go(&route));
    }
}
