//! Codes: the app's own labels and serial numbers, by the camera or from a picture.

use crate::app::screens::counter::blank::with_serial;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::ui::fields::form::focus_soon;
use crate::app::ui::find;
use crate::app::words::counter::jobs;
use crate::app::words::set::scan as words;
use crate::exchange::report::label::Scanned;
use crate::job::{Header, SetIdentity};
use js_sys::{Array, Function};
use leptos::html::Video;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::sync::Arc;
use wasm_bindgen::prelude::*;

/// The largest file that is looked through, as of a photo that is kept, in bytes.
const MOST_BYTES: f64 = 64.0 * 1024.0 * 1024.0;

// See `public/scan.js`.
#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnScan"], js_name = look)]
    fn look(video: &JsValue, found: &JsValue, failed: &JsValue) -> Result<Function, JsValue>;
    #[wasm_bindgen(catch, js_namespace = ["window", "halfturnScan"], js_name = read)]
    async fn read(file: &JsValue) -> Result<JsValue, JsValue>;
}

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let serial = RwSignal::new(None::<String>);
    let found = Callback::new(move |text: String| match Scanned::of(&text) {
        Scanned::Text(text) => serial.set(Some(text)),
        label @ Scanned::Label { .. } => open(bench, &label),
    });
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Jobs.address()>{jobs::TITLE}</a></p>
            <h1>{words::SCAN}</h1>
            {move || match serial.get() {
                None => view! { <p class="lead">{words::LEAD}</p><Scanner found/> }.into_any(),
                Some(text) => read_as(bench, text, serial).into_any(),
            }}
        </section>
    }
}

/// Goes to the job of a label.
fn open(bench: Bench, label: &Scanned) {
    let job = bench.lines.with_untracked(|lines| {
        let line = label.job(lines.iter().map(Arc::as_ref));
        line.map(|line| line.id.clone())
    });
    match (job, label) {
        (Some(job), _) => bench.go(&Route::Steps(job)),
        (None, Scanned::Label { number, .. }) => bench.refuse(words::not_here(number)),
        (None, Scanned::Text(_)) => {}
    }
}

/// What a code said that is no label, with the visits of the set that it may be of.
fn read_as(bench: Bench, text: String, serial: RwSignal<Option<String>>) -> impl IntoView {
    let set = SetIdentity {
        serial: text.clone(),
        ..SetIdentity::default()
    };
    let said = words::read(&text);
    let book_in = move |_| match with_serial(bench, &text) {
        true => bench.go(&Route::BookIn),
        false => bench.refuse(words::HALF_TYPED),
    };
    view! {
        <p class="lead" role="status">{said}</p>
        {find::earlier(bench, move || set.clone(), None, None)}
        <div class="row">
            <button type="button" class="main" on:click=book_in>{words::BOOK_IN}</button>
            <button type="button" on:click=move |_| serial.set(None)>{words::AGAIN}</button>
        </div>
    }
}

/// The key by a serial number, which opens the camera, and closes it once a code was read.
pub fn serial(bench: Bench, header: RwSignal<Header>) -> impl IntoView {
    let open = RwSignal::new(false);
    let found = Callback::new(move |text: String| {
        let serial = match Scanned::of(&text) {
            Scanned::Text(text) => Some(text),
            label @ Scanned::Label { .. } => bench.lines.with_untracked(|lines| {
                let line = label.job(lines.iter().map(Arc::as_ref));
                line.map(|line| line.set.serial.clone())
            }),
        };
        match serial {
            Some(serial) => {
                header.update(|header| header.set.serial = serial);
                open.set(false);
                focus_soon("serial");
            }
            None => bench.refuse(words::NO_SET),
        }
    });
    let word = move || match open.get() {
        true => words::STOP,
        false => words::SCAN_SERIAL,
    };
    view! {
        <div class="field" class:field-long=move || open.get()>
            <button type="button" class="scan-serial" aria-expanded=move || open.get().to_string()
                on:click=move |_| open.update(|open| *open = !*open)>{word}</button>
            <Show when=move || open.get()><Scanner found/></Show>
        </div>
    }
}

/// The camera, which is asked for when this is shown and let go when it is not, and the way to
/// look through a picture instead.
#[component]
pub fn Scanner(
    /// Takes the text of a code.
    found: Callback<String>,
) -> impl IntoView {
    let video = NodeRef::<Video>::new();
    let said = RwSignal::new(words::HOLD);
    let camera = StoredValue::new_local(None::<Camera>);
    Effect::new(move |_| {
        if let Some(video) = video.get() {
            camera.set_value(Camera::open(&video, found, said));
        }
    });
    on_cleanup(move || {
        camera.try_update_value(|camera| camera.take().map(Camera::end));
    });
    let picked = move |event: leptos::ev::Event| {
        let input = event
            .target()
            .map(JsCast::dyn_into::<web_sys::HtmlInputElement>);
        let Some(Ok(input)) = input else {
            return;
        };
        let file = input.files().and_then(|files| files.get(0));
        // So that the same file can be picked again.
        input.set_value("");
        let Some(file) = file else {
            return;
        };
        said.set(words::LOOKING);
        spawn_local(async move {
            match read_picture(&file).await {
                Ok(text) => found.run(text),
                Err(why) => {
                    said.try_set(why);
                }
            }
        });
    };
    view! {
        <div class="scanner">
            <video node_ref=video class="scanner-video" playsinline prop:muted=true aria-label=words::CAMERA></video>
            <p role="status">{move || said.get()}</p>
            <p><label class="button file-button" for="scan-picture">{words::FROM_PICTURE}</label>
            <input id="scan-picture" class="file-input" type="file" accept="image/*" on:change=picked/></p>
        </div>
    }
}

/// The camera while it is looked through.
struct Camera {
    end: Function,
    _found: Closure<dyn Fn(String)>,
    _failed: Closure<dyn Fn(String)>,
}

impl Camera {
    /// Starts it; why that can't be done is said.
    fn open(
        video: &JsValue,
        found: Callback<String>,
        said: RwSignal<&'static str>,
    ) -> Option<Self> {
        let found = Closure::new(move |text: String| found.run(text));
        let failed = Closure::new(move |name: String| {
            said.try_set(trouble(&name));
        });
        let (to_found, to_failed) = (found.as_ref(), failed.as_ref());
        let end = look(video, to_found, to_failed);
        if end.is_err() {
            said.set(words::NO_DECODER);
        }
        Some(Camera {
            end: end.ok()?,
            _found: found,
            _failed: failed,
        })
    }

    fn end(self) {
        // What ends it can't fail.
        let _ = self.end.call0(&JsValue::NULL);
    }
}

/// What a failure means, by the name of its error (Media Capture and Streams, 10.2).
fn trouble(name: &str) -> &'static str {
    match name {
        "NotAllowedError" | "SecurityError" => words::DENIED,
        "NotFoundError" | "OverconstrainedError" => words::NO_CAMERA,
        "NotReadableError" | "AbortError" => words::BUSY,
        _ => words::NO_DECODER,
    }
}

/// The first code in a picture.
async fn read_picture(file: &web_sys::File) -> Result<String, &'static str> {
    if file.size() > MOST_BYTES {
        return Err(words::NO_PICTURE);
    }
    let found = read(file.as_ref()).await.map_err(|error| {
        let is_odd = error.dyn_ref::<web_sys::DomException>().is_some();
        match is_odd {
            true => words::NO_PICTURE,
            false => words::NO_DECODER,
        }
    })?;
    let first = Array::from(&found).iter().find_map(|text| text.as_string());
    first
        .filter(|text| !text.trim().is_empty())
        .ok_or(words::NOTHING_IN_IT)
}
