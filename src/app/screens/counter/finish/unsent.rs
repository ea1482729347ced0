//! What was typed in a job and is not sent yet.

use crate::app::shell::bench::Bench;
use crate::app::shell::kept;
use crate::app::shell::route::Route;
use crate::app::words::counter::{dealings as dealings_words, finish as words, jobs};
use crate::app::words::set::trace as trace_words;
use crate::app::words::shared;
use crate::procedure::Step;
use leptos::prelude::*;

/// What was typed in a job and not entered, which nobody would find on its sheet, with the way there.
pub(super) fn unsent(bench: Bench) -> Option<impl IntoView> {
    let job = bench.job.get_untracked()?;
    let places = bench.unsent(&job.id);
    let is_typed = |step: &Step| {
        let of_step = kept::of_step(&step.id, "");
        let is_form = places.iter().any(|place| place.starts_with(&of_step));
        is_form || !bench.draft(&job.id, &step.id).trim().is_empty()
    };
    let course = bench.course()?;
    let steps = course.procedure.steps().enumerate();
    let steps = steps
        .filter(|(_, step)| is_typed(step))
        .map(|(index, step)| {
            let route = Route::Step {
                job: job.id.clone(),
                step: Some(step.id.clone()),
            };
            (route, jobs::step(index + 1, &step.title))
        });
    let job = job.id.clone();
    let changes = |check| Route::Changes {
        job: job.clone(),
        check,
    };
    let of_job = [
        (kept::DETAILS, Route::Details(job.clone()), shared::THE_SET),
        (
            kept::OWN_STEP,
            Route::AddStep(job.clone()),
            shared::ADD_A_STEP,
        ),
        (
            kept::DEALINGS,
            Route::Dealings(job.clone()),
            dealings_words::TITLE,
        ),
        (kept::FAULT, Route::Faults(job.clone()), shared::FAULTS),
        (kept::TRACE, Route::Trace(job.clone()), trace_words::TITLE),
        (kept::CHANGE, changes(false), shared::RECORD_CHANGE),
        (kept::CHECKED, changes(true), shared::RECORD_CHANGE),
    ];
    let is_its = |place: &str, name: &str| {
        let rest = place.strip_prefix(name);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
    };
    let is_there = |name: &str| places.iter().any(|place| is_its(place, name));
    let of_job = of_job.into_iter().filter(|(name, ..)| is_there(name));
    let of_job = of_job.map(|(_, route, word)| (route, word.to_owned()));
    let rows: Vec<AnyView> = steps
        .chain(of_job)
        .map(|(route, word)| view! { <li><a href=route.address()>{word}</a></li> }.into_any())
        .collect();
    (!rows.is_empty()).then(|| {
        view! {
            <aside class="unsent" aria-label=words::UNSENT>
                <strong>{words::UNSENT}</strong>
                <p>{words::UNSENT_LEAD}</p>
                <ul class="plain-list">{rows}</ul>
            </aside>
        }
    })
}
