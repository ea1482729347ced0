//! What another instrument counts for: what is read from here on, or what was read before too.

use crate::app::words::counter::details as words;
use crate::job::{Counts, Header, Present};
use leptos::prelude::*;

/// The choice between both, where something was read with the instruments that a header gives up.
pub fn counts(
    replaced: impl Fn() -> (Vec<Present>, Header) + Copy + Send + Sync + 'static,
    chosen: RwSignal<Option<Counts>>,
) -> impl IntoView {
    let is_asked = Memo::new(move |_| !replaced().0.is_empty());
    let usual = move || {
        let (replaced, header) = replaced();
        Counts::usual(&replaced, &header)
    };
    let now = move || chosen.get().unwrap_or_else(usual);
    let option = move |counts: Counts, name: &'static str| {
        let said = move || match counts {
            Counts::FromHere => stay(&replaced().0),
            Counts::Before => words::READ_WITH_IT_TOO.to_owned(),
        };
        view! {
            <label class="offer">
                <input type="radio" name="counts" prop:checked=move || now() == counts
                    on:change=move |_| chosen.set(Some(counts))/>
                <span><strong>{name}</strong><span class="hint">{said}</span></span>
            </label>
        }
    };
    move || {
        is_asked.get().then(|| {
            view! {
                <fieldset class="counts">
                    <legend>{words::COUNTS}</legend>
                    {option(Counts::FromHere, words::FROM_HERE)}
                    {option(Counts::Before, words::BEFORE)}
                </fieldset>
            }
        })
    }
}

/// What becomes of the readings so far.
fn stay(replaced: &[Present]) -> String {
    let said = replaced.iter().map(|it| {
        let name = it.used.as_ref().map(|used| used.name.as_str());
        words::stay(it.role.as_str(), name)
    });
    said.collect::<Vec<String>>().join(" ")
}
