//! Settings of this device: how numbers are written, what the report says, sounds, keys.

use crate::app::screens::counter::price;
use crate::app::screens::device::abilities;
use crate::app::shell::bench::use_bench;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::words::counter::price as price_words;
use crate::app::words::device::settings as words;
use crate::app::words::frame;
use crate::app::words::work::terms;
use crate::job::Preferences;
use crate::quantity::{DecimalSign, Number};
use crate::store::Theme;
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let change = move |change: &dyn Fn(&mut Preferences)| {
        let mut preferences = bench.preferences.get_untracked();
        change(&mut preferences);
        if bench
            .with_store(|store| store.save_preferences(&preferences))
            .is_some()
        {
            bench.preferences.set(preferences);
        }
    };
    let sign = move |sign: DecimalSign, label: &'static str| {
        let chosen = move || bench.sign() == sign;
        view! {
            <label class="option">
                <input type="radio" name="decimal-sign" prop:checked=chosen
                    on:change=move |_| change(&|p| p.decimal_sign = sign)/>
                <span>{label}</span>
            </label>
        }
    };
    let theme = move |theme: Theme, label: &'static str| {
        let chosen = move || bench.on_device.with(|on_device| on_device.theme == theme);
        view! {
            <label class="option">
                <input type="radio" name="theme" prop:checked=chosen
                    on:change=move |_| bench.change_on_device(|on_device| on_device.theme = theme)/>
                <span>{label}</span>
            </label>
        }
    };
    let technician = RwSignal::new(bench.preferences.with_untracked(|p| p.technician.clone()));
    let currency = RwSignal::new(bench.preferences.with_untracked(|p| p.currency.clone()));
    view! {
        <section class="page">
        <h1>{frame::SETTINGS}</h1>
        <p><a class="button" href=Route::Glossary.address()>{terms::GLOSSARY}</a></p>
        <fieldset>
            <legend>{words::DECIMAL_SIGN}</legend>
            <div class="row">
                {sign(DecimalSign::Point, words::POINT)}
                {sign(DecimalSign::Comma, words::COMMA)}
            </div>
        </fieldset>
        <div class="field">
            <label for="technician-name">{words::TECHNICIAN}</label>
            <span class="hint">{words::TECHNICIAN_HINT}</span>
            <input id="technician-name" type="text" autocomplete="name"
                prop:value=move || field_text(technician.get())
                on:input=move |e| {
                    technician.set(event_target_value(&e));
                    technician.with_untracked(|name| change(&|p| p.technician = name.clone()))
                }/>
        </div>
        <fieldset>
            <legend>{words::ON_THE_REPORT}</legend>
            <label class="option">
                <input type="checkbox" prop:checked=move || bench.preferences.with(|p| p.show_time)
                    on:change=move |e| { let show = event_target_checked(&e); change(&|p| p.show_time = show) }/>
                <span>{words::working_time()}</span>
            </label>
            <div class="field">
                <label for="currency">{words::CURRENCY}</label>
                <span class="hint">{words::CURRENCY_HINT}</span>
                <input id="currency" type="text" autocomplete="off" maxlength="8"
                    prop:value=move || field_text(currency.get())
                    on:input=move |e| {
                        currency.set(event_target_value(&e));
                        currency.with_untracked(|name| change(&|p| p.currency = name.trim().to_owned()))
                    }/>
            </div>
            {price::field(
                ("rate", price_words::rate_in),
                (
                    Signal::derive(move || bench.preferences.with(|p| p.rate.clone())),
                    Signal::stored(false),
                ),
                Callback::new(move |rate: Option<Number>| change(&|p| p.rate = rate.clone())),
                RwSignal::new(false),
            )}
        </fieldset>
        <fieldset>
            <legend>{words::THEME}</legend>
            <div class="row">
                {theme(Theme::Device, words::AS_DEVICE)}
                {theme(Theme::Light, words::LIGHT)}
                {theme(Theme::Dark, words::DARK)}
            </div>
        </fieldset>
        <label class="option">
            <input type="checkbox" prop:checked=move || bench.preferences.with(|p| p.tone)
                on:change=move |e| { let on = event_target_checked(&e); change(&|p| p.tone = on) }/>
            <span>{words::TONE}</span>
        </label>
        {abilities::lines()}
        {keys()}
        </section>
    }
}

/// The keys of a step.
fn keys() -> impl IntoView {
    let rows = words::KEYS_DO
        .iter()
        .map(|(key, does)| view! { <tr><th scope="row">{*key}</th><td>{*does}</td></tr> })
        .collect_view();
    view! {
        <h2>{words::KEYS}</h2>
        <table class="budget"><tbody>{rows}</tbody></table>
    }
}
