//! Finish: what is still open, who signs off, save the file.

mod unsent;

use crate::app::platform::device;
use crate::app::screens::counter::finish::unsent::unsent;
use crate::app::screens::counter::{care, dealings};
use crate::app::shell::bench::keeping::Kept;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::carry::Outgoing;
use crate::app::shell::files::{key_of, ways_out};
use crate::app::shell::route::Route;
use crate::app::ui::{Ask, Question, StatusMark, damage, field_text};
use crate::app::words::counter::finish as words;
use crate::app::words::device::damage as damage_words;
use crate::app::words::{frame, shared};
use crate::exchange::{Document, of_damaged, report};
use crate::job::{Damaged, Deed, Job, Progress, Status};
use crate::procedure::{Id, digest_of};
use leptos::prelude::*;

const REOPEN: Question = Question {
    title: words::REOPEN_THIS,
    hint: words::REOPEN_HINT,
    answer: words::REOPEN,
    kept_as: "reopen",
};

const SET_ASIDE: Question = Question {
    title: words::SET_ASIDE_THIS,
    hint: words::SET_ASIDE_HINT,
    answer: words::SET_ASIDE,
    kept_as: "set-aside",
};

/// The screen.
pub fn screen() -> Option<impl IntoView> {
    let bench = use_bench();
    let question = RwSignal::new(None);
    let by = RwSignal::new(technician(bench));
    // The damaged entry that the question is about.
    let entry = RwSignal::new(String::new());
    let answered = move |asked: Question, reason: String| {
        if asked == SET_ASIDE {
            let (entry, by) = (entry.get_untracked(), by.get_untracked());
            return bench.try_record([Deed::SetAside { entry, by, reason }]);
        }
        bench.try_record([Deed::Reopened { reason }])?;
        // The set may have been away until now.
        bench.note_break();
        Ok(())
    };
    let id = bench
        .job
        .with_untracked(|job| job.as_ref().map(|job| job.id.clone()))?;
    let remarks = kept_remarks(bench, id.clone());
    let of = id.clone();
    let place = move |asked: Question| match asked == SET_ASIDE {
        true => {
            let entry = entry.with_untracked(|entry| digest_of(entry.as_bytes()));
            format!("{of}:~{}-{entry}", asked.kept_as)
        }
        false => format!("{of}:~{}", asked.kept_as),
    };
    let stage = Memo::new(move |_| bench.progress.with(|p| p.as_ref().map(Stage::of)));
    // Each part follows the job by itself. The stage changes when it does, so what comes into the
    // log by another page takes the form from nobody who types.
    let state = move || {
        Some(match stage.get()? {
            Stage::Signed => signed(bench, question).into_any(),
            Stage::Owed => of_job(bench, still_open).into_any(),
            Stage::Off => ().into_any(),
            Stage::Damaged => set_aside(bench, by, entry, question).into_any(),
            Stage::Ready => view! { {unsent(bench)}{sign_off(bench, by, remarks)} }.into_any(),
        })
    };
    let head = move |job: &Job, progress: &Progress| {
        view! {
            <p class="crumbs">
                <span>{shared::job(&progress.header.number, &progress.header.set.title())}</span>
                <a href=Route::Steps(job.id.clone()).address()>{shared::ALL_STEPS}</a>
            </p>
        }
    };
    Some(view! {
        <Ask question place=place on_answer=answered/>
        <section class="page">
            {of_job(bench, head)}
            <h1>{words::TITLE}</h1>
            {of_job(bench, move |job, _| damage(job, bench.sign()))}
            {of_job(bench, |_, progress| counts(progress))}
            {state}
            <h2>{words::THE_SHEET}</h2>
            <p>{words::SHEET_LEAD}</p>
            <a class="button large" href=Route::Report(id).address()>{shared::THE_REPORT}</a>
            {of_job(bench, move |job, progress| care::sections(job, progress, bench.sign()))}
            {save(bench)}
        </section>
    })
}

/// How far a job is from being signed off.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stage {
    Signed,
    Owed,
    /// Something is off the set and has to go back.
    Off,
    /// An entry is damaged and not set aside.
    Damaged,
    Ready,
}

impl Stage {
    fn of(progress: &Progress) -> Self {
        if progress.signed_off.is_some() {
            Stage::Signed
        } else if progress.owed().next().is_some() {
            Stage::Owed
        } else if progress.still_off().next().is_some() {
            Stage::Off
        } else if progress.unsettled().next().is_some() {
            Stage::Damaged
        } else {
            Stage::Ready
        }
    }
}

/// What is shown of the job in hand, made anew with it.
fn of_job<V: IntoView + 'static>(
    bench: Bench,
    part: impl Fn(&Job, &Progress) -> V + Send + 'static,
) -> impl IntoView {
    move || {
        let progress = bench.progress.get()?;
        bench
            .job
            .with(|job| Some(part(job.as_ref()?, &progress).into_any()))
    }
}

fn technician(bench: Bench) -> String {
    let of_job = bench
        .progress
        .with_untracked(|p| p.as_ref().map(|p| p.header.technician.clone()));
    of_job
        .filter(|name| !name.is_empty())
        .unwrap_or_else(|| bench.preferences.with_untracked(|p| p.technician.clone()))
}

fn counts(progress: &Progress) -> impl IntoView + use<> {
    let count = |status| progress.steps.iter().filter(|s| s.status == status).count();
    let rows = [
        Status::Done,
        Status::Waived,
        Status::Outside,
        Status::Unproved,
        Status::Unsettled,
        Status::LookAgain,
        Status::Lapsed,
        Status::WaitAgain,
        Status::Open,
    ]
    .into_iter()
    .map(|status| (status, count(status)))
    // What is done and what is open are always asked for; of the rest, only what there is.
    .filter(|(status, count)| *count > 0 || matches!(status, Status::Done | Status::Open))
    .map(|(status, count)| {
        view! {
            <div class="tally">
                <dt><StatusMark status/></dt>
                <dd>{count}</dd>
            </div>
        }
    })
    .collect_view();
    view! { <dl class="tallies">{rows}</dl> }
}

/// A signed job is open again where a copy was merged that holds more than the sign-off knew of.
fn open_again(job: &Job, progress: &Progress) -> Option<impl IntoView + use<>> {
    let (owed, off) = (progress.owed().count(), progress.still_off().count());
    (owed + off > 0).then(|| {
        view! {
            <p class="lead" role="alert"><strong>{report::words::signed_but_open(owed, off)}</strong></p>
            {(owed > 0).then(|| still_open(job, progress))}
        }
    })
}

fn still_open(job: &Job, progress: &Progress) -> impl IntoView + use<> {
    let rows = progress
        .owed()
        .map(|standing| {
            let procedure = &progress.course.procedure;
            let title = procedure.step(&standing.id).map(|step| step.title.clone());
            let route = Route::Step {
                job: job.id.clone(),
                step: Some(standing.id.clone()),
            };
            view! {
                <li>
                    <a class="step-row" href=route.address()>
                        <span class="step-number">{standing.number}</span>
                        <span class="step-title">{title}</span>
                        <StatusMark status=standing.status behind=standing.behind/>
                    </a>
                </li>
            }
        })
        .collect_view();
    view! {
        <h2>{words::STILL_OPEN}</h2>
        <p>{words::STILL_OPEN_LEAD}</p>
        <ol class="steps">{rows}</ol>
    }
}

/// The damaged entries that keep the job from being signed off, each with a key.
fn set_aside(
    bench: Bench,
    by: RwSignal<String>,
    entry: RwSignal<String>,
    question: RwSignal<Option<Question>>,
) -> impl IntoView {
    let row = move |job: &Job, left: &Damaged| {
        let (place, said) = of_damaged(job, left, bench.sign());
        let text = left.text();
        let ask = move |_| {
            entry.set(text.clone());
            question.set(Some(SET_ASIDE));
        };
        view! {
            <li>
                <p>{damage_words::remains(&place, &said)}</p>
                <button type="button" on:click=ask>{words::SET_ASIDE}</button>
            </li>
        }
    };
    let rows = move |job: &Job, progress: &Progress| {
        let rows = progress.unsettled().map(|left| row(job, left));
        rows.collect_view()
    };
    view! {
        <h2>{words::DAMAGED}</h2>
        <p>{words::DAMAGED_LEAD}</p>
        <div class="fields">{name("set-aside-by", words::WHO_SETS_ASIDE, by)}</div>
        <ul class="plain-list">{of_job(bench, rows)}</ul>
    }
}

/// A field for who answers for something.
fn name(id: &'static str, label: &'static str, by: RwSignal<String>) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <input id=id type="text" autocomplete="name" prop:value=move || field_text(by.get())
                on:input=move |e| by.set(event_target_value(&e))/>
        </div>
    }
}

/// The remarks for the owner, which outlive the page until the job is signed off, under a name that
/// no author gives a step.
fn kept_remarks(bench: Bench, job: Id) -> RwSignal<String> {
    let place = format!("{job}:~remarks");
    let remarks = RwSignal::new(bench.form(&place));
    let is_signed = Memo::new(move |_| {
        let signed = |progress: &Progress| progress.signed_off.is_some();
        bench.progress.with(|p| p.as_ref().is_some_and(signed))
    });
    if is_signed.get_untracked() {
        bench.keep_form(&place, "");
    }
    bench.keep_form_as_typed(place, move || {
        Some(match is_signed.get() {
            true => String::new(),
            false => remarks.get(),
        })
    });
    remarks
}

fn sign_off(bench: Bench, by: RwSignal<String>, remarks: RwSignal<String>) -> impl IntoView {
    let sign = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        bench.record(Deed::SignedOff {
            by: by.get_untracked(),
            remarks: remarks.get_untracked(),
        });
    };
    view! {
        <form on:submit=sign>
            <h2>{words::SIGN_OFF}</h2>
            <div class="fields">
                {name("signed-by", words::WHO_ANSWERS, by)}
                <div class="field field-long">
                    <label for="remarks">{words::REMARKS}</label>
                    <textarea id="remarks" rows="3" prop:value=move || field_text(remarks.get())
                        on:input=move |e| remarks.set(event_target_value(&e))></textarea>
                </div>
            </div>
            <button type="submit" class="main large">{words::SIGN_OFF_JOB}</button>
        </form>
    }
}

fn signed(bench: Bench, question: RwSignal<Option<Question>>) -> impl IntoView {
    let heading = move || match bench.is_kept() {
        Kept::Soon => frame::SAVING,
        Kept::Surely | Kept::Unsurely => words::SIGNED_OFF,
    };
    let who = move |_: &Job, progress: &Progress| {
        let done = progress.signed_off.as_ref()?;
        let by = words::signed(&done.by, &device::date_and_time(done.at));
        Some(view! {
            <p>{move || bench.once_kept(&by)}</p>
            <p>{done.remarks.clone()}</p>
        })
    };
    view! {
        {of_job(bench, open_again)}
        <h2>{heading}</h2>
        {of_job(bench, who)}
        {dealings::collected(bench)}
        <button type="button" on:click=move |_| question.set(Some(REOPEN))>{words::REOPEN_JOB}</button>
    }
}

fn save(bench: Bench) -> impl IntoView {
    let document = move || bench.job.get_untracked().map(Document::Job);
    let save = move |_| {
        if let Some(document) = document() {
            bench.save_as_file(&document);
        }
    };
    let key = untrack(document).as_ref().map_or(String::new(), key_of);
    view! {
        <h2>{words::THE_FILE}</h2>
        <p>{words::FILE_LEAD}</p>
        <button type="button" class="large" on:click=save>{words::SAVE_FILE}</button>
        {ways_out(key, move || document().map(Outgoing::one))}
    }
}
