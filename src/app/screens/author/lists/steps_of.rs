//! Some of the draft's steps, chosen for an entry.

use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::step_sheet::names::name_of;
use crate::app::ui::fields::form::Toggle;
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::author as words;
use crate::authoring::Kind;
use crate::procedure::Id;
use leptos::prelude::*;

/// Puts an id in, or takes it out where it is in.
pub(super) fn turn_over(ids: &mut Vec<Id>, id: &Id) {
    match ids.contains(id) {
        true => ids.retain(|other| other != id),
        false => ids.push(id.clone()),
    }
}

/// Some of the draft's steps: those chosen, to be taken out again, and a list to add from.
pub(super) fn steps_of(
    pen: Pen,
    id: String,
    label: &'static str,
    chosen: Signal<Vec<Id>>,
    flip: Callback<Id>,
    fits: fn(Kind) -> bool,
) -> impl IntoView {
    let name = move |id: &Id| {
        pen.draft
            .with(|draft| match draft.number_of(id).zip(draft.step(id)) {
                Some((number, step)) => name_of(number, &draft.title_of(step)),
                None => words::gone(id.as_str()),
            })
    };
    let choices = Signal::derive(move || {
        let taken = chosen.get();
        pen.draft.with(|draft| {
            let steps = draft.steps().enumerate();
            let free = steps.filter(|(_, step)| fits(step.kind) && !taken.contains(&step.id));
            free.map(|(index, step)| Choice {
                key: step.id.to_string(),
                name: name_of(index + 1, &draft.title_of(step)),
                ..Choice::default()
            })
            .collect()
        })
    });
    let pick = Callback::new(move |key: String| {
        if let Ok(id) = key.parse() {
            flip.run(id);
        }
    });
    let toggle = move |id: Id| {
        let label = name(&id);
        let flip = Callback::new(move |()| flip.run(id.clone()));
        view! { <Toggle label on=Signal::derive(|| true) flip/> }
    };
    view! {
        <div class="field field-long">
            <Picker id label shown=Signal::derive(String::new) choices pick/>
            <div class="chip-keys">{move || chosen.get().into_iter().map(toggle).collect_view()}</div>
        </div>
    }
}
