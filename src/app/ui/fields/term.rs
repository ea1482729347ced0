//! A “?” beside a term of the trade: a tap says what it is, and where that comes from.

use crate::app::shell::route::Route;
use crate::app::words::frame;
use crate::app::words::work::terms as words;
use crate::app::words::work::terms::{Said, Term};
use leptos::prelude::*;

/// The key and what it opens, which has a key of its own to close it; a tap beside it and Escape do
/// so too. A page holds each term once.
#[component]
pub fn TermKey(
    /// What is explained.
    term: Term,
) -> impl IntoView {
    let Said {
        id,
        name,
        sentence,
        source,
    } = term.said();
    view! {
        <button type="button" class="term-key" popovertarget=id aria-label=words::what_is(name)>
            <span aria-hidden="true">{words::SIGN}</span>
        </button>
        <span class="term-said" id=id popover="auto">
            <strong>{name}</strong>
            <span>{sentence}</span>
            <small>{words::source(source)}</small>
            <span class="term-ways">
                <a href=Route::Glossary.address()>{words::ALL_TERMS}</a>
                <button type="button" popovertarget=id popovertargetaction="hide">{frame::CLOSE}</button>
            </span>
        </span>
    }
}
