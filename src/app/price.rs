//! What something costs, asked for once a currency is set.

use super::bench::use_bench;
use super::parts::field_text;
use super::words::price as words;
use crate::quantity::{Number, read_number};
use leptos::prelude::*;

/// The field, over the price of something that is typed; nothing where no currency is set. A form
/// that was kept leaves a blank one behind. `odd` is whether what stands there is no price.
pub fn field(
    id: &'static str,
    (price, is_blank): (Signal<Option<Number>>, Signal<bool>),
    take: Callback<Option<Number>>,
    odd: RwSignal<bool>,
) -> impl IntoView {
    let bench = use_bench();
    // What is typed here changes the form without changing these, as long as it is no price.
    let price = Memo::new(move |_| price.get());
    let is_blank = Memo::new(move |_| is_blank.get());
    let shown = move |price: &Number| price.typeset(bench.sign_now());
    let typed =
        RwSignal::new(price.with_untracked(|price| price.as_ref().map_or(String::new(), shown)));
    let read = move |text: &str| {
        let read = read_number(text, bench.sign_now()).ok();
        read.filter(|price| !price.is_negative())
    };
    Effect::new(move |_| {
        let now = price.get();
        if is_blank.get() || typed.with_untracked(|text| read(text)) != now {
            typed.set(now.as_ref().map_or(String::new(), shown));
        }
    });
    let enter = move |text: String| {
        let price = read(&text);
        typed.set(text);
        take.run(price);
    };
    let is_odd = Memo::new(move |_| {
        let blank = typed.with(|text| text.trim().is_empty());
        !blank && price.with(Option::is_none)
    });
    Effect::new(move |_| odd.set(is_odd.get()));
    let said = move || is_odd.get().then_some(words::NO_PRICE);
    let currency = move || bench.preferences.with(|p| p.currency.clone());
    view! {
        <Show when=move || !currency().is_empty()>
            <div class="field">
                <label for=id>{move || words::price_in(&currency())}</label>
                <input id=id type="text" inputmode="decimal" autocomplete="off" prop:value=move || field_text(typed.get())
                    on:input=move |e| enter(event_target_value(&e))/>
                <span class="hint" role="status">{said}</span>
            </div>
        </Show>
    }
}
