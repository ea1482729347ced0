//! Names picked from the lists of a procedure.

use crate::app::screens::author::controls::fields::{Sheet, anchor};
use crate::app::screens::author::pen::Pen;
use crate::app::ui::capitalised;
use crate::app::ui::fields::picker::{Adds, Choice, Picker};
use crate::app::words::author as words;
use crate::authoring::edit::List;
use crate::authoring::{Draft, edit};
use crate::procedure::Field;
use leptos::prelude::*;

/// A name of a list that a step refers to.
#[derive(Clone, Copy)]
pub struct NamePart {
    list: List,
    pub(super) field: Field,
    pub(super) label: &'static str,
    pub(super) part: fn(&mut crate::authoring::DraftStep) -> &mut String,
}

pub(super) const ADJUSTER: NamePart = NamePart {
    list: List::Adjusters,
    field: Field::Adjuster,
    label: words::ADJUSTER,
    part: |step| &mut step.adjuster,
};

pub(super) const TEST_POINT: NamePart = NamePart {
    list: List::TestPoints,
    field: Field::At,
    label: words::TEST_POINT,
    part: |step| &mut step.at,
};

/// The instrument of a reading or a socket.
pub const INSTRUMENT: NamePart = NamePart {
    list: List::Instruments,
    field: Field::With,
    label: words::INSTRUMENT,
    part: |step| &mut step.with,
};

/// The names of a list with what is known of each.
pub fn names(draft: &Draft, list: List) -> Vec<Choice> {
    let choice = |name: &String, note: &String| Choice {
        note: note.clone(),
        ..Choice::named(name.clone())
    };
    match list {
        List::Adjusters => {
            let all = draft.adjusters.iter();
            all.map(|entry| choice(&entry.name, &entry.note)).collect()
        }
        List::TestPoints => {
            let all = draft.test_points.iter();
            all.map(|entry| choice(&entry.name, &entry.place)).collect()
        }
        List::Instruments => {
            let all = draft.instruments.iter();
            all.map(|entry| choice(&entry.name, &entry.needs)).collect()
        }
    }
}

/// Picks a name of a list, or puts a new one on it.
pub fn name_picker(sheet: Sheet, what: NamePart) -> impl IntoView {
    let NamePart {
        list,
        field,
        label,
        part,
    } = what;
    let pen = sheet.pen;
    let give = move |draft: &mut Draft, name: &str| {
        let id = sheet.id();
        match list {
            List::Instruments => edit::read_with(draft, &id, name),
            _ => {
                let steps = draft.steps_mut().filter(|step| step.id == id);
                steps.for_each(|step| *part(step) = name.to_owned());
            }
        }
    };
    let (pick, add) = named(pen, list, label, give);
    view! {
        <Picker id=anchor(field) label
            shown=Signal::derive(move || sheet.with(|step| part(&mut step.clone()).clone()))
            choices=Signal::derive(move || pen.draft.with(|draft| names(draft, list)))
            pick add said=sheet.said(field)/>
    }
}

/// What a name of a list does once it is picked, and once it is put on the list.
pub fn named(
    pen: Pen,
    list: List,
    label: &'static str,
    give: impl Fn(&mut Draft, &str) + Copy + Send + Sync + 'static,
) -> (Callback<String>, Adds) {
    let pick = Callback::new(move |name: String| {
        pen.change(words::picked(label, &name), |draft| give(draft, &name));
    });
    let add = Adds::new(move |name: String| {
        pen.change(words::picked(label, &name), |draft| {
            let name = edit::add(draft, list, &name).map_err(|fault| fault.to_string())?;
            give(draft, &name);
            Ok(())
        })
    });
    (pick, add)
}

/// A step in a list: its number and its title.
pub fn name_of(number: usize, title: &str) -> String {
    format!(
        "{number} {}",
        capitalised(words::step_heading(title).as_str())
    )
}
