//! Files: backup, what is opened and exported, storage used.

use crate::app::platform::device;
use crate::app::platform::device::Parts;
use crate::app::screens::device::bring_in;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::carry::Outgoing;
use crate::app::shell::files::ways_out;
use crate::app::shell::room::{Found, survey};
use crate::app::shell::route::Route;
use crate::app::shell::{at_risk, carry, files, room};
use crate::app::ui::Removal;
use crate::app::ui::find::{AT_ONCE, more};
use crate::app::words::device::data as words;
use crate::app::words::shared;
use crate::exchange::Document;
use crate::job::Line;
use crate::store::Aside;
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let survey = survey(bench);
    view! {
        <section class="page">
            <h1>{words::TITLE}</h1>
            {backup(bench, survey)}
            {room::section(bench, survey)}
            {bring_in::section()}
            <h2>{shared::CHECK_A_SHEET}</h2>
            <p>{words::CHECK_LEAD}</p>
            <a class="button" href=Route::Verify.address()>{shared::CHECK_A_SHEET}</a>
            {remove(bench)}
            {asides(bench, survey)}
        </section>
    }
}

fn backup(bench: Bench, survey: Found) -> impl IntoView {
    let save = move |_| carry::save(bench, Outgoing::All);
    let used = move || {
        survey.with(|found| match found {
            Some(Ok(found)) => words::used(found.jobs, found.procedures, found.size.div_ceil(1024)),
            Some(Err(why)) => shared::sentence(why),
            None => words::COUNTING.to_owned(),
        })
    };
    let drafts = move || {
        bench.changes.track();
        let drafts = bench.read_store(|store| store.all_authored());
        let count = drafts.map_or(0, |drafts| drafts.len());
        (count > 0).then(|| view! { <p class="hint">{words::drafts_stay(count)}</p> })
    };
    view! {
        <h2>{words::BACKUP}</h2>
        <p>{words::BACKUP_LEAD}</p>
        <p class="hint">{used}</p>
        {drafts}
        {at_risk::line(bench)}
        {move || bench.safekeeping.trouble.get().map(|why| view! { <p class="hint">{words::unsure(&why)}</p> })}
        <button type="button" class="main" on:click=save>{words::SAVE_BACKUP}</button>
        {ways_out(files::BACKUP.to_owned(), || Some(Outgoing::All))}
        <p>{words::PICK_LEAD}</p>
        <a class="button" href=Route::Export.address()>{words::PICK}</a>
    }
}

/// The jobs, a part of them at first, each with the ways to save and to remove it.
fn remove(bench: Bench) -> impl IntoView {
    let most = RwSignal::new(AT_ONCE);
    move || {
        let lines = bench.lines.get();
        if lines.is_empty() {
            return None;
        }
        let all = lines.len();
        let rows = lines.into_iter().take(most.get());
        Some(view! {
            <h2>{words::JOBS_HERE}</h2>
            <ul class="plain-list">{rows.map(|line| removable(bench, &line)).collect_view()}</ul>
            {more(most, all)}
        })
    }
}

fn removable(bench: Bench, line: &Line) -> impl IntoView + use<> {
    let title = shared::listed(&line.title());
    let id = line.id.clone();
    let saved = id.clone();
    let save = move |_| {
        if let Some(job) = bench.stored_job(&saved) {
            bench.save_as_file(&Document::Job(job));
        }
    };
    let gone = title.clone();
    let remove = Callback::new(move |()| {
        if bench.with_store(|store| store.remove_job(&id)).is_some() {
            bench.job.set(None);
            bench.say_when_kept(words::removed(&gone));
        }
    });
    view! {
        <li class="removable">
            <span>{title}</span>
            <span class="row">
                <button type="button" on:click=save>{words::SAVE}</button>
                <Removal ask=words::REMOVE_ASKS remove=words::REMOVE keep=words::KEEP_IT on_remove=remove/>
            </span>
        </li>
    }
}

fn asides(bench: Bench, survey: Found) -> impl IntoView {
    let asides = Memo::new(move |_| {
        survey.with(|found| match found {
            Some(Ok(found)) => found.asides.clone(),
            _ => Vec::new(),
        })
    });
    move || {
        let asides = asides.get();
        (!asides.is_empty()).then(|| {
            view! {
                <h2>{words::SET_ASIDE}</h2>
                <p>{words::SET_ASIDE_LEAD}</p>
                <ul class="plain-list">{asides.into_iter().map(|a| aside(bench, a)).collect_view()}</ul>
            }
        })
    }
}

fn aside(bench: Bench, aside: Aside) -> impl IntoView {
    let Aside { key, why, text } = aside;
    let name = format!("{}.txt", key.replace(':', "-"));
    let save = move |_| {
        if device::save_file_as(&name, &Parts::of(&text), device::DOCUMENT).is_err() {
            bench.refuse(shared::NOT_SAVED);
        }
    };
    view! {
        <li class="removable">
            <span><strong>{key}</strong><span class="hint">{why}</span></span>
            <button type="button" on:click=save>{words::SAVE}</button>
        </li>
    }
}
