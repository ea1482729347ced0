//! The keys below the frame.

use super::in_hand::{Page, View};
use crate::app::ui::field_text;
use crate::app::ui::frame::Look;
use crate::app::words::set::{board as board_words, papers as words};
use leptos::prelude::*;
use web_sys::KeyboardEvent;

/// The keys below the frame.
pub fn bar(view: View) -> impl IntoView {
    let typed = RwSignal::new(view.page.get_untracked().to_string());
    Effect::new(move |_| typed.set(view.page.get().to_string()));
    let wrong = RwSignal::new(false);
    let go = move || {
        let page = typed.with_untracked(|typed| typed.trim().parse::<u16>());
        let pages = view.pages.get_untracked();
        match page {
            Ok(page) if (1..=pages).contains(&page) => {
                wrong.set(false);
                view.go_to(page);
            }
            _ => wrong.set(true),
        }
    };
    let enter = move |event: KeyboardEvent| {
        if event.key() == "Enter" {
            event.prevent_default();
            go();
        }
        // Digits go to the field, whatever else they mean on the screen.
        event.stop_propagation();
    };
    let has_pages = move || view.pages.get() > 1;
    let is_first = move || view.page.get() <= 1;
    let is_last = move || view.page.get() >= view.pages.get();
    let ready = move || matches!(view.shown.get(), Page::Here(..));
    let is_about = move || {
        let page = view.page.get();
        let about = view.about.get_value();
        view.paper.with(|paper| {
            let mut pins = about.iter().filter_map(|spot| paper.pin(spot));
            pins.any(|pin| pin.page == page)
        })
    };
    let to_the_place = move |_| {
        let aspect = view.aspect.get_untracked();
        if let Page::Here(drawn, look) = view.shown.get_untracked()
            && let Some(place) = view.place((drawn.width, drawn.height), aspect)
        {
            look.crop.set(place);
        }
    };
    let toggle = move |_| {
        view.pins.update(|open| *open = !*open);
        view.chosen.set(None);
    };
    let announced = move || {
        let pages = view.pages.get();
        (pages > 1).then(|| words::page_of(view.page.get(), pages))
    };
    view! {
        <div class="board-keys paper-keys">
            <button type="button" disabled=move || !ready() on:click=move |_| view.with_look(Look::closer)>{board_words::CLOSER}</button>
            <button type="button" disabled=move || !ready() on:click=move |_| view.with_look(Look::further)>{board_words::FURTHER}</button>
            <button type="button" disabled=move || !ready() on:click=move |_| view.with_look(Look::back)>{words::WHOLE}</button>
            <Show when=is_about>
                <button type="button" disabled=move || !ready() on:click=to_the_place>{words::TO_THE_PLACE}</button>
            </Show>
            {view.pinning.map(|_| view! {
                <button type="button" aria-expanded=move || view.pins.get().to_string() on:click=toggle>{words::PIN}</button>
            })}
            <Show when=has_pages>
                <button type="button" disabled=is_first on:click=move |_| view.turn(-1)>{words::BEFORE}</button>
                <button type="button" disabled=is_last on:click=move |_| view.turn(1)>{words::NEXT}</button>
                <label class="paper-number">
                    <span>{words::PAGE}</span>
                    <input type="text" inputmode="numeric" autocomplete="off" size="4"
                        aria-invalid=move || wrong.get().to_string()
                        prop:value=move || field_text(typed.get())
                        on:input=move |e| typed.set(event_target_value(&e))
                        on:change=move |_| go() on:keydown=enter/>
                    <span>{move || words::of(view.pages.get())}</span>
                </label>
            </Show>
        </div>
        <p class="hint paper-told" role="status">
            {move || match wrong.get() {
                true => Some(words::no_page(view.pages.get())),
                false => announced(),
            }}
        </p>
    }
}
