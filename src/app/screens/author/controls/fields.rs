//! The parts that the forms for writing are made of.

use crate::app::screens::author::pen::Pen;
use crate::app::ui::capitalised;
use crate::app::ui::fields::form::{Text, one_of};
use crate::app::words::author as words;
use crate::authoring::{Draft, DraftStep, Remark, edit};
use crate::procedure::{Field, Id, Place, Sets};
use leptos::prelude::*;

/// A step in hand, or all cells of a table at once.
#[derive(Clone, Copy)]
pub struct Sheet {
    /// Its draft.
    pub pen: Pen,
    id: StoredValue<Id>,
    of: Of,
}

/// What a sheet is of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    Step,
    Cells,
}

impl Sheet {
    /// The step with this id.
    pub fn new(pen: Pen, id: Id) -> Self {
        Sheet {
            pen,
            id: StoredValue::new(id),
            of: Of::Step,
        }
    }

    /// All cells of the table with this id.
    pub fn of_cells(pen: Pen, table: Id) -> Self {
        Sheet {
            of: Of::Cells,
            ..Sheet::new(pen, table)
        }
    }

    /// The steps of a draft that it is of.
    fn ids(self, draft: &Draft) -> Vec<Id> {
        let id = self.id.get_value();
        match self.of {
            Of::Step => vec![id],
            Of::Cells => {
                let table = draft.tables.iter().find(|table| table.id == id);
                let cells = table.into_iter().flat_map(|table| table.cells.concat());
                cells.flatten().collect()
            }
        }
    }

    /// Its steps.
    fn steps(self, draft: &Draft) -> Vec<&DraftStep> {
        let ids = self.ids(draft).into_iter();
        ids.filter_map(|id| draft.step(&id)).collect()
    }

    /// The step's id; of cells, that of the first.
    pub fn id(self) -> Id {
        let own = self.id.get_value();
        match self.of {
            Of::Step => own,
            Of::Cells => {
                let first = |draft: &Draft| self.ids(draft).into_iter().next();
                self.pen.draft.with(first).unwrap_or(own)
            }
        }
    }

    /// Something of the step, or of the first of the cells.
    pub fn with<T: Default>(self, part: impl Fn(&DraftStep) -> T) -> T {
        let of_first = |draft: &Draft| self.steps(draft).first().map(|step| part(step));
        self.pen.draft.with(of_first).unwrap_or_default()
    }

    /// Whether something holds of the step, or of any of the cells.
    pub fn any(self, holds: impl Fn(&DraftStep) -> bool) -> bool {
        self.pen
            .draft
            .with(|draft| self.steps(draft).into_iter().any(&holds))
    }

    /// Whether the cells differ in something.
    pub fn differs<T: PartialEq>(self, part: impl Fn(&DraftStep) -> T) -> bool {
        self.pen.draft.with(|draft| {
            let steps = self.steps(draft);
            steps.windows(2).any(|pair| part(pair[0]) != part(pair[1]))
        })
    }

    /// Whether something of the set-up is typed here: in a table, what its headings don't set.
    pub fn states(self, what: &Sets) -> bool {
        self.of == Of::Step
            || self.pen.draft.with(|draft| {
                let id = self.id.get_value();
                let table = draft.tables.iter().find(|table| table.id == id);
                table.is_some_and(|table| edit::is_left_to_all(table, what))
            })
    }

    fn act(self, draft: &mut Draft, act: impl Fn(&mut DraftStep)) {
        let ids = self.ids(draft);
        let steps = draft.steps_mut().filter(|step| ids.contains(&step.id));
        steps.for_each(act);
    }

    /// Types a text of the step.
    pub fn write(self, key: &str, act: impl Fn(&mut DraftStep)) {
        let place = format!("{}/{key}", self.id.get_value());
        self.pen.write(place, |draft| self.act(draft, &act));
    }

    /// Changes the step.
    pub fn change(self, what: &str, act: impl Fn(&mut DraftStep)) {
        self.pen.change(what, |draft| self.act(draft, &act));
    }

    /// The step's number, from 1.
    pub fn number(self) -> usize {
        let draft = self.pen.draft;
        let id = self.id();
        draft.with(|draft| draft.number_of(&id)).unwrap_or(0)
    }

    /// What is said of a field of the step.
    pub fn said(self, field: Field) -> Signal<Vec<Remark>> {
        Signal::derive(move || {
            let mut said = self.pen.said_of(&Place::Step(self.number()));
            said.retain(|remark| remark.field == field);
            said
        })
    }

    /// A text of the step as a field shows and changes it.
    pub fn text(self, key: &'static str, part: fn(&mut DraftStep) -> &mut String) -> Text {
        Text {
            get: Signal::derive(move || self.with(|step| part(&mut step.clone()).clone())),
            set: Callback::new(move |text: String| {
                self.write(key, |step| *part(step) = text.clone())
            }),
        }
    }
}

/// The id of the element that a link to a field leads to.
pub fn anchor(field: Field) -> String {
    format!("author-{}", field.key())
}

/// One of the values that a part of a step can have, each a key with its name.
pub struct OneOf<T: 'static> {
    /// The id of the first key.
    pub id: &'static str,
    /// What is chosen.
    pub label: &'static str,
    /// The values, in the order in which they are offered.
    pub all: &'static [T],
    /// What a value is called.
    pub name: fn(T) -> &'static str,
    /// The value of a step.
    pub get: fn(&DraftStep) -> T,
    /// Takes a value.
    pub set: fn(&mut DraftStep, T),
}

impl<T: Copy + Default + PartialEq + Send + Sync + 'static> OneOf<T> {
    /// The keys.
    pub fn keys(self, sheet: Sheet) -> impl IntoView {
        let OneOf {
            id, all, get, set, ..
        } = self;
        let (name, label) = (self.name, self.label);
        let pick = move |value: T| {
            sheet.change(&words::picked(label, name(value)), |step| set(step, value));
        };
        one_of(
            (id, label),
            all,
            move |value| capitalised(name(value)),
            Signal::derive(move || sheet.with(get)),
            Callback::new(pick),
        )
    }
}
