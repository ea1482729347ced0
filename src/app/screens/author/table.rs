//! Steps from a table: pasted or from a file, looked at, and taken in.

use crate::app::platform::device;
use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::pen::Pen;
use crate::app::shell::bench::Bench;
use crate::app::shell::desk::Desk;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::route::Route;
use crate::app::ui::capitalised;
use crate::app::ui::fields::form::{Chips, Text, TextField};
use crate::app::ui::find::more;
use crate::app::words::{author as words, shared};
use crate::authoring::edit::List;
use crate::authoring::table;
use crate::authoring::table::{Answers, Column, Line, Meaning, Preview, Row, TooMuch};
use crate::procedure::Id;
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
    let kept = KeptForm::of(bench, format!("{}:~table", pen.id()), Answers::default());
    let answers = kept.typed;
    let preview = Memo::new(move |_| {
        pasted.with(|text| {
            let read =
                |draft: &_| answers.with(|said| table::preview_with(text, said, draft, sign));
            pen.draft.with(read)
        })
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
        kept.forget();
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
    let too_much = move || preview.with(|preview| preview.too_much.clone());
    let asked = move || preview.with(|preview| preview.asked().count());
    let told = move || {
        let asks = || (asked() > 0).then(|| words::columns_asked(asked()));
        too_much().map(shared::sentence).or_else(asks)
    };
    let chosen = RwSignal::new(None::<String>);
    // Once asked, so that the answer can be changed.
    let asks_unit =
        move || preview.with(Preview::asks_unit) || answers.with(|answers| answers.unit.is_some());
    let asks_volts = move || {
        preview.with(Preview::asks_volts) || answers.with(|answers| answers.volts.is_some())
    };
    let most = RwSignal::new(ROWS_AT_ONCE);
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a></p>
            <h1>{words::TABLE}</h1>
            <p class="lead">{words::TABLE_LEAD}</p>
            <div class="fields" on:paste=refuse>
                <TextField id="table-text" label=words::TABLE_TEXT hint=words::TABLE_HINT rows=8 text/>
            </div>
            {file(pen.bench, pasted)}
            <p role="status">{told}</p>
            <Show when=move || preview.with(|preview| !preview.rows.is_empty())>
                <h2>{words::TABLE_COLUMNS}</h2>
                <p class="hint">{words::TABLE_COLUMNS_HINT}</p>
                {move || preview.with(|preview| columns(&preview.columns, chosen))}
                {move || chosen.get().map(|heading| meanings(heading, preview, answers, chosen))}
                <Show when=asks_unit>{unit_asked(answers)}</Show>
                <Show when=asks_volts>{volts_asked(answers)}</Show>
                <h2>{words::TABLE_PREVIEW}</h2>
                <p>{move || preview.with(|preview| words::understood(preview.rows.len(), open_lines(preview)))}</p>
                {move || preview.with(|preview| shown(pen, preview, most))}
                {move || more(most, preview.with(|preview| preview.rows.len()))}
                <div class="fields">{sections(pen, section)}</div>
                <div class="row">
                    <button type="button" class="main large" disabled=move || { asked() > 0 || count() == 0 } on:click=take>
                        {move || words::take_in(count())}
                    </button>
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

/// How many lines have something that stays open.
fn open_lines(preview: &Preview) -> usize {
    preview
        .rows
        .iter()
        .filter(|row| !row.unclear.is_empty())
        .count()
}

/// The columns and what each is taken for; a tap on one changes that.
fn columns(all: &[Column], chosen: RwSignal<Option<String>>) -> impl IntoView + use<> {
    let shown = all.iter().filter(|column| column.is_shown());
    let keys = shown.map(|column| {
        let heading = column.heading.clone();
        let here = heading.clone();
        let asked = column.is_asked();
        let is = words::column_is(column.meaning.map(Meaning::name), &column.figures());
        let turn = move |_| chosen.update(|now| *now = (now.as_ref() != Some(&here)).then(|| here.clone()));
        let open = heading.clone();
        view! {
            <button type="button" class="table-column" class:table-asked=asked
                aria-expanded=move || chosen.with(|now| now.as_ref() == Some(&open)).to_string() on:click=turn>
                <strong>{heading}</strong>
                <span>{asked.then_some(words::ASKED_SIGN)}{is}</span>
            </button>
        }
    });
    view! { <div class="table-columns">{keys.collect_view()}</div> }
}

/// What a column can be.
fn meanings(
    heading: String,
    preview: Memo<Preview>,
    answers: RwSignal<Answers>,
    chosen: RwSignal<Option<String>>,
) -> impl IntoView {
    let choices = Meaning::ALL
        .iter()
        .enumerate()
        .map(|(key, meaning)| (key.to_string(), meaning.name().to_owned()));
    let now = {
        let heading = heading.clone();
        Signal::derive(move || {
            preview.with(|preview| {
                let mut columns = preview.columns.iter();
                let meaning = columns.find(|column| column.heading == heading)?.meaning?;
                Meaning::ALL.iter().position(|other| *other == meaning)
            })
        })
    };
    let now = Signal::derive(move || now.get().map_or(String::new(), |key| key.to_string()));
    let label = words::column_is_what(&heading);
    let pick = Callback::new(move |key: String| {
        let Some(meaning) = key
            .parse()
            .ok()
            .and_then(|key: usize| Meaning::ALL.get(key))
        else {
            return;
        };
        answers.update(|all| {
            all.columns.retain(|(of, _)| *of != heading);
            all.columns.push((heading.clone(), *meaning));
        });
        chosen.set(None);
    });
    view! {
        <div class="fields">
            <Chips id="table-meaning" label choices=choices.collect() chosen=now pick/>
        </div>
    }
}

/// Asks for the unit of readings that nothing gives one.
fn unit_asked(answers: RwSignal<Answers>) -> impl IntoView {
    let units = words::UNSAID_UNITS
        .iter()
        .map(|unit| ((*unit).to_owned(), (*unit).to_owned()));
    let chosen = Signal::derive(move || {
        answers.with(|answers| answers.unit.map(|scale| scale.symbol()).unwrap_or_default())
    });
    let pick =
        Callback::new(move |unit: String| answers.update(|all| all.unit = unit.parse().ok()));
    view! {
        <div class="fields">
            <Chips id="table-unit" label=words::TABLE_UNIT choices=units.collect() chosen pick/>
        </div>
    }
}

/// Asks which volts the levels are in that don't say it.
fn volts_asked(answers: RwSignal<Answers>) -> impl IntoView {
    let kinds = words::UNSAID_VOLTS
        .iter()
        .map(|unit| ((*unit).to_owned(), (*unit).to_owned()));
    let chosen = Signal::derive(move || {
        answers.with(|answers| {
            answers
                .volts
                .map(|scale| scale.symbol())
                .unwrap_or_default()
        })
    });
    let pick =
        Callback::new(move |unit: String| answers.update(|all| all.volts = unit.parse().ok()));
    view! {
        <div class="fields">
            <Chips id="table-volts" label=words::TABLE_VOLTS choices=kinds.collect() chosen pick/>
        </div>
    }
}

/// What would be taken in.
fn shown(pen: Pen, preview: &Preview, most: RwSignal<usize>) -> impl IntoView + use<> {
    let fresh = pen.draft.with_untracked(|draft| {
        let lists = [List::Adjusters, List::TestPoints, List::Instruments];
        lists.map(|list| preview.new_names(list, draft)).concat()
    });
    let rows = preview.rows.iter().enumerate().take(most.get());
    let rows = rows.map(|(index, row)| row_shown(index + 1, row));
    view! {
        {(!fresh.is_empty()).then(|| view! { <p>{words::new_names(&fresh)}</p> })}
        <ol class="plain-list table-rows">{rows.collect_view()}</ol>
    }
}

fn row_shown(number: usize, row: &Row) -> impl IntoView + use<> {
    let line = match row.line {
        Line::Row => None,
        line => Some((words::line_is(line), row.cells.join(" ").trim().to_owned())),
    };
    let line = line.map(|(is, text)| {
        view! { <span class="table-line">{is}</span><span class="step-title">{text}</span> }
    });
    let section = row.section.clone().filter(|_| row.line == Line::Row);
    let section = section
        .map(|title| view! { <span class="table-line">{words::begins_section(&title)}</span> });
    let steps = row.steps.iter().map(|step| {
        view! {
            <span class="step-title">{words::step_heading(&step.title)}</span>
            <span class="hint">{words::summary(step)}</span>
            {(!step.text.trim().is_empty()).then(|| view! { <span class="hint">{words::kept_as_text(&step.text)}</span> })}
        }
    });
    let unclear = row.unclear.iter().map(|unclear| {
        view! {
            <p><strong>{words::NOT_UNDERSTOOD}</strong>" "{words::unclear(&unclear.column, &unclear.cell)}" "{capitalised(&unclear.why.to_string())}</p>
        }
    });
    let open = !row.unclear.is_empty();
    view! {
        <li class:table-open=open>
            <span class="step-number">{number}</span>
            <div>{section}{line}{steps.collect_view()}<div class="said">{unclear.collect_view()}</div></div>
        </li>
    }
}
