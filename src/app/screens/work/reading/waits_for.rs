//! Why a target is not known yet: another step comes first, and the line leads there.

use crate::app::shell::bench::Bench;
use crate::app::shell::route::Route;
use crate::app::words::shared;
use crate::app::words::work::reading as words;
use crate::job::Status;
use crate::procedure::Id;
use leptos::prelude::*;

/// The step of this job that has to be read first, with the way to it; one that was waived leads
/// nowhere.
pub fn line(bench: Bench, job: Id, step: &Id, number: Option<usize>) -> AnyView {
    let is_waived = bench.progress.with(|progress| {
        let other = progress.as_ref().and_then(|progress| progress.step(step));
        other.is_some_and(|other| other.status == Status::Waived)
    });
    let Some(number) = number.filter(|_| !is_waived) else {
        let name = number.map_or(step.to_string(), |number| number.to_string());
        return words::not_known(&name).into_any();
    };
    let step = Some(step.clone());
    let route = Route::Step { job, step };
    let (before, after) = words::WAITS_FOR;
    let name = shared::step_in_text(number);
    view! { {before}<a href=route.address()>{name}</a>{after} }.into_any()
}
