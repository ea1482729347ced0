//! What the owner is asked, and replies.

use crate::app::platform::device;
use crate::app::screens::counter::dealings::{Typed, text};
use crate::app::shell::bench::Bench;
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::ui::field_text;
use crate::app::words::counter::{dealings as words, jobs};
use crate::exchange::report;
use crate::job::{Asked, Deed, Progress};
use leptos::prelude::*;

pub(super) fn question(bench: Bench, typed: RwSignal<Typed>) -> impl IntoView {
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let question = typed.with_untracked(|it| it.question.trim().to_owned());
        if bench.record(Deed::OwnerAsked { question }) {
            typed.update(|it| it.question.clear());
        }
    };
    view! {
        <form on:submit=keep>
            <h3>{words::ASK}</h3>
            <div class="fields">{text(typed, "owner-question", words::QUESTION, |it| &mut it.question)}</div>
            <button type="submit" class="large">{words::KEEP_QUESTION}</button>
        </form>
    }
}

/// What was asked, each with its answer or a field for it.
pub(super) fn asked(bench: Bench, progress: &Progress) -> impl IntoView + use<> {
    let is_open = progress.signed_off.is_none();
    let rows = progress.dealings.asked.iter().map(|it| {
        let answer = match &it.answer {
            Some((answer, at)) => {
                let said = jobs::about(&[answer.clone(), device::date_and_time(*at)]);
                view! {
                    <span>{said}</span>
                    {is_open.then(|| another_answer(bench, it, answer))}
                }
                .into_any()
            }
            None if is_open => answer_field(bench, it, "").into_any(),
            None => view! { <span>{report::words::NOT_ANSWERED}</span> }.into_any(),
        };
        view! { <li><strong>{it.question.clone()}</strong>{answer}</li> }
    });
    view! { <ul class="changes">{rows.collect_view()}</ul> }
}

/// The way to put an answer right, or to another one.
fn another_answer(bench: Bench, asked: &Asked, now: &str) -> impl IntoView + use<> {
    let open = RwSignal::new(false);
    let (asked, now) = (
        StoredValue::new(asked.clone()),
        StoredValue::new(now.to_owned()),
    );
    view! {
        <button type="button" aria-expanded=move || open.get().to_string()
            on:click=move |_| open.update(|open| *open = !*open)>{words::CHANGE}</button>
        <Show when=move || open.get()>
            {asked.with_value(|asked| now.with_value(|now| answer_field(bench, asked, now)))}
        </Show>
    }
}

/// The field for an answer, over the one of now.
fn answer_field(bench: Bench, asked: &Asked, now: &str) -> impl IntoView + use<> {
    let job = bench
        .job
        .with_untracked(|job| job.as_ref().map(|job| job.id.clone()));
    let name = format!("{}-{}", kept::DEALINGS, asked.name);
    let place = job.map_or(name.clone(), |job| kept::of_job(&job, &name));
    let kept = KeptForm::of(bench, place, now.to_owned());
    let typed = kept.typed;
    let id = format!("answer-{}", asked.name);
    let asked = asked.name.clone();
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let answer = typed.get_untracked().trim().to_owned();
        let asked = asked.clone();
        if bench.record(Deed::OwnerAnswered { asked, answer }) {
            kept.forget();
        }
    };
    view! {
        <form on:submit=keep>
            <div class="field">
                <label for=id.clone()>{words::ANSWER}</label>
                <input id=id type="text" autocomplete="off" prop:value=move || field_text(typed.get())
                    on:input=move |e| typed.set(event_target_value(&e))/>
            </div>
            <button type="submit">{words::KEEP_ANSWER}</button>
        </form>
    }
}
