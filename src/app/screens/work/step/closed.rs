//! Why nothing can be entered at a step.

use super::at::At;
use crate::app::shell::route::Route;
use crate::app::ui::TermKey;
use crate::app::words::work::step as words;
use crate::app::words::work::terms::Term;
use crate::job::Status;
use leptos::prelude::*;

/// Why nothing can be entered here, where that is so: a sentence that leads to where that ends.
pub fn closed(at: At) -> impl IntoView {
    move || {
        let job = at.job.get_value();
        let Some(number) = at.behind.get() else {
            return at
                .is_finished()
                .then(|| closed_line(words::finished(), &Route::Finish(job), None));
        };
        let stop = at.procedure.with_value(|procedure| {
            let step = procedure.steps().nth(number - 1)?;
            Some(step.id.clone())
        })?;
        let has_lapsed = at.bench.progress.with(|progress| {
            let stop = progress.as_ref().and_then(|progress| progress.step(&stop));
            stop.is_some_and(|stop| stop.status == Status::Lapsed)
        });
        let step = Some(stop);
        let why = words::closed(number, has_lapsed);
        // A stop says by itself what it is.
        let term = (!at.is_stop()).then_some(Term::HoldPoint);
        Some(closed_line(why, &Route::Step { job, step }, term))
    }
}

fn closed_line((before, name, after): words::Leading, to: &Route, term: Option<Term>) -> AnyView {
    let term = term.map(|term| view! { <TermKey term/> });
    view! { <p class="closed">{before}<a href=to.address()>{name}</a>{after}{term}</p> }.into_any()
}
