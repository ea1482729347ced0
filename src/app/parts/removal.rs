//! The key that removes something, which asks once more in its own place.

use leptos::prelude::*;

/// The key, and once it was pressed the two that it becomes.
#[component]
pub fn Removal(
    /// The key before it was pressed.
    ask: &'static str,
    /// The key that does remove.
    remove: &'static str,
    /// The key that does not.
    keep: &'static str,
    /// What removing is.
    on_remove: Callback<()>,
) -> impl IntoView {
    let armed = RwSignal::new(false);
    view! {
        <Show when=move || armed.get() fallback=move || view! {
            <button type="button" class="plain" on:click=move |_| armed.set(true)>{ask}</button>
        }>
            <button type="button" on:click=move |_| on_remove.run(())>{remove}</button>
            <button type="button" class="plain" on:click=move |_| armed.set(false)>{keep}</button>
        </Show>
    }
}
