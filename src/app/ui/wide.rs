//! Room for what is wider than a narrow screen.

use leptos::prelude::*;

/// A table that moves sideways where the screen is narrower, by touch and by keys, so that the
/// page does not.
#[component]
pub fn Wide(
    /// What it shows, for a screen reader.
    #[prop(into)]
    name: String,
    /// The table.
    children: Children,
) -> impl IntoView {
    view! { <div class="wide" role="group" aria-label=name tabindex="0">{children()}</div> }
}
