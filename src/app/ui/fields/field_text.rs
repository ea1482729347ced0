//! The text of a field, put there without getting in the way of whoever types.

use leptos::prelude::*;
use leptos::tachys::html::property::IntoProperty;
use leptos::tachys::renderer::types::Element;
use std::sync::LazyLock;
use wasm_bindgen::JsValue;

/// Whether a word is being composed, as with an input method, in whichever field.
static COMPOSING: LazyLock<ArcRwSignal<bool>> = LazyLock::new(|| ArcRwSignal::new(false));

const VALUE: &str = "value";

/// Notes when a word is begun and when it is whole.
pub fn watch_composing() {
    let note = |composing: bool| {
        move |_: web_sys::CompositionEvent| {
            if COMPOSING.get_untracked() != composing {
                COMPOSING.set(composing);
            }
        }
    };
    window_event_listener(leptos::ev::compositionstart, note(true));
    window_event_listener(leptos::ev::compositionend, note(false));
}

/// What stands in a field. It is written only where something else stands there, for writing moves
/// the caret and ends the undoing of what was typed; and not into a word that is being composed,
/// but once that is whole.
pub struct FieldText(String);

/// The text as the value of a field: `prop:value=move || field_text(text.get())`.
pub fn field_text(text: String) -> FieldText {
    COMPOSING.track();
    FieldText(text)
}

impl FieldText {
    fn put(&self, field: &Element) {
        let key = JsValue::from_str(VALUE);
        let stands = js_sys::Reflect::get(field, &key).ok();
        let same = stands.and_then(|value| value.as_string()).as_ref() == Some(&self.0);
        if !same && !COMPOSING.get_untracked() {
            // Only a value that is no text could be refused.
            let _ = js_sys::Reflect::set(field, &key, &JsValue::from_str(&self.0));
        }
    }
}

impl IntoProperty for FieldText {
    type State = Element;
    type Cloneable = String;
    type CloneableOwned = String;

    fn hydrate<const FROM_SERVER: bool>(self, field: &Element, key: &str) -> Element {
        self.build(field, key)
    }

    fn build(self, field: &Element, _key: &str) -> Element {
        self.put(field);
        field.clone()
    }

    fn rebuild(self, field: &mut Element, _key: &str) {
        self.put(field);
    }

    fn into_cloneable(self) -> String {
        self.0
    }

    fn into_cloneable_owned(self) -> String {
        self.0
    }
}
