//! The head of a step: where it is in the job, how it stands, why it is to be looked at again.

use super::at::{At, Pane};
use crate::app::screens::work::speech::{self, Speech};
use crate::app::screens::work::{passes, put_back};
use crate::app::shell::route::Route;
use crate::app::ui::{LineMap, StatusMark, TermKey};
use crate::app::words::shared;
use crate::app::words::work::step as words;
use crate::app::words::work::terms::Term;
use crate::job::{LineMap as Map, LookAgain, Status};
use leptos::prelude::*;

/// The head of the step.
pub fn head(at: At, speech: Speech) -> impl IntoView {
    let bench = at.bench;
    let (title, section, total) = at.procedure.with_value(|procedure| {
        let id = at.id();
        (
            at.step.with_value(|step| step.title.clone()),
            procedure.section_of(&id).map(|s| s.title.clone()),
            procedure.steps().count(),
        )
    });
    let set = move || {
        bench.progress.with(|progress| {
            let header = &progress.as_ref()?.header;
            Some(shared::job(&header.number, &header.set.title()))
        })
    };
    let here = at.number();
    let ticks = Memo::new(move |_| bench.progress.with(|p| Some(Map::of(p.as_ref()?))));
    let map = move || {
        ticks
            .get()
            .map(|map| view! { <LineMap map here=Some(here)/> })
    };
    view! {
        <header class="step-head">
            <div class="step-line">
                <a class="to-steps" href=Route::Steps(at.job.get_value()).address()>
                    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M13 4l-6 6 6 6"/></svg>
                    {shared::ALL_STEPS}
                </a>
                <span class="step-set">{set}</span>
                <span class="step-section">{section}</span>
                <span class="count">{words::place(here, total)}</span>
                <span class="step-status" role="status">{move || view! { <StatusMark status=at.status() behind=at.behind.get()/> }}</span>
            </div>
            <h1>{title}</h1>
            {map}
            <p class="ways">
                {speech::key(at, speech)}
                {put_back::counter(bench, &at.job.get_value())}
                <a href=Route::Sums.address()>{words::SUMS}</a>
            </p>
            {look_again(at)}
            {passes::line(at)}
        </header>
    }
}

/// Why the step needs another look, where it does.
fn look_again(at: At) -> impl IntoView {
    move || {
        let because = at
            .standing
            .with(|s| match s.as_ref()?.look_again.as_ref()? {
                LookAgain::Turned {
                    adjuster,
                    turned_in,
                } => Some(words::was_turned(adjuster.as_str(), *turned_in)),
                // Which pass it is stands there as long as that lasts.
                LookAgain::Pass { .. } => None,
            })?;
        (at.status() == Status::LookAgain).then(|| {
            view! {
                <p class="look-again" role="status">
                    <strong>{words::LOOK_AGAIN}</strong>
                    {because}
                    <TermKey term=Term::Recheck/>
                </p>
            }
        })
    }
}

/// The keys that choose the half of the step, on a screen that has room for one only.
pub fn panes(at: At) -> impl IntoView {
    let key = move |pane: Pane, word: &'static str| {
        let pressed = move || (at.pane.get() == pane).to_string();
        view! {
            <button type="button" aria-pressed=pressed on:click=move |_| at.pane.set(pane)>{word}</button>
        }
    };
    view! {
        <div class="panes" role="group" aria-label=words::HALVES>
            {key(Pane::Do, words::TO_DO)}
            {key(Pane::Measure, words::TO_MEASURE)}
        </div>
    }
}
