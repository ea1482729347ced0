//! The way to an instrument whose accuracy is known, where it is said that it isn't.

use super::At;
use crate::app::route::Route;
use crate::app::words::reading as words;
use crate::job::Counts;
use crate::job::Unproved;
use crate::metrology::instrument::Instrument;
use leptos::prelude::*;

/// The instruments of the kit for the step's role, and the way to describe one.
pub fn choice(at: At) -> impl IntoView {
    let is_unknown = Memo::new(move |_| {
        at.standing.with(|standing| {
            let left = standing.as_ref().and_then(|s| s.left.as_ref());
            left.is_some_and(|left| left.verdict.is_some() && lacks_accuracy(&left.proof))
        })
    });
    move || {
        let shown = is_unknown.get() && at.is_open();
        shown.then(|| offer(at)).flatten()
    }
}

fn lacks_accuracy<T>(proof: &Result<T, Unproved>) -> bool {
    matches!(
        proof,
        Err(Unproved::NoInstrument(_) | Unproved::NoAccuracy(_))
    )
}

fn offer(at: At) -> Option<impl IntoView + use<>> {
    let role = at
        .step
        .with_value(|step| step.work.gauge().map(|gauge| gauge.with.clone()))?;
    let used = at.of_instrument(|header, role| header.used_as(role).cloned());
    let record = used.as_ref().and_then(|used| used.record.clone());
    let fits = |one: &Instrument| one.role == role.as_str() && Some(one) != record.as_ref();
    let fitting: Vec<Instrument> = at.bench.kit().into_iter().filter(fits).collect();
    let hint = (!fitting.is_empty()).then(|| words::instrument_for(role.as_str()));
    let keys = fitting
        .into_iter()
        .map(|one| {
            let (role, name) = (role.clone(), one.name.clone());
            let take = move |_| {
                at.bench
                    .use_instrument(&role, one.clone(), Some(Counts::Before));
            };
            view! { <button type="button" class="chip" on:click=take>{name}</button> }
        })
        .collect_view();
    let route = Route::StepInstrument {
        job: at.job.get_value(),
        step: at.id(),
    };
    let word = match used {
        Some(_) => words::STATE_ACCURACY,
        None => words::ANOTHER_INSTRUMENT,
    };
    Some(view! {
        <div class="instrument-choice">
            {hint.map(|hint| view! { <p class="hint">{hint}</p> })}
            <div class="row">
                {keys}
                <a class="button" href=route.address()>{word}</a>
            </div>
        </div>
    })
}
