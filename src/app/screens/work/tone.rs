//! A quiet tone when a reading is taken, for whoever looks at the set: inside or outside. Told
//! by pitch and by rhythm, so that either is enough.

use crate::app::screens::work::step::At;
use crate::job::StepProgress;
use crate::procedure::Id;
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
    Effect::new(move |before: Option<Vec<(Id, bool)>>| {
        let now = judged(at);
        let on = at.bench.preferences.with_untracked(|p| p.tone);
        let is_new = |event: &Id| {
            let before = before.as_ref();
            before.is_some_and(|before| before.iter().all(|(other, _)| other != event))
        };
        if let Some((event, inside)) = now.last()
            && on
            && is_new(event)
        {
            // Without sound, the screen says it all the same.
            let _ = sound(if *inside { INSIDE } else { OUTSIDE });
        }
        now
    });
}

/// What the log says of each reading of the step that is judged, in order.
fn judged(at: At) -> Vec<(Id, bool)> {
    at.standing.now().with(|standing| {
        let judged = standing.as_ref().map(StepProgress::judged);
        let judged = judged.unwrap_or_default().into_iter();
        judged
            .map(|(event, inside)| (event.clone(), inside))
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
