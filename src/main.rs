//! Starts the app in the page.

use wasm_bindgen::prelude::*;

fn main() {
    console_error_panic_hook::set_once();
}

/// Puts the app into the page. `public/boot.js` calls it once the program is taken in and the
/// browser has seen to what came meanwhile.
#[wasm_bindgen]
pub async fn open() {
    halfturn::app::open().await;
}
