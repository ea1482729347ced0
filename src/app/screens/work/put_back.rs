//! The put-back list: what is off, where it belongs, and how it goes back.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::{Ask, Question, field_text};
use crate::app::words::shared;
use crate::app::words::work::put_back as words;
use crate::job::{Deed, Job, Off, OffState, Progress};
use crate::procedure::{Id, Removable, Step};
use leptos::prelude::*;

const STAYS_OFF: Question = Question {
    title: words::WHY_IT_STAYS,
    hint: words::WHY_IT_STAYS_HINT,
    answer: words::STAYS,
    kept_as: "stays-off",
};

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let question = RwSignal::new(None);
    let asked = RwSignal::new(None::<String>);
    let stays = move |_: Question, reason: String| match asked.get_untracked() {
        Some(item) => bench.try_record([Deed::StaysOff { item, reason }]),
        None => Ok(()),
    };
    let leave = move |item: String| {
        asked.set(Some(item));
        question.set(Some(STAYS_OFF));
    };
    let add = add_form(bench);
    // All that was off at any time since the screen is shown, in the order in which it came off.
    let shown = Memo::new(move |before: Option<&Vec<String>>| {
        let before = before.map_or(&[][..], Vec::as_slice);
        bench.progress.with(|progress| {
            let all = progress.iter().flat_map(|progress| &progress.off);
            let is_shown = |off: &&Off| off.state == OffState::Off || before.contains(&off.key);
            all.filter(is_shown)
                .map(|off| off.key.clone())
                .collect::<Vec<String>>()
        })
    });
    let job = bench.job.get_untracked()?.id;
    let of = job.clone();
    let place = move |question: Question| {
        let item = asked.get_untracked().unwrap_or_default();
        format!("{of}:~{}-{item}", question.kept_as)
    };
    Some(view! {
        <section class="page">
            <Ask question place=place on_answer=stays/>
            {ways_back(&job)}
            <h1>{words::TITLE}</h1>
            {still_off(bench, shown, leave)}
            <Show when=move || bench.is_open()>{add.clone()}</Show>
            {move || shown.with(|shown| dealt_with(&bench.progress.get()?, shown))}
        </section>
    })
}

/// What is off now, the latest first: that is the order of reassembly. What was dealt with since
/// the screen is shown keeps its place, so that no other thing comes under the finger.
fn still_off<L: Fn(String) + Copy + Send + Sync + 'static>(
    bench: Bench,
    shown: Memo<Vec<String>>,
    leave: L,
) -> impl IntoView + use<L> {
    let count = move || {
        let progress = bench.progress.get();
        progress.map(|progress| words::lead(progress.still_off().count()))
    };
    let rows = move || {
        let mut keys = shown.get();
        keys.reverse();
        keys
    };
    view! {
        <p class="lead" role="status">{count}</p>
        <ol class="off-list">
            <For each=rows key=|key| key.clone() children=move |key| row(bench, key, leave)/>
        </ol>
    }
}

/// A thing that is off, or was when the screen was opened.
fn row<L: Fn(String) + Copy + Send + Sync + 'static>(
    bench: Bench,
    key: String,
    leave: L,
) -> impl IntoView + use<L> {
    let (back, stays) = (key.clone(), key.clone());
    let put_back = move || {
        bench.record(Deed::PutBack { item: back.clone() });
    };
    let off = Memo::new(move |_| {
        bench.progress.with(|progress| {
            let mut all = progress.as_ref()?.off.iter();
            all.find(|off| off.key == key).cloned()
        })
    });
    let what = move || Some(described(&bench.progress.get_untracked()?, &off.get()?));
    let answer = move || {
        let off = off.get()?;
        let (put_back, stays) = (put_back.clone(), stays.clone());
        Some(match outcome(&off.state) {
            Some(outcome) => view! { <span class="off-done soft">{outcome}</span> }.into_any(),
            None => view! {
                <span class="row">
                    <button type="button" class="main" aria-label=words::this_is_back(&off.item.what)
                        on:click=move |_| put_back()>{words::IS_BACK}</button>
                    <button type="button" aria-label=words::this_stays(&off.item.what)
                        on:click=move |_| leave(stays.clone())>{words::STAYS_ASKS}</button>
                </span>
            }
            .into_any(),
        })
    };
    view! { <li class="off-item">{what}{answer}</li> }
}

/// What became of a thing that is off no more.
fn outcome(state: &OffState) -> Option<String> {
    match state {
        OffState::Off => None,
        OffState::Back => Some(words::BACK.to_owned()),
        OffState::StaysOff(reason) => Some(words::stays_off(reason)),
    }
}

/// A thing with its place, how it sits, and since when it is off.
fn described(progress: &Progress, off: &Off) -> impl IntoView + use<> {
    let lines = [
        (words::PLACE, &off.item.place),
        (words::SITS, &off.item.orientation),
        (shared::NOTE, &off.item.note),
    ];
    let lines = lines
        .into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(name, text)| view! { <span class="off-line"><span class="term">{name}</span>" "{text.clone()}</span> })
        .collect_view();
    let since = off
        .step
        .as_ref()
        .and_then(|step| Some(progress.step(step)?.number))
        .map(|number| view! { <span class="hint">{words::since_step(number)}</span> });
    view! {
        <span class="off-what">
            <strong>{off.item.what.clone()}</strong>
            {lines}
            {since}
        </span>
    }
}

/// One tap for the common things, four fields for any other.
fn add_form(bench: Bench) -> impl IntoView + Clone {
    let blank = || Removable {
        what: String::new(),
        place: String::new(),
        orientation: String::new(),
        note: String::new(),
    };
    let item = RwSignal::new(blank());
    let add = move |what: String| {
        let typed = item.get_untracked();
        let item_off = Removable {
            what: what.trim().to_owned(),
            ..typed
        };
        let deed = Deed::TakenOff {
            step: step_in_hand(bench),
            item: item_off,
        };
        if bench.record(deed) {
            item.set(blank());
        }
    };
    move || {
        let chips = words::COMMON
            .iter()
            .map(|&what| {
                view! {
                    <button type="button" class="chip" on:click=move |_| add(what.to_owned())>{what}</button>
                }
            })
            .collect_view();
        let submit = move |event: leptos::ev::SubmitEvent| {
            event.prevent_default();
            add(item.with_untracked(|item| item.what.clone()));
        };
        view! {
            <h2>{words::CAME_OFF}</h2>
            <p class="hint">{words::CAME_OFF_HINT}</p>
            <div class="chips">{chips}</div>
            <form on:submit=submit>
                <div class="fields">
                    {field(item, "off-what", words::WHAT, words::WHAT_HINT, |item| &mut item.what)}
                    {field(item, "off-place", words::WHERE, "", |item| &mut item.place)}
                    {field(item, "off-sits", words::WHICH_WAY, "", |item| &mut item.orientation)}
                    {field(item, "off-note", shared::NOTE, "", |item| &mut item.note)}
                </div>
                <button type="submit" class="large">{words::ADD}</button>
            </form>
        }
    }
}

fn field(
    item: RwSignal<Removable>,
    id: &'static str,
    label: &'static str,
    hint: &'static str,
    part: fn(&mut Removable) -> &mut String,
) -> impl IntoView {
    let value = move || item.with(|item| part(&mut item.clone()).clone());
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <span class="hint">{hint}</span>
            <input id=id type="text" autocomplete="off" prop:value=move || field_text(value())
                on:input=move |event| item.update(|item| *part(item) = event_target_value(&event))/>
        </div>
    }
}

/// The step last looked at, where it is one of the job in hand.
pub fn step_in_hand(bench: Bench) -> Option<Id> {
    let Some(Route::Step { job, step }) = bench.last_step.get_untracked() else {
        return None;
    };
    let is_its = |in_hand: &Option<Job>| in_hand.as_ref().is_some_and(|it| it.id == job);
    let is_here = bench.job.with_untracked(is_its);
    step.filter(|step| is_here && bench.number_of(step).is_some())
}

/// What is back or stays off, for the record, but for what stands elsewhere on the screen.
pub fn dealt_with(progress: &Progress, elsewhere: &[String]) -> Option<impl IntoView + use<>> {
    let rows: Vec<_> = progress
        .off
        .iter()
        .filter(|off| !elsewhere.contains(&off.key))
        .filter_map(|off| {
            let outcome = outcome(&off.state)?;
            let place = match off.item.place.is_empty() {
                true => String::new(),
                false => words::and_place(&off.item.place),
            };
            Some(view! {
                <li>
                    <span><strong>{off.item.what.clone()}</strong>{place}</span>
                    <span class="soft">{outcome}</span>
                </li>
            })
        })
        .collect();
    (!rows.is_empty()).then(|| {
        view! {
            <h2>{words::DEALT_WITH}</h2>
            <ul class="pairs">{rows.into_iter().collect_view()}</ul>
        }
    })
}

/// The way to the list, with how much is on it. It stands on every screen of a job.
pub fn counter(bench: Bench, job: &Id) -> impl IntoView + use<> {
    let count = move || {
        bench
            .progress
            .with(|p| p.as_ref().map_or(0, |p| p.still_off().count()))
    };
    let off = Route::Off(job.clone()).address();
    view! { <a class="off-count" href=off aria-label=move || words::count_spoken(count())>{move || words::count(count())}</a> }
}

/// What comes off in a step and what goes back.
pub fn lines(step: &Step) -> Option<impl IntoView + use<>> {
    if step.takes_off.is_empty() && step.puts_back.is_empty() {
        return None;
    }
    let off = step.takes_off.iter().map(|item| {
        let details = [&item.place, &item.orientation, &item.note];
        let details: Vec<&str> = details
            .into_iter()
            .map(String::as_str)
            .filter(|text| !text.is_empty())
            .collect();
        view! {
            <dt>{words::COMES_OFF}</dt>
            <dd><strong>{item.what.clone()}</strong>" "{shared::list(&details)}</dd>
        }
    });
    let back = step
        .puts_back
        .iter()
        .map(|what| view! { <dt>{words::GOES_BACK}</dt><dd><strong>{what.clone()}</strong></dd> });
    Some(view! { <dl class="hands">{off.collect_view()}{back.collect_view()}</dl> })
}

/// What keeps a job from being signed off: things that are off with no reason given.
pub fn keeps_open(job: &Job, progress: &Progress) -> Option<impl IntoView + use<>> {
    let mut items: Vec<&Off> = progress.still_off().collect();
    items.reverse();
    if items.is_empty() {
        return None;
    }
    let rows = items
        .into_iter()
        .map(|off| view! { <li class="off-item">{described(progress, off)}</li> })
        .collect_view();
    Some(view! {
        <h2>{words::STILL_OFF}</h2>
        <p>{words::STILL_OFF_LEAD}</p>
        <ol class="off-list">{rows}</ol>
        <a class="button" href=Route::Off(job.id.clone()).address()>{words::TO_THE_LIST}</a>
    })
}
