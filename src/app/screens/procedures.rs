//! Procedures: all of them, and one.

use crate::app::screens::author;
use crate::app::screens::counter::paper;
use crate::app::shell::bench::use_bench;
use crate::app::shell::carry::Outgoing;
use crate::app::shell::desk::Desk;
use crate::app::shell::files::{key_of, ways_out};
use crate::app::shell::route::Route;
use crate::app::ui::boards::board;
use crate::app::ui::{PaperView, find, list_of};
use crate::app::words::set::papers as paper_words;
use crate::app::words::shell::find as find_words;
use crate::app::words::{author as writing, procedures as words, shared};
use crate::exchange::Document;
use crate::exchange::report::{html, procedure::Sheet};
use crate::job::Search;
use crate::procedure::{Listed, Procedure, Section, latest};
use leptos::prelude::*;

/// All procedures.
pub fn list() -> impl IntoView {
    let bench = use_bench();
    let typed = RwSignal::new(String::new());
    let procedures = Memo::new(move |_| latest(bench.procedures()));
    let several = move || procedures.with(|all| all.len() > 1);
    let none = move || procedures.with(Vec::is_empty);
    let cards = move || {
        let search = Search::of(&typed.get());
        procedures.with(|all| {
            let found = all.iter().filter(|it| {
                let Procedure { title, covers, .. } = &it.procedure;
                search.finds(&[title, covers])
            });
            let cards = found.map(|it| card(it, &Route::Procedure(it.procedure.digest())));
            let cards: Vec<_> = cards.collect();
            let nothing = !all.is_empty() && cards.is_empty();
            view! {
                <ul class="cards">{cards}</ul>
                {nothing.then(|| view! { <p class="lead" role="status">{find_words::NOTHING}</p> })}
            }
        })
    };
    view! {
        <section class="page">
            <div class="title-row">
                <h1>{words::TITLE}</h1>
                <span class="row">
                    <a class="button main" href=Route::Author(Desk::New).address()>{writing::WRITE}</a>
                    <a class="button" href=Route::Data.address()>{shared::BRING_IN_FILE}</a>
                </span>
            </div>
            {move || author::drafts(bench)}
            <Show when=several>
                <div class="finder" role="search">
                    {find::field("find", typed, find_words::FIND_PROCEDURE_HINT)}
                </div>
            </Show>
            {cards}
            <Show when=none><p>{shared::NO_PROCEDURE}</p></Show>
        </section>
    }
}

/// A procedure in a list, leading to a screen.
pub fn card(listed: &Listed, route: &Route) -> impl IntoView + use<> {
    let Listed { procedure, mark } = listed;
    let mark = mark.as_deref().map(words::one_of_several);
    let count = procedure.steps().count();
    view! {
        <li>
            <a class="card" href=route.address()>
                <strong>{procedure.title.clone()}</strong>
                <span>{procedure.covers.clone()}</span>
                <span class="hint">{words::revision_and_steps(procedure.revision, count)}</span>
                {mark.map(|mark| view! { <span class="hint">{mark}</span> })}
            </a>
        </li>
    }
}

/// One procedure.
pub fn one(digest: String) -> impl IntoView {
    let bench = use_bench();
    let Some(procedure) = bench.procedure(&digest) else {
        return missing().into_any();
    };
    let to_sheet = Route::ProcedureSheet(digest.clone()).address();
    let id = procedure.id.clone();
    let in_hand = StoredValue::new(procedure.clone());
    let document = StoredValue::new(Document::Procedure(procedure.clone()));
    let mut number = 0;
    let sections = procedure
        .sections
        .iter()
        .map(|part| section(part, &mut number))
        .collect_view();
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Procedures.address()>{words::ALL_PROCEDURES}</a></p>
            <h1>{procedure.title.clone()}</h1>
            <p class="lead">{procedure.covers.clone()}</p>
            <p class="hint">{words::revision(procedure.revision)}</p>
            <div class="row">
                <a class="button main" href=Route::Start(Some(digest)).address()>{shared::START_A_JOB}</a>
                <a class="button" href=to_sheet>{words::READ_AND_PRINT}</a>
                <button type="button" on:click=move |_| bench.save_as_file(&document.get_value())>{words::SAVE}</button>
                <button type="button" on:click=move |_| in_hand.with_value(|p| author::change(bench, p))>{writing::CHANGE}</button>
                <button type="button" on:click=move |_| in_hand.with_value(|p| author::copy(bench, p))>{writing::COPY}</button>
                <a class="button" href=Route::Author(Desk::Revisions(id)).address()>{writing::REVISIONS}</a>
            </div>
            {ways_out(document.with_value(key_of), move || Some(Outgoing::one(document.get_value())))}
            {cautions(&procedure)}
            {board::all(&procedure)}
            {papers(&procedure)}
            {sections}
        </section>
    }
    .into_any()
}

fn missing() -> impl IntoView {
    view! {
        <section class="page">
            <h1>{shared::NOT_HERE}</h1>
            <p>{words::NOT_HERE}</p>
            <a class="button" href=Route::Procedures.address()>{words::TO_THE_PROCEDURES}</a>
        </section>
    }
}

/// One procedure as a sheet, to be read or printed.
pub fn sheet(digest: String) -> impl IntoView {
    let bench = use_bench();
    let Some(procedure) = bench.procedure(&digest) else {
        return missing().into_any();
    };
    on_cleanup(paper::plain_pages);
    let sheet = Sheet::of(&procedure, bench.sign_now());
    paper::head_pages(&sheet.running);
    // Every text in it is escaped, and the page's policy runs nothing that isn't ours.
    let sheet = html::procedure(&sheet);
    view! {
        <section class="page report-page">
            <p class="crumbs"><a href=Route::Procedure(digest).address()>{procedure.title}</a></p>
            <div class="row no-print">
                <button type="button" class="main" on:click=|_| paper::print()>{shared::PRINT}</button>
            </div>
            <div inner_html=sheet></div>
        </section>
    }
    .into_any()
}

fn cautions(procedure: &Procedure) -> Option<impl IntoView + use<>> {
    let cautions = procedure.cautions.clone();
    (!cautions.is_empty()).then(|| {
        view! { <aside class="caution"><strong>{shared::CAUTION}</strong>{list_of(cautions, "")}</aside> }
    })
}

/// The papers, each to be opened in its place.
fn papers(procedure: &Procedure) -> Option<impl IntoView + use<>> {
    let all = procedure.papers.iter().map(|paper| {
        let (title, is_open) = (paper.title.clone(), RwSignal::new(false));
        let label = paper_words::open(&title);
        let shown = Signal::stored(paper.clone());
        view! {
            <li>
                <div class="row">
                    <button type="button" aria-expanded=move || is_open.get().to_string()
                        on:click=move |_| is_open.update(|open| *open = !*open)>{label}</button>
                </div>
                <Show when=move || is_open.get()><PaperView paper=shown/></Show>
            </li>
        }
    });
    let all = all.collect_view();
    (!procedure.papers.is_empty()).then(|| {
        view! {
            <h2>{paper_words::TITLE}</h2>
            <ul class="papers">{all}</ul>
        }
    })
}

fn section(section: &Section, number: &mut usize) -> impl IntoView + use<> {
    let rows = section
        .steps
        .iter()
        .map(|step| {
            *number += 1;
            view! {
                <li class="step-row">
                    <span class="step-number">{*number}</span>
                    <span class="step-title">{step.title.clone()}</span>
                    <span class="hint">{step.work.kind()}</span>
                </li>
            }
        })
        .collect_view();
    view! {
        <h2>{section.title.clone()}</h2>
        <ol class="steps">{rows}</ol>
    }
}
