//! A step that sends back to steps before it until they hold: which pass this is, what each has
//! shown, and the key to the next.

use crate::app::screens::work::step::{At, closed, focus_when_shown};
use crate::app::shell::route::Route;
use crate::app::ui::Wide;
use crate::app::words::work::passes as words;
use crate::exchange::report;
use crate::job::{Deed, LookAgain, PassRead, Passes, Shows};
use crate::procedure::{Id, Repeat};
use crate::quantity::ended;
use leptos::html::Button;
use leptos::prelude::*;

/// What the step shows.
pub fn panel(at: At, repeat: Repeat) -> impl IntoView {
    let passes = Memo::new(move |_| {
        at.standing
            .with(|standing| standing.as_ref()?.passes.clone())
    });
    let sign = move || at.bench.sign();
    let asked = move || {
        let number = |id: &Id| at.procedure.with_value(|procedure| procedure.number_of(id));
        ended(repeat.words(sign(), number))
    };
    let place = move || passes.with(|passes| Some(words::pass(passes.as_ref()?.number())));
    let shows = move || {
        let passes = passes.get()?;
        Some(report::words::shows(&passes, sign()))
    };
    view! {
        <section class="answer passes">
            <p class="confirm">{asked}</p>
            <p class="figure">{place}</p>
            <p class="shows" role="status">{shows}</p>
            {move || key(at, &passes.get()?)}
            {closed(at)}
            {move || passes.with(|passes| Some(table(at, passes.as_ref()?)))}
        </section>
    }
}

/// The way on: to what is open in this pass, or to the first step of the next.
fn key(at: At, passes: &Passes) -> Option<AnyView> {
    if !at.is_open() {
        return None;
    }
    if let Shows::Open(open) = &passes.shows {
        let number = *open.first()?;
        let route = step_route(at, number)?;
        return Some(
            view! { <a class="button main large" href=route.address()>{words::go_to(number)}</a> }
                .into_any(),
        );
    }
    if !passes.may_go_on() {
        return None;
    }
    let (next, first) = (passes.number() + 1, passes.range.0);
    let node = NodeRef::<Button>::new();
    focus_when_shown(node);
    let begin = move |_| {
        if at.record(|step| Deed::PassBegun { step })
            && let Some(route) = step_route(at, first)
        {
            at.bench.go(&route);
        }
    };
    Some(
        view! {
            <button type="button" class="main large" node_ref=node on:click=begin>
                {words::begin(next, first)}
            </button>
        }
        .into_any(),
    )
}

fn step_route(at: At, number: usize) -> Option<Route> {
    let step = at.procedure.with_value(|procedure| {
        let step = procedure.steps().nth(number.checked_sub(1)?)?;
        Some(step.id.clone())
    })?;
    Some(Route::Step {
        job: at.job.get_value(),
        step: Some(step),
    })
}

/// What was read in each pass, a row a step.
fn table(at: At, passes: &Passes) -> impl IntoView + use<> {
    let headings = (1..=passes.number())
        .map(|number| view! { <th scope="col">{words::pass(number)}</th> })
        .collect_view();
    let steps = passes.all.first().map_or(&[][..], |pass| &pass.reads);
    let rows = steps
        .iter()
        .enumerate()
        .map(|(row, step)| {
            let cells = passes.all.iter().map(|pass| cell(at, pass.reads.get(row)));
            let name = at.procedure.with_value(|procedure| {
                let titled = procedure.steps().nth(step.step - 1);
                words::step(step.step, titled.map_or("", |step| &step.title))
            });
            let address = step_route(at, step.step).map(|route| route.address());
            view! { <tr><th scope="row"><a href=address>{name}</a></th>{cells.collect_view()}</tr> }
        })
        .collect_view();
    view! {
        <Wide name=words::READINGS.to_owned()>
            <table class="taken passes-table">
                <thead><tr><td></td>{headings}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </Wide>
    }
}

fn cell(at: At, read: Option<&PassRead>) -> impl IntoView + use<> {
    let sign = at.bench.sign();
    let ends = read.and_then(|read| read.ends.as_ref());
    let last = ends.map(|(_, last)| last.corrected.typeset(sign));
    let began = ends.filter(|(first, last)| first.order != last.order);
    let began = began.map(|(first, _)| report::words::began_at(&first.corrected.typeset(sign)));
    view! {
        <td class="number">
            {last.unwrap_or_else(|| words::NOT_READ.to_owned())}
            {began.map(|text| view! { <small>{text}</small> })}
        </td>
    }
}

/// At a step that is gone through again: which pass it is in, and the way to the step that says
/// whether it holds.
pub fn line(at: At) -> impl IntoView {
    let here = at
        .procedure
        .with_value(|procedure| procedure.number_of(&at.id()));
    move || {
        let (by, number, pass) = at.bench.progress.with(|progress| {
            let (by, passes) = progress.as_ref()?.repeated_by(here?)?;
            Some((by.id.clone(), by.number, passes.number()))
        })?;
        let route = Route::Step {
            job: at.job.get_value(),
            step: Some(by),
        };
        let said = match at.standing.with(|s| s.as_ref()?.look_again.clone()) {
            Some(LookAgain::Pass { pass, .. }) => words::again_in(pass),
            _ => words::pass(pass),
        };
        (pass > 1).then(|| {
            view! {
                <p class="look-again" role="status">
                    <strong>{said}</strong>
                    " "<a href=route.address()>{words::repeated_by(number)}</a>
                </p>
            }
        })
    }
}
