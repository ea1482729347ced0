//! What was wrong with the set: the records, and the form for one.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::ui::fields::form::{focus_soon, one_of};
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::counter::jobs;
use crate::app::words::set::{faults as words, trace as trace_words};
use crate::app::words::shared;
use crate::exchange::report;
use crate::job::{Deed, Fault, FaultOf, FaultRecord, Job, Line, Outcome, Progress};
use crate::procedure::Id;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// What is typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
struct Typed {
    /// The record that is changed, where it is one.
    first: Option<Id>,
    /// What stood in it when the form was filled in.
    was: Option<FaultRecord>,
    record: FaultRecord,
}

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let kept = KeptForm::of(bench, kept::of_job(&job, kept::FAULT), Typed::default());
    let typed = kept.typed;
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if is_overtaken(bench, typed) {
            return bench.refuse(shared::OVERTAKEN);
        }
        let Typed { first, record, .. } = typed.get_untracked();
        let record = Box::new(record);
        if bench.record(Deed::FaultNoted { first, record }) {
            typed.set(Typed::default());
            kept.forget();
        }
    };
    let trace = Route::Trace(job.clone()).address();
    let of = job.clone();
    let is_open = move || bench.is_open();
    let changes = Memo::new(move |_| typed.with(|typed| typed.first.is_some()));
    let leave = move |_| {
        typed.set(Typed::default());
        kept.forget();
    };
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <h1>{shared::FAULTS}</h1>
            <a class="button" href=trace>{trace_words::TITLE}</a>
            {move || bench.progress.with(|progress| Some(list(progress.as_ref()?, typed)))}
            {move || bench.progress.with(|progress| Some(met(bench, &of, progress.as_ref()?)))}
            <Show when=is_open>
                <form on:submit=keep>
                    <h2>{move || match (changes.get(), has_some(bench)) {
                        (true, _) => words::CHANGE,
                        (false, true) => words::ANOTHER,
                        (false, false) => words::RECORD,
                    }}</h2>
                    {fields(bench, typed)}
                    <div class="row">
                        <button type="submit" class="main large">{words::KEEP}</button>
                        <Show when=move || changes.get()>
                            <button type="button" class="plain" on:click=leave>{words::LEAVE}</button>
                        </Show>
                    </div>
                </form>
            </Show>
        </section>
    })
}

/// The jobs on other sets of this make and model that say what was wrong, the last first.
pub fn met_before(bench: Bench, job: &Id, progress: &Progress) -> Vec<Arc<Line>> {
    let set = &progress.header.set;
    let is_such = |line: &&Arc<Line>| !line.faults.is_empty() && line.is_on_such_a_set(job, set);
    let mut such: Vec<Arc<Line>> = bench
        .lines
        .with(|lines| lines.iter().filter(is_such).cloned().collect());
    such.sort_by_key(|line| std::cmp::Reverse(line.touched));
    such
}

/// What was wrong with other sets of this make and model.
fn met(bench: Bench, job: &Id, progress: &Progress) -> Option<impl IntoView + use<>> {
    let such = met_before(bench, job, progress);
    let rows = such.iter().flat_map(|line| {
        let to = Route::Faults(line.id.clone()).address();
        line.faults.iter().map(move |record| {
            let said = words::in_short(record);
            view! { <li><span>{said}</span>" "<a class="button plain" href=to.clone()>{line.title()}</a></li> }
        })
    });
    let rows: Vec<_> = rows.collect();
    (!rows.is_empty()).then(|| {
        view! {
            <details>
                <summary>{words::met(rows.len())}</summary>
                <ul class="changes">{rows}</ul>
            </details>
        }
    })
}

/// Goes to the form with what is known of a fault. A record that is half typed there is not
/// written over.
pub fn begin(bench: Bench, job: &Id, record: FaultRecord) {
    let place = kept::of_job(job, kept::FAULT);
    let typed = Typed {
        record,
        ..Typed::default()
    };
    kept::fill_in(bench, &place, &typed);
    bench.go(&Route::Faults(job.clone()));
}

fn has_some(bench: Bench) -> bool {
    let has =
        |progress: &Option<Progress>| progress.as_ref().is_some_and(|it| !it.faults.is_empty());
    bench.progress.with(has)
}

/// What the log leaves open of faults: that nothing answers the one that was reported, that records
/// of it differ, and those that are not at their end. With the way to say it.
pub fn unanswered(job: &Job, progress: &Progress) -> Option<impl IntoView + use<>> {
    let to = Route::Faults(job.id.clone()).address();
    let owes = progress.owes_an_answer();
    let differ = progress.answers_differ();
    let is_open = progress.signed_off.is_none();
    let at_no_end = progress.faults.iter().filter(|fault| fault.is_at_no_end());
    let rows: Vec<String> = at_no_end.filter(|_| is_open).map(in_a_line).collect();
    (owes || differ || !rows.is_empty()).then(|| {
        let rows = rows.into_iter().map(|row| view! { <li>{row}</li> });
        let way = match progress.faults.is_empty() {
            true => words::RECORD,
            false => shared::FAULTS,
        };
        view! {
            <h2>{shared::FAULTS}</h2>
            {owes.then(|| view! { <p>{report::words::NO_ANSWER}</p> })}
            {differ.then(|| view! { <p>{report::words::ANSWERS_DIFFER}</p> })}
            <ul class="plain-list">{rows.collect_view()}</ul>
            <a class="button" href=to>{way}</a>
        }
    })
}

fn in_a_line(fault: &Fault) -> String {
    let FaultRecord {
        of, outcome, seen, ..
    } = &fault.record;
    words::open(&words::line(*of, *outcome), seen)
}

/// Whether another page wrote something else into the record meanwhile.
fn is_overtaken(bench: Bench, typed: RwSignal<Typed>) -> bool {
    let now = bench.progress.with_untracked(|progress| {
        let first = typed.with_untracked(|typed| typed.first.clone())?;
        let mut faults = progress.as_ref()?.faults.iter();
        Some(faults.find(|fault| fault.name == first)?.record.clone())
    });
    kept::is_overtaken(typed, |typed| &mut typed.was, now)
}

/// What was reported, and the records.
fn list(progress: &Progress, typed: RwSignal<Typed>) -> impl IntoView + use<> {
    let reported = progress.header.fault.trim().to_owned();
    let reported = (!reported.is_empty()).then(|| {
        view! { <p class="lead"><span class="term">{words::REPORTED}</span>" "{reported}</p> }
    });
    let none = progress.faults.is_empty();
    let is_open = progress.signed_off.is_none();
    let rows = progress
        .faults
        .iter()
        .map(|fault| row(progress, fault, is_open, typed));
    view! {
        {reported}
        {none.then(|| view! { <p class="hint">{words::NONE_YET}</p> })}
        {progress.answers_differ().then(|| view! { <p role="status">{report::words::ANSWERS_DIFFER}</p> })}
        <ul class="changes">{rows.collect_view()}</ul>
    }
}

fn row(
    progress: &Progress,
    fault: &Fault,
    is_open: bool,
    typed: RwSignal<Typed>,
) -> impl IntoView + use<> {
    let record = fault.record.clone();
    let said = [
        (words::SEEN, &record.seen),
        (words::PLACE, &record.place),
        (words::CAUSE, &record.cause),
        (words::CURE, &record.cure),
    ];
    let said = said.map(|(name, text)| {
        (!text.trim().is_empty()).then(|| {
            view! { <span><span class="term">{name}</span>" "{text.clone()}</span> }
        })
    });
    let shown = (record.outcome == Outcome::Cured)
        .then(|| report::words::cure_shown(&progress.cure_shown(&record)));
    let title = words::line(record.of, record.outcome);
    let name = fault.name.clone();
    let change = move |_| {
        typed.set(Typed {
            first: Some(name.clone()),
            was: Some(record.clone()),
            record: record.clone(),
        });
        focus_soon("fault-seen");
    };
    view! {
        <li>
            <strong>{title}</strong>
            {said.into_iter().collect_view()}
            {shown.map(|shown| view! { <span class="soft">{shown}</span> })}
            {is_open.then(|| view! { <button type="button" on:click=change>{words::CHANGE}</button> })}
        </li>
    }
}

fn fields(bench: Bench, typed: RwSignal<Typed>) -> impl IntoView {
    let record = move |change: &dyn Fn(&mut FaultRecord)| typed.update(|it| change(&mut it.record));
    let text = move |id, label, part: fn(&mut FaultRecord) -> &mut String| {
        let value = move || typed.with(|it| part(&mut it.record.clone()).clone());
        view! {
            <div class="field field-long">
                <label for=id>{label}</label>
                <input id=id type="text" autocomplete="off" prop:value=move || field_text(value())
                    on:input=move |e| record(&|it| *part(it) = event_target_value(&e))/>
            </div>
        }
    };
    view! {
        <div class="fields">
            {one_of(
                ("fault-of", words::WHICH),
                &FaultOf::ALL,
                |of| words::of(of).to_owned(),
                Signal::derive(move || typed.with(|it| it.record.of)),
                Callback::new(move |of| record(&|it| it.of = of)),
            )}
            {text("fault-seen", words::SEEN, |it| &mut it.seen)}
            {steps(bench, typed, ("fault-shown-by", words::SHOWN_BY), |it| &mut it.shown_by)}
            {text("fault-place", words::PLACE, |it| &mut it.place)}
            {text("fault-cause", words::CAUSE, |it| &mut it.cause)}
            {text("fault-cure", words::CURE, |it| &mut it.cure)}
            {steps(bench, typed, ("fault-proved-by", words::PROVED_BY), |it| &mut it.proved_by)}
            {one_of(
                ("fault-outcome", words::OUTCOME),
                &Outcome::ALL,
                |outcome| words::outcome(outcome).to_owned(),
                Signal::derive(move || typed.with(|it| it.record.outcome)),
                Callback::new(move |outcome| record(&|it| it.outcome = outcome)),
            )}
        </div>
    }
}

/// Steps that were read, put on a list and taken off it.
fn steps(
    bench: Bench,
    typed: RwSignal<Typed>,
    (id, label): (&'static str, &'static str),
    part: fn(&mut FaultRecord) -> &mut Vec<Id>,
) -> impl IntoView {
    let named = move || typed.with(|it| part(&mut it.record.clone()).clone());
    let add = Callback::new(move |key: String| {
        if let Ok(step) = key.parse::<Id>() {
            typed.update(|it| {
                let list = part(&mut it.record);
                if !list.contains(&step) {
                    list.push(step);
                }
            });
        }
    });
    let choices = move || {
        let named = named();
        let mut all = readings(bench);
        all.retain(|choice| named.iter().all(|step| step.as_str() != choice.key));
        all
    };
    let name_of = |all: &[Choice], step: &Id| {
        let known = all.iter().find(|choice| choice.key == step.as_str());
        known.map_or(step.to_string(), |choice| choice.name.clone())
    };
    let shown = move || {
        let all = readings(bench);
        let names: Vec<String> = named().iter().map(|step| name_of(&all, step)).collect();
        shared::list(&names)
    };
    let rows = move || {
        let all = readings(bench);
        let row = |step: Id| {
            let name = name_of(&all, &step);
            let remove = move |_| typed.update(|it| part(&mut it.record).retain(|it| *it != step));
            view! {
                <li>
                    <span>{name.clone()}</span>" "
                    <button type="button" class="plain" on:click=remove>{words::without(&name)}</button>
                </li>
            }
        };
        let rows = named().into_iter().map(row).collect_view();
        view! { <ul class="plain-list">{rows}</ul> }
    };
    view! {
        <div class="field-long">
            <Picker id label shown=Signal::derive(shown) choices=Signal::derive(choices) pick=add/>
            {rows}
        </div>
    }
}

/// The steps of the job that hold a reading.
fn readings(bench: Bench) -> Vec<Choice> {
    let sign = bench.sign();
    bench.progress.with(|progress| {
        let Some(progress) = progress else {
            return Vec::new();
        };
        let steps = progress.course.procedure.steps().zip(&progress.steps);
        let read = steps.filter(|(_, standing)| !standing.readings.is_empty());
        let choice = read.map(|(step, standing)| {
            let last = standing.readings.last();
            Choice {
                key: step.id.to_string(),
                name: jobs::step(standing.number, &step.title),
                note: last.map_or(String::new(), |last| last.corrected.typeset(sign)),
                seldom: false,
            }
        });
        choice.collect()
    })
}
