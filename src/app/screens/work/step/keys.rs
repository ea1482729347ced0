//! Keys that work wherever the focus is, and a screen that stays awake.

use super::at::{At, Pane};
use super::leaving::leave;
use crate::app::platform::device;
use crate::app::screens::work::speech::Speech;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// Keeps the screen awake for as long as a step is shown, also after the page was hidden.
pub fn keep_awake() {
    let guard = StoredValue::new_local(Some(device::stay_awake()));
    let again = window_event_listener_untyped("visibilitychange", move |_| {
        guard.try_update_value(|guard| *guard = Some(device::stay_awake()));
    });
    on_cleanup(move || {
        again.remove();
        guard.try_update_value(|guard| *guard = None);
    });
}

/// Page keys, which page-turner pedals send too, walk through the steps; number keys go to
/// the reading wherever the focus is.
pub fn follow_keys(at: At, speech: Speech) {
    let handle = window_event_listener(leptos::ev::keydown, move |event| {
        let asking = at.question.with_untracked(Option::is_some);
        if asking || event.ctrl_key() || event.alt_key() || event.meta_key() {
            return;
        }
        let key = event.key();
        match key.as_str() {
            "PageDown" | "PageUp" => {
                event.prevent_default();
                // A key that is held down, or a pedal stood on, is one press.
                if !event.repeat() {
                    leave(at, if key == "PageDown" { 1 } else { -1 });
                }
            }
            "F2" if speech.has_voice.get_untracked() => {
                event.prevent_default();
                speech.toggle(at);
            }
            _ if is_number_key(&key) && !is_in_field(&event) => {
                turn_at_once(at, Pane::Measure);
                focus_reading();
            }
            _ => {}
        }
    });
    on_cleanup(move || handle.remove());
}

/// Shows a half of the step before the key in hand is done, so that its sign finds a field that can
/// take it: what follows a signal comes only after that.
fn turn_at_once(at: At, pane: Pane) {
    at.pane.set(pane);
    if let Ok(Some(step)) = document().query_selector("[data-pane]") {
        let _ = step.set_attribute("data-pane", pane.name());
    }
}

fn is_number_key(key: &str) -> bool {
    let mut letters = key.chars();
    let single = (letters.next(), letters.next());
    matches!(single, (Some(c), None) if c.is_ascii_digit() || matches!(c, '-' | '.' | ','))
}

fn is_in_field(event: &web_sys::KeyboardEvent) -> bool {
    let target = event
        .target()
        .and_then(|t| t.dyn_into::<web_sys::Element>().ok());
    target.is_some_and(|element| matches!(element.tag_name().as_str(), "INPUT" | "TEXTAREA"))
}

fn focus_reading() {
    let field = document().get_element_by_id("reading");
    if let Some(field) = field.and_then(|f| f.dyn_into::<web_sys::HtmlElement>().ok()) {
        device::focus_in_place(&field);
    }
}
