//! Steps that take no number of their own: stops, ticks and inspections.

use super::at::{At, Lead};
use super::closed::closed;
use super::focus::{focus_next, focus_when_shown};
use super::shown::Shown;
use crate::app::platform::device;
use crate::app::screens::work::{reading, wait};
use crate::app::ui::{TermKey, capitalised, field_text};
use crate::app::words::work::terms::Term;
use crate::app::words::work::{socket as socket_words, step as words};
use crate::job::{Deed, Finding, Status};
use leptos::html::{Button, P as Paragraph};
use leptos::prelude::*;

/// A stop that a reading confirms: what that makes sure of, and the reading.
pub fn hold_point(at: At, confirm: String) -> Shown {
    let Shown {
        verdict,
        sheet,
        dock,
    } = reading::reading(at);
    let stands = move || {
        let (confirmed, last) = at.standing.with(|standing| {
            let standing = standing.as_ref()?;
            Some((standing.ticked, standing.readings.last().cloned()))
        })?;
        let last = last?.corrected.typeset(at.bench.sign());
        Some(match (confirmed.map(device::date_and_time), at.status()) {
            (Some(when), Status::Lapsed) => words::lapsed(&when),
            (Some(when), _) => words::opened_by(&last, &when),
            (None, _) => words::stays_closed(&last),
        })
    };
    let sheet = view! {
        <section class="answer stop">
            <p class="confirm">{confirm}</p>
            <p class="hint">{words::BY_READING}<TermKey term=Term::HoldPoint/></p>
            <p class="when" role="status">{stands}</p>
        </section>
        {sheet}
    };
    Shown {
        verdict,
        sheet: sheet.into_any(),
        dock,
    }
}

/// A tick or a stop: its words, its key, and when it was pressed.
pub fn confirmation(
    at: At,
    class: &'static str,
    text: Option<String>,
    button: &'static str,
) -> impl IntoView {
    let confirm = move |_| {
        if at.record(|step| Deed::Ticked { step }) {
            focus_next();
        }
    };
    let text_line = NodeRef::<Paragraph>::new();
    let key = NodeRef::<Button>::new();
    // A tick is at hand for the next key. A stop wants one on purpose: its words come first.
    match class {
        "stop" if untrack(|| holds(at)) => {}
        // The entry of the pins has the focus.
        "wired" => {}
        "stop" => text_line.on_load(|line| device::focus_in_place(&line)),
        _ => focus_when_shown(key),
    }
    let lapsed = move || at.status() == Status::Lapsed;
    let ticked = move || {
        let ticked = at.standing.with(|s| s.as_ref().and_then(|s| s.ticked))?;
        let when = device::date_and_time(ticked);
        let said = match at.status() {
            Status::Lapsed => words::lapsed(&when),
            Status::WaitAgain => words::wait_again(&when),
            status if class == "wired" && status.is_owed() => {
                socket_words::ticked_but(&when, status.name())
            }
            _ => when,
        };
        Some(view! { <p class="when">{said}</p> })
    };
    let word = move || match lapsed() {
        true => words::CONFIRM_AGAIN,
        false => button,
    };
    view! {
        <section class=format!("answer {class}")>
            {text.map(|text| view! { <p class="confirm" node_ref=text_line tabindex="-1">{text}</p> })}
            <Show when=move || is_to_tick(at, class)>
                <button type="button" class="large" class:main=move || at.leads() == Lead::Answer && !wait::is_to_start(at) node_ref=key disabled=move || !at.is_open() on:click=confirm>
                    {word}
                </button>
            </Show>
            // The table of the pins says it.
            {(class != "wired").then(|| closed(at))}
            {ticked}
            {(class == "stop").then(|| view! { <p class="hint">{words::IS_HOLD_POINT}<TermKey term=Term::HoldPoint/></p> })}
        </section>
    }
}

/// Whether the key that ticks is of use. A socket's pins may keep it open once it is ticked, and
/// ticking it again changes nothing.
fn is_to_tick(at: At, class: &str) -> bool {
    match class {
        "wired" => at
            .standing
            .with(|s| s.as_ref().is_none_or(|s| s.ticked.is_none())),
        _ => !holds(at),
    }
}

/// Whether a tick or a stop is done and no break has ended it.
fn holds(at: At) -> bool {
    at.status() == Status::Done
}

/// What is seen, and what was found.
pub fn inspection(at: At) -> impl IntoView {
    let note = at.typed;
    let answer = move |finding: Finding| {
        let text = note.get_untracked();
        let taken = at.record(|step| Deed::Answered {
            step,
            answer: finding,
            note: text,
        });
        if taken {
            note.set(String::new());
            focus_next();
        }
    };
    let current = move || at.standing.with(|s| s.as_ref()?.answer.clone());
    let buttons = Finding::ALL
        .into_iter()
        .map(|finding| {
            let pressed = move || current().is_some_and(|answer| answer.finding == finding);
            view! {
                <button type="button" class="choice" aria-pressed=move || pressed().to_string()
                    disabled=move || !at.is_open() on:click=move |_| answer(finding)>
                    <strong>{capitalised(finding.name())}</strong>
                    <span>{meaning(finding)}</span>
                </button>
            }
        })
        .collect_view();
    view! {
        <section class="answer">
            <label for="finding-note">{words::WHAT_YOU_SEE}</label>
            <textarea id="finding-note" rows="3" prop:value=move || field_text(note.get())
                on:input=move |e| note.set(event_target_value(&e))></textarea>
            <div class="choices" role="group" aria-label=words::WHAT_YOU_FOUND>{buttons}</div>
            {closed(at)}
            {move || current().filter(|a| !a.note.is_empty()).map(|a| view! { <p class="found-note">{a.note}</p> })}
        </section>
    }
}

const fn meaning(finding: Finding) -> &'static str {
    match finding {
        Finding::Sound => words::SOUND_MEANS,
        Finding::Altered => words::ALTERED_MEANS,
        Finding::Worn => words::WORN_MEANS,
        Finding::Damaged => words::DAMAGED_MEANS,
    }
}
