//! A question that wants a text: a note, a reason, a name.

use crate::app::platform::device;
use crate::app::shell::bench::use_bench;
use crate::app::ui::field_text;
use crate::app::words::shared;
use crate::app::words::shell::parts as words;
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
    /// What its answer is called where that outlives the page until it is given.
    pub kept_as: &'static str,
}

/// Shows `question` while there is one. `on_answer` says why the answer was not taken, where it
/// was not: that stands in the question itself, which covers all else, and the text stays.
#[component]
pub fn Ask(
    /// The question; none while nothing is asked.
    question: RwSignal<Option<Question>>,
    /// Where the answer is kept until it is given: the name of a place of the store, another one
    /// for each thing that can be asked about, for the next of which it would be wrong.
    place: impl Fn(Question) -> String + Send + Sync + 'static,
    /// Takes the answer.
    on_answer: impl Fn(Question, String) -> Result<(), String> + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let bench = use_bench();
    let place = StoredValue::new(place);
    let place = move |asked: Question| place.with_value(|place| place(asked));
    let dialog = NodeRef::<Dialog>::new();
    let field = NodeRef::<Textarea>::new();
    let text = RwSignal::new(String::new());
    let complaint = RwSignal::new(None::<String>);
    // What was typed for another question is no answer to this one.
    let last = StoredValue::new(String::new());
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else {
            return;
        };
        complaint.set(None);
        match question.get() {
            Some(asked) => {
                let place = place(asked);
                if last.get_value() != place {
                    text.set(bench.form(&place));
                    last.set_value(place);
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
        // What the answer was about may be settled with it.
        let place = place(asked);
        match on_answer(asked, text.get_untracked()) {
            Ok(()) => {
                bench.keep_form(&place, "");
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
            bench.keep_form(&place(asked), &typed);
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
