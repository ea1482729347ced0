//! A table of readings: its headings, what they set, its limits, and the steps that come of it.

use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::{Sheet, anchor};
use crate::app::screens::author::controls::remarks;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::step_sheet::step_reading::{
    named, names, scales, way as path_and_impedance,
};
use crate::app::screens::author::step_sheet::step_work::stated;
use crate::app::screens::author::{address, missing};
use crate::app::shell::bench::use_bench;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::Wide;
use crate::app::ui::fields::form::{Chips, Said, Text, TextField, focus_soon};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::work::several as own;
use crate::app::words::{author as words, shared};
use crate::authoring::draft::{DraftAxis, DraftStep, DraftTable};
use crate::authoring::edit::List;
use crate::authoring::{Draft, Remark, edit};
use crate::procedure::{Field, Id, Place, Sets, Setting};
use crate::quantity::Scale;
use leptos::prelude::*;

/// A table in hand.
#[derive(Clone, Copy)]
struct Table {
    pen: Pen,
    id: StoredValue<Id>,
}

impl Table {
    fn index(self, draft: &Draft) -> Option<usize> {
        self.id
            .with_value(|id| draft.tables.iter().position(|table| table.id == *id))
    }

    /// Something of the table; the default where it is gone.
    fn with<T: Default>(self, part: impl Fn(&Draft, &DraftTable) -> T) -> T {
        self.pen.draft.with(|draft| {
            let table = self.index(draft).map(|index| &draft.tables[index]);
            table.map(|table| part(draft, table)).unwrap_or_default()
        })
    }

    /// What the cells have alike; nothing where there are none, and where they differ, that.
    fn alike(self, part: fn(&DraftStep) -> String) -> String {
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

    fn first(self) -> Option<Id> {
        self.with(|_, table| table.cells.iter().flatten().flatten().next().cloned())
    }

    /// Types a text of the table.
    fn text(self, key: &'static str, part: fn(&mut DraftTable) -> &mut String) -> Text {
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

    fn change(self, what: &str, act: impl Fn(&mut DraftTable)) {
        let sign = self.pen.sign();
        self.pen.change(what, |draft| {
            if let Some(index) = self.index(draft) {
                edit::write_table(draft, index, sign, &act);
            }
        });
    }

    /// Does something with the table as a part of the draft.
    fn act(self, what: &str, act: fn(&mut Draft, usize)) {
        self.pen.change(what, |draft| {
            if let Some(index) = self.index(draft) {
                act(draft, index);
            }
        });
    }

    fn said(self, field: Field) -> Signal<Vec<Remark>> {
        Signal::derive(move || {
            let index = self.pen.draft.with(|draft| self.index(draft));
            let place = Place::Table(index.map_or(0, |index| index + 1));
            let mut said = self.pen.said_of(&place);
            said.retain(|remark| remark.field == field);
            said
        })
    }
}

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

/// The part of a table that its rows or its columns are.
type AxisOf = fn(&mut DraftTable) -> &mut DraftAxis;

fn axis(table: Table, field: Field, legend: &'static str, of: AxisOf) -> impl IntoView {
    let sets = Memo::new(move |_| table.with(|_, it| Some(of(&mut it.clone()).sets.clone())));
    let key = move || sets.with(|sets| sets.as_ref().map_or("", key_of).to_owned());
    let choices = own::KINDS.map(|(key, name)| (key.to_owned(), name.to_owned()));
    let pick = Callback::new(move |key: String| {
        table.change(own::CHANGED, |it| {
            let axis = of(it);
            if key_of(&axis.sets) != key {
                axis.sets = sets_of(&key);
            }
        });
    });
    let is_control = Memo::new(move |_| matches!(sets.get(), Some(Sets::Control(_))));
    let is_reading = Memo::new(move |_| sets.get() == Some(Sets::Reading));
    let is_setting = Memo::new(move |_| matches!(sets.get(), Some(Sets::Setting(_))));
    let which = Callback::new(move |name: String| {
        if let Some(setting) = Setting::ALL.into_iter().find(|it| it.name() == name) {
            table.change(own::CHANGED, |it| of(it).sets = Sets::Setting(setting));
        }
    });
    let which_now = Signal::derive(move || match sets.get() {
        Some(Sets::Setting(setting)) => setting.name().to_owned(),
        _ => String::new(),
    });
    let which_there_are =
        Setting::ALL.map(|setting| (setting.name().to_owned(), setting.name().to_owned()));
    let id = anchor(field);
    let chips = format!("{id}-sets");
    let control = format!("{id}-control");
    let which_id = format!("{id}-which");
    let (text, hint_id) = match field {
        Field::Columns => (
            table.text("columns", |it| &mut it.columns.headings),
            "columns-hint",
        ),
        _ => (table.text("rows", |it| &mut it.rows.headings), "rows-hint"),
    };
    let hint = move || match is_reading.get() {
        true => own::UNITS_HINT,
        false => own::HEADINGS_HINT,
    };
    let name = Text {
        get: Signal::derive(move || match sets.get() {
            Some(Sets::Control(name)) => name,
            _ => String::new(),
        }),
        set: Callback::new(move |typed: String| {
            let sign = table.pen.sign();
            table.pen.write(format!("{legend}-control"), |draft| {
                if let Some(index) = table.index(draft) {
                    edit::write_table(draft, index, sign, |it| {
                        of(it).sets = Sets::Control(typed.clone());
                    });
                }
            });
        }),
    };
    view! {
        <fieldset>
            <legend>{legend}</legend>
            <div class="fields">
                <Chips id=chips label=own::SETS choices=choices.to_vec() chosen=Signal::derive(key) pick/>
                <Show when=move || is_control.get()>
                    <TextField id=control.clone() label=own::CONTROL hint=own::CONTROL_HINT text=name/>
                </Show>
                <Show when=move || is_setting.get()>
                    <Chips id=which_id.clone() label=own::WHICH choices=which_there_are.to_vec()
                        chosen=which_now pick=which/>
                </Show>
                <p class="hint field-long" id=hint_id>{hint}</p>
                <TextField id label=own::HEADINGS rows=3 text said=table.said(field)/>
            </div>
        </fieldset>
    }
}

const fn key_of(sets: &Sets) -> &'static str {
    match sets {
        Sets::Mode => "mode",
        Sets::Channel => "channel",
        Sets::State => "state",
        Sets::Supply => "supply",
        Sets::Setting(_) => "setting",
        Sets::Control(_) => "control",
        Sets::Reading => "reading",
    }
}

fn sets_of(key: &str) -> Sets {
    match key {
        "mode" => Sets::Mode,
        "channel" => Sets::Channel,
        "state" => Sets::State,
        "supply" => Sets::Supply,
        "setting" => Sets::Setting(Setting::GeneratorFrequency),
        "control" => Sets::Control(String::new()),
        _ => Sets::Reading,
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
