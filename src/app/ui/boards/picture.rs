//! A picture from this device's database, or a sentence in its place.

use crate::app::platform::imaging;
use crate::app::words::set::board as words;
use crate::app::words::shared;
use crate::procedure::PictureDigest;
use crate::store::Pictures;
use leptos::prelude::*;
use leptos::task::spawn_local;

/// What stands in a picture's place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Seen {
    /// It is being fetched.
    Coming,
    /// Its address within this page.
    Here(String),
    /// Why it isn't there.
    Not(String),
}

/// Fetches a picture. Its address is good for as long as the part of the screen that asked.
pub fn fetch(digest: PictureDigest) -> RwSignal<Seen> {
    let seen = RwSignal::new(Seen::Coming);
    spawn_local(async move {
        let found = match Pictures.get(&digest).await {
            Ok(picture) => match imaging::lend_address(&picture) {
                Some(address) => Seen::Here(address),
                None => Seen::Not(words::NOT_SHOWN.to_owned()),
            },
            Err(error) => Seen::Not(error.to_string()),
        };
        // The screen may have changed meanwhile.
        if let Some(Seen::Here(address)) = seen.try_set(found) {
            imaging::give_back(&address);
        }
    });
    on_cleanup(move || {
        if let Some(Seen::Here(address)) = seen.try_get_untracked() {
            imaging::give_back(&address);
        }
    });
    seen
}

/// A sentence in a picture's place, until it is there.
pub fn instead(seen: &Seen) -> Option<impl IntoView + use<>> {
    let sentence = match seen {
        Seen::Here(_) => return None,
        Seen::Coming => words::COMING.to_owned(),
        Seen::Not(why) => shared::sentence(why),
    };
    Some(view! { <p class="no-picture">{sentence}</p> })
}

/// The whole picture.
#[component]
pub fn Photograph(
    /// Its name.
    digest: PictureDigest,
    /// What it shows, for who does not see it.
    alt: String,
) -> impl IntoView {
    let seen = fetch(digest);
    move || match seen.get() {
        Seen::Here(address) => {
            view! { <img class="photograph" src=address alt=alt.clone()/> }.into_any()
        }
        other => instead(&other).into_any(),
    }
}
