//! The hand-over: the report of a job, to be printed or saved, and its label.

use super::bench::{Bench, use_bench};
use super::paper;
use super::route::Route;
use crate::exchange::report::{Report, csv, html, label::Label};
use crate::job::Job;
use leptos::prelude::*;

/// The report.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    on_cleanup(paper::plain_pages);
    move || {
        let job = bench.job.get()?;
        let report = report_of(bench, &job);
        paper::head_pages(&report);
        let serial = bench.progress.get()?.header.set.serial;
        // Every text in it is escaped, and the page's policy runs nothing that isn't ours.
        let sheet = html::fragment(&report);
        Some(view! {
            <section class="page report-page">
                <p class="crumbs">
                    <a href=Route::Steps(job.id.clone()).address()>"All steps"</a>
                    {(!serial.trim().is_empty()).then(|| view! {
                        <a href=Route::Set(serial.clone()).address()>"All visits of this set"</a>
                    })}
                </p>
                {actions(bench, job)}
                <div inner_html=sheet></div>
            </section>
        })
    }
}

fn report_of(bench: Bench, job: &Job) -> Report {
    let others = bench.contents().jobs;
    let preferences = bench.preferences.get();
    paper::with_look(&preferences, |look| Report::of(job, &others, look))
}

fn actions(bench: Bench, job: Job) -> impl IntoView {
    let label = Route::Label(job.id.clone()).address();
    let job = StoredValue::new(job);
    let save_page = move |_| {
        let job = job.get_value();
        let text = html::file(&untrack(|| report_of(bench, &job)));
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
            <button type="button" class="main" on:click=|_| paper::print()>"Print"</button>
            <button type="button" on:click=save_page>"Save as a page"</button>
            <button type="button" on:click=save_readings>"Save the readings as a table"</button>
            <a class="button" href=label>"Label"</a>
            <a class="button" href=Route::Verify.address()>"Check a sheet"</a>
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
        let missing = label.due.is_none().then(|| {
            view! {
                <p class="hint no-print">"The day of the next check is not known. It can be set with the set’s details until the job is signed off."</p>
            }
        });
        Some(view! {
            <section class="page label-page">
                <p class="crumbs">
                    <a href=Route::Report(job.id.clone()).address()>"The report"</a>
                    <a href=Route::Details(job.id.clone()).address()>"The set"</a>
                </p>
                <h1 class="no-print">"Label"</h1>
                <p class="no-print">"80 by 36 mm. The code holds the job’s number and the fingerprint of its file as it is now: print it after the sign-off."</p>
                {missing}
                <div class="row no-print">
                    <button type="button" class="main" on:click=|_| paper::print()>"Print"</button>
                </div>
                <div class="label-holder" inner_html=label.fragment()></div>
            </section>
        })
    }
}
