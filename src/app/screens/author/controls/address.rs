//! Where a procedure that is written stands, and what is said where it is gone.

use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::words::author as words;
use leptos::prelude::*;

pub(in crate::app::screens::author) fn missing() -> impl IntoView {
    view! {
        <section class="page">
            <h1>{words::NOT_HERE}</h1>
            <p>{words::NOT_HERE_WHY}</p>
            <a class="button" href=Route::Procedures.address()>{words::TO_PROCEDURES}</a>
        </section>
    }
}

/// The address of a screen for writing.
pub(in crate::app::screens::author) fn address(desk: Desk) -> String {
    Route::Author(desk).address()
}
