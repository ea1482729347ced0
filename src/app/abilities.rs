//! What this browser lacks, each in a sentence that says what to do instead.

use super::device;
use super::speech::Speech;
use super::words::abilities as words;
use leptos::prelude::*;

/// A line for each thing that not every browser can do.
pub fn lines() -> impl IntoView {
    let speech = expect_context::<Speech>();
    let offline = match (
        device::mark("offline").is_some(),
        device::can("serviceWorker"),
    ) {
        (true, _) => words::STARTS_OFFLINE,
        (false, true) => words::COMES_ONTO_DEVICE,
        (false, false) => words::NEEDS_NETWORK,
    };
    let awake = match device::can("wakeLock") {
        true => words::STAYS_AWAKE,
        false => words::FALLS_ASLEEP,
    };
    let voice = move || match speech.has_voice.get() {
        true => words::READS_ALOUD,
        false => words::HAS_NO_VOICE,
    };
    view! {
        <h2>{words::TITLE}</h2>
        <ul class="pairs">
            <li>{offline}</li>
            <li>{awake}</li>
            <li>{voice}</li>
        </ul>
    }
}
