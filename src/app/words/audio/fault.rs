//! Why there is no sound, and why a sound gives no figure.

use super::LISTENING;
use crate::app::platform::audio::{Processing, Trouble};
use crate::signal::Unfit;

/// Why no sound comes.
pub fn trouble(trouble: Trouble) -> &'static str {
    match trouble {
        Trouble::Denied => {
            "Sound input not allowed: allow the microphone for this page in the browser, then try again."
        }
        Trouble::NoInput => "No sound input found: plug one in, then try again.",
        Trouble::InUse => {
            "The sound input does not start: close what else uses it, then try again."
        }
        Trouble::Lost => "The sound input is gone: plug it in again, then try again.",
        Trouble::Processed(Processing::EchoCancellation) => {
            "The browser keeps echo cancellation on: choose another input or browser, for a figure through it would be false."
        }
        Trouble::Processed(Processing::NoiseSuppression) => {
            "The browser keeps noise suppression on: choose another input or browser, for a figure through it would be false."
        }
        Trouble::Processed(Processing::GainControl) => {
            "The browser keeps automatic gain on: choose another input or browser, for a figure through it would be false."
        }
        Trouble::NotSupported => {
            "This browser gives no sound to measure: use a current one, over https."
        }
    }
}

/// Why a stretch of sound gives no figure.
pub fn unfit(unfit: Unfit, hertz: impl Fn(f64) -> String) -> String {
    match unfit {
        Unfit::Rate { hertz: rate } => format!(
            "Sample rate {} is outside 8 to 192\u{a0}kHz: choose another input.",
            hertz(rate)
        ),
        Unfit::TooShort { .. } => LISTENING.to_owned(),
        Unfit::NotFinite => "The input gives no numbers: choose another input.".to_owned(),
        Unfit::Silent { .. } => {
            "Silence at the input: check cable, volume and the choice of input.".to_owned()
        }
        Unfit::Gap => {
            "The sound has gaps: close other programs, then wait a second.".to_owned()
        }
        Unfit::Clipped { .. } => {
            "The input clips: lower the level or add a pad in front of it.".to_owned()
        }
        Unfit::ToneAbsent { low, high } if low == high => format!(
            "No tone near {}: check generator, modulation and the tone that is set here.",
            hertz(low)
        ),
        Unfit::ToneAbsent { low, high } => format!(
            "No tone between {} and {}: check generator, modulation and the tone that is set here.",
            hertz(low),
            hertz(high)
        ),
        Unfit::ToneWanders { hertz: by } => format!(
            "The tone wanders by {} within a second: let the oscillators settle.",
            hertz(by)
        ),
        Unfit::LevelWanders { .. } => {
            "The level of the tone moves within a second: wait until it is steady.".to_owned()
        }
        Unfit::NotClosed => {
            "That is no closed squelch: generator off, then take it as closed.".to_owned()
        }
        Unfit::QuieterThanClosed => {
            "It is quieter than what was taken as closed: take it again.".to_owned()
        }
        Unfit::NoSweep => "The tone stands still: sweep it up and down.".to_owned(),
        Unfit::SweepTooFast => "The sweep is too fast: an octave in 3\u{a0}s or slower.".to_owned(),
        Unfit::TooNear => {
            "Two frequencies are too near to each other: set them farther apart.".to_owned()
        }
        Unfit::NotRising => {
            "The figure does not rise across the level asked for: check the set and the ends of the search.".to_owned()
        }
        Unfit::NoSense => "A value is missing or out of range: check what is set here.".to_owned(),
    }
}
