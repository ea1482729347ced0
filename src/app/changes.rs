//! Parts and changes: what came out, what went in, why, and what was agreed.

use super::bench::{Bench, use_bench};
use super::device;
use super::kept::{self, KeptForm};
use super::open_step::ways_back;
use super::parts::field_text;
use super::price;
use super::put_back::step_in_hand;
use super::route::Route;
use super::step::{At, closed, focus_next, focus_when_shown};
use super::substitution;
use super::words::{changes as words, price as price_words, shared};
use crate::exchange::report;
use crate::job::{Change, Changed, Deed, Progress, Reply};
use crate::procedure::{Alteration, Id};
use crate::quantity::DecimalSign;
use leptos::html::Button;
use leptos::prelude::*;

/// The screen: the list, and the form for another change. With `check`, the form takes the
/// substitution check along.
pub fn screen(check: bool) -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let (name, over) = match check {
        true => (kept::CHECKED, from_check(bench)),
        false => (kept::CHANGE, Change::default()),
    };
    let kept = KeptForm::of(bench, kept::of_job(&job, name), over);
    let change = kept.typed;
    let odd_price = RwSignal::new(false);
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if odd_price.get_untracked() {
            return bench.refuse(price_words::NO_PRICE);
        }
        let deed = Deed::Changed {
            step: step_in_hand(bench),
            change: change.get_untracked().into(),
        };
        if bench.record(deed) {
            change.set(Change::default());
            kept.forget();
        }
    };
    let is_open = move || bench.is_open();
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <div class="title-row">
                <h1>{shared::PARTS_AND_CHANGES}</h1>
                <a class="button" href=Route::Substitution.address()>{shared::SUBSTITUTION_CHECK}</a>
            </div>
            {move || {
                let progress = bench.progress.get()?;
                Some(list(&progress, bench.sign()))
            }}
            <Show when=is_open>
                <form on:submit=keep>
                    <h2>{shared::RECORD_CHANGE}</h2>
                    {fields(change, odd_price)}
                    {move || checked(bench, change)}
                    <button type="submit" class="main large">{words::KEEP_CHANGE}</button>
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
    let verdict = check.verdict(bench.sign());
    let without = move |_| change.update(|change| change.substitution = None);
    Some(view! {
        <div class="preview">
            <h3>{words::KEPT_CHECK}</h3>
            <p>{verdict}</p>
            <button type="button" class="plain" on:click=without>{words::WITHOUT_CHECK}</button>
        </div>
    })
}

/// What was changed, as fields.
fn fields(change: RwSignal<Change>, odd_price: RwSignal<bool>) -> impl IntoView {
    let text = move |id, label, part: fn(&mut Change) -> &mut String| {
        let value = move || change.with(|change| part(&mut change.clone()).clone());
        view! {
            <div class="field">
                <label for=id>{label}</label>
                <input id=id type="text" autocomplete="off" prop:value=move || field_text(value())
                    on:input=move |e| change.update(|change| *part(change) = event_target_value(&e))/>
            </div>
        }
    };
    let touches = move || change.with(|change| change.touches_approval == Reply::Yes);
    view! {
            <div class="fields">
                {text("change-out", words::CAME_OUT, |c| &mut c.out)}
                {text("change-in", words::WENT_IN, |c| &mut c.fitted)}
                {text("change-why", shared::WHY, |c| &mut c.why)}
                {price::field(
    ("change-price", price_words::price_in),
                    (
                        Signal::derive(move || change.with(|change| change.price.clone())),
                        Signal::derive(move || change.with(|change| *change == Change::default())),
                    ),
                    Callback::new(move |price| change.update(|change| change.price = price)),
                    odd_price,
                )}
            </div>
            <div class="change-questions">
                {question("agreed", words::OWNER_AGREED, change, |c| &mut c.agreed)}
                {question("reversible", words::REVERSIBLE, change, |c| &mut c.reversible)}
                {question("touches-approval", words::TOUCHES_APPROVAL, change, |c| &mut c.touches_approval)}
            </div>
            <p class="hint" role="status">{move || touches().then_some(words::LOCAL_RULES)}</p>
        }
}

/// A question with its replies; that it was not asked is one of them, and stands until another.
fn question(
    name: &'static str,
    asked: &'static str,
    change: RwSignal<Change>,
    part: fn(&mut Change) -> &mut Reply,
) -> impl IntoView {
    let replies = Reply::ALL.map(|reply| {
        let chosen = move || change.with(|change| *part(&mut change.clone()) == reply);
        view! {
            <label class="option">
                <input type="radio" name=name prop:checked=chosen
                    on:change=move |_| change.update(|change| *part(change) = reply)/>
                <span>{words::reply(reply)}</span>
            </label>
        }
    });
    view! {
        <fieldset>
            <legend>{asked}</legend>
            <div class="replies">{replies.into_iter().collect_view()}</div>
        </fieldset>
    }
}

/// The changes of a job, each with what is to be known of it.
pub fn list(progress: &Progress, sign: DecimalSign) -> impl IntoView + use<> {
    let rows = progress
        .changes
        .iter()
        .map(|changed| row(progress, changed, sign))
        .collect_view();
    match progress.changes.is_empty() {
        true => view! { <p class="lead">{words::NONE}</p> }.into_any(),
        false => view! { <ul class="changes">{rows}</ul> }.into_any(),
    }
}

/// The changes of a job as a section, where there are any.
pub fn section(progress: &Progress, sign: DecimalSign) -> Option<impl IntoView + use<>> {
    (!progress.changes.is_empty()).then(|| {
        view! {
            <h2>{shared::PARTS_AND_CHANGES}</h2>
            {list(progress, sign)}
        }
    })
}

fn row(progress: &Progress, changed: &Changed, sign: DecimalSign) -> impl IntoView + use<> {
    let change = &changed.change;
    let title = match change.out.trim().is_empty() {
        true => change.fitted.clone(),
        false => shared::becomes(&change.out, &change.fitted),
    };
    let replies = report::words::change_replies(change);
    let replies = (!replies.is_empty()).then(|| view! { <span class="soft">{replies}</span> });
    let step = changed
        .step
        .as_ref()
        .and_then(|step| Some(progress.step(step)?.number))
        .map_or(String::new(), words::in_step);
    let check = change
        .substitution
        .as_ref()
        .map(|check| view! { <span>{check.verdict(sign)}</span> });
    let why = (!change.why.is_empty()).then(|| view! { <span>{change.why.clone()}</span> });
    view! {
        <li>
            <strong>{title}</strong>
            {why}
            {check}
            {replies}
            <span class="hint">{device::date_and_time(changed.at)}{step}</span>
        </li>
    }
}

/// A part to be fitted: the form is filled in as the step has it, and one press keeps it.
pub fn fitting(at: At, alteration: Alteration) -> impl IntoView {
    let stated = Change {
        out: alteration.out,
        fitted: alteration.fitted,
        why: alteration.why,
        ..Change::default()
    };
    let kept = KeptForm::of(at.bench, at.place("fit"), stated);
    let change = kept.typed;
    let odd_price = RwSignal::new(false);
    let fit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if odd_price.get_untracked() {
            return at.bench.refuse(price_words::NO_PRICE);
        }
        let change = change.get_untracked();
        let step = at.id();
        let tick = Deed::Ticked { step: step.clone() };
        // After the tick alone was taken back, the change is not listed twice.
        let change = (!is_listed(at.bench, &step, &change)).then_some(Deed::Changed {
            step: Some(step),
            change: change.into(),
        });
        if at.bench.record_all(change.into_iter().chain([tick])) {
            kept.forget();
            focus_next();
        }
    };
    let key = NodeRef::<Button>::new();
    focus_when_shown(key);
    let ticked = move || at.standing.with(|s| s.as_ref().and_then(|s| s.ticked));
    let here = move || {
        let id = at.id();
        let sign = at.bench.sign();
        let progress = at.bench.progress.get()?;
        let rows = progress
            .changes
            .iter()
            .filter(|changed| changed.step.as_ref() == Some(&id))
            .map(|changed| row(&progress, changed, sign))
            .collect_view();
        Some(view! { <ul class="changes">{rows}</ul> })
    };
    view! {
        <section class="answer tick">
            <Show when=move || ticked().is_none()>
                <form on:submit=fit>
                    {fields(change, odd_price)}
                    <button type="submit" class="main large" node_ref=key disabled=move || !at.is_open()>{words::FITTED}</button>
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
