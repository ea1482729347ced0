//! Parts that a job wants, what its owner is asked, and who takes the set home.

mod owner;
mod to_order;

pub use self::to_order::to_order;

use crate::app::platform::device;
use crate::app::screens::counter::dealings::owner::{asked, question};
use crate::app::screens::counter::price;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::open_step::ways_back;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::ui::fields::form::{focus_soon, one_of};
use crate::app::words::counter::{dealings as words, price as price_words};
use crate::app::words::shared;
use crate::exchange::report;
use crate::job::{Change, Deed, Job, PartRecord, PartState, Progress, WantedPart};
use crate::procedure::Id;
use crate::quantity::Number;
use bigdecimal::BigDecimal;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

/// What is typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Typed {
    /// The part that is changed, where it is one that is wanted already.
    first: Option<Id>,
    /// What was said of it when the form was filled in.
    was: Option<PartRecord>,
    part: PartRecord,
    /// How many, as typed.
    count: String,
    /// What the owner is to be asked.
    question: String,
}

impl Default for Typed {
    fn default() -> Self {
        Typed {
            first: None,
            was: None,
            part: PartRecord::default(),
            count: "1".to_owned(),
            question: String::new(),
        }
    }
}

impl Typed {
    /// The same once a part was kept: the question may still be unsent.
    fn without_part(self) -> Self {
        Typed {
            question: self.question,
            ..Typed::default()
        }
    }
}

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?.id;
    let place = kept::of_job(&job, kept::DEALINGS);
    let kept = KeptForm::of(bench, place, Typed::default());
    let typed = kept.typed;
    let is_open = move || bench.is_open();
    Some(view! {
        <section class="page">
            {ways_back(&job)}
            <div class="title-row">
                <h1>{words::TITLE}</h1>
                <a class="button" href=Route::ToOrder.address()>{words::TO_ORDER}</a>
            </div>
            <h2>{words::PARTS}</h2>
            {move || bench.progress.with(|progress| Some(parts(bench, progress.as_ref()?, typed)))}
            <Show when=is_open>{part_form(bench, typed)}</Show>
            <h2>{words::OWNER}</h2>
            {move || bench.progress.with(|progress| Some(asked(bench, progress.as_ref()?)))}
            <Show when=is_open>{question(bench, typed)}</Show>
        </section>
    })
}

fn parts(bench: Bench, progress: &Progress, typed: RwSignal<Typed>) -> impl IntoView + use<> {
    let all = &progress.dealings.parts;
    let none = all.is_empty();
    let rows = all.iter().map(|part| row(bench, progress, part, typed));
    view! {
        {none.then(|| view! { <p class="hint">{words::NO_PARTS}</p> })}
        <ul class="changes">{rows.collect_view()}</ul>
    }
}

fn row(
    bench: Bench,
    progress: &Progress,
    part: &WantedPart,
    typed: RwSignal<Typed>,
) -> impl IntoView + use<> {
    let record = part.record.clone();
    let fitted = progress.fitted(&part.name).is_some();
    let state = match fitted {
        true => words::FITTED,
        false => report::words::part_state(record.state),
    };
    let line = words::line(&record.what, &record.number, record.count, state);
    let note = record.note.clone();
    let is_open = progress.signed_off.is_none();
    let name = StoredValue::new(part.name.clone());
    let record = StoredValue::new(record);
    let change = move |_| {
        let part = record.get_value();
        typed.update(|typed| {
            typed.first = Some(name.get_value());
            typed.was = Some(part.clone());
            typed.count = part.count.to_string();
            typed.part = part;
        });
        focus_soon("part-what");
    };
    let fit = move |_| {
        let PartRecord {
            what, price, count, ..
        } = record.get_value();
        // A change has one price, that of all.
        let price =
            price.map(|price| Number::from_decimal(price.decimal() * BigDecimal::from(count)));
        let what = words::fitted(&what, count);
        fitting(
            bench,
            Change {
                fitted: what,
                price,
                part: Some(name.get_value()),
                ..Change::default()
            },
        );
    };
    view! {
        <li>
            <strong>{line}</strong>
            {(!note.is_empty()).then(|| view! { <span class="soft">{note}</span> })}
            {is_open.then(|| view! {
                <span class="row">
                    <button type="button" on:click=change>{words::CHANGE}</button>
                    {(!fitted).then(|| view! { <button type="button" on:click=fit>{words::FIT}</button> })}
                </span>
            })}
        </li>
    }
}

/// Whether another page said something else of the part meanwhile.
fn is_overtaken(bench: Bench, typed: RwSignal<Typed>) -> bool {
    let now = bench.progress.with_untracked(|progress| {
        let first = typed.with_untracked(|typed| typed.first.clone())?;
        let mut parts = progress.as_ref()?.dealings.parts.iter();
        Some(parts.find(|part| part.name == first)?.record.clone())
    });
    kept::is_overtaken(typed, |typed| &mut typed.was, now)
}

/// Goes to the form for a change with what is known of the part. A change that is half typed there
/// is not written over.
fn fitting(bench: Bench, change: Change) {
    let Some(job) = bench
        .job
        .with_untracked(|job| Some(job.as_ref()?.id.clone()))
    else {
        return;
    };
    let place = kept::of_job(&job, kept::CHANGE);
    kept::fill_in(bench, &place, &change);
    bench.go(&Route::Changes { job, check: false });
}

fn part_form(bench: Bench, typed: RwSignal<Typed>) -> impl IntoView {
    let changes = Memo::new(move |_| typed.with(|typed| typed.first.is_some()));
    let odd_price = RwSignal::new(false);
    let clear = move || typed.update(|it| *it = std::mem::take(it).without_part());
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let Typed {
            first, part, count, ..
        } = typed.get_untracked();
        let count = count.trim().parse::<u32>().ok().filter(|count| *count > 0);
        let Some(count) = count else {
            return bench.refuse(words::NO_COUNT);
        };
        if odd_price.get_untracked() {
            return bench.refuse(price_words::NO_PRICE);
        }
        if is_overtaken(bench, typed) {
            return bench.refuse(shared::OVERTAKEN);
        }
        let part = Box::new(PartRecord { count, ..part });
        if bench.record(Deed::PartNoted { first, part }) {
            clear();
        }
    };
    let text = move |id, label, part: fn(&mut Typed) -> &mut String| text(typed, id, label, part);
    view! {
            <form on:submit=keep>
                <h3>{move || if changes.get() { words::CHANGE } else { words::WANT }}</h3>
                <div class="fields">
                    {text("part-what", words::WHAT, |it| &mut it.part.what)}
                    {text("part-number", words::NUMBER, |it| &mut it.part.number)}
                    {text("part-count", words::COUNT, |it| &mut it.count)}
                    {price::field(
    ("part-price", price_words::price_in),
                        (
                            Signal::derive(move || typed.with(|it| it.part.price.clone())),
                            Signal::derive(move || typed.with(|it| it.part == PartRecord::default())),
                        ),
                        Callback::new(move |price| typed.update(|it| it.part.price = price)),
                        odd_price,
                    )}
                    {text("part-note", words::NOTE, |it| &mut it.part.note)}
                    {one_of(
                        ("part-state", words::STATE),
                        &PartState::ALL,
                        |state| words::state(state).to_owned(),
                        Signal::derive(move || typed.with(|it| it.part.state)),
                        Callback::new(move |state| typed.update(|it| it.part.state = state)),
                    )}
                </div>
                <div class="row">
                    <button type="submit" class="main large">{words::KEEP}</button>
                    <Show when=move || changes.get()>
                        <button type="button" class="plain" on:click=move |_| clear()>{words::LEAVE}</button>
                    </Show>
                </div>
            </form>
        }
}

fn text(
    typed: RwSignal<Typed>,
    id: &'static str,
    label: &'static str,
    part: fn(&mut Typed) -> &mut String,
) -> impl IntoView {
    let value = move || typed.with(|it| part(&mut it.clone()).clone());
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input id=id type="text" autocomplete="off" prop:value=move || field_text(value())
                on:input=move |e| typed.update(|it| *part(it) = event_target_value(&e))/>
        </div>
    }
}

/// Who took the set home, or the form for it, once a job is signed off.
pub fn collected(bench: Bench) -> impl IntoView {
    let by = RwSignal::new(bench.progress.with_untracked(|progress| {
        progress
            .as_ref()
            .map_or(String::new(), |it| it.header.owner.clone())
    }));
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        bench.record(Deed::Collected {
            by: by.get_untracked().trim().to_owned(),
        });
    };
    let known = Memo::new(move |_| {
        bench
            .progress
            .with(|progress| progress.as_ref()?.collected().cloned())
    });
    move || {
        match known.get() {
        Some(home) => view! {
            <p>{words::collected(&home.by, &device::date_and_time(home.at))}</p>
        }
        .into_any(),
        None => view! {
            <form on:submit=keep>
                <div class="field">
                    <label for="collected-by">{words::COLLECTED_BY}</label>
                    <input id="collected-by" type="text" autocomplete="off" prop:value=move || field_text(by.get())
                        on:input=move |e| by.set(event_target_value(&e))/>
                </div>
                <button type="submit">{words::COLLECT}</button>
            </form>
        }
        .into_any(),
    }
    }
}

/// What is not settled of it when a job comes to its end, with the way there.
pub fn unsettled(job: &Job, progress: &Progress) -> Option<impl IntoView + use<>> {
    let asked = progress
        .dealings
        .asked
        .iter()
        .filter(|asked| asked.answer.is_none());
    let asked = asked.map(|asked| words::unanswered(&asked.question));
    let due = progress.parts_due().map(|part| {
        let PartRecord {
            what,
            number,
            count,
            state,
            ..
        } = &part.record;
        words::line(what, number, *count, report::words::part_state(*state))
    });
    let rows: Vec<String> = asked.chain(due).collect();
    let is_open = progress.signed_off.is_none() && !rows.is_empty();
    let to = Route::Dealings(job.id.clone()).address();
    is_open.then(|| {
        let rows = rows.into_iter().map(|row| view! { <li>{row}</li> });
        view! {
            <h2>{words::TITLE}</h2>
            <ul class="plain-list">{rows.collect_view()}</ul>
            <a class="button" href=to>{words::TITLE}</a>
        }
    })
}

/// What a job waits for, beside where it stands.
pub fn way(job: &Job) -> impl IntoView + use<> {
    view! { <a class="button" href=Route::Dealings(job.id.clone()).address()>{words::TITLE}</a> }
}
