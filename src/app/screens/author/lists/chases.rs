//! The groups of steps that pull each other.

use super::entries::{Entries, text};
use super::said;
use super::steps_of::{steps_of, turn_over};
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::pen::Pen;
use crate::app::ui::fields::form::{Said, TextField};
use crate::app::words::author as words;
use crate::authoring::Kind;
use crate::procedure::{Chase, Field, Id};
use leptos::prelude::*;

/// The groups, each with its steps.
pub(super) fn chases(pen: Pen) -> impl IntoView {
    let count = Memo::new(move |_| pen.draft.with(|draft| draft.chases.len()));
    let add = move |_| {
        pen.change(words::CHASE_ADDED, |draft| {
            draft.chases.push(Chase {
                title: String::new(),
                steps: Vec::new(),
            });
        });
    };
    view! {
        <h2>{words::CHASES}</h2>
        <p class="hint">{words::CHASES_HINT}</p>
        <Said id="author-chases-said".to_owned() remarks=said(pen, Field::Chases)/>
        <ul class="plain-list entries">
            <For each=move || 0..count.get() key=|index| *index let:index>{chase(pen, index)}</For>
        </ul>
        <button type="button" id=anchor(Field::Chases) on:click=add>{words::ADD_CHASE}</button>
    }
}

fn chase(pen: Pen, index: usize) -> impl IntoView {
    let part: fn(&mut Chase) -> &mut String = |chase| &mut chase.title;
    let list: Entries<Chase> = (|d| &d.chases, |d| &mut d.chases);
    let title = text(pen, "chase", index, list, part);
    let steps = Signal::derive(move || {
        pen.draft.with(|d| {
            d.chases
                .get(index)
                .map_or(Vec::new(), |chase| chase.steps.clone())
        })
    });
    let flip = Callback::new(move |step: Id| {
        pen.change(words::CHASE_STEPS, |draft| {
            if let Some(chase) = draft.chases.get_mut(index) {
                turn_over(&mut chase.steps, &step);
            }
        });
    });
    let remove = move |_| {
        pen.change(words::CHASE_REMOVED, |draft| {
            if index < draft.chases.len() {
                draft.chases.remove(index);
            }
        });
    };
    view! {
        <li class="entry-card">
            <TextField id=format!("chase-title-{index}") label=words::CHASE_TITLE text=title/>
            <p class="hint field-long">{words::CHASE_KINDS}</p>
            {steps_of(pen, format!("chase-steps-{index}"), words::CHASE_STEPS, steps, flip, |kind| kind == Kind::Set)}
            <div class="entry-end">
                <button type="button" class="plain" on:click=remove>{words::remove_chase(index + 1)}</button>
            </div>
        </li>
    }
}
