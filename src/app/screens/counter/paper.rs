//! What the device does for a sheet: words for times and days, pages, files.

use crate::app::platform::device;
use crate::app::screens::set::photos::Album;
use crate::app::shell::bench::Bench;
use crate::app::words::spelling::spelling;
use crate::app::words::{frame, shared};
use crate::exchange::report::{Look, html};
use crate::exchange::{Document, file_name};
use crate::job::{Job, Preferences};
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlElement;

/// Lets something without photos be made the way this device writes times, days and numbers.
pub fn with_look<T>(preferences: &Preferences, make: impl FnOnce(&Look) -> T) -> T {
    with_album(preferences, &Album::new(), make)
}

/// The same for a sheet with these photos.
pub fn with_album<T>(preferences: &Preferences, album: &Album, make: impl FnOnce(&Look) -> T) -> T {
    make(&Look {
        picture: &|digest| album.get(digest).cloned(),
        sign: preferences.decimal_sign,
        when: &moment,
        stamp: &stamp,
        day: &|date| unbroken(&date.to_string()),
        spelling: spelling(),
        time: preferences.show_time,
        currency: &preferences.currency,
    })
}

/// Local time to the minute, the year first (ISO 8601), as a sheet is read anywhere.
fn moment(at: i64) -> String {
    let mut stamp = stamp(at);
    stamp.truncate("2026-03-31 14:05".len());
    unbroken(&stamp)
}

/// The same with the day on one line, whatever the width.
fn unbroken(stamp: &str) -> String {
    stamp.replace('-', "-\u{2060}")
}

/// Local time as spreadsheets read it.
fn stamp(at: i64) -> String {
    let date = js_sys::Date::new(&JsValue::from_f64(at as f64));
    format!(
        "{:04}-{:02}-{:02} {:02}:{:02}:{:02}",
        date.get_full_year(),
        date.get_month() + 1,
        date.get_date(),
        date.get_hours(),
        date.get_minutes(),
        date.get_seconds()
    )
}

/// Heads every printed page with what it is of, and names the file that a print makes.
pub fn head_pages(running: &str) {
    document().set_title(running);
    set_running(&html::running(running));
}

/// Pages are no longer those of a sheet.
pub fn plain_pages() {
    document().set_title(frame::HALFTURN);
    set_running("\"\"");
}

fn set_running(value: &str) {
    let root = document().document_element();
    if let Some(root) = root.and_then(|root| root.dyn_into::<HtmlElement>().ok()) {
        let _ = root.style().set_property("--running", value);
    }
}

/// Asks the browser to print the page.
pub fn print() {
    let _ = window().print();
}

/// Hands a file that was made from a job to the user. `what` takes the place of the word “job”
/// in the name of the job's own file.
pub fn save(bench: Bench, job: &Job, what: &str, ending: &str, kind: &str, text: &str) {
    let name = file_name(&Document::Job(job.clone()), &device::iso_date());
    let name = name.replacen("halfturn-job", &format!("halfturn-{what}"), 1);
    let name = name.replacen(".json", ending, 1);
    match device::save_file_as(&name, &device::Parts::of(text), kind) {
        Ok(()) => bench.say(shared::handed_over(&name)),
        Err(_) => bench.refuse(shared::NOT_SAVED),
    }
}
