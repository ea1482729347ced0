//! Takes a procedure on in the job in hand.

use crate::app::screens::procedures::card;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::ui::list_of;
use crate::app::words::work::take_on as words;
use crate::app::words::{procedures as procedure_words, shared};
use crate::job::{Deed, Job};
use crate::procedure::{Listed, Procedure, latest};
use leptos::prelude::*;

/// The screen, with the procedure of this digest if one was picked.
pub fn screen(digest: Option<String>) -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?;
    let picked = digest.and_then(|digest| bench.procedure(&digest));
    Some(match picked {
        Some(procedure) => one(bench, job, procedure).into_any(),
        None => pick(bench, job).into_any(),
    })
}

fn pick(bench: Bench, job: Job) -> impl IntoView {
    let to = Route::Steps(job.id.clone()).address();
    let here = bench.course();
    let is_new = move |listed: &Listed| {
        let known = here.as_ref().map(|course| {
            let mut names = course.procedures();
            names.any(|name| name.id == listed.procedure.id)
        });
        known == Some(false)
    };
    let all: Vec<Listed> = latest(bench.procedures())
        .into_iter()
        .filter(is_new)
        .collect();
    let none = all.is_empty();
    let cards = all.iter().map(|listed| {
        let route = Route::TakeOn {
            job: job.id.clone(),
            digest: Some(listed.procedure.digest()),
        };
        card(listed, &route)
    });
    view! {
        <section class="page">
            <p class="crumbs"><a href=to>{shared::ALL_STEPS}</a></p>
            <h1>{shared::TAKE_ON}</h1>
            <p class="lead">{words::LEAD}</p>
            <ul class="cards">{cards.collect_view()}</ul>
            {none.then(|| view! {
                <p>{words::ALL_HERE}</p>
                <a class="button" href=Route::Procedures.address()>{procedure_words::TO_THE_PROCEDURES}</a>
            })}
        </section>
    }
}

fn one(bench: Bench, job: Job, procedure: Procedure) -> impl IntoView {
    let another = Route::TakeOn {
        job: job.id.clone(),
        digest: None,
    };
    let cautions = list_of(procedure.cautions.clone(), "");
    let has_cautions = !procedure.cautions.is_empty();
    let count = procedure.steps().count();
    let about = procedure_words::revision_and_steps(procedure.revision, count);
    let (title, covers) = (procedure.title.clone(), procedure.covers.clone());
    let fault = bench
        .course()
        .and_then(|course| course.can_take_on(&procedure).err());
    let refused = fault.map(|fault| crate::job::Refusal::NotTakenOn(fault).to_string());
    let id = job.id.clone();
    let take = move |_| {
        let before = bench.progress.with_untracked(|progress| {
            progress.as_ref().map_or(0, |progress| progress.steps.len())
        });
        let procedure = Box::new(procedure.clone());
        if bench.record(Deed::TookOn { procedure }) {
            let first = bench
                .progress
                .with_untracked(|progress| Some(progress.as_ref()?.steps.get(before)?.id.clone()));
            bench.go(&Route::Step {
                job: id.clone(),
                step: first,
            });
        }
    };
    let key = match refused {
        Some(why) => view! { <p role="alert">{shared::sentence(why)}</p> }.into_any(),
        None => view! {
            <button type="button" class="main large" on:click=take>{words::TAKE_IT_ON}</button>
        }
        .into_any(),
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=another.address()>{words::ANOTHER}</a></p>
            <h1>{title}</h1>
            <p class="lead">{covers}</p>
            <p class="hint">{about}</p>
            {has_cautions.then(|| view! { <aside class="caution"><strong>{shared::CAUTION}</strong>{cautions}</aside> })}
            {key}
        </section>
    }
}
