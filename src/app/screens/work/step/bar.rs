//! The keys at the foot of a step.

use super::at::{At, Lead};
use super::leaving::leave;
use super::questions::{NOTE, WAIVE};
use crate::app::words::shared;
use crate::app::words::work::step as words;
use crate::job::Job;
use leptos::prelude::*;

/// The keys at the foot of a step: back, undo, note, waive, next.
pub fn bar(at: At) -> impl IntoView {
    let leads = move || at.leads() == Lead::Next;
    let has_undo = move || {
        at.bench.job.with(|job| {
            job.as_ref()
                .is_some_and(|j: &Job| j.last_undoable().is_some())
        })
    };
    let can_waive = move || !at.is_stop() && at.status().is_owed() && !at.is_finished();
    view! {
        <nav class="bar" aria-label=words::STEP>
            <button type="button" disabled=at.neighbour(-1).is_none() on:click=move |_| leave(at, -1)>{words::BACK}</button>
            <button type="button" disabled=move || !has_undo() || at.is_finished() on:click=move |_| at.bench.undo(Some(&at.id()))>{shared::UNDO}</button>
            <button type="button" disabled=move || at.is_finished() on:click=move |_| at.question.set(Some(NOTE))>{shared::NOTE}</button>
            <button type="button" disabled=move || !can_waive() on:click=move |_| at.question.set(Some(WAIVE))>{words::WAIVE}</button>
            <button type="button" id="next" class:main=leads on:click=move |_| leave(at, 1)>{words::NEXT}</button>
        </nav>
    }
}
