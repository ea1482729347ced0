//! Whether a sheet and a file belong together.

use crate::app::platform::device;
use crate::app::shell::bench::use_bench;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::words::counter::verify as words;
use crate::app::words::shared;
use crate::exchange::report::{self, Check};
use crate::exchange::{DocumentError, MAX_BYTES};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The screen: what stands on the sheet, the file, and one sentence.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let typed = RwSignal::new(String::new());
    let file = RwSignal::new(None::<(String, String)>);
    let picked = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = match event.target().map(JsCast::dyn_into) {
            Some(Ok(input)) => input,
            _ => return,
        };
        let chosen = input.files().and_then(|files| files.get(0));
        if let Some(chosen) = chosen {
            let name = chosen.name();
            // Before it is read, since a huge file can freeze the page.
            if chosen.size() > MAX_BYTES as f64 {
                bench.refuse(DocumentError::TooLarge(chosen.size() as usize).to_string());
            } else {
                device::read_file(chosen, move |text| file.set(Some((name, text))));
            }
        }
        // So that the same file can be picked again.
        input.set_value("");
    };
    let check = Memo::new(move |_| {
        let both = file
            .get()
            .zip((!typed.with(|t| t.trim().is_empty())).then(|| typed.get()));
        both.map(|((_, text), typed)| Check::of(&text, &typed))
    });
    let name = move || file.with(|file| file.as_ref().map(|(name, _)| name.clone()));
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Data.address()>{words::DATA}</a></p>
            <h1>{shared::CHECK_A_SHEET}</h1>
            <p>{words::LEAD}</p>
            <div class="field verify-field">
                <label for="fingerprint">{words::FINGERPRINT}</label>
                <span class="hint">{words::FINGERPRINT_HINT}</span>
                <textarea id="fingerprint" rows="3" autocomplete="off" spellcheck="false" prop:value=move || field_text(typed.get())
                    on:input=move |e| typed.set(event_target_value(&e))></textarea>
            </div>
            <p><label class="button file-button" for="sheet-file">{words::CHOOSE_FILE}</label>
            <input id="sheet-file" class="file-input" type="file" accept=".json,application/json" on:change=picked/></p>
            <p class="hint">{name}</p>
            <div role="status">
                {move || check.get().map(|check| {
                    let outcome = if check.matches() { "matches" } else { "differs" };
                    view! { <p class="lead verify-outcome" data-outcome=outcome><strong>{report::words::check(&check)}</strong></p> }
                })}
            </div>
        </section>
    }
}
