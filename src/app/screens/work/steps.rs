//! All steps of a job at a glance.

use crate::app::screens::counter::{dealings, loose};
use crate::app::screens::set::{papers, photos};
use crate::app::screens::work::{put_back, several};
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::ui::{LineMap, StatusMark, damage};
use crate::app::words::set::trace as trace_words;
use crate::app::words::shared;
use crate::app::words::work::{several as several_words, steps as words};
use crate::exchange::report;
use crate::job::{Job, LineMap as Map, Origin, Progress, StepProgress};
use crate::procedure::{Id, ReadingTable, Section, Step};
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    move || {
        let job = bench.job.get()?;
        let progress = bench.progress.get()?;
        let procedure = &progress.course.procedure;
        let sections = procedure.sections.iter().filter(|it| !it.steps.is_empty());
        let sections = sections.map(|part| section(bench, &job, &progress, part));
        Some(view! {
            <section class="page">
                <p class="crumbs">
                    <span>{shared::job(&progress.header.number, &progress.header.set.title())}</span>
                    {put_back::counter(bench, &job.id)}
                </p>
                <h1>{shared::ALL_STEPS}</h1>
                {match progress.steps.len() {
                    0 => view! { <p>{words::NOTHING_YET}</p> }.into_any(),
                    all => view! { <p class="lead">{words::settled(progress.settled(), all)}</p> }.into_any(),
                }}
                {(!progress.steps.is_empty()).then(|| {
                    let here = progress.current().map(|step| step.number);
                    view! { <LineMap map=Map::of(&progress) here/> }
                })}
                {left_out(&progress)}
                {damage(&job, bench.sign())}
                <div class="row">
                    {(!progress.steps.is_empty()).then(|| view! {
                        <a class="button main" href=Route::Step { job: job.id.clone(), step: None }.address()>{words::GO_ON}</a>
                    })}
                    {progress.signed_off.is_none().then(|| more(&job))}
                    {progress.is_loose().then(|| loose::way(&job.id))}
                    <a class="button" href=Route::Details(job.id.clone()).address()>{shared::THE_SET}</a>
                    {progress.course.procedure.plan.is_some().then(|| view! {
                        <a class="button" href=Route::Plan(job.id.clone()).address()>{shared::FREQUENCY_PLAN}</a>
                    })}
                    {photos::way(&job, progress.photos.len(), progress.sounds.len())}
                    {papers::way(&job, progress.papers.len())}
                    {(!progress.is_loose()).then(|| view! {
                        <a class="button" href=Route::Finish(job.id.clone()).address()>{words::FINISH}</a>
                        <a class="button" href=Route::Report(job.id.clone()).address()>{words::REPORT}</a>
                    })}
                    {progress.signed_off.is_none().then(|| view! {
                        <button type="button" on:click=move |_| bench.pause(words::BREAK)>{words::TAKE_BREAK}</button>
                        <button type="button" on:click=move |_| bench.undo(None)>{shared::UNDO}</button>
                    })}
                </div>
                {sections.collect_view()}
            </section>
        })
    }
}

fn section(
    bench: Bench,
    job: &Job,
    progress: &Progress,
    section: &Section,
) -> impl IntoView + use<> {
    // The cells of a table stand together in one block, in the place of the first.
    let rows = section
        .steps
        .iter()
        .filter_map(|step| match progress.course.procedure.table_of(&step.id) {
            None => Some(row(bench, &job.id, step, progress.step(&step.id)?).into_any()),
            Some(table) if table.steps().next() == Some(&step.id) => {
                Some(block(bench, job, progress, table).into_any())
            }
            Some(_) => None,
        })
        .collect_view();
    view! {
        {heading(progress, section)}
        <ol class="steps">{rows}</ol>
    }
}

/// What another copy of the job took on that doesn't go with what is here.
fn left_out(progress: &Progress) -> impl IntoView + use<> {
    let all = progress.course.left_out.iter();
    let all = all.map(|it| view! { <p role="status">{report::words::left_out(it)}</p> });
    all.collect_view()
}

/// What else the job may be worked by.
fn more(job: &Job) -> impl IntoView + use<> {
    let take_on = Route::TakeOn {
        job: job.id.clone(),
        digest: None,
    };
    view! {
        <a class="button" href=Route::AddStep(job.id.clone()).address()>{shared::ADD_A_STEP}</a>
        <a class="button" href=take_on.address()>{shared::TAKE_ON}</a>
        <a class="button" href=Route::Faults(job.id.clone()).address()>{shared::FAULTS}</a>
        <a class="button" href=Route::Trace(job.id.clone()).address()>{trace_words::TITLE}</a>
        {dealings::way(job)}
    }
}

/// What a section is called, below the name of its procedure where that begins.
fn heading(progress: &Progress, section: &Section) -> impl IntoView + use<> {
    let course = &progress.course;
    let first = section.steps.first().map(|step| &step.id);
    let part = first.and_then(|first| course.part_with(first));
    let begins = part.filter(|part| {
        let number = first.and_then(|first| course.procedure.number_of(first));
        number == Some(part.steps.start + 1)
    });
    let name = begins.and_then(|part| part.from.name());
    let name = name.filter(|_| course.procedures().count() > 1);
    let name = name.map(|name| words::procedure(&name.title, name.revision));
    let title = match part.map(|part| &part.from) {
        Some(Origin::Bench) => report::words::ADDED_STEPS.to_owned(),
        _ => section.title.clone(),
    };
    view! {
        {name.map(|name| view! { <p class="steps-procedure">{name}</p> })}
        <h2>{title}</h2>
    }
}

/// The steps of a table in a block that opens.
fn block(
    bench: Bench,
    job: &Job,
    progress: &Progress,
    table: &ReadingTable,
) -> impl IntoView + use<> {
    let rows = table
        .steps()
        .filter_map(|id| {
            Some(row(
                bench,
                &job.id,
                progress.course.procedure.step(id)?,
                progress.step(id)?,
            ))
        })
        .collect_view();
    let standing = progress.table(table);
    let behind = table.steps().find_map(|id| progress.step(id)?.behind);
    view! {
        <li>
            <details class="steps-table">
                <summary class="step-row">
                    <span class="step-number">{several::numbers(&progress.course.procedure, table)}</span>
                    <span class="step-title">{table.title.clone()}</span>
                    <span class="step-result">{several_words::done(standing.done, standing.waived, standing.cells)}</span>
                    <StatusMark status=standing.status behind/>
                </summary>
                <ol class="steps">{rows}</ol>
            </details>
        </li>
    }
}

/// A step with what came of it, and the way there.
pub fn row(bench: Bench, job: &Id, step: &Step, standing: &StepProgress) -> impl IntoView + use<> {
    let route = Route::Step {
        job: job.clone(),
        step: Some(step.id.clone()),
    };
    view! {
        <li>
            <a class="step-row" href=route.address()>
                <span class="step-number">{standing.number}</span>
                <span class="step-title">{step.title.clone()}</span>
                <span class="step-result">{result(bench, standing)}</span>
                <StatusMark status=standing.status behind=standing.behind/>
            </a>
        </li>
    }
}

/// What came of the step, in a few words.
pub fn result(bench: Bench, standing: &StepProgress) -> String {
    let sign = bench.sign();
    if let Some(waived) = &standing.waived {
        return waived.text.clone();
    }
    if let Some(answer) = &standing.answer {
        return words::finding(answer.finding.name(), &answer.note);
    }
    let found = standing.found.as_ref().map(|found| &found.judged);
    let left = standing.left.as_ref().map(|left| &left.judged);
    match (found, left) {
        (Some(found), Some(left)) if found != left => {
            shared::becomes(&found.typeset(sign), &left.typeset(sign))
        }
        (_, Some(value)) => value.typeset(sign),
        (Some(found), None) => words::found(&found.typeset(sign)),
        (None, None) => String::new(),
    }
}
