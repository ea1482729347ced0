//! What the limit of a step rests on: how its figures are known, and the document they come from.

use crate::app::screens::author::controls::fields::{OneOf, Sheet, anchor};
use crate::app::ui::fields::form::TextField;
use crate::app::words::author as words;
use crate::authoring::DraftStep;
use crate::procedure::Field;
use crate::radio::limits::Known;
use leptos::prelude::*;

/// In the order in which they are offered, the surest first behind what is not said.
const CHOICES: &[Option<Known>] = &[
    None,
    Some(Known::Read),
    Some(Known::ReadSecondHand),
    Some(Known::FromMemory),
    Some(Known::CommonPractice),
    Some(Known::WorkedOut),
];

/// Its fields, where the step states a limit of its own.
pub fn basis(sheet: Sheet) -> impl IntoView {
    let states_one = Memo::new(move |_| sheet.any(DraftStep::states_limit));
    move || {
        states_one.get().then(|| {
            let known = OneOf {
                id: "author-known",
                label: words::KNOWN,
                all: CHOICES,
                name: |known| known.map_or(words::NOT_SAID, Known::name),
                get: |step| step.known,
                set: |step, known| step.known = known,
            };
            view! {
                {known.keys(sheet)}
                <TextField id=anchor(Field::Basis) label=words::BASIS hint=words::BASIS_HINT rows=2
                    text=sheet.text("basis", |step| &mut step.source) said=sheet.said(Field::Basis)/>
            }
        })
    }
}
