//! A table of readings: its headings, what they set, its limits, and the steps that come of it.

mod axis;
mod table;

use crate::app::screens::author::controls::address::{address, missing};
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::{Sheet, anchor};
use crate::app::screens::author::controls::remarks;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::several::axis::axis;
use crate::app::screens::author::several::table::Table;
use crate::app::screens::author::step_sheet::names::{named, names};
use crate::app::screens::author::step_sheet::step_reading::{scales, way as path_and_impedance};
use crate::app::screens::author::step_sheet::step_work::stated;
use crate::app::shell::bench::use_bench;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::Wide;
use crate::app::ui::fields::form::{Said, TextField, focus_soon};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::work::several as own;
use crate::app::words::{author as words, shared};
use crate::authoring::draft::{DraftAxis, DraftStep, DraftTable};
use crate::authoring::edit::List;
use crate::authoring::{Draft, edit};
use crate::procedure::{Field, Id, Sets, Setting};
use crate::quantity::Scale;
use leptos::prelude::*;

/// Makes a table at the end of a section, and shows it.
pub fn add(pen: Pen, section: usize) {
    let made = pen.change(own::ADDED, |draft| {
        let index = edit::add_table(draft, section)?;
        Some(draft.tables[index].id.clone())
    });
    if let Some(table) = made {
        pen.bench
            .go(&Route::Author(Desk::Several(pen.id(), table, None)));
    }
}

/// The screen.
pub fn screen(pen: Pen, id: Id, field: Option<Field>) -> impl IntoView {
    let table = Table {
        pen,
        id: StoredValue::new(id),
    };
    if pen
        .draft
        .with_untracked(|draft| table.index(draft))
        .is_none()
    {
        return missing().into_any();
    }
    match field {
        Some(field) => focus_soon(anchor(field)),
        None if untrack(|| table.with(|_, it| it.title.is_empty())) => {
            focus_soon(anchor(Field::Title));
        }
        None => {}
    }
    let gone = Memo::new(move |_| pen.draft.with(|draft| table.index(draft).is_none()));
    Effect::new(move |_| {
        if gone.get() {
            use_bench().go(&Route::Author(Desk::Whole(pen.id(), None)));
        }
    });
    let heading = move || table.with(|_, it| own::of_readings(&it.title, readings(it)));
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a></p>
            <h1>{heading}</h1>
            <div class="fields">
                <TextField id=anchor(Field::Title) label=own::TITLE hint=own::TITLE_HINT wide=true
                    text=table.text("title", |it| &mut it.title) said=table.said(Field::Title)/>
                {name_picker(table, List::TestPoints, Field::At)}
                {name_picker(table, List::Instruments, Field::With)}
                {unit(table)}
            </div>
            {for_all(pen, table.id.get_value())}
            {axis(table, Field::Columns, own::COLUMNS, |it| &mut it.columns)}
            {axis(table, Field::Rows, own::ROWS, |it| &mut it.rows)}
            <fieldset>
                <legend>{own::LIMITS}</legend>
                <div class="fields">
                    <TextField id=anchor(Field::Limit) label=own::LIMIT hint=own::LIMIT_HINT wide=true
                        text=table.text("limit", |it| &mut it.limit) said=table.said(Field::Limit)/>
                    {origin(table)}
                </div>
            </fieldset>
            {cells(table)}
            {remarks::list(pen, false)}
            {bar(pen, ())}
        </section>
    }
    .into_any()
}

/// What is said once for all cells: what their signal passes, into what, and the set-up but for
/// what the headings set.
fn for_all(pen: Pen, id: Id) -> impl IntoView {
    let sheet = Sheet::of_cells(pen, id);
    let differing = Memo::new(move |_| {
        let parts: [(&str, bool); 7] = [
            (words::IMPEDANCE, sheet.differs(|step| step.into.clone())),
            (words::PATH, sheet.differs(|step| step.path.clone())),
            (
                words::STATE,
                sheet.states(&Sets::State) && sheet.differs(|step| step.signal),
            ),
            (
                words::MODE,
                sheet.states(&Sets::Mode) && sheet.differs(|step| step.mode.clone()),
            ),
            (
                words::CHANNEL,
                sheet.states(&Sets::Channel) && sheet.differs(|step| step.channel.clone()),
            ),
            (
                words::SUPPLY,
                sheet.states(&Sets::Supply) && sheet.differs(|step| step.supply.clone()),
            ),
            (
                words::CONTROLS,
                sheet.states(&Sets::Control(String::new()))
                    && sheet.differs(|step| step.controls.clone()),
            ),
        ];
        let settings = Setting::ALL.into_iter().map(|setting| {
            let stated = move |step: &DraftStep| step.settings.get(&setting).cloned();
            let differs = sheet.states(&Sets::Setting(setting)) && sheet.differs(stated);
            (setting.name(), differs)
        });
        let all = parts.into_iter().chain(settings);
        let names = all.filter(|(_, differs)| *differs).map(|(name, _)| name);
        names.collect::<Vec<_>>().join(", ")
    });
    view! {
        <fieldset>
            <legend>{own::FOR_ALL}</legend>
            <p class="hint">{own::FOR_ALL_HINT}</p>
            {move || differing.with(|names| (!names.is_empty()).then(|| view! {
                <p class="said">{own::cells_differ(names)}</p>
            }))}
            <div class="fields">
                {path_and_impedance(sheet)}
                {stated(sheet)}
            </div>
        </fieldset>
    }
}

/// How many readings a table has.
pub fn readings(table: &DraftTable) -> usize {
    table.cells.iter().flatten().flatten().count()
}

/// Picks a name of a list for all cells, or puts a new one on it.
fn name_picker(table: Table, list: List, field: Field) -> impl IntoView {
    let pen = table.pen;
    let (label, part): (_, fn(&DraftStep) -> String) = match list {
        List::Instruments => (words::INSTRUMENT, |step| step.with.clone()),
        _ => (words::TEST_POINT, |step| step.at.clone()),
    };
    let give = move |draft: &mut Draft, name: &str| {
        let Some(index) = table.index(draft) else {
            return;
        };
        match list {
            List::Instruments => {
                let cells = draft.tables[index].cells.concat();
                for id in cells.into_iter().flatten() {
                    edit::read_with(draft, &id, name);
                }
            }
            _ => edit::change_cells(draft, index, |step| step.at = name.to_owned()),
        }
    };
    let (pick, add) = named(pen, list, label, give);
    view! {
        <Picker id=anchor(field) label shown=Signal::derive(move || table.alike(part))
            choices=Signal::derive(move || pen.draft.with(|draft| names(draft, list)))
            pick add/>
    }
}

fn unit(table: Table) -> impl IntoView {
    let pen = table.pen;
    let sign = pen.sign();
    let pick = Callback::new(move |symbol: String| {
        let Ok(scale) = symbol.parse::<Scale>() else {
            return;
        };
        pen.change(words::picked(words::UNIT, &symbol), |draft| {
            if let Some(index) = table.index(draft) {
                edit::read_cells_in(draft, index, scale, sign);
            }
        });
    });
    let choices = move || {
        let with = table.alike(|step| step.with.clone());
        let first = table.first();
        pen.draft
            .with(|draft| first.map_or_else(Vec::new, |first| scales(draft, &first, &with)))
    };
    view! {
        <Picker id="author-unit" label=words::UNIT
            shown=Signal::derive(move || table.alike(|step| step.scale.symbol()))
            choices=Signal::derive(choices) pick/>
    }
}

/// The cell from whose reading the limits are counted.
fn origin(table: Table) -> impl IntoView {
    let name = |draft: &Draft, id: &Id| {
        let step = draft.step(id);
        step.map_or(id.to_string(), |step| words::step_heading(&step.title))
    };
    let choices = move || {
        table.with(|draft, it| {
            let none = Choice {
                key: String::new(),
                ..Choice::named(own::FROM_NONE)
            };
            let cells = it.cells.iter().flatten().flatten();
            let cells = cells.map(|id| Choice {
                key: id.to_string(),
                ..Choice::named(name(draft, id))
            });
            std::iter::once(none).chain(cells).collect::<Vec<_>>()
        })
    };
    let shown = move || {
        table.with(|draft, it| {
            let from = it.from.as_ref();
            from.map_or(own::FROM_NONE.to_owned(), |id| name(draft, id))
        })
    };
    let pick = Callback::new(move |key: String| {
        table.change(own::CHANGED, |it| it.from = key.parse().ok());
    });
    view! {
        <Picker id="author-from" label=own::FROM shown=Signal::derive(shown)
            choices=Signal::derive(choices) pick/>
    }
}

/// The table as it stands, each cell the way to its step, and what can be done with the whole.
fn cells(table: Table) -> impl IntoView {
    let pen = table.pen;
    let sign = pen.sign();
    let grid = move || {
        table.with(|draft, it| {
            let names = |axis: &DraftAxis| {
                let headings = axis.read(sign).into_iter();
                let shown = headings.map(|heading| own::heading(&heading.name, axis.sets.name()));
                shown.collect::<Vec<_>>()
            };
            let columns = names(&it.columns)
                .into_iter()
                .map(|name| view! { <th scope="col">{name}</th> })
                .collect_view();
            let rows = names(&it.rows)
                .into_iter()
                .zip(&it.cells)
                .map(|(name, cells)| {
                    let cells = cells
                        .iter()
                        .map(|id| view! { <td>{id.as_ref().map(|id| cell(pen, draft, id))}</td> })
                        .collect_view();
                    view! { <tr><th scope="row">{name}</th>{cells}</tr> }
                });
            Some(view! {
                <table class="several-table">
                    <thead><tr><td></td>{columns}</tr></thead>
                    <tbody>{rows.collect_view()}</tbody>
                </table>
            })
        })
    };
    let said = table.said(Field::Cells);
    let is_odd = Memo::new(move |_| !said.get().is_empty());
    view! {
        <h2 id=anchor(Field::Cells) tabindex="-1">{own::CELLS}</h2>
        <p class="hint">{own::CELLS_HINT}</p>
        <Said id="author-cells-said".to_owned() remarks=said/>
        <Wide name=own::CELLS>{grid}</Wide>
        <div class="row">
            <Show when=move || is_odd.get()>
                <button type="button" on:click=move |_| table.act(own::IN_ORDER, edit::gather_table)>{own::GATHER}</button>
            </Show>
            <button type="button" class="plain" on:click=move |_| table.act(own::DISSOLVED, edit::dissolve_table)>{own::DISSOLVE}</button>
            <button type="button" class="plain" on:click=move |_| table.act(own::REMOVED, edit::remove_table)>{own::REMOVE}</button>
        </div>
    }
}

/// A cell: its step's number and its limit.
fn cell(pen: Pen, draft: &Draft, id: &Id) -> impl IntoView + use<> {
    let number = draft.number_of(id).unwrap_or_default();
    let aim = draft.step(id).map(words::aim_of).unwrap_or_default();
    view! {
        <a href=address(Desk::Step(pen.id(), id.clone(), None))>
            <span class="several-reading">{shared::step(number)}</span>
            <span class="several-found">{aim}</span>
        </a>
    }
}

/// The way to the table of which a step is a cell, where it is one.
pub fn way(pen: Pen, step: Id) -> impl IntoView {
    let of = Memo::new(move |_| {
        pen.draft.with(|draft| {
            let table = &draft.tables[draft.table_of(&step)?];
            Some((
                table.id.clone(),
                own::of_readings(&table.title, readings(table)),
            ))
        })
    });
    move || {
        of.get().map(|(id, name)| {
            let way = address(Desk::Several(pen.id(), id, None));
            view! { <a class="draft-table" href=way>{own::TABLE}": "{name}</a> }
        })
    }
}

/// The same above the first step of a table only, for the outline.
pub fn way_above(pen: Pen, step: Id) -> impl IntoView {
    let id = step.clone();
    let is_first = Memo::new(move |_| {
        pen.draft.with(|draft| {
            let table = draft.table_of(&id).map(|index| &draft.tables[index]);
            table.is_some_and(|table| table.cells.iter().flatten().flatten().next() == Some(&id))
        })
    });
    let step = StoredValue::new(step);
    view! { <Show when=move || is_first.get()>{way(pen, step.get_value())}</Show> }
}
