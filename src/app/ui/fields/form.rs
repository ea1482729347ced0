//! The parts that forms are made of: a text with its label, one of a few, a thing on or off, and what
//! is said of them.

use crate::app::platform::device::focus_in_place;
use crate::app::ui::{capitalised, field_text};
use crate::app::words::{author as words, shared};
use crate::authoring::{Gravity, Remark};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// A text as a field shows and changes it.
#[derive(Clone, Copy)]
pub struct Text {
    /// What it is.
    pub get: Signal<String>,
    /// Takes what is typed.
    pub set: Callback<String>,
}

/// Moves the focus to an element as soon as it is on the page, out of what it is folded away in.
pub fn focus_soon(id: impl Into<String>) {
    let id = id.into();
    request_animation_frame(move || {
        let element = document().get_element_by_id(&id);
        if let Some(element) = element.and_then(|e| e.dyn_into::<web_sys::HtmlElement>().ok()) {
            if let Ok(Some(fold)) = element.closest("details:not([open])") {
                let _ = fold.set_attribute("open", "");
            }
            element.scroll_into_view();
            focus_in_place(&element);
        }
    });
}

/// Nothing to say.
pub fn silent() -> Signal<Vec<Remark>> {
    Signal::derive(Vec::new)
}

/// What is said of a field, below it.
#[component]
pub fn Said(
    /// The element's id, for the field to refer to.
    id: String,
    /// What is said.
    remarks: Signal<Vec<Remark>>,
) -> impl IntoView {
    view! {
        <div class="said" id=id>
            {move || remarks.get().into_iter().map(|remark| {
                let fault = remark.gravity == Gravity::Fault;
                view! {
                    <p class:said-fault=fault>
                        <strong>{words::gravity(fault)}</strong>" "
                        {shared::sentence(capitalised(&remark.sentence))}
                    </p>
                }
            }).collect_view()}
        </div>
    }
}

/// A text with its label.
#[component]
pub fn TextField(
    /// The id of the field.
    #[prop(into)]
    id: String,
    /// Its name.
    #[prop(into)]
    label: String,
    /// How it is typed.
    #[prop(optional, into)]
    hint: String,
    /// The text.
    text: Text,
    /// How many lines it shows; one line takes no more than one.
    #[prop(default = 1)]
    rows: u32,
    /// Whether it has a line of the form for itself; more than one line always has.
    #[prop(optional)]
    wide: bool,
    /// What is said of it.
    #[prop(optional)]
    said: Option<Signal<Vec<Remark>>>,
) -> impl IntoView {
    let Text { get, set } = text;
    let said = said.unwrap_or_else(silent);
    let about = format!("{id}-said");
    let wrong = move || {
        said.with(|all| all.iter().any(|r| r.gravity == Gravity::Fault))
            .to_string()
    };
    let field = match rows {
        1 => view! {
            <input id=id.clone() type="text" autocomplete="off" aria-describedby=about.clone()
                aria-invalid=wrong prop:value=move || field_text(get.get())
                on:input=move |event| set.run(event_target_value(&event))/>
        }
        .into_any(),
        _ => view! {
            <textarea id=id.clone() rows=rows aria-describedby=about.clone() aria-invalid=wrong
                prop:value=move || field_text(get.get())
                on:input=move |event| set.run(event_target_value(&event))></textarea>
        }
        .into_any(),
    };
    view! {
        <div class="field" class:field-long={wide || rows > 1}>
            <label for=id>{label}</label>
            {(!hint.is_empty()).then(|| view! { <span class="hint">{hint}</span> })}
            {field}
            <Said id=about remarks=said/>
        </div>
    }
}

/// One of a few, each a key of its own.
#[component]
pub fn Chips(
    /// The id of the first key.
    #[prop(into)]
    id: String,
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// The values and their names.
    choices: Vec<(String, String)>,
    /// The value chosen.
    chosen: Signal<String>,
    /// Takes the value of a key.
    pick: Callback<String>,
) -> impl IntoView {
    let keys = choices
        .into_iter()
        .enumerate()
        .map(|(index, (value, name))| {
            let here = value.clone();
            let id = if index == 0 {
                id.clone()
            } else {
                format!("{id}-{index}")
            };
            view! {
                <button type="button" id=id class="chip-key"
                    aria-pressed=move || chosen.with(|c| *c == here).to_string()
                    on:click=move |_| pick.run(value.clone())>{name}</button>
            }
        })
        .collect_view();
    view! {
        <div class="field field-long">
            <span class="chips-label" aria-hidden="true">{label.clone()}</span>
            <div class="chip-keys" role="group" aria-label=label>{keys}</div>
        </div>
    }
}

/// One of a few, by their places.
pub fn one_of<T: Copy + PartialEq + Send + Sync + 'static>(
    (id, label): (&'static str, &'static str),
    all: &'static [T],
    name: impl Fn(T) -> String,
    now: Signal<T>,
    set: Callback<T>,
) -> impl IntoView {
    let choices = all.iter().enumerate();
    let choices = choices.map(|(place, value)| (place.to_string(), name(*value)));
    let place = move || all.iter().position(|value| *value == now.get());
    let chosen = move || place().map_or(String::new(), |place| place.to_string());
    let pick = Callback::new(move |place: String| {
        if let Some(value) = place.parse().ok().and_then(|place: usize| all.get(place)) {
            set.run(*value);
        }
    });
    view! { <Chips id label choices=choices.collect() chosen=Signal::derive(chosen) pick/> }
}

/// A thing that is on or off.
#[component]
pub fn Toggle(
    /// Its name.
    #[prop(into)]
    label: String,
    /// Whether it is on.
    on: Signal<bool>,
    /// Turns it over.
    flip: Callback<()>,
) -> impl IntoView {
    view! {
        <button type="button" class="chip-key" aria-pressed=move || on.get().to_string()
            on:click=move |_| flip.run(())>{label}</button>
    }
}
