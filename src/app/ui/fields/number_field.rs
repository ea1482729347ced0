//! The field that a reading is typed into.

use crate::app::ui::field_text;
use crate::app::words::shared;
use crate::quantity::Scale;
use leptos::html::Input;
use leptos::prelude::*;

/// A reading's text with its unit, and below it the room for a complaint or an offer, which is
/// there from the start, so that the keys below stay where they are. Number keys go to it wherever the focus
/// is, so a screen has one at most.
#[component]
pub fn NumberField(
    /// The text as typed.
    text: RwSignal<String>,
    /// The scale in which a bare number is taken.
    scale: RwSignal<Scale>,
    /// Why the text was not taken.
    error: RwSignal<Option<String>>,
    /// The field on the page.
    field: NodeRef<Input>,
    /// What a screen reader says it is for.
    label: impl Fn() -> String + Send + Sync + 'static,
    /// What may be offered below it, in the room of the complaint.
    #[prop(into, optional)]
    offer: ViewFn,
) -> impl IntoView {
    view! {
        <div class="entry-line">
            <input
                id="reading"
                node_ref=field
                type="text"
                inputmode="none"
                autocomplete="off"
                spellcheck="false"
                aria-label=label
                aria-invalid=move || error.with(Option::is_some).to_string()
                aria-describedby="reading-error"
                prop:value=move || field_text(text.get())
                on:input=move |event| text.set(event_target_value(&event))
            />
            <span class="unit" aria-hidden="true">{move || scale.get().symbol()}</span>
        </div>
        <div class="slot">
            <p id="reading-error" class="error" role="alert">
                {move || error.get().map(shared::sentence)}
            </p>
            {move || error.with(Option::is_none).then(|| offer.run())}
        </div>
    }
}
