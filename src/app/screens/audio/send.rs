//! Tones and noise to send, from when it is asked for until it is stopped or the screen is left.

use crate::app::platform::audio::{Sending, Sound};
use crate::app::screens::audio::field::{as_typed, field};
use crate::app::screens::audio::listen::State;
use crate::app::screens::audio::numbers::digits;
use crate::app::words::audio as words;
use crate::signal::send as signal;
use crate::signal::sweep::OCTAVES_A_SECOND;
use leptos::prelude::*;
use std::ops::RangeInclusive;

/// What is sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    One,
    Two,
    Noise,
    Sweep,
}

impl What {
    const ALL: [(What, &'static str); 4] = [
        (What::One, words::ONE_TONE),
        (What::Two, words::TWO_TONES),
        (What::Noise, words::NOISE),
        (What::Sweep, words::SWEEP),
    ];
}

/// What can be sent, in hertz.
const AUDIBLE: RangeInclusive<f64> = 20.0..=20_000.0;

/// The rate of a second of noise, and the seed of its phases.
const NOISE_RATE: usize = 48_000;
const NOISE_SEED: u64 = 20_261_130;

/// The part of the screen that sends. It is closed until it is wanted.
pub fn send(state: State) -> impl IntoView {
    let what = RwSignal::new(What::One);
    let tone = as_typed(state.bench, "audio-send", "1000");
    let lower = as_typed(state.bench, "audio-send-lower", "700");
    let upper = as_typed(state.bench, "audio-send-upper", "1900");
    let from = as_typed(state.bench, "audio-send-from", "200");
    let to = as_typed(state.bench, "audio-send-to", "4000");
    let tenths = RwSignal::new(-400i32);
    let agreed = RwSignal::new(false);
    let failed = RwSignal::new(None::<&'static str>);
    let on = RwSignal::new(false);
    let sending = StoredValue::new_local(None::<Sending>);
    let stop = move || {
        sending.try_update_value(|sending| sending.take());
        let _ = on.try_set(false);
    };
    on_cleanup(move || {
        sending.try_update_value(|sending| sending.take());
    });
    let start = move || {
        let sound = untrack(|| {
            let hertz = |text| state.number(text).ok().filter(|it| AUDIBLE.contains(it));
            let tenths = tenths.get();
            match what.get() {
                What::One => Some(sound(&[hertz(tone)?], tenths)),
                What::Two => Some(sound(&[hertz(lower)?, hertz(upper)?], tenths)),
                What::Noise => Some(sound(&[], tenths)),
                What::Sweep => sweep(hertz(from)?, hertz(to)?, tenths),
            }
        });
        let begun = sound.as_ref().and_then(Sending::begin);
        failed.set(match (&sound, &begun) {
            (None, _) => Some(words::TYPE_TONE),
            (_, None) => Some(words::NOT_SENT),
            _ => None,
        });
        on.set(begun.is_some());
        sending.set_value(begun);
    };
    // What is changed is heard at once.
    let change = move || {
        if on.get_untracked() {
            start();
        }
    };
    let kinds = What::ALL.map(|(kind, name)| {
        let pressed = move || (what.get() == kind).to_string();
        let choose = move |_| {
            what.set(kind);
            change();
        };
        view! { <button type="button" aria-pressed=pressed on:click=choose>{name}</button> }
    });
    let step = |by: i32, name: &'static str| {
        let press = move |_| {
            tenths.update(|level| *level = (*level + by).clamp(signal::LEAST, signal::MOST));
            change();
        };
        view! { <button type="button" on:click=press>{name}</button> }
    };
    let level = move || {
        words::dbfs(&digits(
            f64::from(tenths.get()) / 10.0,
            1,
            state.bench.sign(),
        ))
    };
    let fields = move || match what.get() {
        What::One => Some(field("audio-send", words::TONE_SENT, tone).into_any()),
        What::Two => Some(
            view! {
                {field("audio-send-lower", words::LOWER_TONE, lower)}
                {field("audio-send-upper", words::UPPER_TONE, upper)}
            }
            .into_any(),
        ),
        What::Sweep => Some(
            view! {
                {field("audio-send-from", words::SWEEP_FROM, from)}
                {field("audio-send-to", words::SWEEP_TO, to)}
            }
            .into_any(),
        ),
        What::Noise => None,
    };
    let key = move || {
        match on.get() {
        true => view! {
            <p role="status">{words::SENDING}</p>
            <button type="button" class="main" on:click=move |_| stop()>{words::STOP}</button>
        }
        .into_any(),
        false => view! {
            <button type="button" class="main" disabled=move || !agreed.get() on:click=move |_| start()>{words::START}</button>
        }
        .into_any(),
    }
    };
    view! {
        <details class="audio-send">
            <summary>{words::SEND}</summary>
            <p class="audio-caution">{words::SEND_CAUTION}</p>
            <div class="row" role="group" aria-label=words::SEND>{kinds.collect_view()}</div>
            <div class="audio-settings">{fields}</div>
            <div class="row" role="group" aria-label=words::SEND_LEVEL>
                {step(-10, words::MUCH_QUIETER)}
                {step(-1, words::QUIETER)}
                <span class="number">{level}</span>
                {step(1, words::LOUDER)}
                {step(10, words::MUCH_LOUDER)}
            </div>
            <label class="check">
                <input type="checkbox" prop:checked=move || agreed.get()
                    on:change=move |event| agreed.set(event_target_checked(&event))/>
                {words::CONNECTED_RIGHT}
            </label>
            {key}
            {move || failed.get().map(|text| view! { <p class="refused" role="status">{text}</p> })}
        </details>
    }
}

/// A sweep as fast as it is followed; nothing where it goes nowhere.
fn sweep(low: f64, high: f64, tenths: i32) -> Option<Sound> {
    let octaves = (high / low).log2();
    (octaves > 0.0).then(|| Sound::Sweep {
        low,
        high,
        seconds: octaves / OCTAVES_A_SECOND,
        peak: signal::amplitude(tenths),
    })
}

/// Tones at a level, each of two half as strong; noise where there is none.
fn sound(tones: &[f64], tenths: i32) -> Sound {
    let each = match tones.len() {
        0 | 1 => signal::amplitude(tenths),
        _ => signal::each_of_two(tenths.min(signal::MOST_OF_TWO)),
    };
    match tones {
        [] => {
            let samples = signal::noise(NOISE_RATE, NOISE_SEED);
            let samples = samples.into_iter().map(|each| each as f32).collect();
            let level = signal::amplitude(tenths.min(signal::MOST_OF_NOISE));
            Sound::Noise(samples, level)
        }
        tones => Sound::Tones(tones.iter().map(|hertz| (*hertz, each)).collect()),
    }
}
