//! Parts and changes: what came out, what went in, why, and what was agreed.

use super::bench::{Bench, use_bench};
use super::device;
use super::open_step::WayBack;
use super::price;
use super::put_back::step_in_hand;
use super::route::Route;
use super::step::{At, closed, focus_next, focus_when_shown};
use super::substitution;
use crate::job::{Change, Changed, Deed, Job, Progress};
use crate::procedure::{Alteration, Id};
use crate::quantity::DecimalSign;
use leptos::html::Button;
use leptos::prelude::*;

/// The screen: the list, and the form for another change. With `check`, the form takes the
/// substitution check along.
pub fn screen(check: bool) -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let change = RwSignal::new(match check {
        true => from_check(bench),
        false => Change::default(),
    });
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let deed = Deed::Changed {
            step: step_in_hand(bench),
            change: change.get_untracked(),
        };
        if bench.record(deed) {
            change.set(Change::default());
        }
    };
    let is_open = move || {
        bench
            .progress
            .with(|p| p.as_ref().is_some_and(|p| p.signed_off.is_none()))
    };
    Some(view! {
        <section class="page">
            <p class="crumbs">
                <span class="ways">
                    <a href=Route::Steps(job).address()>"All steps"</a>
                    <WayBack/>
                </span>
            </p>
            <div class="title-row">
                <h1>"Parts and changes"</h1>
                <a class="button" href=Route::Substitution.address()>"Substitution check"</a>
            </div>
            {move || {
                let job = bench.job.get()?;
                let progress = bench.progress.get()?;
                Some(list(&job, &progress, bench.sign()))
            }}
            <Show when=is_open>
                <form on:submit=keep>
                    <h2>"Record a change"</h2>
                    {fields(change)}
                    {move || checked(bench, change)}
                    <button type="submit" class="main large">"Keep the change"</button>
                </form>
            </Show>
        </section>
    })
}

/// A change as the substitution check has it.
fn from_check(bench: Bench) -> Change {
    let Some(check) = substitution::typed(bench) else {
        return Change::default();
    };
    Change {
        out: check.old.name.clone(),
        fitted: check.new.name.clone(),
        substitution: Some(Box::new(check)),
        ..Change::default()
    }
}

/// The check that goes with a change, in words.
fn checked(bench: Bench, change: RwSignal<Change>) -> Option<impl IntoView> {
    let check = change.with(|change| change.substitution.clone())?;
    let words = substitution::verdict(&check, bench.sign());
    let without = move |_| change.update(|change| change.substitution = None);
    Some(view! {
        <div class="preview">
            <h3>"Kept with it: the substitution check"</h3>
            <p>{words}</p>
            <button type="button" class="plain" on:click=without>"Leave the check out"</button>
        </div>
    })
}

/// What was changed, as fields.
fn fields(change: RwSignal<Change>) -> impl IntoView {
    let text = move |id, label, part: fn(&mut Change) -> &mut String| {
        let value = move || change.with(|change| part(&mut change.clone()).clone());
        view! {
            <div class="field">
                <label for=id>{label}</label>
                <input id=id type="text" autocomplete="off" prop:value=value
                    on:input=move |e| change.update(|change| *part(change) = event_target_value(&e))/>
            </div>
        }
    };
    let tick = move |label, part: fn(&mut Change) -> &mut bool| {
        let value = move || change.with(|change| *part(&mut change.clone()));
        view! {
            <label class="option">
                <input type="checkbox" prop:checked=value
                    on:change=move |e| change.update(|change| *part(change) = event_target_checked(&e))/>
                <span>{label}</span>
            </label>
        }
    };
    let touches = move || change.with(|change| change.touches_approval);
    view! {
        <div class="fields">
            {text("change-out", "What came out", |c| &mut c.out)}
            {text("change-in", "What went in", |c| &mut c.fitted)}
            {text("change-why", "Why", |c| &mut c.why)}
            {price::field(change)}
        </div>
        <div class="change-ticks">
            {tick("The owner agreed to it", |c| &mut c.agreed)}
            {tick("It can be taken back", |c| &mut c.reversible)}
            {tick("It can touch the set’s type approval", |c| &mut c.touches_approval)}
        </div>
        <p class="hint" role="status">{move || touches().then_some(LOCAL_RULES)}</p>
    }
}

const LOCAL_RULES: &str = "Whether the set may still be used after such a change, and where, is for your local rules to say. Ask before it goes on the air.";

/// The changes of a job, each with what is to be known of it.
pub fn list(job: &Job, progress: &Progress, sign: DecimalSign) -> impl IntoView + use<> {
    let rows = progress
        .changes
        .iter()
        .map(|changed| row(job, changed, sign))
        .collect_view();
    match progress.changes.is_empty() {
        true => view! { <p class="lead">"Nothing was changed so far."</p> }.into_any(),
        false => view! { <ul class="changes">{rows}</ul> }.into_any(),
    }
}

/// The changes of a job as a section, where there are any.
pub fn section(job: &Job, progress: &Progress, sign: DecimalSign) -> Option<impl IntoView + use<>> {
    (!progress.changes.is_empty()).then(|| {
        view! {
            <h2>"Parts and changes"</h2>
            {list(job, progress, sign)}
        }
    })
}

fn row(job: &Job, changed: &Changed, sign: DecimalSign) -> impl IntoView + use<> {
    let change = &changed.change;
    let title = match change.out.trim().is_empty() {
        true => change.fitted.clone(),
        false => format!("{} → {}", change.out, change.fitted),
    };
    let yes_no =
        |yes: bool, this: &'static str, other: &'static str| if yes { this } else { other };
    let facts = [
        yes_no(
            change.agreed,
            "agreed with the owner",
            "not agreed with the owner",
        ),
        yes_no(
            change.reversible,
            "can be taken back",
            "can’t be taken back",
        ),
        yes_no(
            change.touches_approval,
            "can touch the type approval: local rules decide",
            "does not touch the type approval",
        ),
    ];
    let step = changed
        .step
        .as_ref()
        .and_then(|step| job.procedure.number_of(step))
        .map_or(String::new(), |number| format!(", step {number}"));
    let check = change
        .substitution
        .as_ref()
        .map(|check| view! { <span>{substitution::verdict(check, sign)}</span> });
    let why = (!change.why.is_empty()).then(|| view! { <span>{change.why.clone()}</span> });
    view! {
        <li>
            <strong>{title}</strong>
            {why}
            {check}
            <span class="soft">{facts.join("; ")}</span>
            <span class="hint">{device::date_and_time(changed.at)}{step}</span>
        </li>
    }
}

/// A part to be fitted: the form is filled in as the step has it, and one press keeps it.
pub fn fitting(at: At, alteration: Alteration) -> impl IntoView {
    let change = RwSignal::new(Change {
        out: alteration.out,
        fitted: alteration.fitted,
        why: alteration.why,
        ..Change::default()
    });
    let fit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let change = change.get_untracked();
        let step = at.id();
        let tick = Deed::Ticked { step: step.clone() };
        // After the tick alone was taken back, the change is not listed twice.
        let change = (!is_listed(at.bench, &step, &change)).then_some(Deed::Changed {
            step: Some(step),
            change,
        });
        if at.bench.record_all(change.into_iter().chain([tick])) {
            focus_next();
        }
    };
    let key = NodeRef::<Button>::new();
    focus_when_shown(key);
    let ticked = move || at.standing.with(|s| s.as_ref().and_then(|s| s.ticked));
    let here = move || {
        let id = at.id();
        let sign = at.bench.sign();
        let job = at.bench.job.get()?;
        let progress = at.bench.progress.get()?;
        let rows = progress
            .changes
            .iter()
            .filter(|changed| changed.step.as_ref() == Some(&id))
            .map(|changed| row(&job, changed, sign))
            .collect_view();
        Some(view! { <ul class="changes">{rows}</ul> })
    };
    view! {
        <section class="answer tick">
            <Show when=move || ticked().is_none()>
                <form on:submit=fit>
                    {fields(change)}
                    <button type="submit" class="main large" node_ref=key disabled=move || !at.is_open()>"Fitted"</button>
                </form>
            </Show>
            {closed(at)}
            {here}
            {move || ticked().map(|at| view! { <p class="when">{device::date_and_time(at)}</p> })}
        </section>
    }
}

fn is_listed(bench: Bench, step: &Id, change: &Change) -> bool {
    bench.progress.with_untracked(|progress| {
        progress.as_ref().is_some_and(|progress| {
            let same = |c: &Changed| c.step.as_ref() == Some(step) && c.change == *change;
            progress.changes.iter().any(same)
        })
    })
}
