//! The wave and the spectrum, drawn as all else here: ink, thin rules, one accent.

use crate::app::screens::audio::listen::{COLUMNS, ENDS, Seen, State};
use crate::app::screens::audio::numbers::digits;
use crate::app::screens::audio::plot::{Plot, WIDTH};
use crate::app::words::audio as words;
use leptos::prelude::*;

/// The spectrum.
const SPECTRUM: Plot = Plot {
    ends: ENDS,
    levels: (-120.0, 0.0),
    height: 120.0,
};

/// Which of its levels, in dBFS, and which frequencies, in hertz, have their figure.
const LEVELS: [f64; 6] = [-100.0, -80.0, -60.0, -40.0, -20.0, 0.0];
const MARKED: [f64; 6] = [100.0, 300.0, 1_000.0, 2_000.0, 3_000.0, 6_000.0];

/// Both, where there is sound.
pub fn picture(state: State) -> impl IntoView {
    let wave = move || state.seen.with(|seen| wave_line(&seen.wave));
    let spectrum = move || state.seen.with(|seen| spectrum_line(&seen.columns));
    let any = Memo::new(move |_| state.seen.with(|seen| !seen.columns.is_empty()));
    let rules = move || {
        let sign = state.bench.sign();
        let said = |level: f64| match level {
            0.0 => words::dbfs(&digits(level, 0, sign)),
            level => digits(level, 0, sign),
        };
        view! {
            {SPECTRUM.levels(LEVELS.into_iter(), said)}
            {SPECTRUM.frequencies(&MARKED, sign)}
        }
    };
    let marks = move || state.seen.with(marks);
    view! {
        <div class="audio-pictures" class:unseen=move || !any.get()>
            <svg class="audio-picture" viewBox="0 0 480 60" role="img" aria-label=words::WAVE>
                <line class="audio-rule" x1="0" x2="440" y1="30" y2="30"/>
                <polyline class="audio-line" points=wave/>
            </svg>
            <svg class="audio-picture" viewBox=SPECTRUM.view_box() role="img" aria-label=words::SPECTRUM>
                {rules}
                <polyline class="audio-line" points=spectrum/>
                {marks}
            </svg>
        </div>
    }
}

fn points(values: impl Iterator<Item = (f64, f64)>) -> String {
    values.map(|(x, y)| format!("{x:.1},{y:.1} ")).collect()
}

/// As high as it comes, so that a quiet one is seen too.
fn wave_line(wave: &[f64]) -> String {
    let most = wave
        .iter()
        .fold(1e-6, |most: f64, each| most.max(each.abs()));
    let step = WIDTH / wave.len().max(1) as f64;
    let places = wave.iter().enumerate();
    points(places.map(|(at, value)| (at as f64 * step, 30.0 - value / most * 28.0)))
}

fn spectrum_line(columns: &[f64]) -> String {
    let step = WIDTH / COLUMNS as f64;
    let places = columns.iter().enumerate();
    points(places.map(|(at, level)| (at as f64 * step, SPECTRUM.down(*level))))
}

/// The names of what is drawn: the tone, its harmonics by their number, the noise beside it.
fn marks(seen: &Seen) -> impl IntoView + use<> {
    let tone = seen.tone?;
    let names = (1..=5).map(|order| (tone * f64::from(order), order));
    let names = names
        .filter(|(hertz, _)| *hertz < ENDS.1)
        .map(|(hertz, order)| {
            let x = format!("{:.1}", SPECTRUM.across(hertz));
            let name = match order {
                1 => words::MARK_TONE.to_owned(),
                order => order.to_string(),
            };
            view! { <text class="audio-mark" x=x y="9" text-anchor="middle">{name}</text> }
        });
    let floor = seen.floor.map(|level| {
        let y = format!("{:.1}", SPECTRUM.down(level));
        view! {
            <line class="audio-floor" x1="0" x2="440" y1=y.clone() y2=y.clone()/>
            <text class="audio-mark" x="2" y=y>{words::MARK_FLOOR}</text>
        }
    });
    Some(view! { {names.collect_view()} {floor} })
}
