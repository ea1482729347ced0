//! The key that removes something, which asks once more below itself.

use crate::app::platform::device;
use leptos::html::Button;
use leptos::prelude::*;

/// The key, and once it was pressed two more. It stays where it is, so that a second tap on it
/// removes nothing.
#[component]
pub fn Removal(
    /// The key that asks.
    ask: &'static str,
    /// The key that does remove.
    remove: &'static str,
    /// The key that does not.
    keep: &'static str,
    /// What removing is.
    on_remove: Callback<()>,
) -> impl IntoView {
    let armed = RwSignal::new(false);
    let key = NodeRef::<Button>::new();
    let put_away = move |_| {
        armed.set(false);
        if let Some(key) = key.get_untracked() {
            device::focus_in_place(&key);
        }
    };
    view! {
        <button type="button" class="plain" node_ref=key aria-expanded=move || armed.get().to_string()
            on:click=move |_| armed.set(true)>{ask}</button>
        <Show when=move || armed.get()>
            <span class="row removal">
                <button type="button" on:click=move |_| on_remove.run(())>{remove}</button>
                <button type="button" class="plain" on:click=put_away>{keep}</button>
            </span>
        </Show>
    }
}
