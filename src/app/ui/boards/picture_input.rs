//! The two ways to a picture: the camera and a file.

use crate::app::words::set::photos as words;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::File;

/// Two keys that open the camera or a file dialog.
#[component]
pub fn PictureInput(
    /// Begins the ids of the two inputs.
    #[prop(into)]
    id: String,
    /// What the file dialog offers.
    #[prop(default = "image/*")]
    accept: &'static str,
    /// The key of the file dialog.
    #[prop(default = words::LOAD)]
    load: &'static str,
    /// While it is being kept.
    #[prop(default = words::WORKING)]
    working: &'static str,
    /// Whether a picture is being kept right now.
    busy: RwSignal<bool>,
    /// Takes the file.
    on_file: impl Fn(File) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let picked = move |event: leptos::ev::Event| {
        let Some(Ok(input)) = event
            .target()
            .map(JsCast::dyn_into::<web_sys::HtmlInputElement>)
        else {
            return;
        };
        let file = input.files().and_then(|files| files.get(0));
        if let Some(file) = file {
            on_file(file);
        }
        // So that the same file can be picked again.
        input.set_value("");
    };
    let (camera, file) = (format!("{id}-camera"), format!("{id}-file"));
    view! {
        <div class="row picture-input">
            <label class="button main file-button" for=camera.clone()>{words::CAMERA}</label>
            <input id=camera class="file-input" type="file" accept="image/*" capture="environment"
                disabled=busy on:change=picked/>
            <label class="button file-button" for=file.clone()>{load}</label>
            <input id=file class="file-input" type="file" accept=accept disabled=busy on:change=picked/>
        </div>
        <p class="hint" role="status">{move || busy.get().then_some(working)}</p>
    }
}
