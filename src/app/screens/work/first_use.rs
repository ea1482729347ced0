//! One line of what to do, at steps of a kind that whoever works here has not met before.

use crate::app::shell::bench::Bench;
use crate::app::words::work::first_use as words;
use crate::procedure::Work;
use leptos::prelude::*;

/// The line, until it is put away or enough steps were done; not where nothing is entered.
pub fn line(bench: Bench, work: &Work, is_open: Signal<bool>) -> impl IntoView + use<> {
    let (kind, said) = (work.kind(), words::what_to_do(work));
    let on_device = bench.on_device;
    let shows =
        Memo::new(move |_| is_open.get() && on_device.with(|on_device| on_device.introduces(kind)));
    let hide = move |_| bench.change_on_device(|on_device| on_device.meet(kind));
    view! {
        <Show when=move || shows.get()>
            <p class="first-use">
                <span>{said}</span>
                <button type="button" class="plain" aria-label=words::HIDE_FOR_GOOD on:click=hide>{words::HIDE}</button>
            </p>
        </Show>
    }
}
