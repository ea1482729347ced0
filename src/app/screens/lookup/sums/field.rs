//! The fields of a calculation.

use crate::app::screens::lookup::sums::working::Desk;
use crate::app::ui::{field_text, paint};
use crate::app::words::lookup::sums as words;
use crate::app::words::spelling::spelt;
use crate::quantity::sum::{Input, Kind, Role};
use crate::quantity::{Family, Scale};
use leptos::prelude::*;

pub(super) fn field(desk: Desk, input: &'static Input) -> AnyView {
    match input.kind {
        Kind::Choice(choices) => choice(desk, input, choices).into_any(),
        Kind::Amount(scales) => line(desk, input, scales).into_any(),
        Kind::Plain | Kind::Formula => line(desk, input, &[]).into_any(),
        Kind::Amounts(_) | Kind::Plains | Kind::Pairs => several(desk, input).into_any(),
    }
}

fn field_id(input: &Input) -> String {
    format!("sum-{}", input.id)
}

pub(super) fn label(input: &Input) -> impl IntoView + use<> {
    let optional = (input.role == Role::Optional).then_some(words::OPTIONAL);
    view! {
        <label for=field_id(input)>{input.label}<span class="hint">{optional}</span></label>
    }
}

fn error_line(desk: Desk, input: &'static Input) -> impl IntoView {
    view! {
        <p class="error" id=format!("{}-error", field_id(input)) role="alert">
            {move || desk.complaint(input)}
        </p>
    }
}

/// A field for one number, with its unit beside it.
fn line(desk: Desk, input: &'static Input, scales: &'static [Scale]) -> impl IntoView {
    view! {
        <div class="field">
            {label(input)}
            <div class="sum-line">
                <input
                    id=field_id(input)
                    type="text"
                    inputmode=keyboard(scales)
                    autocomplete="off"
                    spellcheck="false"
                    aria-invalid=move || desk.complaint(input).is_some().to_string()
                    aria-describedby=format!("{}-error", field_id(input))
                    prop:value=move || field_text(desk.text(input))
                    on:input=move |event| desk.type_in(input, event_target_value(&event))
                />
                {units(desk, input, scales)}
            </div>
            {error_line(desk, input)}
        </div>
    }
}

/// Number keys only where no minus is ever wanted: some devices' number keys have none.
fn keyboard(scales: &[Scale]) -> &'static str {
    let signed = |scale: &Scale| scale.unit.family() == Family::Level;
    match scales.is_empty() || scales.iter().any(signed) {
        true => "text",
        false => "decimal",
    }
}

/// The unit of a bare number: fixed, a few buttons, or a list where there are many.
fn units(desk: Desk, input: &'static Input, scales: &'static [Scale]) -> AnyView {
    const MOST_BUTTONS: usize = 3;
    let group = words::unit_of(input.label);
    match scales {
        [] => ().into_any(),
        [only] => view! { <span class="unit">{only.symbol()}</span> }.into_any(),
        few if few.len() <= MOST_BUTTONS => {
            let keys = few.iter().map(|&scale| {
                let pressed = move || (desk.scale(input) == Some(scale)).to_string();
                view! {
                    <button type="button" aria-pressed=pressed aria-label=named(scale)
                        on:click=move |_| desk.choose_scale(input, scale)>{scale.symbol()}</button>
                }
            });
            let keys = keys.collect_view();
            view! { <div class="scale-keys" role="group" aria-label=group>{keys}</div> }.into_any()
        }
        many => {
            let options = many.iter().map(|&scale| {
                let chosen = move || desk.scale(input) == Some(scale);
                view! { <option value=scale.symbol() selected=chosen>{scale.symbol()}</option> }
            });
            let options = options.collect_view();
            let choose = move |event| {
                if let Ok(scale) = event_target_value(&event).parse() {
                    desk.choose_scale(input, scale);
                }
            };
            view! { <select aria-label=group on:change=choose>{options}</select> }.into_any()
        }
    }
}

/// A unit as it is printed and as it is said.
pub(super) fn named(scale: Scale) -> String {
    match (scale.symbol(), scale.spoken()) {
        (symbol, spoken) if symbol == spoken => symbol,
        (symbol, spoken) => words::unit(&symbol, &spoken),
    }
}

/// A field for several numbers.
fn several(desk: Desk, input: &'static Input) -> impl IntoView {
    let hint = match (input.kind, input.scale()) {
        (Kind::Pairs, _) => words::PAIRS.to_owned(),
        (_, Some(scale)) => words::several_in(&scale.symbol()),
        (_, None) => words::ONE_TO_A_LINE.to_owned(),
    };
    view! {
        <div class="field">
            {label(input)}
            <span class="hint">{hint}</span>
            <textarea
                id=field_id(input)
                rows="3"
                autocomplete="off"
                spellcheck="false"
                aria-invalid=move || desk.complaint(input).is_some().to_string()
                aria-describedby=format!("{}-error", field_id(input))
                prop:value=move || field_text(desk.text(input))
                on:input=move |event| desk.type_in(input, event_target_value(&event))
            ></textarea>
            {error_line(desk, input)}
        </div>
    }
}

/// A choice as buttons; those that name a colour show it.
fn choice(desk: Desk, input: &'static Input, choices: &'static [&'static str]) -> impl IntoView {
    let buttons = choices.iter().map(|&choice| {
        let pressed = move || (desk.text(input) == choice).to_string();
        let swatch = paint(choice).map(|colour| {
            view! { <span class="swatch" aria-hidden="true" style:background=colour></span> }
        });
        view! {
            <button type="button" aria-pressed=pressed
                on:click=move |_| desk.type_in(input, choice.to_owned())>{swatch}{spelt(choice)}</button>
        }
    });
    view! {
        <div class="field" role="group" aria-label=input.label>
            <span class="choice-label">{input.label}</span>
            <div class="choice-keys">{buttons.collect_view()}</div>
        </div>
    }
}
