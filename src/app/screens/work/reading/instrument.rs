//! The way to an instrument whose accuracy is known, where it is said that it isn't.

use crate::app::screens::work::step::At;
use crate::app::shell::route::Route;
use crate::app::words::work::reading as words;
use crate::job::{Counts, Unproved};
use crate::metrology::instrument::Instrument;
use crate::procedure::Id;
use leptos::prelude::*;

/// The instruments of the kit for the step's role, and the way to describe one.
pub fn choice(at: At) -> impl IntoView {
    let unknown = Memo::new(move |_| {
        at.standing.with(|standing| {
            let left = standing.as_ref().and_then(|s| s.left.as_ref())?;
            match &left.proof {
                Err(Unproved::NoLoss(role) | Unproved::NoTolerance(role)) => Some(role.clone()),
                Err(Unproved::NoInstrument(_) | Unproved::NoAccuracy(_)) => {
                    left.verdict.as_ref()?;
                    at.step
                        .with_value(|step| step.work.gauge().map(|gauge| gauge.with.clone()))
                }
                _ => None,
            }
        })
    });
    move || {
        let role = unknown.get().filter(|_| at.is_open());
        role.map(|role| offer(at, role))
    }
}

fn offer(at: At, role: Id) -> impl IntoView + use<> {
    let is_reader = at.step.with_value(|step| {
        let gauge = step.work.gauge();
        gauge.is_some_and(|gauge| gauge.with == role)
    });
    let used = at.bench.progress.with(|progress| {
        let header = progress.as_ref().map(|progress| &progress.header);
        header.and_then(|header| header.used_as(&role)).cloned()
    });
    let record = used.as_ref().and_then(|used| used.record.clone());
    let fits = |one: &Instrument| one.role == role.as_str() && Some(one) != record.as_ref();
    let fitting: Vec<Instrument> = at.bench.kit().into_iter().filter(fits).collect();
    // One that is named stays what was read with, unless it is said on its own screen that it was
    // another.
    let counts = match &used {
        None => Counts::Before,
        Some(_) => Counts::FromHere,
    };
    let hint = (!fitting.is_empty()).then(|| match counts {
        Counts::Before => words::instrument_for(role.as_str()),
        Counts::FromHere => words::read_again_with(role.as_str()),
    });
    let keys = fitting
        .into_iter()
        .map(|one| {
            let (role, name) = (role.clone(), one.name.clone());
            let take = move |_| {
                at.bench.use_instrument(&role, one.clone(), Some(counts));
            };
            view! { <button type="button" class="chip" on:click=take>{name}</button> }
        })
        .collect_view();
    let (route, word) = match (is_reader, used) {
        (false, _) => (Route::Kit, words::STATE_LOSS),
        (true, Some(_)) => (here(at), words::STATE_ACCURACY),
        (true, None) => (here(at), words::ANOTHER_INSTRUMENT),
    };
    view! {
        <div class="instrument-choice">
            {hint.map(|hint| view! { <p class="hint">{hint}</p> })}
            <div class="row">
                {keys}
                <a class="button" href=route.address()>{word}</a>
            </div>
        </div>
    }
}

fn here(at: At) -> Route {
    Route::StepInstrument {
        job: at.job.get_value(),
        step: at.id(),
    }
}
