//! A mode of the frequency plan as a bar: its oscillators one behind the other, as long as they are
//! high, up to the channel; what is subtracted goes back below; how far the sum misses the channel
//! is a tail behind it, on a scale of its own.

use crate::app::words::work::plan as words;
use crate::job::{ModeView, OscillatorView};
use crate::quantity::{DecimalSign, Quantity};
use leptos::prelude::*;

/// How much of the width the highest frequency takes; the rest is for the tail, on both sides.
const WIDTH: f64 = 76.0;
/// The longest tail, and the shortest one that is seen.
const TAIL: (f64, f64) = (20.0, 1.5);

/// One oscillator in the bar: where it begins and how long it is, in hundredths of the width.
struct Piece<'a> {
    oscillator: &'a OscillatorView,
    from: f64,
    long: f64,
}

/// How often an oscillator counts in the sum, and its frequency: as it was left, or else as it
/// should be.
fn frequency(oscillator: &OscillatorView) -> Option<f64> {
    let known = oscillator.reading.as_ref();
    let known = known.or(oscillator.target.as_ref().ok())?;
    Some(f64::from(oscillator.factor) * known.base_f64())
}

/// The pieces of a bar, and where the channel is; nothing where a frequency is not known.
fn pieces(mode: &ModeView, channel: f64) -> Option<(Vec<Piece<'_>>, f64)> {
    let signed: Option<Vec<f64>> = mode.oscillators.iter().map(frequency).collect();
    let signed = signed?;
    let forth: f64 = signed.iter().filter(|it| **it > 0.0).sum();
    let highest = forth.max(channel);
    if !highest.is_finite() || highest <= 0.0 {
        return None;
    }
    let place = |frequency: f64| frequency / highest * WIDTH;
    let (mut up, mut down) = (0.0, forth);
    let oscillators = mode.oscillators.iter().zip(signed);
    let pieces = oscillators.map(|(oscillator, frequency)| {
        let from = match frequency >= 0.0 {
            true => {
                up += frequency;
                up - frequency
            }
            false => {
                down += frequency;
                down
            }
        };
        Piece {
            oscillator,
            from: place(from),
            long: place(frequency.abs()),
        }
    });
    Some((pieces.collect(), place(channel)))
}

/// The largest error on the air among the modes of a channel: what the tails are measured by.
pub fn largest_error(modes: &[ModeView]) -> f64 {
    let errors = modes.iter().filter_map(|mode| mode.predicted.as_ref());
    errors
        .map(|it| it.error.base_f64().abs())
        .fold(0.0, f64::max)
}

/// The bar of a mode.
pub fn bar(
    mode: &ModeView,
    channel: &Quantity,
    largest: f64,
    sign: DecimalSign,
) -> Option<impl IntoView + use<>> {
    let (pieces, at) = pieces(mode, channel.base_f64())?;
    let parts: Vec<String> = mode
        .oscillators
        .iter()
        .map(|it| {
            let known = it.reading.as_ref().or(it.target.as_ref().ok());
            let known = known.map_or(String::new(), |it| it.typeset(sign));
            words::part(&it.name, it.factor, &known, it.reading.is_some())
        })
        .collect();
    let error = mode.predicted.as_ref().map(|it| {
        let plus = if it.error.base_f64() > 0.0 { "+" } else { "" };
        format!("{plus}{}", it.error.typeset(sign))
    });
    let said = words::sum(&mode.mode, &parts, &channel.typeset(sign), error.as_deref());
    let drawn = pieces.into_iter().map(
        |Piece {
             oscillator,
             from,
             long,
         }| {
            view! {
                <span class="plan-part" class:plan-back={oscillator.factor < 0}
                    class:plan-due=oscillator.reading.is_none()
                    style:left=percent(from) style:width=percent(long)>
                    {oscillator.name.clone()}
                </span>
            }
        },
    );
    let drawn = drawn.collect_view();
    let tail = mode.predicted.as_ref().map(|it| {
        let error = it.error.base_f64();
        let long = match largest > 0.0 && error != 0.0 {
            true => (error.abs() / largest * TAIL.0).max(TAIL.1),
            false => 0.0,
        };
        let from = if error < 0.0 { at - long } else { at };
        view! { <span class="plan-tail" style:left=percent(from) style:width=percent(long)></span> }
    });
    Some(view! {
        <div class="plan-sum">
            <div class="plan-bar" role="img" aria-label=said>
                {drawn}
                <span class="plan-channel" style:left=percent(at)></span>
                {tail}
            </div>
            <p class="plan-error" aria-hidden="true">{error.map(|error| words::misses(&error))}</p>
        </div>
    })
}

fn percent(hundredths: f64) -> String {
    format!("{hundredths:.2}%")
}
