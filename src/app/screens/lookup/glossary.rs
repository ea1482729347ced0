//! All terms that stand behind a “?”, on one page.

use crate::app::shell::open_step::WayBack;
use crate::app::shell::route::Route;
use crate::app::words::frame;
use crate::app::words::work::terms as words;
use crate::app::words::work::terms::{Said, Term};
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let mut all = Term::ALL.map(Term::said);
    all.sort_by_key(|said| said.name);
    let terms = all.map(|said| {
        let Said {
            name,
            sentence,
            source,
            ..
        } = said;
        view! {
            <div>
                <dt>{name}</dt>
                <dd>
                    {sentence}
                    <small class="hint">{words::source(source)}</small>
                </dd>
            </div>
        }
    });
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Settings.address()>{frame::SETTINGS}</a><WayBack/></p>
            <h1>{words::GLOSSARY}</h1>
            <dl class="glossary">{terms.into_iter().collect_view()}</dl>
        </section>
    }
}
