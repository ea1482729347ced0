//! What a part costs, asked for once a currency is set.

use super::bench::use_bench;
use super::parts::field_text;
use super::words::price as words;
use crate::job::Change;
use crate::quantity::read_number;
use leptos::prelude::*;

/// The field; nothing where no currency is set.
pub fn field(change: RwSignal<Change>) -> impl IntoView {
    let bench = use_bench();
    let typed = RwSignal::new(String::new());
    // A change that was kept leaves a blank form behind.
    Effect::new(move |_| {
        if change.with(|change| *change == Change::default()) {
            typed.set(String::new());
        }
    });
    let take = move |text: String| {
        let sign = bench.preferences.with_untracked(|p| p.decimal_sign);
        let price = read_number(&text, sign).ok();
        let price = price.filter(|price| !price.is_negative());
        typed.set(text);
        change.update(|change| change.price = price);
    };
    let odd = move || {
        let blank = typed.with(|text| text.trim().is_empty());
        (!blank && change.with(|change| change.price.is_none())).then_some(words::NO_PRICE)
    };
    let currency = move || bench.preferences.with(|p| p.currency.clone());
    view! {
        <Show when=move || !currency().is_empty()>
            <div class="field">
                <label for="change-price">{move || words::price_in(&currency())}</label>
                <input id="change-price" type="text" inputmode="decimal" autocomplete="off" prop:value=move || field_text(typed.get())
                    on:input=move |e| take(event_target_value(&e))/>
                <span class="hint" role="status">{odd}</span>
            </div>
        </Show>
    }
}
