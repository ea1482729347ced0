//! A thing picked from a list, or named anew on the spot.

use crate::app::ui::field_text;
use crate::app::ui::fields::form::{Said, focus_soon, silent};
use crate::app::words::author as words;
use crate::authoring::{Fit, Remark, fit};
use leptos::html::Input;
use leptos::prelude::*;

/// One thing in the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// What is handed on.
    pub key: String,
    /// What is shown.
    pub name: String,
    /// What else is known of it.
    pub note: String,
    /// Whether it is seldom meant, and shown only to who looks for it.
    pub seldom: bool,
}

impl Choice {
    /// A thing that goes by its name.
    pub fn named(name: impl Into<String>) -> Self {
        let name = name.into();
        Choice {
            key: name.clone(),
            name,
            ..Choice::default()
        }
    }
}

/// What is shown of a list while a text is typed: all that is not seldom meant at first, then
/// what fits, the best first.
fn fitting(choices: &[Choice], typed: &str) -> Vec<Choice> {
    if typed.trim().is_empty() {
        let usual = choices.iter().filter(|choice| !choice.seldom);
        return usual.cloned().collect();
    }
    let fits = |choice: &'_ Choice| fit(&[&choice.name, &choice.note], typed);
    let found = choices
        .iter()
        .filter_map(|choice| Some((fits(choice)?, choice)));
    let mut found: Vec<(Fit, &Choice)> = found.collect();
    found.sort_by_key(|(fit, _)| *fit);
    found
        .into_iter()
        .map(|(_, choice)| choice.clone())
        .collect()
}

/// Takes a new name and gives what is wrong with it.
pub type Adds = Callback<String, Result<(), String>>;

/// A key that shows what is picked and opens the list.
#[component]
pub fn Picker(
    /// The id of the key.
    #[prop(into)]
    id: String,
    /// What is picked.
    #[prop(into)]
    label: String,
    /// The name of what is picked now.
    shown: Signal<String>,
    /// What there is to pick.
    choices: Signal<Vec<Choice>>,
    /// Takes the key of a choice.
    pick: Callback<String>,
    /// Takes a new name, where one may be added.
    #[prop(optional)]
    add: Option<Adds>,
    /// What is said of it.
    #[prop(optional)]
    said: Option<Signal<Vec<Remark>>>,
) -> impl IntoView {
    let open = RwSignal::new(false);
    let key = StoredValue::new(id.clone());
    let back = move || {
        open.set(false);
        focus_soon(key.get_value());
    };
    let pick = Callback::new(move |choice: String| {
        pick.run(choice);
        back();
    });
    let add = add.map(|add| {
        Adds::new(move |name: String| {
            add.run(name)?;
            back();
            Ok(())
        })
    });
    let find = format!("{id}-find");
    let press = {
        let find = find.clone();
        move |event: web_sys::MouseEvent| {
            open.update(|open| *open = !*open);
            // A press of a key has no click count; a finger would only get the keyboard in its way.
            if open.get_untracked() && event.detail() == 0 {
                focus_soon(find.clone());
            }
        }
    };
    let escape = move |event: web_sys::KeyboardEvent| {
        if event.key() == "Escape" && open.get_untracked() {
            event.stop_propagation();
            back();
        }
    };
    let name = label.clone();
    let empty = move || shown.with(String::is_empty);
    let about = format!("{id}-said");
    view! {
        <div class="field picker" class:picker-open=move || open.get() on:keydown=escape>
            <span class="chips-label" aria-hidden="true">{label.clone()}</span>
            <button type="button" id=id class="picker-key" class:picker-empty=empty
                aria-expanded=move || open.get().to_string()
                aria-describedby=about.clone()
                aria-label=move || words::picker(&name, &shown.get())
                on:click=press>
                <span>{move || match empty() {
                    true => words::CHOOSE.to_owned(),
                    false => shown.get(),
                }}</span>
                <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M5 8l5 5 5-5"/></svg>
            </button>
            <Show when=move || open.get()>
                <Panel find=find.clone() label=label.clone() shown choices pick add/>
            </Show>
            <Said id=about remarks=said.unwrap_or_else(silent)/>
        </div>
    }
}

#[component]
fn Panel(
    find: String,
    label: String,
    shown: Signal<String>,
    choices: Signal<Vec<Choice>>,
    pick: Callback<String>,
    #[prop(optional_no_strip)] add: Option<Adds>,
) -> impl IntoView {
    let text = RwSignal::new(String::new());
    let error = RwSignal::new(String::new());
    let field = NodeRef::<Input>::new();
    let fitting = Memo::new(move |_| text.with(|typed| choices.with(|all| fitting(all, typed))));
    let more = move || {
        text.with(|t| t.trim().is_empty()) && choices.with(|all| all.iter().any(|c| c.seldom))
    };
    let is_new = move || {
        let typed = text.with(|text| text.trim().to_owned());
        !typed.is_empty() && choices.with(|all| all.iter().all(|choice| choice.name != typed))
    };
    let take = move || {
        let typed = text.with_untracked(|text| text.trim().to_owned());
        let exact = choices.with_untracked(|all| all.iter().find(|c| c.name == typed).cloned());
        match (exact, add) {
            (Some(choice), _) => pick.run(choice.key),
            (None, Some(add)) if !typed.is_empty() => {
                if let Err(sentence) = add.run(typed) {
                    error.set(sentence);
                }
            }
            _ => {
                if let Some(first) = fitting.with_untracked(|all| all.first().cloned()) {
                    pick.run(first.key);
                }
            }
        }
    };
    // Enter here enters the name, not the form around it.
    let enter = move |event: web_sys::KeyboardEvent| {
        if event.key() == "Enter" {
            event.prevent_default();
            take();
        }
    };
    let hint = match add.is_some() {
        true => words::FIND_OR_ADD,
        false => words::FIND,
    };
    let group = words::choose(&label);
    view! {
        <div class="picker-panel" role="group" aria-label=group>
            <div class="picker-find">
                <label for=find.clone()>{hint}</label>
                <input id=find node_ref=field type="text" autocomplete="off" prop:value=move || field_text(text.get())
                    on:input=move |event| { text.set(event_target_value(&event)); error.set(String::new()) }
                    on:keydown=enter/>
                <Show when=move || add.is_some() && is_new()>
                    <button type="button" class="main" on:click=move |_| take()>{move || words::add_named(text.get().trim())}</button>
                </Show>
                <p class="error" role="alert">{move || error.get()}</p>
            </div>
            <div class="picker-choices">
                {move || fitting.get().into_iter().map(|choice| {
                    let Choice { key, name, note, .. } = choice;
                    let here = name.clone();
                    view! {
                        <button type="button" class="picker-choice"
                            aria-pressed=move || shown.with(|shown| *shown == here).to_string()
                            on:click=move |_| pick.run(key.clone())>
                            <span>{name}</span>
                            {(!note.is_empty()).then(|| view! { <span class="hint">{note}</span> })}
                        </button>
                    }
                }).collect_view()}
                {move || more().then(|| view! { <p class="hint">{words::OTHERS_BY_NAME}</p> })}
                {move || fitting.with(Vec::is_empty).then(|| view! { <p class="hint">{match choices.with(Vec::is_empty) {
                    true => words::NONE_THERE,
                    false => words::NONE_FITS,
                }}</p> })}
            </div>
        </div>
    }
}
