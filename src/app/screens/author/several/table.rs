//! The table in hand.

use crate::app::screens::author::pen::Pen;
use crate::app::ui::fields::form::Text;
use crate::app::words::work::several as own;
use crate::authoring::draft::{DraftStep, DraftTable};
use crate::authoring::{Draft, Remark, edit};
use crate::procedure::{Field, Id, Place};
use leptos::prelude::*;

/// A table in hand.
#[derive(Clone, Copy)]
pub(super) struct Table {
    pub(super) pen: Pen,
    pub(super) id: StoredValue<Id>,
}

impl Table {
    pub(super) fn index(self, draft: &Draft) -> Option<usize> {
        self.id
            .with_value(|id| draft.tables.iter().position(|table| table.id == *id))
    }

    /// Something of the table; the default where it is gone.
    pub(super) fn with<T: Default>(self, part: impl Fn(&Draft, &DraftTable) -> T) -> T {
        self.pen.draft.with(|draft| {
            let table = self.index(draft).map(|index| &draft.tables[index]);
            table.map(|table| part(draft, table)).unwrap_or_default()
        })
    }

    /// What the cells have alike; nothing where there are none, and where they differ, that.
    pub(super) fn alike(self, part: fn(&DraftStep) -> String) -> String {
        self.with(|draft, table| {
            let mut cells = table.cells.iter().flatten().flatten();
            let first = cells.next().and_then(|id| draft.step(id)).map(part);
            let first = first.unwrap_or_default();
            let differs = |id: &Id| draft.step(id).is_some_and(|step| part(step) != first);
            match cells.any(differs) {
                true => own::DIFFERS.to_owned(),
                false => first,
            }
        })
    }

    pub(super) fn first(self) -> Option<Id> {
        self.with(|_, table| table.cells.iter().flatten().flatten().next().cloned())
    }

    /// Types a text of the table.
    pub(super) fn text(self, key: &'static str, part: fn(&mut DraftTable) -> &mut String) -> Text {
        let write = move |typed: String| {
            let place = format!("{}/{key}", self.id.get_value());
            let sign = self.pen.sign();
            self.pen.write(place, |draft| {
                if let Some(index) = self.index(draft) {
                    edit::write_table(draft, index, sign, |table| *part(table) = typed.clone());
                }
            });
        };
        Text {
            get: Signal::derive(move || self.with(|_, table| part(&mut table.clone()).clone())),
            set: Callback::new(write),
        }
    }

    pub(super) fn change(self, what: &str, act: impl Fn(&mut DraftTable)) {
        let sign = self.pen.sign();
        self.pen.change(what, |draft| {
            if let Some(index) = self.index(draft) {
                edit::write_table(draft, index, sign, &act);
            }
        });
    }

    /// Does something with the table as a part of the draft.
    pub(super) fn act(self, what: &str, act: fn(&mut Draft, usize)) {
        self.pen.change(what, |draft| {
            if let Some(index) = self.index(draft) {
                act(draft, index);
            }
        });
    }

    pub(super) fn said(self, field: Field) -> Signal<Vec<Remark>> {
        Signal::derive(move || {
            let index = self.pen.draft.with(|draft| self.index(draft));
            let place = Place::Table(index.map_or(0, |index| index + 1));
            let mut said = self.pen.said_of(&place);
            said.retain(|remark| remark.field == field);
            said
        })
    }
}
