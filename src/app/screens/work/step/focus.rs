//! Where the focus goes, so that a keyboard goes on from there.

use crate::app::platform::device;
use leptos::html::Button;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// Moves the focus to a button whenever it appears, as it does again after an undo. What is
/// called by `on_load` may be called once only.
pub fn focus_when_shown(button: NodeRef<Button>) {
    Effect::new(move |_| {
        if let Some(button) = button.get() {
            device::focus_in_place(&button);
        }
    });
}

/// Moves the focus on to the way forward, so that a keyboard goes on from there.
pub fn focus_next() {
    let button = document().get_element_by_id("next");
    if let Some(button) = button.and_then(|b| b.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = button.focus();
    }
}
