//! Parts and changes: what came out, what went in, why, and what was agreed.

use crate::app::platform::device;
use crate::app::screens::counter::price;
use crate::app::screens::set::substitution;
use crate::app::screens::work::put_back::step_in_hand;
use crate::app::screens::work::step::{At, Lead, closed, focus_next, focus_when_shown};
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::ui::fields::form::focus_soon;
use crate::app::words::counter::{dealings, price as price_words};
use crate::app::words::set::changes as words;
use crate::app::words::shared;
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
    // The change that is put right, where it is one.
    let first = RwSignal::new(None::<Id>);
    let is_open = move || bench.is_open();
    let form = {
        let job = job.clone();
        move || match first.get() {
            None => form(bench, kept, None, first).into_any(),
            Some(name) => {
                let over = untrack(|| change_now(bench, &name)).unwrap_or_default();
                let place = kept::of_job(&job, &format!("{}-{name}", kept::CHANGE));
                form(bench, KeptForm::of(bench, place, over), Some(name), first).into_any()
            }
        }
    };
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <div class="title-row">
                <h1>{shared::PARTS_AND_CHANGES}</h1>
                <a class="button" href=Route::Substitution.address()>{shared::SUBSTITUTION_CHECK}</a>
            </div>
            {move || {
                let progress = bench.progress.get()?;
                let put_right = progress.signed_off.is_none().then_some(first);
                Some(listed(&progress, bench.sign(), put_right))
            }}
            <Show when=is_open>{form.clone()}</Show>
        </section>
    })
}

/// A change as it stands now.
fn change_now(bench: Bench, name: &Id) -> Option<Change> {
    bench.progress.with(|progress| {
        let mut all = progress.as_ref()?.changes.iter();
        Some(all.find(|it| it.name == *name)?.change.clone())
    })
}

/// The form for another change, or for one that is put right.
fn form(
    bench: Bench,
    kept: KeptForm<Change>,
    name: Option<Id>,
    first: RwSignal<Option<Id>>,
) -> impl IntoView {
    let change = kept.typed;
    let odd_price = RwSignal::new(false);
    let was = StoredValue::new(kept.over());
    let puts_right = name.is_some();
    let (heading, word) = match puts_right {
        true => (words::PUT_RIGHT, words::KEEP_CHANGED),
        false => (shared::RECORD_CHANGE, words::KEEP_CHANGE),
    };
    let name = StoredValue::new(name);
    // Whether another page put it right meanwhile.
    let is_overtaken = move || {
        let now = name.with_value(|name| untrack(|| change_now(bench, name.as_ref()?)));
        let differs = now
            .as_ref()
            .is_some_and(|now| was.with_value(|was| was != now));
        now.into_iter().for_each(|now| was.set_value(now));
        differs
    };
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if odd_price.get_untracked() {
            return bench.refuse(price_words::NO_PRICE);
        }
        if is_overtaken() {
            return bench.refuse(shared::OVERTAKEN);
        }
        let deed = Deed::Changed {
            first: name.get_value(),
            step: step_in_hand(bench),
            change: change.get_untracked().into(),
        };
        if !bench.record(deed) {
            return;
        }
        if puts_right {
            kept.forget();
            return first.set(None);
        }
        change.set(Change::default());
        kept.forget();
    };
    let leave = move |_| {
        change.set(was.get_value());
        kept.forget();
        first.set(None);
    };
    view! {
        <form on:submit=keep>
            <h2>{heading}</h2>
            {fields(change, odd_price)}
            {move || checked(bench, change)}
            <div class="row">
                <button type="submit" class="main large">{word}</button>
                {puts_right.then(|| view! {
                    <button type="button" class="plain" on:click=leave>{dealings::LEAVE}</button>
                })}
            </div>
        </form>
    }
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
    listed(progress, sign, None)
}

/// The same, each with a key that puts it right where that can be done here.
fn listed(
    progress: &Progress,
    sign: DecimalSign,
    put_right: Option<RwSignal<Option<Id>>>,
) -> impl IntoView + use<> {
    let rows = progress
        .changes
        .iter()
        .map(|changed| row(progress, changed, sign, put_right))
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

fn row(
    progress: &Progress,
    changed: &Changed,
    sign: DecimalSign,
    put_right: Option<RwSignal<Option<Id>>>,
) -> impl IntoView + use<> {
    let name = changed.name.clone();
    let key = put_right.map(|first| {
        let press = move |_| {
            first.set(Some(name.clone()));
            focus_soon("change-in");
        };
        view! { <button type="button" on:click=press>{dealings::CHANGE}</button> }
    });
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
            {key}
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
            first: None,
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
            .map(|changed| row(&progress, changed, sign, None))
            .collect_view();
        Some(view! { <ul class="changes">{rows}</ul> })
    };
    view! {
        <section class="answer tick">
            <Show when=move || ticked().is_none()>
                <form on:submit=fit>
                    {fields(change, odd_price)}
                    <button type="submit" class="large" class:main=move || at.leads() == Lead::Answer node_ref=key disabled=move || !at.is_open()>{words::FITTED}</button>
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
