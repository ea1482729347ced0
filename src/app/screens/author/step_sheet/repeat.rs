//! What a step repeats, and until when.

use crate::app::screens::author::controls::fields::{OneOf, Sheet, anchor};
use crate::app::screens::author::step_sheet::names::name_of;
use crate::app::screens::author::step_sheet::target::step_name;
use crate::app::ui::fields::form::{TextField, silent};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::work::passes as words;
use crate::authoring::Remark;
use crate::authoring::draft::{DraftRepeat, UntilKind};
use crate::procedure::{Field, Id};
use leptos::prelude::*;

/// The fields.
pub fn fields(sheet: Sheet) -> impl IntoView {
    let until = Memo::new(move |_| sheet.with(|step| step.repeat.until));
    view! {
        {step(sheet, anchor(Field::Repeats), words::FROM, |repeat| &mut repeat.from, sheet.said(Field::Repeats))}
        {step(sheet, "author-repeats-to".to_owned(), words::TO, |repeat| &mut repeat.to, silent())}
        {ends(sheet)}
        {move || (until.get() == UntilKind::Steady).then(|| view! {
            <TextField id=anchor(Field::Until) label=words::CHANGE hint=words::CHANGE_HINT
                text=sheet.text("change", |step| &mut step.repeat.change) said=sheet.said(Field::Until)/>
        })}
        <TextField id=anchor(Field::Passes) label=words::PASSES hint=words::PASSES_HINT
            text=sheet.text("passes", |step| &mut step.repeat.passes) said=sheet.said(Field::Passes)/>
    }
}

/// One end of the range: a step before this one.
fn step(
    sheet: Sheet,
    id: String,
    label: &'static str,
    part: fn(&mut DraftRepeat) -> &mut Option<Id>,
    said: Signal<Vec<Remark>>,
) -> impl IntoView {
    let draft = sheet.pen.draft;
    let choices = move || {
        let before = sheet.number().saturating_sub(1);
        draft.with(|draft| {
            let steps = draft.steps().take(before).enumerate();
            let choice = |(index, step): (usize, &crate::authoring::DraftStep)| Choice {
                key: step.id.to_string(),
                name: name_of(index + 1, &draft.title_of(step)),
                ..Choice::default()
            };
            steps.map(choice).collect()
        })
    };
    let shown = move || {
        let chosen = sheet.with(|step| part(&mut step.repeat.clone()).clone());
        chosen.map_or(String::new(), |chosen| step_name(sheet, &chosen))
    };
    let pick = Callback::new(move |key: String| {
        let chosen = key.parse().ok();
        sheet.change(label, |step| *part(&mut step.repeat) = chosen.clone());
    });
    view! {
        <Picker id label shown=Signal::derive(shown) choices=Signal::derive(choices) pick said/>
    }
}

/// What ends the passes.
fn ends(sheet: Sheet) -> impl IntoView {
    let keys = OneOf {
        id: "author-until-kind",
        label: words::UNTIL,
        all: &UntilKind::ALL,
        name: UntilKind::name,
        get: |step| step.repeat.until,
        set: |step, until| step.repeat.until = until,
    };
    view! { <div class="field-long">{keys.keys(sheet)}</div> }
}
