//! Writing procedures on the device: drafts, their checks, and what is published of them.

use crate::app::screens::author::controls::address::missing;
mod controls;
mod lists;
mod outline;
mod papers;
mod pen;
mod pictures;
mod plan;
mod publish;
mod revisions;
mod several;
mod start;
mod step_sheet;
mod table;

pub use self::pen::Past;
pub use self::start::{change, copy, drafts};

use self::pen::Pen;
use self::step_sheet::step;
use crate::app::shell::desk::Desk;
use crate::procedure::Id;
use leptos::prelude::*;

/// The screen of an address.
pub fn screen(desk: &Desk) -> AnyView {
    match desk {
        Desk::New => start::screen().into_any(),
        Desk::Whole(draft, field) => with(draft, |pen| outline::screen(pen, *field).into_any()),
        Desk::Step(draft, id, field) => with(draft, |pen| {
            step::screen(pen, id.clone(), *field).into_any()
        }),
        Desk::Several(draft, table, field) => with(draft, |pen| {
            several::screen(pen, table.clone(), *field).into_any()
        }),
        Desk::Lists(draft, field) => with(draft, |pen| lists::screen(pen, *field).into_any()),
        Desk::Pictures(draft) => with(draft, |pen| pictures::screen(pen).into_any()),
        Desk::Papers(draft) => with(draft, |pen| papers::screen(pen).into_any()),
        Desk::Paper(draft, paper) => with(draft, |pen| {
            papers::one_paper(pen, paper.clone()).into_any()
        }),
        Desk::Plan(draft) => with(draft, |pen| plan::screen(pen).into_any()),
        Desk::Table(draft) => with(draft, |pen| table::screen(pen).into_any()),
        Desk::Publish(draft) => with(draft, |pen| publish::screen(pen).into_any()),
        Desk::Revisions(procedure) => revisions::screen(procedure.clone()).into_any(),
    }
}

/// The screen of a draft in hand; a way out where it isn't here.
fn with(draft: &Id, view: impl FnOnce(Pen) -> AnyView) -> AnyView {
    match Pen::open(draft) {
        Some(pen) => view(pen),
        None => missing().into_any(),
    }
}
