//! Start a job: pick a procedure, enter the set.

use crate::app::platform::device;
pub use crate::app::screens::counter::blank::alone;
use crate::app::screens::counter::blank::{FORM, blank, is_begun};
use crate::app::screens::counter::header_form::{FIRST, HeaderForm};
use crate::app::screens::procedures::card;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::ui::fields::form::focus_soon;
use crate::app::ui::list_of;
use crate::app::words::counter::start as words;
use crate::app::words::shared;
use crate::job::{Header, Job};
use crate::procedure::{Id, Listed, Procedure, latest};
use leptos::prelude::*;

/// The screen, with the procedure of this digest if one was picked.
pub fn screen(digest: Option<String>) -> impl IntoView {
    let bench = use_bench();
    match digest.and_then(|digest| bench.procedure(&digest)) {
        Some(procedure) => form(bench, procedure).into_any(),
        None => pick(bench).into_any(),
    }
}

/// The screen for a set that no procedure is chosen for yet.
pub fn book_in() -> impl IntoView {
    form(use_bench(), Procedure::none())
}

fn pick(bench: Bench) -> impl IntoView {
    let procedures = Memo::new(move |_| latest(bench.procedures()));
    let none = move || procedures.with(Vec::is_empty);
    let cards = move || {
        procedures.with(|all| {
            let start = |it: &Listed| Route::Start(Some(it.procedure.digest()));
            all.iter().map(|it| card(it, &start(it))).collect_view()
        })
    };
    view! {
        <section class="page">
            <h1>{shared::START_A_JOB}</h1>
            <p class="lead">{words::WHICH_PROCEDURE}</p>
            <ul class="cards">
                <li>
                    <a class="card" href=Route::BookIn.address()>
                        <strong>{words::NONE_YET}</strong>
                        <span>{words::NONE_YET_HINT}</span>
                    </a>
                </li>
                {cards}
            </ul>
            <Show when=none>
                <p>{shared::NO_PROCEDURE}</p>
                <a class="button" href=Route::Data.address()>{shared::BRING_IN_FILE}</a>
            </Show>
        </section>
    }
}

pub(super) fn form(bench: Bench, procedure: Procedure) -> impl IntoView {
    let kept = serde_json::from_str::<Header>(&bench.form(FORM)).ok();
    let kept = kept.map(|mut header| {
        header.renew_instruments(&untrack(|| bench.kit()));
        header
    });
    let is_left_over = kept.as_ref().is_some_and(is_begun);
    let header = RwSignal::new(kept.unwrap_or_else(|| blank(bench, &procedure)));
    bench.keep_form_as_typed(FORM.to_owned(), move || {
        header.with(serde_json::to_string).ok()
    });
    let (wrong, is_sent) = (RwSignal::new(None), RwSignal::new(false));
    let nameless = move || is_sent.get() && header.with(|header| header.set.title().is_empty());
    let nameless = Signal::derive(nameless);
    let cautions = list_of(procedure.cautions.clone(), "");
    let has_cautions = !procedure.cautions.is_empty();
    let (heading, lead, way) = match procedure.is_none() {
        true => (
            shared::BOOK_IN,
            words::NONE_YET_HINT.to_owned(),
            words::BY_A_PROCEDURE,
        ),
        false => (
            shared::START_A_JOB,
            procedure.title.clone(),
            words::ANOTHER_PROCEDURE,
        ),
    };
    let shown = procedure.clone();
    let start = move |leads_to: fn(Id) -> Route| {
        is_sent.set(true);
        if nameless.get_untracked() {
            return focus_soon(FIRST);
        }
        if let Some(field) = wrong.get_untracked() {
            return focus_soon(field);
        }
        let header = header.get_untracked().without_blank_names();
        let job = Job::open(
            device::fresh_id(),
            procedure.clone(),
            header,
            device::stamp(),
        );
        let route = leads_to(job.id.clone());
        if bench.save(job) {
            bench.keep_form(FORM, "");
            bench.go(&route);
        }
    };
    let start = StoredValue::new(start);
    let first_step = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        start.with_value(|start| start(|job| Route::Step { job, step: None }));
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Start(None).address()>{way}</a></p>
            <h1>{heading}</h1>
            <p class="lead">{lead}</p>
            {has_cautions.then(|| view! { <aside class="caution"><strong>{shared::CAUTION}</strong>{cautions}</aside> })}
            {is_left_over.then(|| view! { <p role="status">{words::LEFT_OVER}</p> })}
            <form on:submit=first_step>
                <HeaderForm header procedure=shown wrong nameless/>
                <div class="row">
                    <button type="submit" class="main large">{words::START_THE_JOB}</button>
                    <button type="button" class="large" on:click=move |_| start.with_value(|start| start(Route::Photos))>
                        {words::START_WITH_A_PHOTO}
                    </button>
                </div>
            </form>
        </section>
    }
}
