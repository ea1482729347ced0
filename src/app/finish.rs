//! Finish: what is still open, who signs off, save the file.

use super::bench::{Bench, use_bench};
use super::care;
use super::carry::Outgoing;
use super::device;
use super::files::{key_of, ways_out};
use super::parts::{Ask, Question, StatusMark, damage, field_text};
use super::route::Route;
use super::safekeeping::Kept;
use super::words::{finish as words, frame, shared};
use crate::exchange::{Document, report};
use crate::job::{Deed, Job, Progress, SignOff, Status};
use leptos::prelude::*;

const REOPEN: Question = Question {
    title: words::REOPEN_THIS,
    hint: words::REOPEN_HINT,
    answer: words::REOPEN,
};

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let question = RwSignal::new(None);
    let reopen = move |_: Question, reason: String| {
        bench.try_record([Deed::Reopened { reason }])?;
        // The set may have been away until now.
        bench.note_break();
        Ok(())
    };
    let by = RwSignal::new(technician(bench));
    let remarks = RwSignal::new(String::new());
    view! {
        <Ask question on_answer=reopen/>
        {move || {
            let job = bench.job.get()?;
            let progress = bench.progress.get()?;
            let state = match &progress.signed_off {
                Some(done) => view! {
                    {open_again(&job, &progress)}
                    {signed(bench, done, question)}
                }
                .into_any(),
                None if progress.owed().next().is_some() => still_open(&job, &progress).into_any(),
                None if progress.still_off().next().is_some() => ().into_any(),
                None => sign_off(bench, by, remarks).into_any(),
            };
            Some(view! {
                <section class="page">
                    <p class="crumbs">
                        <span>{shared::job(&progress.header.number, &progress.header.set.title())}</span>
                        <a href=Route::Steps(job.id.clone()).address()>{shared::ALL_STEPS}</a>
                    </p>
                    <h1>{words::TITLE}</h1>
                    {damage(&job, bench.sign())}
                    {counts(&progress)}
                    {state}
                    <h2>{words::THE_SHEET}</h2>
                    <p>{words::SHEET_LEAD}</p>
                    <a class="button large" href=Route::Report(job.id.clone()).address()>{shared::THE_REPORT}</a>
                    {care::sections(&job, &progress, bench.sign())}
                    {save(bench, job)}
                </section>
            })
        }}
    }
}

fn technician(bench: Bench) -> String {
    let of_job = bench
        .progress
        .with_untracked(|p| p.as_ref().map(|p| p.header.technician.clone()));
    of_job
        .filter(|name| !name.is_empty())
        .unwrap_or_else(|| bench.preferences.with_untracked(|p| p.technician.clone()))
}

fn counts(progress: &Progress) -> impl IntoView + use<> {
    let count = |status| progress.steps.iter().filter(|s| s.status == status).count();
    let rows = [
        Status::Done,
        Status::Waived,
        Status::Outside,
        Status::Unproved,
        Status::Unsettled,
        Status::LookAgain,
        Status::Lapsed,
        Status::WaitAgain,
        Status::Open,
    ]
    .into_iter()
    .map(|status| {
        view! {
            <div class="tally">
                <dt><StatusMark status/></dt>
                <dd>{count(status)}</dd>
            </div>
        }
    })
    .collect_view();
    view! { <dl class="tallies">{rows}</dl> }
}

/// A signed job is open again where a copy was merged that holds more than the sign-off knew of.
fn open_again(job: &Job, progress: &Progress) -> Option<impl IntoView + use<>> {
    let (owed, off) = (progress.owed().count(), progress.still_off().count());
    (!progress.is_closed()).then(|| {
        view! {
            <p class="lead" role="alert"><strong>{report::words::signed_but_open(owed, off)}</strong></p>
            {(owed > 0).then(|| still_open(job, progress))}
        }
    })
}

fn still_open(job: &Job, progress: &Progress) -> impl IntoView + use<> {
    let rows = progress
        .owed()
        .map(|standing| {
            let title = job
                .procedure
                .step(&standing.id)
                .map(|step| step.title.clone());
            let route = Route::Step {
                job: job.id.clone(),
                step: Some(standing.id.clone()),
            };
            view! {
                <li>
                    <a class="step-row" href=route.address()>
                        <span class="step-number">{standing.number}</span>
                        <span class="step-title">{title}</span>
                        <StatusMark status=standing.status behind=standing.behind/>
                    </a>
                </li>
            }
        })
        .collect_view();
    view! {
        <h2>{words::STILL_OPEN}</h2>
        <p>{words::STILL_OPEN_LEAD}</p>
        <ol class="steps">{rows}</ol>
    }
}

fn sign_off(bench: Bench, by: RwSignal<String>, remarks: RwSignal<String>) -> impl IntoView {
    let sign = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        bench.record(Deed::SignedOff {
            by: by.get_untracked(),
            remarks: remarks.get_untracked(),
        });
    };
    view! {
        <form on:submit=sign>
            <h2>{words::SIGN_OFF}</h2>
            <div class="fields">
                <div class="field">
                    <label for="signed-by">{words::WHO_ANSWERS}</label>
                    <input id="signed-by" type="text" autocomplete="name" prop:value=move || field_text(by.get())
                        on:input=move |e| by.set(event_target_value(&e))/>
                </div>
                <div class="field field-long">
                    <label for="remarks">{words::REMARKS}</label>
                    <textarea id="remarks" rows="3" prop:value=move || field_text(remarks.get())
                        on:input=move |e| remarks.set(event_target_value(&e))></textarea>
                </div>
            </div>
            <button type="submit" class="main large">{words::SIGN_OFF_JOB}</button>
        </form>
    }
}

fn signed(
    bench: Bench,
    done: &SignOff,
    question: RwSignal<Option<Question>>,
) -> impl IntoView + use<> {
    let by = words::signed(&done.by, &device::date_and_time(done.at));
    let heading = move || match bench.is_kept() {
        Kept::Soon => frame::SAVING,
        Kept::Surely | Kept::Unsurely => words::SIGNED_OFF,
    };
    view! {
        <h2>{heading}</h2>
        <p>{move || bench.once_kept(&by)}</p>
        <p>{done.remarks.clone()}</p>
        <button type="button" on:click=move |_| question.set(Some(REOPEN))>{words::REOPEN_JOB}</button>
    }
}

fn save(bench: Bench, job: Job) -> impl IntoView {
    let document = StoredValue::new(Document::Job(job));
    view! {
        <h2>{words::THE_FILE}</h2>
        <p>{words::FILE_LEAD}</p>
        <button type="button" class="large" on:click=move |_| bench.save_as_file(&document.get_value())>
            {words::SAVE_FILE}
        </button>
        {ways_out(document.with_value(key_of), move || Some(Outgoing::one(document.get_value())))}
    }
}
