//! A name that is taken when it is whole, for each letter of it would rename it everywhere.

use crate::app::ui::field_text;
use leptos::prelude::*;

/// The field of such a name. It is whole when the field is left, also by what takes the field away:
/// the way back of the device, another page of the app.
pub fn whole_name(
    id: String,
    name: Memo<String>,
    take: impl Fn(String) + Clone + Send + Sync + 'static,
) -> impl IntoView {
    let typed = StoredValue::new(None::<String>);
    // A browser tells a field that it was left after it is gone, and what it stood for with it.
    let end = move || {
        if let Some(Some(text)) = typed.try_update_value(Option::take) {
            take(text);
        }
    };
    on_cleanup(end.clone());
    view! {
        <input id=id type="text" autocomplete="off" prop:value=move || field_text(name.get())
            on:input=move |event| typed.set_value(Some(event_target_value(&event)))
            on:change=move |_| end()/>
    }
}
