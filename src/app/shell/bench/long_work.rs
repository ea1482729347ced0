//! How far the long work is, on every screen.

use crate::app::shell::bench::use_bench;
use crate::app::words::shell::slices as words;
use leptos::prelude::*;

/// The bar.
#[component]
pub fn Bar() -> impl IntoView {
    let slices = use_bench().slices;
    let label = move || slices.shown.get().map_or("", words::stage);
    let far = move || {
        let (done, all) = slices.far.get();
        slices.shown.get().map(|stage| words::far(stage, done, all))
    };
    view! {
        <Show when=move || slices.shown.with(Option::is_some)>
            <div class="line long-work">
                <p><span role="status">{label}</span>": "<span>{far}</span></p>
                <progress aria-label=label max=move || slices.far.get().1 value=move || slices.far.get().0></progress>
                <button type="button" on:click=move |_| slices.stop.set_value(true)>{words::STOP}</button>
            </div>
        </Show>
    }
}
