//! A quiet tone when a reading is taken, for whoever looks at the set: inside or outside. Told
//! by pitch and by rhythm, so that either is enough.

use super::step::At;
use crate::procedure::Work;
use leptos::prelude::*;
use std::cell::RefCell;
use web_sys::AudioContext;

/// A beep: when it starts and how long it lasts, in seconds.
type Beep = (f64, f64);

/// One long high tone.
const INSIDE: (f32, &[Beep]) = (660.0, &[(0.0, 0.22)]);

/// Three short low ones.
const OUTSIDE: (f32, &[Beep]) = (330.0, &[(0.0, 0.07), (0.13, 0.07), (0.26, 0.07)]);

/// As a share of the loudest.
const LOUDNESS: f32 = 0.08;

thread_local! {
    /// Kept, since browsers allow a page a few of them only.
    static AUDIO: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

/// Sounds for each new reading of the step, where the technician has switched that on.
pub fn follow(at: At) {
    Effect::new(move |before: Option<Vec<bool>>| {
        let now = verdicts(at);
        let on = at.bench.preferences.with_untracked(|p| p.tone);
        let is_new = before.is_some_and(|before| now.len() > before.len());
        if let Some(&inside) = now.last()
            && on
            && is_new
        {
            // Without sound, the screen says it all the same.
            let _ = sound(if inside { INSIDE } else { OUTSIDE });
        }
        now
    });
}

/// Whether each reading of the step that has a target is inside, in order.
fn verdicts(at: At) -> Vec<bool> {
    let work = at.step.with_value(|step| step.work.clone());
    at.standing.with(|standing| {
        let Some(standing) = standing else {
            return Vec::new();
        };
        if let Work::Socket(socket) = work {
            let inside = standing.pins.iter().filter_map(|pin| {
                let due = socket.expected(&pin.pin, &pin.state)?;
                Some(due.unit() == pin.value.unit() && due.judge(&pin.value).is_inside())
            });
            return inside.collect();
        }
        let verdicts = standing.readings.iter();
        verdicts
            .filter_map(|taken| Some(taken.verdict.as_ref()?.is_inside()))
            .collect()
    })
}

fn sound((pitch, beeps): (f32, &[Beep])) -> Option<()> {
    let audio = AUDIO.with_borrow_mut(|kept| {
        if kept.is_none() {
            *kept = AudioContext::new().ok();
        }
        kept.clone()
    })?;
    // A browser may have put it to sleep while the page was hidden.
    let _ = audio.resume();
    let gain = audio.create_gain().ok()?;
    gain.connect_with_audio_node(&audio.destination()).ok()?;
    gain.gain().set_value(LOUDNESS);
    for (start, length) in beeps {
        let from = audio.current_time() + start;
        let oscillator = audio.create_oscillator().ok()?;
        oscillator.frequency().set_value(pitch);
        oscillator.connect_with_audio_node(&gain).ok()?;
        oscillator.start_with_when(from).ok()?;
        oscillator.stop_with_when(from + length).ok()?;
    }
    Some(())
}
