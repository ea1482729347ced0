//! A question that wants a text: a note, a reason, a name.

use super::field_text;
use crate::app::bench::use_bench;
use crate::app::device;
use crate::app::words::{parts as words, shared};
use leptos::html::{Dialog, Textarea};
use leptos::prelude::*;

/// A question to the user.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Question {
    /// What is asked.
    pub title: &'static str,
    /// What the answer does.
    pub hint: &'static str,
    /// The word on the button.
    pub answer: &'static str,
    /// What it is called where its answer outlives the page until it is given; nothing where it
    /// is about one of several things, for the next of which it would be wrong.
    pub kept_as: Option<&'static str>,
}

/// Shows `question` while there is one. `on_answer` says why the answer was not taken, where it
/// was not: that stands in the question itself, which covers all else, and the text stays.
#[component]
pub fn Ask(
    /// The question; none while nothing is asked.
    question: RwSignal<Option<Question>>,
    /// What it is asked about, as the name of a place of the store.
    about: String,
    /// Takes the answer.
    on_answer: impl Fn(Question, String) -> Result<(), String> + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let bench = use_bench();
    let about = StoredValue::new(about);
    let place = move |asked: Question| {
        let name = asked.kept_as?;
        Some(about.with_value(|about| format!("{about}~{name}")))
    };
    let keep = move |asked: Question, text: &str| {
        if let Some(place) = place(asked) {
            bench.keep_form(&place, text);
        }
    };
    let dialog = NodeRef::<Dialog>::new();
    let field = NodeRef::<Textarea>::new();
    let text = RwSignal::new(String::new());
    let complaint = RwSignal::new(None::<String>);
    // What was typed for another question is no answer to this one.
    let last = StoredValue::new(None::<Question>);
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else {
            return;
        };
        complaint.set(None);
        match question.get() {
            Some(asked) => {
                if last.get_value() != Some(asked) {
                    last.set_value(Some(asked));
                    text.set(place(asked).map_or(String::new(), |place| bench.form(&place)));
                }
                let _ = dialog.show_modal();
            }
            None => {
                dialog.close();
                // What asked gets the focus back, unless the answer put it out of use.
                request_animation_frame(|| {
                    if device::nothing_has_focus()
                        && let Some(heading) = device::first_heading()
                    {
                        device::focus_in_place(&heading);
                    }
                });
            }
        }
    });
    let answer = move || {
        let Some(asked) = question.get_untracked() else {
            return;
        };
        match on_answer(asked, text.get_untracked()) {
            Ok(()) => {
                keep(asked, "");
                text.set(String::new());
                question.set(None);
            }
            Err(why) => {
                complaint.set(Some(why));
                if let Some(field) = field.get_untracked() {
                    device::focus_in_place(&field);
                }
            }
        }
    };
    let typed = move |event: leptos::ev::Event| {
        let typed = event_target_value(&event);
        if let Some(asked) = question.get_untracked() {
            keep(asked, &typed);
        }
        text.set(typed);
    };
    let read = move |part: fn(Question) -> &'static str| move || question.get().map(part);
    view! {
        <dialog class="ask" node_ref=dialog aria-labelledby="ask-title" on:close=move |_| question.set(None)>
            <form on:submit=move |event| { event.prevent_default(); answer() }>
                <h2 id="ask-title">{read(|q| q.title)}</h2>
                <p id="ask-hint">{read(|q| q.hint)}</p>
                <textarea
                    rows="4"
                    node_ref=field
                    aria-labelledby="ask-title"
                    aria-describedby="ask-hint ask-complaint"
                    aria-invalid=move || complaint.with(Option::is_some).to_string()
                    prop:value=move || field_text(text.get())
                    on:input=typed
                ></textarea>
                <p id="ask-complaint" class="error" role="alert">{move || complaint.get().map(shared::sentence)}</p>
                <div class="row row-end">
                    <button type="button" class="plain" on:click=move |_| question.set(None)>{words::NOT_NOW}</button>
                    <button type="submit" class="main">{read(|q| q.answer)}</button>
                </div>
            </form>
        </dialog>
    }
}
