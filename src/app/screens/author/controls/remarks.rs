//! Everything that is to be said of a draft, each with the way to its field.

use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::pen::Pen;
use crate::app::shell::desk::Desk;
use crate::app::ui::capitalised;
use crate::app::words::author as words;
use crate::authoring::{Gravity, Remark};
use crate::procedure::Place;
use leptos::prelude::*;

/// How many faults and how many things worth a look there are.
pub fn counts(remarks: &[Remark]) -> (usize, usize) {
    let faults = remarks
        .iter()
        .filter(|r| r.gravity == Gravity::Fault)
        .count();
    (faults, remarks.len() - faults)
}

/// All remarks, open where there are few or `open` says so.
pub fn list(pen: Pen, open: bool) -> impl IntoView {
    let summary = move || {
        let (faults, advice) = pen.remarks.with(|all| counts(all));
        words::remarks(faults, advice)
    };
    view! {
        <details class="remarks" open=open>
            <summary>{summary}</summary>
            <ul class="plain-list">
                {move || pen.remarks.get().into_iter().map(|remark| row(pen, remark)).collect_view()}
            </ul>
        </details>
    }
}

fn row(pen: Pen, remark: Remark) -> impl IntoView {
    let fault = remark.gravity == Gravity::Fault;
    let thing = pen.draft.with_untracked(|draft| match remark.place {
        Place::Step(number) => draft.steps().nth(number - 1).map(|step| step.id.clone()),
        Place::Table(number) => draft.tables.get(number - 1).map(|table| table.id.clone()),
        _ => None,
    });
    let desk = Desk::of(&pen.id(), &remark.place, remark.field, thing);
    let place = words::place(&remark.place);
    view! {
        <li class:said-fault=fault>
            <strong>{words::gravity(fault)}</strong>
            <a href=address(desk)>{place}{capitalised(&remark.sentence)}</a>
        </li>
    }
}
