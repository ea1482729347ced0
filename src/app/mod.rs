//! The browser side: the browser itself in `platform`, what screens share in `shell`
//! and `ui`, a folder of `screens` for each part of the work.

mod platform;
mod screens;
mod shell;
mod ui;
mod words;

use crate::store::Theme;
use leptos::mount::mount_to_body;
use leptos::prelude::*;
use platform::device;
use screens::device::{abilities, bring_in};
use screens::work::{speech, step};
use screens::{apart, author, parts, screen};
use shell::bench::long_work::Bar;
use shell::bench::{Bench, resume, use_bench};
use shell::route::Route;
use shell::route::parts::Part;
use shell::strip::{Floor, Trouble, UpdateWaits};
use shell::{files, hold};
use words::frame;

/// Fetches what the first screen needs, and puts the app into the page.
pub async fn open() {
    let resumes = resume();
    let is_whole = match Part::of(&Route::read(&device::hash())) {
        Some(part) => part.here_by(parts::bring).await,
        None => true,
    };
    if !is_whole {
        device::go(&Route::Jobs.address());
    }
    mount_to_body(move || view! { <App resumes is_whole/> });
}

/// The whole app.
#[component]
fn App(
    /// Whether it goes on where the last start ended.
    resumes: bool,
    /// Whether the first screen's part could be fetched.
    is_whole: bool,
) -> impl IntoView {
    let bench = Bench::open(resumes, parts::bring);
    if !is_whole {
        bench.refuse(frame::PART_MISSING);
    }
    provide_context(bench);
    let files = files::Files::open();
    provide_context(files);
    provide_context(abilities::Kept::open());
    provide_context(bring_in::Incoming::open(bench, files));
    provide_context(speech::Speech::open());
    provide_context(author::Past::default());
    let update = RwSignal::new(device::mark("update").is_some());
    device::on_window("halfturn-update-waiting", move |_| update.set(true));
    ui::watch_composing();
    provide_context(UpdateWaits(update));
    follow_screen(bench);
    follow_theme(bench);
    hold::follow_taps(bench);
    // Another tab may take the job in hand off this device, or bring it back.
    let is_about_job = move || bench.route.with(|route| route.job().is_some());
    let is_gone = Memo::new(move |_| is_about_job() && bench.job.with(Option::is_none));
    keep_focus();
    let has_own = move || bench.route.with(Route::is_step);
    view! {
        <TopBar/>
        <Trouble/>
        <Bar/>
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

/// Has the page show the theme that is chosen; at the start it did so by itself (`theme.js`).
fn follow_theme(bench: Bench) {
    let theme = Memo::new(move |_| bench.on_device.with(|on_device| on_device.theme));
    Effect::new(move |before: Option<Theme>| {
        let theme = theme.get();
        if before.is_some_and(|before| before != theme) {
            device::tell_window("halfturn-theme");
        }
        theme
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
                    !(is_procedures(r) || is_sums(r) || is_kit(r) || is_data(r) || is_settings(r))
                })}
                {link(Route::Procedures, frame::PROCEDURES, is_procedures)}
                {link(Route::Sums, frame::SUMS, is_sums)}
                {link(Route::Kit, frame::KIT, is_kit)}
                {link(Route::Data, frame::DATA, is_data)}
                {link(Route::Settings, frame::SETTINGS, is_settings)}
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

fn is_settings(route: &Route) -> bool {
    matches!(route, Route::Settings | Route::Glossary)
}

fn is_sums(route: &Route) -> bool {
    matches!(
        route,
        Route::Audio
            | Route::Sums
            | Route::Sum(_)
            | Route::Channels
            | Route::Limits
            | Route::Substitution
    )
}
