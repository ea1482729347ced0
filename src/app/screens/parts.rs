//! The screens of the parts of the program that are fetched when one of them is first asked for.

use super::apart;
use super::audio;
use super::author;
use super::counter::{dealings, details, finish, history, loose, report, start, verify};
use super::device::{data, export, kit, settings};
use super::lookup::{glossary, reference, sums};
use super::procedures;
use super::set::{changes, faults, papers, photos, scan, substitution, trace};
use super::work::{own, plan, put_back, take_on};
use crate::app::shell::route::Route;
use crate::app::shell::route::parts::{Bringing, Part};
use leptos::prelude::*;
use std::future::Future;
use std::pin::pin;
use std::task::{Context, Poll, Waker};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// Fetches a part, and says whether it is here. One that can't be had is asked for again the next
/// time.
pub fn bring(part: Part) -> Bringing {
    Box::pin(async move {
        let brought = match part {
            Part::Desk => bring_desk().await,
            Part::Writing => bring_writing().await,
            Part::Lookup => bring_lookup().await,
            Part::Sound => bring_sound().await,
        };
        brought.is_ok()
    })
}

/// A screen of a part; nothing while that is not here.
pub fn screen(part: Part, route: Route) -> AnyView {
    let made = match part {
        Part::Desk => at_once(desk(route)),
        Part::Writing => at_once(writing(route)),
        Part::Lookup => at_once(lookup(route)),
        Part::Sound => at_once(sound(route)),
    };
    match made {
        Some(Ok(view)) => view,
        Some(Err(_)) | None => elsewhere(),
    }
}

/// What a future gives that has nothing to wait for.
fn at_once<T>(future: impl Future<Output = T>) -> Option<T> {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(value) => Some(value),
        Poll::Pending => None,
    }
}

type Made = Result<AnyView, SplitLoaderError>;

#[wasm_split(desk, fallible, preload(bring_desk))]
fn desk(route: Route) -> Made {
    Ok(match route {
        Route::Start(digest) => apart(|| start::screen(digest)),
        Route::BookIn => apart(start::book_in),
        Route::OneReading => apart(own::one_reading),
        Route::Loose(_) => apart(loose::screen),
        Route::Dealings(_) => apart(dealings::screen),
        Route::ToOrder => apart(dealings::to_order),
        Route::Details(_) => apart(details::screen),
        Route::AddStep(_) => apart(own::screen),
        Route::ChangeStep { job, step } => apart(|| own::change(job, step)),
        Route::TakeOn { digest, .. } => apart(|| take_on::screen(digest)),
        Route::Plan(_) => apart(plan::screen),
        Route::Off(_) => apart(put_back::screen),
        Route::Finish(_) => apart(finish::screen),
        Route::Photos(_) => apart(photos::screen),
        Route::Papers(_) => apart(papers::screen),
        Route::Paper { paper, step, .. } => apart(|| papers::one_paper(paper, step)),
        Route::Faults(_) => apart(faults::screen),
        Route::Trace(_) => apart(trace::screen),
        Route::Changes { check, .. } => apart(|| changes::screen(check)),
        Route::Scan => apart(scan::screen),
        Route::Report(_) => apart(report::screen),
        Route::Label(_) => apart(report::label),
        Route::Set(serial) => apart(|| history::screen(serial)),
        Route::Verify => apart(verify::screen),
        Route::Kit => apart(kit::list),
        Route::Instrument(name) => apart(|| kit::one(name)),
        Route::StepInstrument { job, step } => apart(|| kit::for_step(job, step)),
        Route::Data => apart(data::screen),
        Route::Export => apart(export::screen),
        Route::Settings => apart(settings::screen),
        _ => elsewhere(),
    })
}

#[wasm_split(writing, fallible, preload(bring_writing))]
fn writing(route: Route) -> Made {
    Ok(match route {
        Route::Procedures => apart(procedures::list),
        Route::Procedure(digest) => apart(|| procedures::one(digest)),
        Route::ProcedureSheet(digest) => apart(|| procedures::sheet(digest)),
        Route::Author(desk) => apart(|| author::screen(&desk)),
        _ => elsewhere(),
    })
}

#[wasm_split(lookup, fallible, preload(bring_lookup))]
fn lookup(route: Route) -> Made {
    Ok(match route {
        Route::Sums => apart(sums::list),
        Route::Sum(id) => apart(|| sums::one(id)),
        Route::Channels => apart(reference::channels),
        Route::Limits => apart(reference::limits),
        Route::Glossary => apart(glossary::screen),
        Route::Substitution => apart(substitution::screen),
        _ => elsewhere(),
    })
}

#[wasm_split(sound, fallible, preload(bring_sound))]
fn sound(route: Route) -> Made {
    Ok(match route {
        Route::Audio => apart(audio::screen),
        _ => elsewhere(),
    })
}

/// What a part shows of a screen that it does not have: `Part::of` names another for it.
fn elsewhere() -> AnyView {
    ().into_any()
}
