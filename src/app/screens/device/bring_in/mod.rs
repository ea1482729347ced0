//! Bringing in a file: what it holds, what differs, and a choice each.

mod incoming;
mod shown;
mod taking;

pub use self::incoming::Incoming;

use crate::app::screens::device::bring_in::shown::shown;
use crate::app::words::device::{bring_in as words, data};
use crate::app::words::shared;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};

/// The part of a screen that brings in a file.
pub fn section() -> impl IntoView {
    let incoming: Incoming = expect_context();
    let picked = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = match event.target().map(JsCast::dyn_into) {
            Some(Ok(input)) => input,
            _ => return,
        };
        let file = input.files().and_then(|files| files.get(0));
        if let Some(file) = file {
            incoming.bench.notice.set(None);
            spawn_local(incoming.look_into(file, JsValue::UNDEFINED));
        }
        // So that the same file can be picked again.
        input.set_value("");
    };
    view! {
        <h2>{shared::BRING_IN_FILE}</h2>
        <p>{words::LEAD}</p>
        <label class="button file-button" for="file">{data::CHOOSE_FILE}</label>
        <input id="file" class="file-input" type="file" accept=".json,.txt,application/json,text/plain" on:change=picked/>
        {move || incoming.shown.get().map(|preview| shown(incoming, preview))}
    }
}
