//! What a step says: its cautions, the state of the set, its text and what was noted.

use super::at::At;
use crate::app::screens::set::papers;
use crate::app::screens::work::put_back;
use crate::app::ui::list_of;
use crate::app::words::shared;
use crate::app::words::work::step as words;
use crate::procedure::{SetUpChange, SetUpItem, Step};
use crate::quantity::whole_figures;
use leptos::prelude::*;

/// What is to be done, and the state that the set must be in.
///
/// What is changed on the set comes first, then what to do.
pub fn instruction(at: At, first_use: impl IntoView) -> impl IntoView {
    let step = at.step.get_value();
    let paragraphs =
        (!step.text.is_empty()).then(|| view! { <p class="text">{whole_figures(&step.text)}</p> });
    let (changed, unchanged) = set_up(at);
    view! {
        {changed}
        {first_use}
        {paragraphs}
        {papers::at_step(at.bench, &at.job.get_value(), &step)}
        {put_back::lines(&step)}
        {unchanged}
    }
}

/// What the hand must mind.
pub fn cautions(cautions: &[String]) -> Option<impl IntoView + use<>> {
    (!cautions.is_empty()).then(|| {
        view! {
            <aside class="caution">
                <strong>{shared::CAUTION}</strong>
                {list_of(cautions.to_vec(), "")}
            </aside>
        }
    })
}

/// What of the set-up is as in the step before, and what changes from there.
fn parted(at: At) -> (Vec<SetUpItem>, Vec<SetUpItem>) {
    let step = at.step.get_value();
    let before = at.procedure.with_value(|procedure| {
        let steps: Vec<&Step> = procedure.steps().collect();
        let index = steps.iter().position(|other| other.id == step.id)?;
        index.checked_sub(1).map(|i| steps[i].set_up.clone())
    });
    let items = step.set_up.compared_with(before.as_ref()).into_iter();
    items.partition(|item| item.change == SetUpChange::Same)
}

/// What the set must be in: what changes from the step before as rows, the rest in a line.
fn set_up(at: At) -> (Option<impl IntoView + use<>>, Option<impl IntoView + use<>>) {
    let (same, changed) = parted(at);
    let rows = changed
        .into_iter()
        .map(|item| {
            let was = match item.change {
                SetUpChange::From(old) => Some(words::was(&whole_figures(&old))),
                SetUpChange::Same | SetUpChange::New => None,
            };
            view! {
                <tr>
                    <th scope="row">{item.name}</th>
                    <td><strong>{whole_figures(&item.value)}</strong>" "<span class="was">{was}</span></td>
                </tr>
            }
        })
        .collect::<Vec<_>>();
    // No table where there is nothing in it: a screen reader would announce one.
    let changed = (!rows.is_empty()).then(|| {
        view! {
            <section class="set-up">
                <h2>{words::SET_UP}</h2>
                <table><tbody>{rows}</tbody></table>
            </section>
        }
    });
    let same: Vec<String> = same
        .into_iter()
        .map(|item| words::setting(&item.name, &whole_figures(&item.value)))
        .collect();
    let unchanged = (!same.is_empty()).then(|| {
        view! { <p class="unchanged"><span>{words::AS_BEFORE}</span>{words::settings(&same)}</p> }
    });
    (changed, unchanged)
}

/// What changes in the set-up, in a line, for where there is no room for more.
pub fn changed_line(at: At) -> Option<impl IntoView> {
    let (_, changed) = parted(at);
    let changed: Vec<String> = changed
        .into_iter()
        .map(|item| words::setting(&item.name, &whole_figures(&item.value)))
        .collect();
    let line = words::settings(&changed);
    (!line.is_empty()).then(|| view! { <p class="set-up-line">{line}</p> })
}

/// What was noted, and why the step is waived.
pub fn notes(at: At) -> impl IntoView {
    move || {
        let standing = at.standing.get()?;
        let mut lines: Vec<String> = standing.notes.into_iter().map(|note| note.text).collect();
        if let Some(waived) = standing.waived {
            lines.push(words::waived(&waived.text));
        }
        (!lines.is_empty()).then(|| {
            view! {
                <section class="notes">
                    <h2>{words::NOTED}</h2>
                    {list_of(lines, "")}
                </section>
            }
        })
    }
}
