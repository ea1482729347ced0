//! The screens, a folder for each part of the work.

pub mod audio;
pub mod author;
pub mod counter;
pub mod device;
pub mod lookup;
pub mod procedures;
pub mod set;
pub mod work;

use self::counter::{dealings, details, finish, history, jobs, loose, report, start, verify};
use self::device::{data, export, kit, settings};
use self::lookup::{glossary, reference, sums};
use self::set::{changes, faults, papers, photos, scan, substitution, trace};
use self::work::{own, plan, put_back, step, steps, take_on};
use crate::app::shell::route::Route;
use leptos::prelude::*;

/// The screen of an address.
pub fn screen(route: &Route) -> AnyView {
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
        Route::Audio => apart(audio::screen),
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
        Route::Settings => apart(settings::screen),
        Route::Glossary => apart(glossary::screen),
        Route::Export => apart(export::screen),
    }
}

/// What a function makes. It stays a function of its own in the compiled app, for a browser
/// takes in a function whole when it is first called, and only one screen is shown.
#[inline(never)]
pub fn apart<V: IntoView + 'static>(make: impl FnOnce() -> V) -> AnyView {
    make().into_any()
}
