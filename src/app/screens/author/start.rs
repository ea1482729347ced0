//! How a procedure is begun: from nothing, or from one that is there; and what is begun.

use crate::app::platform::device;
use crate::app::screens::author::controls::address::address;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::desk::Desk;
use crate::app::shell::route::Route;
use crate::app::words::{author as words, procedures as procedure_words};
use crate::authoring::{Draft, Gravity, remarks};
use crate::exchange::{Starter, starters};
use crate::procedure::{Listed, Procedure, latest};
use crate::store::Saving;
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let blank = move |_| {
        begin(bench, Draft::blank(device::fresh_id()));
    };
    move || {
        let procedures = latest(bench.procedures());
        let rows = procedures.into_iter().map(|Listed { procedure, mark }| {
            let mark = mark.as_deref().map(procedure_words::one_of_several);
            let procedure = StoredValue::new(procedure);
            let (title, about) = procedure.with_value(|p| {
                (p.title.clone(), words::about(p.revision, p.steps().count()))
            });
            let name = title.clone();
            let other = title.clone();
            view! {
                <li class="removable">
                    <span><strong>{title}</strong>" "<span class="hint">{about}</span>
                        {mark.map(|mark| view! { <span class="hint">{mark}</span> })}</span>
                    <span class="row">
                        <button type="button" aria-label=words::change_named(&name)
                            on:click=move |_| procedure.with_value(|p| change(bench, p))>{words::CHANGE}</button>
                        <button type="button" aria-label=words::copy_named(&other)
                            on:click=move |_| procedure.with_value(|p| copy(bench, p))>{words::COPY}</button>
                    </span>
                </li>
            }
        });
        let rows: Vec<_> = rows.collect();
        let any = !rows.is_empty();
        view! {
            <section class="page author">
                <p class="crumbs"><a href=Route::Procedures.address()>{words::ALL_PROCEDURES}</a></p>
                <h1>{words::WRITE}</h1>
                <p class="lead">{words::WRITE_LEAD}</p>
                <div class="row">
                    <button type="button" class="main large" on:click=blank>{words::FROM_NOTHING}</button>
                </div>
                <h2>{words::FROM_STARTER}</h2>
                <p class="hint">{words::FROM_STARTER_HINT}</p>
                <ul class="plain-list">{starter_rows(bench)}</ul>
                {any.then(|| view! { <h2>{words::FROM_ANOTHER}</h2><p class="hint">{words::FROM_ANOTHER_HINT}</p> })}
                <ul class="plain-list">{rows}</ul>
            </section>
        }
    }
}

/// Procedures for sets in general, each with the key that starts from it.
fn starter_rows(bench: Bench) -> impl IntoView {
    let row = |starter: Starter| {
        let draft = StoredValue::new(starter.draft);
        let begin = move |_| {
            let draft = Draft {
                id: device::fresh_id(),
                ..draft.get_value()
            };
            self::begin(bench, draft);
        };
        view! {
            <li class="removable">
                <span class="starter"><strong>{starter.name.clone()}</strong><span class="hint">{starter.about}</span></span>
                <button type="button" aria-label=words::start_from_named(&starter.name) on:click=begin>{words::START_FROM}</button>
            </li>
        }
    };
    let all = starters(bench.sign_now()).into_iter();
    all.map(row).collect_view()
}

/// Puts a draft into the store and shows it.
pub fn begin(bench: Bench, draft: Draft) {
    let saved = bench.with_store(|store| store.save_authored(&draft, 0, device::now()));
    match saved {
        Some(Saving::Saved(_)) => bench.go(&Route::Author(Desk::Whole(draft.id, None))),
        Some(_) => {
            bench.go(&Route::Author(Desk::Whole(draft.id, None)));
            bench.say(words::GOES_ON);
        }
        None => {}
    }
}

/// Begins the next revision of a procedure, or goes on with it where it is begun.
pub fn change(bench: Bench, procedure: &Procedure) {
    begin(bench, Draft::of(procedure, bench.sign_now()));
}

/// Begins a procedure of its own from a copy.
pub fn copy(bench: Bench, procedure: &Procedure) {
    let draft = Draft {
        id: device::fresh_id(),
        from: 0,
        title: words::copy_of(&procedure.title),
        ..Draft::of(procedure, bench.sign_now())
    };
    begin(bench, draft);
}

/// The drafts on this device, as cards; nothing where there are none.
pub fn drafts(bench: Bench) -> impl IntoView {
    bench.changes.track();
    let drafts = bench
        .read_store(|store| store.all_authored())
        .unwrap_or_default();
    let kit = bench.kit();
    let sign = bench.sign();
    (!drafts.is_empty()).then(|| {
        let cards = drafts.into_iter().map(|authored| {
            let draft = authored.draft;
            let said = remarks(&draft, &kit, sign);
            let faults = said.iter().filter(|r| r.gravity == Gravity::Fault).count();
            let state = words::draft_state(faults, &device::date_and_time(authored.at));
            view! {
                <li>
                    <a class="card" href=address(Desk::Whole(draft.id.clone(), None))>
                        <strong>{words::draft_title(&draft.title)}</strong>
                        <span>{draft.covers.clone()}</span>
                        <span class="card-state">{words::draft_about(draft.from, draft.steps().count())}</span>
                        <span class="hint">{move || bench.once_kept(&state)}</span>
                    </a>
                </li>
            }
        });
        view! {
            <h2>{words::DRAFTS}</h2>
            <ul class="cards">{cards.collect_view()}</ul>
        }
    })
}
