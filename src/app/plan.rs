pub fn screen() -> impl leptos::prelude::IntoView {}
