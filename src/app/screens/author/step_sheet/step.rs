//! One step of a draft.

use crate::app::screens::author::controls::address::{address, missing};
use crate::app::screens::author::controls::bar::bar;
use crate::app::screens::author::controls::fields::{Sheet, anchor};
use crate::app::screens::author::controls::remarks;
use crate::app::screens::author::pen::Pen;
use crate::app::screens::author::several;
use crate::app::screens::author::step_sheet::{step_more, step_reading, step_work};
use crate::app::shell::bench::use_bench;
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::ui::fields::form::{Chips, TextField, focus_soon};
use crate::app::words::author as words;
use crate::authoring::{Kind, TargetKind, edit};
use crate::procedure::{Field, Id};
use leptos::prelude::*;

/// The screen.
pub fn screen(pen: Pen, id: Id, field: Option<Field>) -> impl IntoView {
    let is_here = pen.draft.with_untracked(|draft| draft.step(&id).is_some());
    if !is_here {
        return missing().into_any();
    }
    let sheet = Sheet::new(pen, id);
    match field {
        Some(field) => focus_soon(anchor(field)),
        // A new step wants its title first.
        None if untrack(|| sheet.with(|step| step.title.is_empty())) => {
            focus_soon(anchor(Field::Title));
        }
        None => {}
    }
    // A step that another page took away is left.
    let gone = Memo::new(move |_| sheet.number() == 0);
    Effect::new(move |_| {
        if gone.get() {
            use_bench().go(&Route::Author(Desk::Whole(pen.id(), None)));
        }
    });
    // Once there, the field stays while it is emptied.
    let open = RwSignal::new(untrack(|| sheet.with(|step| !step.open.is_empty())));
    view! {
        <section class="page author">
            {head(sheet)}
            <div class="fields">
                <TextField id=anchor(Field::Title) label=words::STEP_TITLE hint=words::STEP_TITLE_HINT wide=true
                    text=sheet.text("title", |step| &mut step.title) said=sheet.said(Field::Title)/>
                {kinds(sheet)}
            </div>
            {step_reading::part(sheet)}
            {step_work::part(sheet)}
            <div class="fields">
                <TextField id="author-text" label=words::TEXT hint=words::TEXT_HINT rows=3
                    text=sheet.text("text", |step| &mut step.text)/>
            </div>
            <Show when=move || open.get()>
                <div class="fields">
                    <TextField id=anchor(Field::Open) label=words::STILL_OPEN hint=words::STILL_OPEN_HINT rows=2
                        text=sheet.text("open", |step| &mut step.open) said=sheet.said(Field::Open)/>
                </div>
            </Show>
            {step_work::set_up(sheet)}
            {step_more::part(sheet, field)}
            {remarks::list(pen, false)}
            {keys(sheet)}
        </section>
    }
    .into_any()
}

fn head(sheet: Sheet) -> impl IntoView {
    let pen = sheet.pen;
    let place = move || {
        let id = sheet.id();
        pen.draft.with(|draft| {
            let of = draft
                .sections
                .iter()
                .find(|s| s.steps.iter().any(|step| step.id == id));
            let section = of.map(|section| section.title.clone()).unwrap_or_default();
            words::step_of(sheet.number(), draft.steps().count(), &section)
        })
    };
    let title = move || {
        let id = sheet.id();
        let title = pen.draft.with(|draft| {
            let step = draft.step(&id);
            step.map_or(String::new(), |step| draft.title_of(step))
        });
        words::step_heading(&title)
    };
    view! {
        <p class="crumbs">
            <a href=address(Desk::Whole(pen.id(), None))>{words::ALL_STEPS}</a>
            <span>{place}</span>
        </p>
        <h1>{title}</h1>
        {several::way(pen, sheet.id())}
    }
}

fn kinds(sheet: Sheet) -> impl IntoView {
    let choices = Kind::ALL
        .iter()
        .map(|kind| (kind.name().to_owned(), kind.name().to_owned()))
        .collect();
    let chosen = Signal::derive(move || sheet.with(|step| step.kind).name().to_owned());
    let pick = Callback::new(move |name: String| {
        let Some(kind) = Kind::ALL.into_iter().find(|kind| kind.name() == name) else {
            return;
        };
        sheet.change(&words::kind_set(kind.name()), |step| {
            step.kind = kind;
            // What is set needs a target, and most are a figure.
            if kind == Kind::Set && step.target.kind == TargetKind::None {
                step.target.kind = TargetKind::Around;
            }
        });
    });
    view! { <Chips id="author-kind" label=words::KIND choices chosen pick/> }
}

/// The way on: to the neighbours, and to a new step.
fn keys(sheet: Sheet) -> impl IntoView {
    let pen = sheet.pen;
    let neighbour = move |by: isize| {
        pen.draft.with(|draft| {
            let index = sheet.number().checked_sub(1)?.checked_add_signed(by)?;
            let step = draft.steps().nth(index)?;
            Some(address(Desk::Step(pen.id(), step.id.clone(), None)))
        })
    };
    let way = move |by: isize, word: &'static str| {
        view! {
            {move || match neighbour(by) {
                Some(to) => view! { <a class="button" href=to>{word}</a> }.into_any(),
                None => view! { <button type="button" disabled>{word}</button> }.into_any(),
            }}
        }
    };
    let add = move |_| {
        let id = sheet.id();
        let fresh = pen.change(words::STEP_ADDED, |draft| edit::add_step_below(draft, &id));
        if let Some(fresh) = fresh {
            pen.bench
                .go(&Route::Author(Desk::Step(pen.id(), fresh, None)));
        }
    };
    let more = view! {
        {way(-1, words::PREVIOUS)}
        {way(1, words::NEXT)}
        <button type="button" class="main" on:click=add>{words::ADD_BELOW}</button>
    };
    bar(pen, more)
}
