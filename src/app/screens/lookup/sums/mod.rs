//! The calculations: all of them, and one screen that serves each.

mod field;
mod working;

use crate::app::screens::lookup::sums::field::field;
use crate::app::screens::lookup::sums::working::{Desk, working};
use crate::app::shell::bench::use_bench;
use crate::app::shell::open_step::{OpenStep, WayBack};
use crate::app::shell::route::Route;
use crate::app::ui::{SumPicture, capitalised, field_text};
use crate::app::words::audio;
use crate::app::words::lookup::sums as words;
use crate::app::words::shared;
use crate::app::words::spelling::spelt;
use crate::quantity::sum::{Answer, Outcome, Output, Sum, Value};
use crate::store::TypedInputs;
use crate::{metrology, radio};
use leptos::prelude::*;

/// Every calculation, in the order of the catalogue.
fn catalogue() -> impl Iterator<Item = &'static Sum> {
    radio::sums::all().chain(metrology::sums::SUMS)
}

/// All calculations by group, found as one types.
pub fn list() -> impl IntoView {
    let wanted = RwSignal::new(String::new());
    let groups = move || {
        let wanted = wanted.get();
        let found: Vec<&Sum> = catalogue().filter(|sum| fits(sum, &wanted)).collect();
        if found.is_empty() {
            let none = words::none_found(wanted.trim());
            return view! { <p role="status">{none}</p> }.into_any();
        }
        let groups = found.chunk_by(|a, b| a.group == b.group);
        groups.map(group).collect_view().into_any()
    };
    view! {
        <section class="page">
            <p class="crumbs"><WayBack/></p>
            <div class="title-row">
                <h1>{words::TITLE}</h1>
                <div class="row">
                    <a class="button" href=Route::Audio.address()>{audio::TITLE}</a>
                    <a class="button" href=Route::Substitution.address()>{shared::SUBSTITUTION_CHECK}</a>
                    <a class="button" href=Route::Channels.address()>{shared::CHANNEL_TABLES}</a>
                    <a class="button" href=Route::Limits.address()>{shared::LIMITS}</a>
                </div>
            </div>
            <div class="field find">
                <label for="find-sum">{words::FIND}</label>
                <input id="find-sum" type="text" autocomplete="off" spellcheck="false"
                    prop:value=move || field_text(wanted.get()) on:input=move |event| wanted.set(event_target_value(&event))/>
            </div>
            {groups}
        </section>
    }
}

fn group(sums: &[&'static Sum]) -> impl IntoView + use<> {
    let title = sums.first().map(|sum| sum.group.title());
    let rows = sums.iter().map(|sum| {
        let route = Route::Sum(sum.id.to_owned());
        view! { <li><a href=route.address()>{spelt(sum.title)}</a></li> }
    });
    view! {
        <h2>{title}</h2>
        <ul class="index">{rows.collect_view()}</ul>
    }
}

/// Whether every word typed stands somewhere in a sum's texts.
fn fits(sum: &Sum, wanted: &str) -> bool {
    let labels = sum.inputs.iter().map(|input| input.label);
    let texts = [sum.group.title(), sum.title, sum.formula];
    let text: Vec<&str> = texts.into_iter().chain(labels).collect();
    let text = text.join(" ");
    let text = format!("{text} {}", spelt(&text)).to_lowercase();
    let wanted = wanted.to_lowercase();
    wanted.split_whitespace().all(|word| text.contains(word))
}

/// One calculation.
pub fn one(id: String) -> impl IntoView {
    let bench = use_bench();
    let Some(sum) = catalogue().find(|sum| sum.id == id) else {
        return view! {
            <section class="page">
                <h1>{words::UNKNOWN}</h1>
                <p>{words::UNKNOWN_LEAD}</p>
                <a class="button" href=Route::Sums.address()>{words::TO_THE_SUMS}</a>
            </section>
        }
        .into_any();
    };
    let typed = RwSignal::new(bench.sum(sum.id));
    let working = Memo::new(move |_| working(sum, &typed.get(), bench.sign()));
    let desk = Desk {
        bench,
        sum,
        typed,
        working,
    };
    let fields = sum.inputs.iter().map(|input| field(desk, input));
    view! {
        <section class="page sum">
            <p class="crumbs"><a href=Route::Sums.address()>{shared::ALL_SUMS}</a><WayBack/></p>
            <p class="section-line">{sum.group.title()}</p>
            <h1>{spelt(sum.title)}</h1>
            <div class="sum-sheet">
                <div class="sum-inputs">
                    {fields.collect_view()}
                    <button type="button" class="plain" disabled=move || typed.with(TypedInputs::is_empty)
                        on:click=move |_| desk.change(TypedInputs::clear)>{shared::CLEAR}</button>
                </div>
                <div class="sum-results">{move || results(desk)}</div>
            </div>
            <dl class="sum-source">
                <dt>{words::FORMULA}</dt><dd>{sum.formula}</dd>
                <dt>{words::SOURCE}</dt><dd>{capitalised(sum.source)}</dd>
            </dl>
        </section>
    }
    .into_any()
}

// The fields

// The results

fn results(desk: Desk) -> AnyView {
    match desk.working.get().answer {
        None => view! { <p class="soft">{words::UNREADABLE}</p> }.into_any(),
        Some(Err(fault)) => view! { <p class="error" role="alert">{fault}</p> }.into_any(),
        Some(Ok(Answer::StillNeeded(labels))) => {
            view! { <p class="soft">{words::still_needed(&labels)}</p> }.into_any()
        }
        Some(Ok(Answer::Worked { outcome, digits })) => worked(desk, outcome, digits).into_any(),
    }
}

fn worked(desk: Desk, outcome: Outcome, digits: usize) -> impl IntoView {
    let sign = desk.bench.sign();
    let step = OpenStep::find(desk.bench);
    let rows = outcome.outputs.iter().enumerate().map(|(index, output)| {
        let is_words = matches!(output.value, Value::Words(_));
        view! {
            <div class="result" class:result-main={index == 0} class:result-words=is_words>
                <dt>{output.label}</dt>
                <dd>{capitalised(&spelt(&output.typeset(digits, sign)))}</dd>
                {send(desk, output, digits, step.as_ref())}
            </div>
        }
    });
    view! {
        <dl class="results" aria-live="polite">{rows.collect_view()}</dl>
        {outcome.picture.map(|picture| view! { <SumPicture picture sign/> })}
    }
}

/// A button that enters a result in the open step, where the step reads this unit.
fn send(
    desk: Desk,
    output: &Output,
    digits: usize,
    step: Option<&OpenStep>,
) -> Option<impl IntoView + use<>> {
    let step = step?.clone();
    let reading = step.reading(output.quantity(digits))?;
    let sign = desk.bench.sign();
    let shown = words::named(output.label, &output.typeset(digits, sign));
    let said = words::use_this_as_reading(step.number, &shown);
    let text = words::use_as_reading(step.number);
    let take = move |_| {
        let note = desk
            .working
            .with_untracked(|working| words::worked_out(desk.sum.title, &working.inputs, &shown));
        step.take(desk.bench, reading.clone(), note);
    };
    Some(view! {
        <dd class="result-send"><button type="button" aria-label=said on:click=take>{text}</button></dd>
    })
}
