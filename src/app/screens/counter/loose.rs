//! Readings that belong to no job yet: into which one they go.

use crate::app::platform::device;
use crate::app::screens::work::steps;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::ui::{Removal, StatusMark, find};
use crate::app::words::counter::{jobs, loose as words};
use crate::app::words::shared;
use crate::app::words::shell::find as find_words;
use crate::job::{Deed, Job, Line, Progress, Search, is_break_due};
use crate::procedure::{Id, Step};
use leptos::prelude::*;
use std::sync::Arc;

/// The screen.
pub fn screen() -> Option<impl IntoView> {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let one_more = Route::AddStep(job.clone()).address();
    let the_set = Route::Details(job.clone()).address();
    let gone = job.clone();
    let throw_away = Callback::new(move |()| {
        if bench.with_store(|store| store.remove_job(&gone)).is_some() {
            bench.go_and_say_when_kept(&Route::Jobs, words::THROWN_AWAY.to_owned());
            device::after_paint(move || bench.job.set(None));
        }
    });
    Some(view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Jobs.address()>{jobs::TITLE}</a></p>
            <h1>{words::WHAT_NOW}</h1>
            {move || bench.progress.with(|progress| Some(readings(bench, &job, progress.as_ref()?)))}
            <div class="row">
                <a class="button" href=one_more>{words::ONE_MORE}</a>
                <Removal ask=words::THROW_AWAY remove=words::THROW_AWAY_NOW keep=words::KEEP_IT on_remove=throw_away/>
            </div>
            <h2>{words::INTO}</h2>
            <p>{words::INTO_LEAD}</p>
            {open_jobs(bench)}
            <h2>{words::MAKE_A_JOB}</h2>
            <p>{words::MAKE_A_JOB_LEAD}</p>
            <a class="button" href=the_set>{shared::THE_SET}</a>
        </section>
    })
}

/// What was read, each with the way there.
fn readings(bench: Bench, job: &Id, progress: &Progress) -> impl IntoView + use<> {
    let steps = progress.course.procedure.steps().zip(&progress.steps);
    let rows = steps.map(|(step, standing)| steps::row(bench, job, step, standing));
    view! { <ol class="steps">{rows.collect_view()}</ol> }
}

/// The jobs that it can go into, the latest first.
fn open_jobs(bench: Bench) -> impl IntoView {
    let typed = RwSignal::new(String::new());
    let most = RwSignal::new(find::AT_ONCE);
    let open = Memo::new(move |_| {
        bench.lines.with(|lines| {
            let open = lines.iter().filter(|line| takes(line));
            open.cloned().collect::<Vec<Arc<Line>>>()
        })
    });
    let several = move || open.with(|open| open.len() > 1);
    let rows = move || {
        let search = Search::of(&typed.get());
        let found: Vec<Arc<Line>> = open.with(|open| {
            let found = open.iter().filter(|line| search.finds_job(line));
            found.cloned().collect()
        });
        let all = found.len();
        let rows = found.into_iter().take(most.get());
        let rows = rows.map(|line| {
            let (id, title) = (line.id.clone(), line.title());
            let name = title.clone();
            let keep = move |_| keep_into(bench, &id, &name);
            view! { <li><button type="button" class="plain" on:click=keep>{title}</button></li> }
        });
        view! {
            <ul class="plain-list">{rows.collect_view()}</ul>
            {find::more(most, all)}
        }
    };
    view! {
        <Show when=several>{find::field("find-open", typed, find_words::FIND_HINT)}</Show>
        <Show when=move || open.with(Vec::is_empty)><p>{words::NO_OPEN_JOB}</p></Show>
        {rows}
    }
}

fn takes(line: &Line) -> bool {
    !line.is_finished() && !line.is_loose()
}

fn keep_into(bench: Bench, id: &Id, title: &str) {
    let loose = bench.job.get_untracked();
    let Some((loose, mut job)) = loose.zip(untrack(|| bench.stored_job(id))) else {
        return;
    };
    let course = loose.course();
    let first = course.procedure.steps().next();
    let step = first.map(|step: &Step| step.id.clone());
    if let Err(refusal) = take_in(&mut job, &loose) {
        return bench.refuse(refusal.to_string());
    }
    let kept = bench.with_store(|store| {
        store.save_job(&job)?;
        store.remove_job(&loose.id)
    });
    if kept.is_some() {
        let job = id.clone();
        bench.go_and_say_when_kept(&Route::Step { job, step }, words::kept_into(title));
    }
}

fn take_in(job: &mut Job, loose: &Job) -> Result<(), crate::job::Refusal> {
    let progress = job.progress();
    // An entry of now would hide how long the job has rested.
    if is_break_due(job, &progress, device::now()) {
        job.record_at(&progress, device::stamp(), Deed::Paused)?;
    }
    job.take_in(loose, words::TAKEN_BEFORE, device::stamp)
}

/// The way to what becomes of a reading without a job.
pub fn way(job: &Id) -> impl IntoView + use<> {
    view! { <a class="button main" href=Route::Loose(job.clone()).address()>{words::WHAT_NOW}</a> }
}

/// A reading without a job in the list of jobs.
pub fn card(bench: Bench, line: &Line) -> Option<impl IntoView + use<>> {
    let job = bench.stored_job(&line.id)?;
    let progress = job.progress();
    let steps = progress.course.procedure.steps().zip(&progress.steps);
    let rows = steps.map(|(step, standing)| {
        let value = match steps::result(bench, standing) {
            none if none.is_empty() => words::NOT_READ.to_owned(),
            value => value,
        };
        let said = words::line(&step.title, &value);
        view! { <strong>{said}</strong> <StatusMark status=standing.status behind=standing.behind/> }
    });
    let when = device::date_and_time(line.touched);
    Some(view! {
        <li>
            <a class="card" href=Route::Loose(line.id.clone()).address()>
                {rows.collect_view()}
                <span>{when}</span>
            </a>
        </li>
    })
}
