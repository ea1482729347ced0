//! The figures: one large, the others small, and the level at the input.

use crate::app::screens::audio::listen::{Shown, State};
use crate::app::screens::audio::numbers::{decimals_of, digits, expanded, uncertainty};
use crate::app::screens::audio::series::squelch;
use crate::app::screens::audio::take;
use crate::app::screens::audio::units::{difference_of, in_unit, unit_of, units};
use crate::app::ui::capitalised;
use crate::app::words::audio as words;
use crate::quantity::{DecimalSign, Unit};
use crate::signal::Unfit;
use crate::signal::figure::{decibels as level_of, power_of};
use crate::signal::measure::Measure;
use leptos::prelude::*;

/// From here on the level is drawn, in dBFS.
const QUIETEST: f64 = -60.0;

/// A figure as it is shown, without and with its unit.
pub fn said(state: State, shown: Shown) -> (String, String) {
    let sign = state.bench.sign();
    let level = squelch::way(shown.measure).and_then(|_| state.level_quantity(shown.figure.value));
    if let Some(level) = level {
        return (level.number.typeset(sign), level.typeset(sign));
    }
    let unit = units(shown.measure)
        .first()
        .copied()
        .unwrap_or(Unit::Decibel);
    let figure = in_unit(shown.measure, shown.figure, unit);
    let decimals = decimals_of(shown.measure, figure.standard);
    let number = digits(figure.value, decimals, sign);
    let with_unit = words::with_unit(&number, unit_of(shown.measure));
    (number, with_unit)
}

/// The level at the input, with a warning where it clips.
pub fn meter(state: State) -> impl IntoView {
    let share = move || {
        let level = state.meter.get().map_or(QUIETEST, |meter| meter.level);
        let share = (level - QUIETEST) / -QUIETEST * 100.0;
        format!("{:.0}%", share.clamp(0.0, 100.0))
    };
    let text = move || {
        let level = state.meter.get()?.level;
        let sign = state.bench.sign();
        level
            .is_finite()
            .then(|| words::dbfs(&digits(level, 1, sign)))
    };
    let clips = move || state.meter.get().is_some_and(|meter| meter.peak >= 0.999);
    view! {
        <div class="audio-meter" class:clips=clips>
            <span class="term">{words::LEVEL}</span>
            <span class="audio-bar"><span style:width=share></span></span>
            <span class="number">{text}</span>
            <Show when=clips><strong>{words::CLIPPING}</strong></Show>
        </div>
    }
}

/// What is found, or why nothing is.
pub fn figures(state: State) -> impl IntoView {
    let body = move || {
        let chosen = state.chosen.get();
        match (state.trouble.get(), state.found.get()) {
            (Some(_), _) => None,
            (None, None) => {
                let word = match state.source.with(Option::is_some) {
                    true => words::LISTENING,
                    false => words::OPENING,
                };
                Some(view! { <p class="hint">{word}</p> }.into_any())
            }
            (None, Some(Err(why))) => Some(unfit(state, why).into_any()),
            (None, Some(Ok(found))) => Some(shown(state, &found, chosen).into_any()),
        }
    };
    view! {
        <div class="audio-figures">
            {choice(state)}
            {body}
            {take::take(state)}
            {source_line(state)}
        </div>
    }
}

fn unfit(state: State, why: Unfit) -> impl IntoView {
    let sign = state.bench.sign();
    let hertz = |hertz: f64| words::hertz(&digits(hertz, 0, sign));
    view! { <p class="refused" role="status">{words::unfit(why, hertz)}</p> }
}

fn shown(state: State, found: &[Shown], chosen: Measure) -> impl IntoView + use<> {
    let sign = state.bench.sign();
    let large = found.iter().find(|it| it.measure == chosen).copied();
    let large = large.map(|it| {
        let (_, text) = said(state, it);
        let unit = units(it.measure).first().copied().unwrap_or(Unit::Decibel);
        let expanded = expanded(in_unit(it.measure, it.figure, unit));
        let plain = || words::within(&words::with_unit(&uncertainty(expanded, sign), difference_of(it.measure)));
        let within = squelch::between(state, it.measure, sign).unwrap_or_else(plain);
        view! {
            <p class="term">{capitalised(it.measure.name())}</p>
            <p class="audio-figure">{text}</p>
            <p class="audio-within">{within}{fit_ratio(it, sign)}</p>
            {it.measure.compares_lines().then(|| view! { <p class="hint">{words::RESPONSE_NOT_KNOWN}</p> })}
        }
    });
    let others = found.iter().filter(|it| it.measure != chosen).map(|it| {
        let (_, text) = said(state, *it);
        view! { <li><span class="term">{capitalised(it.measure.name())}</span>" "<span class="number">{text}</span></li> }
    });
    let others = others.collect_view();
    view! { {large} <ul class="audio-others" aria-label=words::OTHERS>{others}</ul> }
}

/// The sine fit's own ratio beside a receiver's SINAD, for who compares.
fn fit_ratio(shown: Shown, sign: DecimalSign) -> Option<String> {
    let ratio = level_of(power_of(shown.figure.value) - 1.0);
    let of_sinad = shown.measure == Measure::Sinad && ratio.is_finite();
    of_sinad.then(|| {
        words::fit_ratio(&digits(
            ratio,
            decimals_of(Measure::Sinad, shown.figure.standard),
            sign,
        ))
    })
}

/// Which of several figures counts.
fn choice(state: State) -> impl IntoView {
    move || {
        let measures: &[Measure] = match state.task.get() {
            super::Task::Tone => &[
                Measure::Sinad,
                Measure::ThdN,
                Measure::Thd,
                Measure::Frequency,
                Measure::Voltage,
            ],
            super::Task::Squelch => &[
                Measure::SquelchOpening,
                Measure::SquelchClosing,
                Measure::SquelchHysteresis,
            ],
            super::Task::Two => &[Measure::Intermodulation, Measure::IntermodulationPep],
            _ => return None,
        };
        let key = |&measure: &Measure| {
            let pressed = move || (state.chosen.get() == measure).to_string();
            view! {
                <button type="button" aria-pressed=pressed on:click=move |_| state.chosen.set(measure)>
                    {capitalised(measure.name())}
                </button>
            }
        };
        let keys = measures.iter().map(key).collect_view();
        Some(view! { <div class="row" role="group" aria-label=words::FIGURE>{keys}</div> })
    }
}

fn source_line(state: State) -> impl IntoView {
    move || {
        let source = state.source.get()?;
        let rate = digits(source.rate, 0, state.bench.sign());
        let name = match source.input.name.as_str() {
            "" => words::USUAL_INPUT,
            name => name,
        };
        let measure = state.chosen.get();
        let window = take::window(measure);
        let part = u8::from(!window.is_multiple_of(1000));
        let window = digits(f64::from(window) / 1000.0, part, state.bench.sign());
        let text = words::settings(name, &rate, &window, take::weighting(state, measure).name());
        Some(view! { <p class="hint">{text}</p> })
    }
}
