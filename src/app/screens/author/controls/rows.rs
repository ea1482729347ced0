//! Lines of a draft as rows with a field for each part.

use crate::app::ui::fields::form::{Said, Text, focus_soon};
use crate::app::ui::{capitalised, field_text};
use crate::app::words::spelling::spelt;
use crate::app::words::{author as words, shared};
use crate::authoring::Remark;
use crate::authoring::draft::{cells, line_of};
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

/// With more parts than this a row is a line that opens, one at a time.
const PARTS_AT_ONCE: usize = 3;

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
    let Columns {
        separator, names, ..
    } = columns;
    let count = Memo::new(move |_| get.with(|text| lines(text).len()));
    // Rows go to and fro between the text of lines and the fields, sign by sign.
    let change = move |act: &dyn Fn(&mut Vec<String>)| {
        let mut lines = get.with_untracked(|text| lines(text));
        act(&mut lines);
        set.run(lines.join("\n"));
    };
    let name = StoredValue::new(id.clone());
    let folds = names.len() > PARTS_AT_ONCE;
    let open = RwSignal::new(None);
    let add = move |_| {
        let blank = line_of(&vec![String::new(); names.len()], separator);
        change(&|lines| lines.push(blank.clone()));
        open.set(Some(count.get_untracked() - 1));
        focus_soon(cell_id(&name.get_value(), count.get_untracked() - 1, 0));
    };
    let remove = move |index: usize| {
        open.set(None);
        change(&|lines| {
            if index < lines.len() {
                lines.remove(index);
            }
        });
    };
    let form = move |index: usize| {
        let fields = names.iter().enumerate().map(|(column, &(label, hint))| {
            let cell = move || {
                let line = get.with(|text| lines(text).get(index).cloned());
                cells(&line.unwrap_or_default(), separator, names.len()).swap_remove(column)
            };
            let take = move |typed: String| {
                change(&|lines| {
                    if let Some(line) = lines.get_mut(index) {
                        let mut parts = cells(line, separator, names.len());
                        parts[column] = typed.clone();
                        *line = line_of(&parts, separator);
                    }
                });
            };
            let id = cell_id(&name.get_value(), index, column);
            view! {
                <div class="field" class:field-long=!hint.is_empty()>
                    <label for=id.clone()>{spelt(label)}<span class="unseen">" "{index + 1}</span></label>
                    {(!hint.is_empty()).then(|| view! { <span class="hint">{hint}</span> })}
                    <input id=id type="text" autocomplete="off" prop:value=move || field_text(cell())
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
    // What a row that is folded says of itself: its parts, the first as its name.
    let folded = move |index: usize| {
        let parts = move || {
            let line = get.with(|text| lines(text).get(index).cloned());
            let mut parts = cells(&line.unwrap_or_default(), separator, names.len());
            parts.retain(|part| !part.trim().is_empty());
            parts
        };
        let blank = move || capitalised(&words::row_named(columns.row, index + 1));
        let first = move || parts().first().cloned().unwrap_or_else(blank);
        let rest = move || shared::list(parts().get(1..).unwrap_or_default());
        let is_open = Memo::new(move |_| open.get() == Some(index));
        let press = move |_| open.update(|open| *open = (*open != Some(index)).then_some(index));
        view! {
            <div class="entry-row" class:entry-open=is_open>
                <button type="button" class="entry-key" aria-expanded=move || is_open.get().to_string() on:click=press>
                    <strong>{first}</strong>
                    <span class="entry-words">{rest}</span>
                </button>
                <Show when=move || is_open.get()>{form(index)}</Show>
            </div>
        }
    };
    let row = move |index: usize| match folds {
        true => folded(index).into_any(),
        false => form(index).into_any(),
    };
    let about = format!("{id}-said");
    view! {
        <div class="field field-long">
            <span class="chips-label">{label.clone()}</span>
            <div class="rows" class:rows-folded=folds role="group" aria-label=label>
                <For each=move || 0..count.get() key=|index| *index let:index>{row(index)}</For>
                <button type="button" id=id aria-describedby=about.clone() on:click=add>{words::add_row(columns.row)}</button>
            </div>
            <Said id=about remarks=said/>
        </div>
    }
}

/// The lines of a text, blank ones too; none of an empty text.
fn lines(text: &str) -> Vec<String> {
    match text.is_empty() {
        true => Vec::new(),
        false => text.split('\n').map(str::to_owned).collect(),
    }
}

fn cell_id(name: &str, row: usize, column: usize) -> String {
    format!("{name}-{row}-{column}")
}
