//! Lines of a draft as rows with a field for each part.

use super::super::words::author as words;
use super::fields::{Said, Text, focus_soon};
use crate::procedure::Remark;
use crate::procedure::draft::{cells, line_of};
use leptos::prelude::*;

/// How lines are made of parts.
#[derive(Clone, Copy)]
pub struct Columns {
    /// What stands between the parts.
    pub separator: char,
    /// The parts: name and how they are typed.
    pub names: &'static [(&'static str, &'static str)],
    /// What a row is.
    pub row: &'static str,
}

/// A text of lines, as rows.
#[component]
pub fn Rows(
    /// The id of the first field.
    #[prop(into)]
    id: String,
    /// What the rows are.
    #[prop(into)]
    label: String,
    /// How a line is made.
    columns: Columns,
    /// The lines.
    text: Text,
    /// What is said of them.
    said: Signal<Vec<Remark>>,
) -> impl IntoView {
    let Text { get, set } = text;
    let count = Memo::new(move |_| {
        let text = get.get();
        if text.is_empty() {
            0
        } else {
            text.split('\n').count()
        }
    });
    let lines =
        move || -> Vec<String> { get.get_untracked().split('\n').map(str::to_owned).collect() };
    let name = StoredValue::new(id.clone());
    let add = move |_| {
        let index = count.get_untracked();
        // A row with nothing in it is a line with a separator, so that it is seen.
        let blank = format!("{} ", columns.separator);
        let text = get.get_untracked();
        set.run(match text.is_empty() {
            true => blank,
            false => format!("{text}\n{blank}"),
        });
        focus_soon(cell_id(&name.get_value(), index, 0));
    };
    let remove = move |index: usize| {
        let mut lines = lines();
        lines.remove(index);
        set.run(lines.join("\n"));
    };
    let row = move |index: usize| {
        let fields = columns.names.iter().enumerate().map(|(column, &(label, hint))| {
            let width = columns.names.len();
            let cell = move || {
                let text = get.get();
                let line = text.split('\n').nth(index).unwrap_or_default().to_owned();
                cells(&line, columns.separator, width).swap_remove(column)
            };
            let take = move |typed: String| {
                let mut lines = lines();
                let Some(line) = lines.get_mut(index) else {
                    return;
                };
                let mut parts = cells(line, columns.separator, width);
                parts[column] = typed;
                let written = line_of(&parts, columns.separator);
                *line = match written.is_empty() {
                    true => format!("{} ", columns.separator),
                    false => written,
                };
                set.run(lines.join("\n"));
            };
            let id = cell_id(&name.get_value(), index, column);
            view! {
                <div class="field">
                    <label for=id.clone()>{label}<span class="unseen">" "{index + 1}</span></label>
                    {(!hint.is_empty()).then(|| view! { <span class="hint">{hint}</span> })}
                    <input id=id type="text" autocomplete="off" prop:value=cell
                        on:input=move |event| take(event_target_value(&event))/>
                </div>
            }
        });
        view! {
            <div class="row-cells">
                <div class="fields">{fields.collect_view()}</div>
                <button type="button" class="plain" on:click=move |_| remove(index)>
                    {words::take_row(columns.row, index + 1)}
                </button>
            </div>
        }
    };
    let about = format!("{id}-said");
    view! {
        <div class="field field-long">
            <span class="chips-label">{label.clone()}</span>
            <div class="rows" role="group" aria-label=label>
                {move || (0..count.get()).map(row).collect_view()}
                <button type="button" id=id aria-describedby=about.clone() on:click=add>{words::add_row(columns.row)}</button>
            </div>
            <Said id=about remarks=said/>
        </div>
    }
}

fn cell_id(name: &str, row: usize, column: usize) -> String {
    format!("{name}-{row}-{column}")
}
