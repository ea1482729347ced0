//! Reading a step aloud, with a voice that is on the device itself: others send the text away
//! (Web Speech API, `localService`).

use crate::app::screens::work::step::At;
use crate::app::words::work::speech as words;
use crate::procedure::spoken;
use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use web_sys::{SpeechSynthesis, SpeechSynthesisUtterance, SpeechSynthesisVoice};

/// What the browser can say, shared by all screens.
#[derive(Clone, Copy)]
pub struct Speech {
    /// Whether there is a voice on this device.
    pub has_voice: RwSignal<bool>,
    /// Whether a step is being read aloud.
    pub speaks: RwSignal<bool>,
}

impl Speech {
    /// Looks for voices, now and whenever the browser has found more.
    pub fn open() -> Self {
        let speech = Speech {
            has_voice: RwSignal::new(local_voice().is_some()),
            speaks: RwSignal::new(false),
        };
        let look = move || speech.has_voice.set(local_voice().is_some());
        if let Some(synthesis) = synthesis() {
            let heard = Closure::<dyn Fn()>::new(look);
            let target: &web_sys::EventTarget = synthesis.as_ref();
            let listens = target
                .add_event_listener_with_callback("voiceschanged", heard.as_ref().unchecked_ref());
            if listens.is_ok() {
                heard.forget();
            }
        }
        speech
    }

    /// Reads the step aloud, or stops reading.
    pub fn toggle(self, at: At) {
        if self.speaks.get_untracked() {
            self.stop();
            return;
        }
        let text = untrack(|| text_of(at));
        if self.say(&text).is_none() {
            at.bench.refuse(words::NO_VOICE);
        }
    }

    /// Is silent from now on.
    pub fn stop(self) {
        if let Some(synthesis) = synthesis() {
            synthesis.cancel();
        }
        self.speaks.set(false);
    }

    fn say(self, text: &str) -> Option<()> {
        let (synthesis, voice) = (synthesis()?, local_voice()?);
        let utterance = SpeechSynthesisUtterance::new_with_text(text).ok()?;
        utterance.set_voice(Some(&voice));
        utterance.set_lang(&voice.lang());
        let ended = Closure::once_into_js(move || self.speaks.set(false));
        utterance.set_onend(Some(ended.unchecked_ref()));
        synthesis.cancel();
        synthesis.speak(&utterance);
        self.speaks.set(true);
        Some(())
    }
}

fn text_of(at: At) -> String {
    let sign = at.bench.sign();
    let tolerance = at.standing.with(|s| s.as_ref()?.tolerance.clone()?.ok());
    let target = tolerance.map(|tolerance| tolerance.typeset(sign));
    let step = at.step.get_value();
    at.procedure
        .with_value(|procedure| spoken(procedure, &step, target))
}

fn synthesis() -> Option<SpeechSynthesis> {
    let synthesis = window().speech_synthesis().ok()?;
    // A browser without it has nothing there, which the type does not say.
    JsValue::from(&synthesis).is_object().then_some(synthesis)
}

/// A voice on the device: one of the language of the app's words if there is one.
fn local_voice() -> Option<SpeechSynthesisVoice> {
    let voices: Vec<SpeechSynthesisVoice> = synthesis()?
        .get_voices()
        .iter()
        .map(JsCast::unchecked_into)
        .filter(SpeechSynthesisVoice::local_service)
        .collect();
    let fitting = voices
        .iter()
        .find(|voice| voice.lang().starts_with(words::LANGUAGE));
    fitting.or(voices.first()).cloned()
}

/// The button of a step; none without a voice.
pub fn key(at: At, speech: Speech) -> impl IntoView {
    let word = move || match speech.speaks.get() {
        true => words::STOP,
        false => words::READ_ALOUD,
    };
    view! {
        <Show when=move || speech.has_voice.get()>
            <button type="button" class="plain" on:click=move |_| speech.toggle(at)>{word}</button>
        </Show>
    }
}
