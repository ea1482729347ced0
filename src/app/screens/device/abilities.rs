//! What this browser lacks, each in a sentence that says what to do instead.

use crate::app::platform::device;
use crate::app::screens::work::speech::Speech;
use crate::app::words::device::abilities as words;
use leptos::prelude::*;

/// What `offline.js` says of the app's own files on this device.
#[derive(Clone, Copy)]
pub struct Kept(RwSignal<Option<String>>);

impl Kept {
    /// As it is now and from now on.
    pub fn open() -> Self {
        let said = RwSignal::new(device::mark("offline"));
        device::on_window("halfturn-offline", move |_| {
            said.set(device::mark("offline"))
        });
        Kept(said)
    }
}

/// A line for each thing that not every browser can do.
pub fn lines() -> impl IntoView {
    let speech = expect_context::<Speech>();
    let kept = expect_context::<Kept>();
    let offline = move || match (kept.0.get().as_deref(), device::can("serviceWorker")) {
        (_, false) => words::NEEDS_NETWORK,
        (Some("ready"), true) => words::STARTS_OFFLINE,
        (Some(_), true) => words::LACKS_A_PART,
        (None, true) => words::IS_BEING_CHECKED,
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
        <h2>{words::licences()}</h2>
        <p>{words::LICENCES_LEAD}</p>
        <a class="button" href="./licences.html">{words::show_licences()}</a>
    }
}
