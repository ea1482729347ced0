//! One axis of a table.

use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::several::table::Table;
use crate::app::ui::fields::form::{Chips, Text, TextField};
use crate::app::words::spelling::spelt;
use crate::app::words::work::several as own;
use crate::authoring::draft::{DraftAxis, DraftTable};
use crate::authoring::edit;
use crate::procedure::{Field, Sets, Setting};
use leptos::prelude::*;

/// The part of a table that its rows or its columns are.
type AxisOf = fn(&mut DraftTable) -> &mut DraftAxis;

pub(super) fn axis(table: Table, field: Field, legend: &'static str, of: AxisOf) -> impl IntoView {
    let sets = Memo::new(move |_| table.with(|_, it| Some(of(&mut it.clone()).sets.clone())));
    let key = move || sets.with(|sets| sets.as_ref().map_or("", key_of).to_owned());
    let choices = own::KINDS.map(|(key, name)| (key.to_owned(), spelt(name)));
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
