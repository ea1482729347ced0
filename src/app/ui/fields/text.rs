//! Small pieces of text.

use crate::app::words::shared;
use crate::app::words::shell::parts as words;
use crate::job::Status;
use crate::quantity::whole_figures;
use leptos::prelude::*;

/// The state of a step as a drawn mark with its word, so that colour alone tells nothing.
#[component]
pub fn StatusMark(
    /// The state.
    status: Status,
    /// The number of the stop that the step waits for.
    #[prop(optional_no_strip)]
    behind: Option<usize>,
) -> impl IntoView {
    let (shape, word) = match (status, behind) {
        (Status::Open, Some(stop)) => (
            "M6 9V7a4 4 0 0 1 8 0v2M4.5 9h11v8h-11z",
            words::opens_after(stop),
        ),
        (Status::Open, None) => ("M10 3.5a6.5 6.5 0 1 0 .01 0z", words::OPEN.to_owned()),
        (Status::Outside, _) => (
            "M10 3l8 14H2zM10 8v4M10 14.2v.6",
            shared::OUTSIDE.to_owned(),
        ),
        (Status::Unproved, _) => (
            "M3 10h3M8.5 10h3M14 10h3M10 4v12",
            words::NOT_PROVED.to_owned(),
        ),
        (Status::Unsettled, _) => (
            "M2 12c2.5-7 5-7 8-2s5.5 5 8-2",
            words::NOT_SETTLED.to_owned(),
        ),
        (Status::LookAgain, _) => (
            "M2 10c3-5 13-5 16 0-3 5-13 5-16 0zM10 8v4",
            words::LOOK_AGAIN.to_owned(),
        ),
        (Status::Lapsed, _) => (
            "M16 10a6 6 0 1 1-2-4.5M16.5 3v3.5H13",
            words::CONFIRM_AGAIN.to_owned(),
        ),
        (Status::WaitAgain, _) => (
            "M10 3.5a6.5 6.5 0 1 0 .01 0zM10 6.5V10l2.5 2",
            words::WAIT_AGAIN.to_owned(),
        ),
        (Status::Done, _) => ("M4 10.5l4 4 8-9", words::DONE.to_owned()),
        (Status::Waived, _) => ("M3 10h14M13 6l4 4-4 4", words::WAIVED.to_owned()),
    };
    view! {
        <span class="status" data-status=status.name()>
            <svg viewBox="0 0 20 20" aria-hidden="true"><path d=shape/></svg>
            {word}
        </span>
    }
}

/// A text with its first letter large.
pub fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Texts as a list, or nothing.
pub fn list_of(texts: Vec<String>, class: &'static str) -> Option<impl IntoView> {
    (!texts.is_empty()).then(|| {
        let items = texts
            .iter()
            .map(|text| view! { <li>{whole_figures(text)}</li> });
        view! { <ul class=class>{items.collect_view()}</ul> }
    })
}
