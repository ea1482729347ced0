//! Steps from a table: pasted or from a file, looked at, and taken in.

use super::super::bench::Bench;
use super::super::device;
use super::super::find::more;
use super::super::parts::capitalised;
use super::super::route::Route;
use super::super::words::{author as words, shared};
use super::address;
use super::bar::bar;
use super::desk::Desk;
use super::fields::{Chips, Text, TextField};
use super::pen::Pen;
use crate::procedure::Id;
use crate::procedure::edit::List;
use crate::procedure::table::{self, Preview, Row, TooMuch};
use leptos::prelude::*;

/// How many rows of a table are shown at first: whatever a manual's table has, so that no cell that
/// was not understood hides behind a key.
const ROWS_AT_ONCE: usize = 100;

/// The screen.
pub fn screen(pen: Pen) -> impl IntoView {
    let bench = pen.bench;
    let place = StoredValue::new(draft_place(&pen.id()));
    let kept = place.with_value(|(job, step)| bench.draft(job, step));
    let pasted = RwSignal::new(kept);
    Effect::new(move |_| {
        pasted.with(|text| place.with_value(|(job, step)| bench.keep_draft(job, step, text)));
    });
    let sign = pen.sign();
    let preview = Memo::new(move |_| {
        pasted.with(|text| pen.draft.with(|draft| table::preview(text, draft, sign)))
    });
    let last = pen
        .draft
        .with_untracked(|draft| draft.sections.len().saturating_sub(1));
    let section = RwSignal::new(last);
    let take = move |_| {
        let (index, preview) = (section.get_untracked(), preview.get_untracked());
        let count = preview.steps().count();
        pen.change(words::table_taken(count), |draft| {
            table::take(draft, index, &preview)
        });
        place.with_value(|(job, step)| bench.keep_draft(job, step, ""));
        bench.go(&Route::Author(Desk::Whole(pen.id(), None)));
    };
    let text = Text {
        get: pasted.into(),
        set: Callback::new(move |typed: String| pasted.set(typed)),
    };
    // The field would lay it out first, which takes longer than all else.
    let refuse = move |event: leptos::ev::ClipboardEvent| {
        let text = event.clipboard_data().map(|it| it.get_data("text/plain"));
        let text = text.and_then(Result::ok).unwrap_or_default();
        if let Some(too_much) = table::too_much(&text) {
            event.prevent_default();
            bench.refuse(shared::sentence(too_much));
        }
    };
    let count = move || preview.with(|preview| preview.steps().count());
    let most = RwSignal::new(ROWS_AT_ONCE);
    let too_much = move || preview.with(|preview| preview.too_much.clone());
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a></p>
            <h1>{words::TABLE}</h1>
            <p class="lead">{words::TABLE_LEAD}</p>
            <div class="fields" on:paste=refuse>
                <TextField id="table-text" label=words::TABLE_TEXT hint=words::TABLE_HINT rows=8 text/>
            </div>
            {file(pen.bench, pasted)}
            <p role="status">{move || too_much().map(shared::sentence)}</p>
            <Show when=move || { count() > 0 }>
                <h2>{words::TABLE_PREVIEW}</h2>
                {move || preview.with(|preview| shown(pen, preview, most))}
                {move || more(most, preview.with(|preview| preview.rows.len()))}
                <div class="fields">{sections(pen, section)}</div>
                <div class="row">
                    <button type="button" class="main large" on:click=take>{move || words::take_in(count())}</button>
                </div>
            </Show>
            {bar(pen, ())}
        </section>
    }
}

/// What is pasted and not taken in yet stands in the store like a step's draft.
fn draft_place(draft: &Id) -> (Id, Id) {
    let place = "author-table".parse();
    (place.unwrap_or_else(|_| device::fresh_id()), draft.clone())
}

fn file(bench: Bench, pasted: RwSignal<String>) -> impl IntoView {
    let chosen = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = event_target(&event);
        let file = input.files().and_then(|files| files.get(0));
        match file {
            // Before it is read, since a huge file would fill the memory.
            Some(file) if file.size() > table::MAX_BYTES as f64 => {
                let too_much = TooMuch::Bytes(file.size() as usize);
                bench.refuse(shared::sentence(too_much));
            }
            Some(file) => device::read_file(file, move |text| pasted.set(text)),
            None => {}
        }
        // The same file may be chosen again after it was corrected.
        input.set_value("");
    };
    view! {
        <label class="button file-button" for="table-file">{words::OPEN_FILE}</label>
        <input id="table-file" class="file-input" type="file"
            accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values,text/plain" on:change=chosen/>
    }
}

/// Where the steps go.
fn sections(pen: Pen, section: RwSignal<usize>) -> impl IntoView {
    let choices = pen.draft.with_untracked(|draft| {
        let all = draft.sections.iter().enumerate();
        all.map(|(index, s)| (index.to_string(), words::section_name(index + 1, &s.title)))
            .collect()
    });
    let pick = Callback::new(move |key: String| section.set(key.parse().unwrap_or_default()));
    view! {
        <Chips id="table-section" label=words::TABLE_SECTION choices
            chosen=Signal::derive(move || section.get().to_string()) pick/>
    }
}

/// What would be taken in.
fn shown(pen: Pen, preview: &Preview, most: RwSignal<usize>) -> impl IntoView + use<> {
    let unknown: Vec<String> = preview
        .columns
        .iter()
        .filter(|column| column.meaning.is_none())
        .map(|column| column.heading.clone())
        .collect();
    let fresh = pen.draft.with_untracked(|draft| {
        let lists = [List::Adjusters, List::TestPoints, List::Instruments];
        lists.map(|list| preview.new_names(list, draft)).concat()
    });
    let rows = preview.rows.iter().enumerate().take(most.get());
    let rows = rows.map(|(index, row)| row_shown(index + 1, row));
    view! {
        {(!fresh.is_empty()).then(|| view! { <p>{words::new_names(&fresh)}</p> })}
        {(!unknown.is_empty()).then(|| view! { <p>{words::unknown_columns(&unknown)}</p> })}
        <ol class="plain-list table-rows">{rows.collect_view()}</ol>
    }
}

fn row_shown(number: usize, row: &Row) -> impl IntoView + use<> {
    let steps = row.steps.iter().map(|step| {
        view! {
            <span class="step-title">{words::step_heading(&step.title)}</span>
            <span class="hint">{words::summary(step)}</span>
        }
    });
    let unclear = row.unclear.iter().map(|unclear| {
        view! {
            <p><strong>{words::NOT_UNDERSTOOD}</strong>" "{words::unclear(&unclear.column, &unclear.cell)}" "{capitalised(&unclear.why)}</p>
        }
    });
    view! {
        <li>
            <span class="step-number">{number}</span>
            <div>{steps.collect_view()}<div class="said">{unclear.collect_view()}</div></div>
        </li>
    }
}
