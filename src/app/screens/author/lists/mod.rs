//! What the steps of a draft refer to by name: adjusters, test points, instruments; and the
//! steps that pull each other. Each list is a table, of which one row is open at a time.

mod chases;
mod entries;
mod steps_of;

use self::chases::chases;
use self::entries::{
    adjuster, adjuster_in_words, instrument, instrument_in_words, test_point, test_point_in_words,
};
use crate::app::screens::author::controls::address::address;
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::anchor;
use crate::app::screens::author::pen::Pen;
use crate::app::shell::desk::Desk;
use crate::app::ui::fields::form::{Said, focus_soon};
use crate::app::ui::{field_text, whole_name};
use crate::app::words::{author as words, shared};
use crate::authoring::edit::List;
use crate::authoring::{Draft, Remark, edit};
use crate::procedure::{Field, Place};
use leptos::prelude::*;

/// The screen.
pub fn screen(pen: Pen, field: Option<Field>) -> impl IntoView {
    let open = RwSignal::new(None);
    if let Some(field) = field {
        lead_to(pen, field, open);
    }
    let part = move |which: Part| part(pen, which, open);
    view! {
        <section class="page author">
            <p class="crumbs"><a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a></p>
            <h1>{words::LISTS}</h1>
            <p class="hint">{words::LISTS_HINT}</p>
            {part(ADJUSTERS)}
            {part(TEST_POINTS)}
            {part(INSTRUMENTS)}
            {chases(pen)}
            {bar(pen, ())}
        </section>
    }
}

/// The row that is open, if one is.
type Open = RwSignal<Option<(List, usize)>>;

/// Moves the focus to where something said of a list is put right: the name that is unfit, or else
/// the field for a new one.
fn lead_to(pen: Pen, field: Field, open: Open) {
    let parts = [ADJUSTERS, TEST_POINTS, INSTRUMENTS];
    let unfit = parts
        .iter()
        .find(|part| part.field == field)
        .and_then(|part| {
            let unfit = pen
                .draft
                .with_untracked(|draft| edit::unfit_names(draft, part.list));
            Some((part, *unfit.first()?))
        });
    match unfit {
        Some((part, index)) => {
            open.set(Some((part.list, index)));
            focus_soon(name_id(*part, index));
        }
        None => focus_soon(anchor(field)),
    }
}

/// The id of the field for the name of an entry.
fn name_id(part: Part, index: usize) -> String {
    format!("{}-{index}", anchor(part.field))
}

/// One of the lists.
#[derive(Clone, Copy)]
struct Part {
    list: List,
    field: Field,
    title: &'static str,
    /// What is typed for a new entry.
    fresh: &'static str,
    /// What a row says of its entry.
    in_words: fn(&Draft, usize) -> String,
    /// The fields of an entry beside its name.
    entry: fn(Pen, usize) -> AnyView,
}

const ADJUSTERS: Part = Part {
    list: List::Adjusters,
    field: Field::Adjusters,
    title: words::ADJUSTERS,
    fresh: words::NEW_ADJUSTER,
    in_words: adjuster_in_words,
    entry: |pen, index| adjuster(pen, index).into_any(),
};

const TEST_POINTS: Part = Part {
    list: List::TestPoints,
    field: Field::TestPoints,
    title: words::TEST_POINTS,
    fresh: words::NEW_TEST_POINT,
    in_words: test_point_in_words,
    entry: |pen, index| test_point(pen, index).into_any(),
};

const INSTRUMENTS: Part = Part {
    list: List::Instruments,
    field: Field::Instruments,
    title: words::INSTRUMENTS,
    fresh: words::NEW_INSTRUMENT,
    in_words: instrument_in_words,
    entry: |pen, index| instrument(pen, index).into_any(),
};

fn said(pen: Pen, field: Field) -> Signal<Vec<Remark>> {
    Signal::derive(move || {
        let places = [Place::Parts, Place::Whole];
        let all = places.iter().flat_map(|place| pen.said_of(place));
        all.filter(|remark| remark.field == field).collect()
    })
}

fn part(pen: Pen, part: Part, open: Open) -> impl IntoView {
    let count = Memo::new(move |_| pen.draft.with(|draft| part.list.names(draft).len()));
    let typed = RwSignal::new(String::new());
    let error = RwSignal::new(String::new());
    let add = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let name = typed.get_untracked();
        let added = pen.change(words::added(&name), |draft| {
            edit::add(draft, part.list, &name)
        });
        match added {
            Ok(_) => {
                typed.set(String::new());
                error.set(String::new());
            }
            Err(fault) => error.set(shared::sentence(fault)),
        }
    };
    let id = anchor(part.field);
    view! {
        <h2>{part.title}</h2>
        <Said id=format!("{id}-said") remarks=said(pen, part.field)/>
        <ul class="plain-list entries">
            <For each=move || 0..count.get() key=|index| *index let:index>{entry(pen, part, index, open)}</For>
        </ul>
        <form class="add-line" on:submit=add>
            <div class="field">
                <label for=id.clone()>{part.fresh}</label>
                <input id=id type="text" autocomplete="off" prop:value=move || field_text(typed.get())
                    on:input=move |event| { typed.set(event_target_value(&event)); error.set(String::new()) }/>
            </div>
            <button type="submit">{words::ADD}</button>
            <p class="error" role="alert">{move || error.get()}</p>
        </form>
    }
}

/// The row of an entry: a key that says what it is, and its form below while it is open.
fn entry(pen: Pen, part: Part, index: usize, open: Open) -> impl IntoView {
    let list = part.list;
    let name = Memo::new(move |_| {
        pen.draft
            .with(|draft| list.names(draft).get(index).cloned().unwrap_or_default())
    });
    let uses = move || {
        let uses = pen.draft.with(|draft| edit::uses(draft, list, &name.get()));
        words::uses(uses)
    };
    let in_words = move || pen.draft.with(|draft| (part.in_words)(draft, index));
    let is_unfit = Memo::new(move |_| {
        let unfit = |draft: &Draft| edit::unfit_names(draft, list).contains(&index);
        pen.draft.with(unfit)
    });
    let is_open = Memo::new(move |_| open.get() == Some((list, index)));
    let press = move |_| {
        open.update(|open| *open = (*open != Some((list, index))).then_some((list, index)))
    };
    view! {
        <li class="entry-row" class:entry-open=is_open>
            <button type="button" class="entry-key" aria-expanded=move || is_open.get().to_string() on:click=press>
                <strong>{name}</strong>
                <span class="entry-words">{in_words}</span>
                {move || is_unfit.get().then(|| view! { <span class="draft-mark said-fault">{words::gravity(true)}</span> })}
                <span class="entry-uses">{uses}</span>
            </button>
            <Show when=move || is_open.get()>{form(pen, part, index, name, open)}</Show>
        </li>
    }
}

/// All that is known of an entry, to be changed.
fn form(pen: Pen, part: Part, index: usize, name: Memo<String>, open: Open) -> impl IntoView {
    let list = part.list;
    let error = RwSignal::new(String::new());
    let rename = move |typed: String| {
        let renamed = pen.change(words::renamed(&name.get_untracked(), &typed), |draft| {
            edit::rename(draft, list, index, &typed)
        });
        // What takes the row away takes this along.
        error.try_set(renamed.err().map_or(String::new(), shared::sentence));
    };
    let remove = move |_| {
        let gone = name.get_untracked();
        open.set(None);
        pen.change(words::off_list(&gone), |draft| {
            edit::take_off_list(draft, list, index)
        });
    };
    let id = name_id(part, index);
    view! {
        <div class="entry-card">
            <div class="field">
                <label for=id.clone()>{words::NAME}<span class="unseen">" "{move || name.get()}</span></label>
                {whole_name(id.clone(), name, rename)}
                <p class="error" role="alert">{move || error.get()}</p>
            </div>
            {(part.entry)(pen, index)}
            <div class="entry-end">
                <button type="button" class="plain" aria-label=move || words::remove_named(&name.get()) on:click=remove>{words::REMOVE}</button>
            </div>
        </div>
    }
}
