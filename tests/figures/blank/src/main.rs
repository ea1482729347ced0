//! One word on a page.

use leptos::prelude::*;
use leptos::wasm_bindgen;
use leptos::wasm_bindgen::prelude::wasm_bindgen;

fn main() {}

/// Puts it into the page, for `public/boot.js`.
#[wasm_bindgen]
pub fn open() {
    mount_to_body(|| view! { <main id="blank"><p>"Blank"</p></main> });
}
