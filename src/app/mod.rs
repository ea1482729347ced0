//! The browser side: one file a screen, `parts` for what screens share.

mod abilities;
mod at_risk;
mod author;
mod bench;
mod bring_in;
mod care;
mod carry;
mod changes;
mod data;
mod dealings;
mod details;
mod device;
mod export;
mod faults;
mod files;
mod find;
mod finish;
mod history;
mod hold;
mod imaging;
mod jobs;
mod kept;
mod kit;
mod loose;
mod open_step;
mod own;
mod paper;
mod papers;
mod parts;
mod passes;
mod pdf;
mod photos;
mod plan;
mod price;
mod procedures;
mod put_back;
mod reading;
mod reference;
mod report;
mod room;
mod route;
mod safekeeping;
mod scan;
mod several;
mod slices;
mod socket;
mod speech;
mod start;
mod step;
mod steps;
mod strip;
mod substitution;
mod sums;
mod take_on;
mod tone;
mod trace;
mod verify;
mod wait;
mod words;

use bench::{Bench, use_bench};
use leptos::prelude::*;
use route::Route;
use strip::{Floor, Trouble, UpdateWaits};
use words::frame;

/// The whole app.
#[component]
pub fn App() -> impl IntoView {
    let bench = Bench::open();
    provide_context(bench);
    let files = files::Files::open();
    provide_context(files);
    provide_context(abilities::Kept::open());
    provide_context(bring_in::Incoming::open(bench, files));
    provide_context(speech::Speech::open());
    provide_context(author::Past::default());
    let update = RwSignal::new(device::mark("update").is_some());
    device::on_window("halfturn-update-waiting", move |_| update.set(true));
    parts::watch_composing();
    provide_context(UpdateWaits(update));
    follow_screen(bench);
    hold::follow_taps(bench);
    // Another tab may take the job in hand off this device, or bring it back.
    let is_about_job = move || bench.route.with(|route| route.job().is_some());
    let is_gone = Memo::new(move |_| is_about_job() && bench.job.with(Option::is_none));
    keep_focus();
    let has_own = move || bench.route.with(Route::is_step);
    view! {
        <TopBar/>
        <Trouble/>
        <slices::Bar/>
        // What a screen looks at while it is made must not make it anew: who types would lose it.
        <main id="screen" tabindex="-1">{move || match is_gone.get() {
            true => apart(step::missing),
            false => bench.route.with(|route| untrack(|| screen(route))),
        }}</main>
        <Show when=move || !has_own()><Floor/></Show>
    }
}

/// Names the page after its screen, and lets keys and screen readers go on from the heading of
/// a new screen where nothing in it asked for the focus.
fn follow_screen(bench: Bench) {
    let name = document().title();
    Effect::new(move |before: Option<()>| {
        let route = bench.route.get();
        let name = name.clone();
        let moved = before.is_some();
        request_animation_frame(move || {
            let Some(heading) = device::first_heading() else {
                return;
            };
            match route {
                Route::Jobs => document().set_title(&name),
                // Its title is what a printed sheet is called.
                Route::Report(_) => {}
                _ => document().set_title(&frame::title(&heading.inner_text(), &name)),
            }
            if moved && device::nothing_has_focus() {
                device::focus_in_place(&heading);
            }
        });
    });
}

/// Whatever a press takes away or puts out of use, keys go on from somewhere afterwards.
fn keep_focus() {
    device::on_window("click", |_| {
        device::after_paint(|| {
            if device::nothing_has_focus()
                && let Some(heading) = device::first_heading()
            {
                device::focus_in_place(&heading);
            }
        });
    });
}

fn screen(route: &Route) -> AnyView {
    match route {
        Route::Jobs => apart(jobs::screen),
        Route::Start(digest) => apart(|| start::screen(digest.clone())),
        Route::BookIn => apart(start::book_in),
        Route::Scan => apart(scan::screen),
        Route::OneReading => apart(own::one_reading),
        Route::Loose(_) => apart(loose::screen),
        Route::Dealings(_) => apart(dealings::screen),
        Route::ToOrder => apart(dealings::to_order),
        Route::Faults(_) => apart(faults::screen),
        Route::Trace(_) => apart(trace::screen),
        Route::AddStep(_) => apart(own::screen),
        Route::ChangeStep { job, step } => apart(|| own::change(job.clone(), step.clone())),
        Route::TakeOn { digest, .. } => apart(|| take_on::screen(digest.clone())),
        Route::Step { job, step } => apart(|| step::screen(job.clone(), step.clone())),
        Route::StepInstrument { job, step } => apart(|| kit::for_step(job.clone(), step.clone())),
        Route::Steps(_) => apart(steps::screen),
        Route::Details(_) => apart(details::screen),
        Route::Finish(_) => apart(finish::screen),
        Route::Procedures => apart(procedures::list),
        Route::Procedure(digest) => apart(|| procedures::one(digest.clone())),
        Route::ProcedureSheet(digest) => apart(|| procedures::sheet(digest.clone())),
        Route::Author(desk) => apart(|| author::screen(desk)),
        Route::Sums => apart(sums::list),
        Route::Sum(id) => apart(|| sums::one(id.clone())),
        Route::Channels => apart(reference::channels),
        Route::Limits => apart(reference::limits),
        Route::Kit => apart(kit::list),
        Route::Instrument(name) => apart(|| kit::one(name.clone())),
        Route::Plan(_) => apart(plan::screen),
        Route::Off(_) => apart(put_back::screen),
        Route::Photos(_) => apart(photos::screen),
        Route::Papers(_) => apart(papers::screen),
        Route::Paper { paper, step, .. } => {
            apart(|| papers::one_paper(paper.clone(), step.clone()))
        }
        Route::Changes { check, .. } => apart(|| changes::screen(*check)),
        Route::Substitution => apart(substitution::screen),
        Route::Report(_) => apart(report::screen),
        Route::Label(_) => apart(report::label),
        Route::Set(serial) => apart(|| history::screen(serial.clone())),
        Route::Verify => apart(verify::screen),
        Route::Data => apart(data::screen),
        Route::Export => apart(export::screen),
    }
}

/// What a function makes. It stays a function of its own in the compiled app, for a browser
/// takes in a function whole when it is first called, and only one screen is shown.
#[inline(never)]
fn apart<V: IntoView + 'static>(make: impl FnOnce() -> V) -> AnyView {
    make().into_any()
}

/// The name of the app and the way to the other screens; out of the way during a step.
#[component]
fn TopBar() -> impl IntoView {
    let bench = use_bench();
    let link = move |route: Route, name: &'static str, here: fn(&Route) -> bool| {
        let current = move || bench.route.with(here).then_some("page");
        view! { <a href=route.address() aria-current=current>{name}</a> }
    };
    let in_step = move || bench.route.with(Route::is_step);
    view! {
        <header class="top" class:top-quiet=in_step>
            <a class="wordmark" href=Route::Jobs.address()>{frame::HALFTURN}</a>
            <nav aria-label=frame::SCREENS>
                {link(Route::Jobs, frame::JOBS, |r| {
                    !(is_procedures(r) || is_sums(r) || is_kit(r) || is_data(r))
                })}
                {link(Route::Procedures, frame::PROCEDURES, is_procedures)}
                {link(Route::Sums, frame::SUMS, is_sums)}
                {link(Route::Kit, frame::KIT, is_kit)}
                {link(Route::Data, frame::DATA, is_data)}
            </nav>
        </header>
    }
}

fn is_procedures(route: &Route) -> bool {
    matches!(
        route,
        Route::Procedures | Route::Procedure(_) | Route::ProcedureSheet(_) | Route::Author(_)
    )
}

fn is_kit(route: &Route) -> bool {
    matches!(route, Route::Kit | Route::Instrument(_))
}

fn is_data(route: &Route) -> bool {
    matches!(route, Route::Data | Route::Export | Route::Verify)
}

fn is_sums(route: &Route) -> bool {
    matches!(
        route,
        Route::Sums | Route::Sum(_) | Route::Channels | Route::Limits | Route::Substitution
    )
}
