//! The hand-over: the report of a job, to be printed or saved, and its label.

use crate::app::screens::counter::paper;
use crate::app::screens::set::photos;
use crate::app::screens::set::photos::Album;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::words::counter::report as words;
use crate::app::words::shared;
use crate::exchange::report::{Report, csv, html, label::Label};
use crate::job::{Job, is_same_set};
use leptos::prelude::*;

/// The report.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let album = photos::album(bench);
    on_cleanup(paper::plain_pages);
    move || {
        let job = bench.job.get()?;
        // A sheet is never shown, printed or saved with photos still to come.
        let photos = album.get()?;
        let report = report_of(bench, &job, &photos);
        paper::head_pages(&report.running);
        let serial = bench.progress.get()?.header.set.serial;
        // Every text in it is escaped, and the page's policy runs nothing that isn't ours.
        let sheet = html::fragment(&report);
        Some(view! {
            <section class="page report-page">
                <p class="crumbs">
                    <a href=Route::Steps(job.id.clone()).address()>{shared::ALL_STEPS}</a>
                    {(!serial.trim().is_empty()).then(|| view! {
                        <a href=Route::Set(serial.clone()).address()>{words::ALL_VISITS}</a>
                    })}
                </p>
                {actions(bench, job, album)}
                <div inner_html=sheet></div>
            </section>
        })
    }
}

fn report_of(bench: Bench, job: &Job, photos: &Album) -> Report {
    let set = job.progress().header.set;
    let others = bench.jobs_where(|line| is_same_set(&line.set, &set));
    let preferences = bench.preferences.get();
    paper::with_album(&preferences, photos, |look| Report::of(job, &others, look))
}

fn actions(bench: Bench, job: Job, album: RwSignal<Option<Album>>) -> impl IntoView {
    let label = Route::Label(job.id.clone()).address();
    let job = StoredValue::new(job);
    let save_page = move |_| {
        let job = job.get_value();
        let photos = album.get_untracked().unwrap_or_default();
        let text = html::file(&untrack(|| report_of(bench, &job, &photos)));
        paper::save(bench, &job, "report", ".html", "text/html", &text);
    };
    let save_readings = move |_| {
        let job = job.get_value();
        let preferences = bench.preferences.get_untracked();
        let text = paper::with_look(&preferences, |look| csv::readings(&job, look));
        paper::save(bench, &job, "readings", ".csv", "text/csv", &text);
    };
    view! {
        <div class="row no-print">
            <button type="button" class="main" on:click=|_| paper::print()>{shared::PRINT}</button>
            <button type="button" on:click=save_page>{words::SAVE_PAGE}</button>
            <button type="button" on:click=save_readings>{words::SAVE_TABLE}</button>
            <a class="button" href=label>{words::LABEL}</a>
            <a class="button" href=Route::Verify.address()>{shared::CHECK_A_SHEET}</a>
        </div>
    }
}

/// The label.
pub fn label() -> impl IntoView {
    let bench = use_bench();
    move || {
        let job = bench.job.get()?;
        let preferences = bench.preferences.get();
        let label = paper::with_look(&preferences, |look| Label::of(&job, look));
        let is_signed = bench.progress.with(|progress| {
            let closed = progress.as_ref().filter(|progress| progress.is_closed());
            closed.is_some_and(|progress| progress.signed_off.is_some())
        });
        let missing = label.due.is_none().then(|| {
            view! {
                <p class="hint no-print">{words::NO_NEXT_CHECK}</p>
            }
        });
        Some(view! {
            <section class="page label-page">
                <p class="crumbs">
                    <a href=Route::Report(job.id.clone()).address()>{shared::THE_REPORT}</a>
                    <a href=Route::Details(job.id.clone()).address()>{shared::THE_SET}</a>
                </p>
                <h1 class="no-print">{words::LABEL}</h1>
                <p class="no-print">{words::LABEL_LEAD}</p>
                {missing}
                {match is_signed {
                    true => view! {
                        <div class="row no-print">
                            <button type="button" class="main" on:click=|_| paper::print()>{shared::PRINT}</button>
                        </div>
                    }
                    .into_any(),
                    false => view! { <p class="no-print">{words::LABEL_TOO_EARLY}</p> }.into_any(),
                }}
                <div class="label-holder" inner_html=label.fragment()></div>
            </section>
        })
    }
}
