//! What few steps carry: cautions, stops, things off and back, a wait, a second route.

use crate::app::screens::author::controls::fields::{Sheet, anchor};
use crate::app::screens::author::controls::rows::{Columns, Rows};
use crate::app::screens::author::step_sheet::names::name_of;
use crate::app::screens::author::step_sheet::names::names;
use crate::app::screens::author::step_sheet::step_reading::scales;
use crate::app::screens::author::step_sheet::target::step_name;
use crate::app::ui::fields::form::{Chips, Said, Text, TextField, Toggle, silent};
use crate::app::ui::fields::picker::{Adds, Choice, Picker};
use crate::app::words::author as words;
use crate::authoring::draft::{ComparisonKind, DraftCrossCheck, cells};
use crate::authoring::edit::List;
use crate::authoring::{Kind, edit};
use crate::procedure::{Field, Id};
use leptos::prelude::*;

const OFF: Columns = Columns {
    separator: ';',
    names: &[
        (words::OFF_WHAT, ""),
        (words::OFF_WHERE, ""),
        (words::OFF_WAY, ""),
        (words::OFF_NOTE, ""),
    ],
    row: words::OFF_ROW,
};

/// The part; open where something in it is used or looked for.
pub fn part(sheet: Sheet, field: Option<Field>) -> impl IntoView {
    let wanted = matches!(
        field,
        Some(
            Field::Needs
                | Field::PutsBack
                | Field::Wait
                | Field::Settles
                | Field::SharedNull
                | Field::CrossCheck
        )
    );
    let used = untrack(|| {
        sheet.with(|step| {
            let texts = [
                &step.cautions,
                &step.wait,
                &step.settles,
                &step.takes_off,
                &step.puts_back,
            ];
            texts.iter().any(|text| !text.is_empty())
                || step.shares_null_with.is_some()
                || step.cross_check.is_some()
        })
    });
    view! {
        <details class="more" open={wanted || used}>
            <summary>{words::MORE}</summary>
            <div class="fields">
                <TextField id="author-cautions" label=words::CAUTIONS hint=words::ONE_A_LINE rows=2
                    text=sheet.text("cautions", |step| &mut step.cautions)/>
                {needs(sheet)}
                <TextField id=anchor(Field::Wait) label=words::WAIT hint=words::WAIT_HINT
                    text=sheet.text("wait", |step| &mut step.wait) said=sheet.said(Field::Wait)/>
                <TextField id=anchor(Field::Settles) label=words::SETTLES hint=words::SETTLES_HINT
                    text=sheet.text("settles", |step| &mut step.settles) said=sheet.said(Field::Settles)/>
                {shared_null(sheet)}
                <Rows id="author-takes-off" label=words::TAKES_OFF columns=OFF
                    text=sheet.text("takes-off", |step| &mut step.takes_off) said=silent()/>
                {puts_back(sheet)}
                {cross_check(sheet)}
            </div>
        </details>
    }
}

/// Stops before this step, each on or off.
fn needs(sheet: Sheet) -> impl IntoView {
    let draft = sheet.pen.draft;
    let stops = Memo::new(move |_| {
        let number = sheet.number();
        let mut found: Vec<(Id, String)> = draft.with(|draft| {
            let steps = draft.steps().take(number.saturating_sub(1)).enumerate();
            let stops = steps.filter(|(_, step)| step.kind == Kind::Stop);
            stops
                .map(|(index, step)| (step.id.clone(), name_of(index + 1, &draft.title_of(step))))
                .collect()
        });
        // What it needs and shouldn't can be taken away.
        for need in sheet.with(|step| step.needs.clone()) {
            if found.iter().all(|(id, _)| *id != need) {
                found.push((need.clone(), step_name(sheet, &need)));
            }
        }
        found
    });
    let toggle = move |(id, name): (Id, String)| {
        let here = id.clone();
        let on = Signal::derive(move || sheet.with(|step| step.needs.contains(&here)));
        let flip = Callback::new(move |()| {
            sheet.change(words::NEEDS, |step| match step.needs.contains(&id) {
                true => step.needs.retain(|need| *need != id),
                false => step.needs.push(id.clone()),
            });
        });
        view! { <Toggle label=name on flip/> }
    };
    view! {
        <div class="field field-long" id=anchor(Field::Needs) tabindex="-1" role="group" aria-label=words::NEEDS>
            <span class="chips-label" aria-hidden="true">{words::NEEDS}</span>
            <span class="hint">{move || stops.with(Vec::is_empty).then_some(words::NO_STOPS)}</span>
            <div class="chip-keys">{move || stops.get().into_iter().map(toggle).collect_view()}</div>
            <Said id="author-needs-said".to_owned() remarks=sheet.said(Field::Needs)/>
        </div>
    }
}

/// What steps up to this one take off, each back here or not.
fn puts_back(sheet: Sheet) -> impl IntoView {
    let draft = sheet.pen.draft;
    let back = move || sheet.with(|step| lines(&step.puts_back));
    let items = Memo::new(move |_| {
        let number = sheet.number();
        let off = draft.with(|draft| {
            let texts = draft
                .steps()
                .take(number)
                .flat_map(|step| lines(&step.takes_off));
            texts
                .map(|line| cells(&line, ';', 2).swap_remove(0).trim().to_owned())
                .collect::<Vec<_>>()
        });
        let mut names: Vec<String> = Vec::new();
        for name in off.into_iter().chain(back()) {
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
        names
    });
    let toggle = move |name: String| {
        let here = name.clone();
        let on = Signal::derive(move || back().contains(&here));
        let label = name.clone();
        let flip = Callback::new(move |()| {
            sheet.change(words::PUTS_BACK, |step| {
                let mut names = lines(&step.puts_back);
                match names.contains(&name) {
                    true => names.retain(|other| *other != name),
                    false => names.push(name.clone()),
                }
                step.puts_back = names.join("\n");
            });
        });
        view! { <Toggle label on flip/> }
    };
    view! {
        <div class="field field-long" id=anchor(Field::PutsBack) tabindex="-1" role="group" aria-label=words::PUTS_BACK>
            <span class="chips-label" aria-hidden="true">{words::PUTS_BACK}</span>
            <span class="hint">{move || items.with(Vec::is_empty).then_some(words::NOTHING_OFF)}</span>
            <div class="chip-keys">{move || items.get().into_iter().map(toggle).collect_view()}</div>
            <Said id="author-puts-back-said".to_owned() remarks=sheet.said(Field::PutsBack)/>
        </div>
    }
}

fn lines(text: &str) -> Vec<String> {
    let lines = text.lines().map(|line| line.trim().to_owned());
    lines.filter(|line| !line.is_empty()).collect()
}

/// Another step that turns the same adjuster.
fn shared_null(sheet: Sheet) -> impl IntoView {
    let draft = sheet.pen.draft;
    let choices = move || {
        let adjuster = sheet.with(|step| step.adjuster.clone());
        let id = sheet.id();
        let partners: Vec<Choice> = draft.with(|draft| {
            let steps = draft.steps().enumerate();
            let same = steps.filter(|(_, step)| {
                step.id != id
                    && step.kind.turns()
                    && !adjuster.is_empty()
                    && step.adjuster == adjuster
            });
            same.map(|(index, step)| Choice {
                key: step.id.to_string(),
                name: name_of(index + 1, &draft.title_of(step)),
                ..Choice::default()
            })
            .collect()
        });
        let none = Choice {
            key: String::new(),
            ..Choice::named(words::NONE)
        };
        partners.into_iter().chain([none]).collect()
    };
    let shown = move || {
        let other = sheet.with(|step| step.shares_null_with.clone());
        other.map_or(String::new(), |other| step_name(sheet, &other))
    };
    let pick = Callback::new(move |key: String| {
        let other: Option<Id> = key.parse().ok();
        sheet.change(words::SHARED_NULL, |step| {
            step.shares_null_with = other.clone()
        });
    });
    view! {
        <Picker id=anchor(Field::SharedNull) label=words::SHARED_NULL shown=Signal::derive(shown)
            choices=Signal::derive(choices) pick said=sheet.said(Field::SharedNull)/>
    }
}

/// A second route to the figure; none until it is asked for.
fn cross_check(sheet: Sheet) -> impl IntoView {
    let there = Memo::new(move |_| sheet.with(|step| step.cross_check.is_some()));
    // One key for both, so that it stays under the finger.
    let turn = move |_| match there.get_untracked() {
        false => sheet.change(words::CROSS_CHECK, |step| {
            step.cross_check = Some(DraftCrossCheck::blank(step.scale));
        }),
        true => sheet.change(words::CROSS_CHECK_GONE, |step| step.cross_check = None),
    };
    let name = move || match there.get() {
        false => words::ADD_CROSS_CHECK,
        true => words::CROSS_CHECK_REMOVE,
    };
    view! {
        <div class="field-long" role="group" aria-label=words::CROSS_CHECK>
            <span class="chips-label" aria-hidden="true">{words::CROSS_CHECK}</span>
            <button type="button" class:plain=there on:click=turn
                id=move || (!there.get()).then(|| anchor(Field::CrossCheck))>{name}</button>
            <Show when=move || there.get()><div class="fields">{route(sheet)}</div></Show>
            <Said id="author-cross-check-said".to_owned() remarks=sheet.said(Field::CrossCheck)/>
        </div>
    }
}

fn route(sheet: Sheet) -> impl IntoView {
    let of = move |part: fn(&mut DraftCrossCheck) -> &mut String| {
        sheet
            .with(|step| {
                step.cross_check
                    .clone()
                    .map(|mut check| part(&mut check).clone())
            })
            .unwrap_or_default()
    };
    let text = move |key: &'static str, part: fn(&mut DraftCrossCheck) -> &mut String| Text {
        get: Signal::derive(move || of(part)),
        set: Callback::new(move |typed: String| {
            sheet.write(key, |step| {
                if let Some(check) = &mut step.cross_check {
                    *part(check) = typed.clone();
                }
            })
        }),
    };
    let kinds = ComparisonKind::ALL
        .iter()
        .map(|kind| (kind.name().to_owned(), kind.name().to_owned()))
        .collect();
    let kind = Memo::new(move |_| {
        sheet
            .with(|step| step.cross_check.as_ref().map(|c| c.kind))
            .unwrap_or_default()
    });
    let pick = Callback::new(move |name: String| {
        if let Some(kind) = ComparisonKind::ALL
            .into_iter()
            .find(|kind| kind.name() == name)
        {
            sheet.change(&words::picked(words::COMPARES, &name), |step| {
                if let Some(check) = &mut step.cross_check {
                    check.kind = kind;
                }
            });
        }
    });
    let figure = move || match kind.get() {
        ComparisonKind::Same => None,
        ComparisonKind::PowerInto => Some((words::LOAD, words::OHMS)),
        ComparisonKind::CurrentThrough => Some((words::RESISTOR, words::OHMS)),
        ComparisonKind::Plausible => Some((words::PLAUSIBLE, words::PLAUSIBLE_HINT)),
    };
    view! {
        <TextField id=anchor(Field::CrossCheck) label=words::CROSS_TEXT rows=2 text=text("cross-text", |c| &mut c.text)/>
        {second_name(sheet, List::TestPoints, "author-cross-at", words::TEST_POINT, |c| &mut c.at)}
        {second_name(sheet, List::Instruments, "author-cross-with", words::INSTRUMENT, |c| &mut c.with)}
        {second_unit(sheet)}
        <Chips id="author-compares" label=words::COMPARES choices=kinds
            chosen=Signal::derive(move || kind.get().name().to_owned()) pick/>
        {move || figure().map(|(label, hint)| view! {
            <TextField id="author-cross-figure" label hint text=text("cross-figure", |c| &mut c.figure)/>
        })}
    }
}

fn second_name(
    sheet: Sheet,
    list: List,
    id: &'static str,
    label: &'static str,
    part: fn(&mut DraftCrossCheck) -> &mut String,
) -> impl IntoView {
    let pen = sheet.pen;
    let shown = move || {
        let check = sheet.with(|step| step.cross_check.clone());
        check.map_or(String::new(), |mut check| part(&mut check).clone())
    };
    let set = move |name: &str| {
        sheet.change(&words::picked(label, name), |step| {
            if let Some(check) = &mut step.cross_check {
                *part(check) = name.to_owned();
            }
        });
    };
    let add = Adds::new(move |name: String| {
        let added = pen.change(words::picked(label, &name), |draft| {
            edit::add(draft, list, &name)
        });
        added
            .map(|name| set(&name))
            .map_err(|fault| fault.to_string())
    });
    view! {
        <Picker id label shown=Signal::derive(shown)
            choices=Signal::derive(move || pen.draft.with(|draft| names(draft, list)))
            pick=Callback::new(move |name: String| set(&name)) add/>
    }
}

fn second_unit(sheet: Sheet) -> impl IntoView {
    let shown = move || {
        let scale = sheet.with(|step| step.cross_check.as_ref().map(|check| check.scale));
        scale.map_or(String::new(), |scale| scale.symbol())
    };
    let pick = Callback::new(move |symbol: String| {
        if let Ok(scale) = symbol.parse() {
            sheet.change(&words::picked(words::UNIT, &symbol), |step| {
                if let Some(check) = &mut step.cross_check {
                    check.scale = scale;
                }
            });
        }
    });
    view! {
        <Picker id="author-cross-unit" label=words::UNIT shown=Signal::derive(shown)
            choices=Signal::derive(move || {
                let with = sheet.with(|step| step.cross_check.as_ref().map(|check| check.with.clone()));
                let with = with.unwrap_or_default();
                sheet.pen.draft.with(|draft| scales(draft, &sheet.id(), &with))
            }) pick/>
    }
}
