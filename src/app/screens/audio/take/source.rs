//! What a figure rests on: its filter, its stretches of sound, its two settings.

use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::exact;
use crate::app::screens::audio::series::squelch;
use crate::job::Span;
use crate::quantity::{Quantity, Scale, Unit};
use crate::signal::Weighting;
use crate::signal::measure::Measure;
use crate::signal::sweep::SPOT;
use leptos::prelude::*;

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
pub fn rests_on(state: State, measure: Measure, count: usize) -> (usize, Option<Span>) {
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
