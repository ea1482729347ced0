//! A field for a number, kept as it is typed.

use crate::app::shell::bench::Bench;
use crate::app::ui::field_text;
use leptos::prelude::*;

/// A field for a number.
pub fn field(id: &'static str, label: impl Into<String>, text: RwSignal<String>) -> impl IntoView {
    let label = label.into();
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input id=id type="text" inputmode="decimal" autocomplete="off"
                prop:value=move || field_text(text.get())
                on:input=move |event| text.set(event_target_value(&event))/>
        </div>
    }
}

/// What was typed in a field the last time, or what stands in it at first; it is kept as it is typed.
pub fn as_typed(bench: Bench, place: &str, at_first: &str) -> RwSignal<String> {
    let known = bench.form(place);
    let text = RwSignal::new(match known.is_empty() {
        true => at_first.to_owned(),
        false => known,
    });
    bench.keep_form_as_typed(place.to_owned(), move || Some(text.get()));
    text
}
