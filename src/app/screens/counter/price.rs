//! What parts and work cost, asked for once a currency is set.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::ui::field_text;
use crate::app::words::counter::price as words;
use crate::job::{Charge, Header};
use crate::quantity::{Number, read_number};
use leptos::prelude::*;

/// The field, over the price of something that is typed; nothing where no currency is set. A form
/// that was kept leaves a blank one behind. `odd` is whether what stands there is no price.
pub fn field(
    (id, label): (&'static str, fn(&str) -> String),
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
                <label for=id>{move || label(&currency())}</label>
                <input id=id type="text" inputmode="decimal" autocomplete="off" prop:value=move || field_text(typed.get())
                    aria-invalid=move || is_odd.get().to_string() on:input=move |e| enter(event_target_value(&e))/>
                <span class="error" role="status">{said}</span>
            </div>
        </Show>
    }
}

/// What the work costs, for a header. `wrong` is the field in which something is, if there is one.
pub fn charge(
    bench: Bench,
    header: RwSignal<Header>,
    wrong: RwSignal<Option<&'static str>>,
) -> impl IntoView {
    const FIELDS: [&str; 3] = ["rate", "minutes", "agreed"];
    let odd = FIELDS.map(|_| RwSignal::new(false));
    Effect::new(move |_| {
        let mut fields = FIELDS.into_iter().zip(odd);
        wrong.set(fields.find(|(_, odd)| odd.get()).map(|(field, _)| field));
    });
    let money = move |named, part: fn(&mut Charge) -> &mut Option<Number>, odd| {
        let now = move || header.with(|header| part(&mut header.charge.clone()).clone());
        field(
            named,
            (Signal::derive(now), Signal::stored(false)),
            Callback::new(move |price| header.update(|it| *part(&mut it.charge) = price)),
            odd,
        )
    };
    let is_asked = move || bench.preferences.with(|p| !p.currency.is_empty());
    let [odd_rate, odd_minutes, odd_agreed] = odd;
    let [rate, minutes_field, agreed] = FIELDS;
    view! {
        <Show when=is_asked>
            <fieldset>
                <legend>{words::CHARGE}</legend>
                <div class="fields">
                    {money((rate, words::rate_in), |charge| &mut charge.rate, odd_rate)}
                    {minutes(header, minutes_field, odd_minutes)}
                    {money((agreed, words::agreed_in), |charge| &mut charge.agreed, odd_agreed)}
                </div>
            </fieldset>
        </Show>
    }
}

/// How long the work took, where that is not as the log has it.
fn minutes(header: RwSignal<Header>, id: &'static str, odd: RwSignal<bool>) -> impl IntoView {
    let now = header.with_untracked(|header| header.charge.minutes);
    let typed = RwSignal::new(now.map_or(String::new(), |now| now.to_string()));
    let take = move |text: String| {
        let read = match text.trim() {
            "" => Ok(None),
            text => text.parse::<u32>().map(Some),
        };
        odd.set(read.is_err());
        header.update(|header| header.charge.minutes = read.unwrap_or(None));
        typed.set(text);
    };
    let said = move || odd.get().then_some(words::NO_MINUTES);
    view! {
        <div class="field">
            <label for=id>{words::MINUTES}</label>
            <span class="hint">{words::MINUTES_HINT}</span>
            <input id=id type="text" inputmode="numeric" autocomplete="off" prop:value=move || field_text(typed.get())
                aria-invalid=move || odd.get().to_string() on:input=move |e| take(event_target_value(&e))/>
            <span class="error" role="status">{said}</span>
        </div>
    }
}
