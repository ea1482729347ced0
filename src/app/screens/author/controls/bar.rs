//! What stays in reach of the thumb on every screen of a draft.

use crate::app::screens::author::pen::Pen;
use crate::app::words::author as words;
use leptos::prelude::*;

/// The bar with the undo key and what the screen adds.
pub fn bar(pen: Pen, more: impl IntoView) -> impl IntoView {
    let last = Memo::new(move |_| pen.last_change());
    view! {
        <div class="author-bar" role="toolbar" aria-label=words::BAR>
            <button type="button" disabled=move || last.with(Option::is_none) on:click=move |_| pen.undo()>
                {words::UNDO}
                <span class="undo-what">{move || last.get()}</span>
            </button>
            {more}
        </div>
    }
}
