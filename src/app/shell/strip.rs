//! The strip that stands over the lower edge of a screen and takes no room of it: what was said
//! last, and what waits for a word. So nothing moves when something is said.

use crate::app::platform::device;
use crate::app::shell::bench::{Weight, use_bench};
use crate::app::shell::route::Route;
use crate::app::words::{frame, shared};
use crate::job::Job;
use leptos::prelude::*;

/// Whether a new version of the app waits to be taken.
#[derive(Clone, Copy)]
pub struct UpdateWaits(pub RwSignal<bool>);

/// The strip at the lower edge of the screen, above the keys of one that has keys there.
#[component]
pub fn Floor() -> impl IntoView {
    let bench = use_bench();
    let is_raised = move || bench.route.with(|route| matches!(route, Route::Author(_)));
    view! { <div class="floor" class:floor-raised=is_raised><Strip/></div> }
}

/// All that is to be told on the screen.
#[component]
pub fn Strip() -> impl IntoView {
    view! {
        <div class="strip">
            <UpdateOffer/>
            <Unsaved/>
            <Notices/>
        </div>
    }
}

/// A new version offers itself; it never takes over by itself.
#[component]
fn UpdateOffer() -> impl IntoView {
    let UpdateWaits(waits) = expect_context();
    view! {
        <Show when=move || waits.get()>
            <div class="line line-offer" role="status">
                <p>{frame::UPDATE}</p>
                <button type="button" on:click=|_| device::take_update()>{frame::UPDATE_NOW}</button>
                <button type="button" class="plain" on:click=move |_| waits.set(false)>{frame::UPDATE_LATER}</button>
            </div>
        </Show>
    }
}

/// A job that could not be stored can at least be saved as a file.
#[component]
fn Unsaved() -> impl IntoView {
    let bench = use_bench();
    let save = move |_| {
        if let Some(job) = bench.unsaved.get_untracked() {
            bench.save_as_file(&crate::exchange::Document::Job(job));
        }
    };
    view! {
        <Show when=move || bench.unsaved.with(Option::is_some)>
            <div class="line line-refused" role="alert">
                <p>{move || bench.unsaved.with(|job| job.as_ref().map(|job| frame::unsaved(&named(job))))}</p>
                <button type="button" on:click=save>{frame::SAVE_JOB}</button>
            </div>
        </Show>
    }
}

fn named(job: &Job) -> String {
    let header = job.log.header().cloned().unwrap_or_default();
    shared::job(&header.number, &header.set.title())
}

/// What was said last.
#[component]
fn Notices() -> impl IntoView {
    let bench = use_bench();
    let close = move |_| bench.notice.set(None);
    // A region that announces has to be there before its text is.
    let shown = RwSignal::new(None);
    Effect::new(move |_| {
        let notice = bench.notice.get();
        request_animation_frame(move || {
            shown.try_set(notice);
        });
    });
    view! {
        <div class="notices" aria-live="polite">
            {move || shown.get().map(|notice| view! {
                <div class="line" class:line-refused=notice.weight == Weight::Refused>
                    <p>{notice.text}</p>
                    {notice.offer.map(|offer| {
                        let act = move |_| (offer.act)();
                        view! { <button type="button" on:click=act>{offer.word}</button> }
                    })}
                    <button type="button" class="plain" on:click=close>{frame::CLOSE}</button>
                </div>
            })}
        </div>
    }
}

/// The storage can't be used as it should. That stays, so it has a place at the top.
#[component]
pub fn Trouble() -> impl IntoView {
    let bench = use_bench();
    view! {
        {move || bench.trouble.get().map(|error| view! {
            <div class="line line-refused" role="alert"><p>{shared::sentence(error)}</p></div>
        })}
    }
}
