//! The set and the work as a whole, to be read and put right.

use crate::app::screens::counter::header_form::HeaderForm;
use crate::app::screens::counter::history;
use crate::app::screens::set::changes;
use crate::app::shell::bench::use_bench;
use crate::app::shell::kept;
use crate::app::shell::kept::KeptForm;
use crate::app::shell::route::Route;
use crate::app::ui::fields::form::focus_soon;
use crate::app::words::shared;
use crate::job::Progress;
use crate::procedure::Procedure;
use leptos::prelude::*;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let job = bench.job.get_untracked()?;
    let progress = bench.progress.get_untracked()?;
    let procedure = Procedure::clone(&progress.course.procedure);
    let place = kept::of_job(&job.id, kept::DETAILS);
    let kept = KeptForm::of(bench, place, progress.header);
    let header = kept.typed;
    let (wrong, counts) = (RwSignal::new(None), RwSignal::new(None));
    let id = job.id.clone();
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if let Some(field) = wrong.get_untracked() {
            return focus_soon(field);
        }
        let header = header.get_untracked().without_blank_names();
        let header = bench.progress.with_untracked(|now| {
            // What another page changed meanwhile stays.
            let changed = |now: &Progress| now.header.with_changes(&kept.over(), &header);
            now.as_ref().map_or(header.clone(), changed)
        });
        if bench.amend(header, counts.get_untracked()) {
            kept.forget();
            bench.go(&Route::Steps(id.clone()));
        }
    };
    Some(view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Steps(job.id.clone()).address()>{shared::ALL_STEPS}</a></p>
            <h1>{shared::THE_SET}</h1>
            <form on:submit=keep>
                <HeaderForm header procedure wrong of=Some((job.id.clone(), counts))/>
                <button type="submit" class="main large">{shared::KEEP}</button>
            </form>
            {move || Some(changes::section(&bench.progress.get()?, bench.sign()))}
            <a class="button" href=Route::Changes { job: job.id.clone(), check: false }.address()>{shared::RECORD_CHANGE}</a>
            {move || history::of_set(bench, &bench.progress.get()?.header.set)}
        </section>
    })
}
