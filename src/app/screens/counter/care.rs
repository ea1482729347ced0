//! What else is to be known of a job on its last screen: what is off or stays off, changes,
//! sockets, breaks. And the ways from a step to what is recorded beside it.

use crate::app::platform::device;
use crate::app::screens::counter::dealings;
use crate::app::screens::set::{changes, faults};
use crate::app::screens::work::step::At;
use crate::app::screens::work::{own, put_back, socket};
use crate::app::shell::route::Route;
use crate::app::words::set::{photos, trace};
use crate::app::words::shared;
use crate::exchange::report;
use crate::job::{self, Job, Progress};
use crate::quantity::DecimalSign;
use leptos::prelude::*;

/// The sections, each only where there is something to say.
pub fn sections(job: &Job, progress: &Progress, sign: DecimalSign) -> impl IntoView + use<> {
    view! {
        {faults::unanswered(job, progress)}
        {dealings::unsettled(job, progress)}
        {put_back::keeps_open(job, progress)}
        {put_back::dealt_with(progress, &[])}
        {changes::section(progress, sign)}
        {socket::summary(progress)}
        {breaks(job, progress)}
    }
}

/// What can be recorded beside a step.
pub fn ways(at: At) -> impl IntoView {
    let changes = Route::Changes {
        job: at.job.get_value(),
        check: false,
    };
    let to_photos = Route::Photos(at.job.get_value());
    let to_faults = Route::Faults(at.job.get_value());
    let to_add = Route::AddStep(at.job.get_value());
    view! {
        {to_trace(at)}
        <p class="step-ways">
            <a href=to_add.address()>{shared::ADD_A_STEP}</a>
            {own::way(at.bench, &at.job.get_value(), &at.id())}
            <a href=to_faults.address()>{shared::FAULTS}</a>
            <a href=changes.address()>{shared::RECORD_CHANGE}</a>
            <a href=to_photos.address()>{photos::TAKE_PHOTO}</a>
        </p>
    }
}

/// The way back to the search for a fault, at a step that it led to.
fn to_trace(at: At) -> Option<impl IntoView> {
    let leads = at.bench.progress.with_untracked(|progress| {
        at.step
            .with_value(|step| Some(progress.as_ref()?.is_of_a_trace(&step.id)))
    })?;
    let to = Route::Trace(at.job.get_value());
    leads.then(|| view! { <a class="button" href=to.address()>{trace::TITLE}</a> })
}

/// When the bench was left, and what the log holds of the stops that this ended.
fn breaks(job: &Job, progress: &Progress) -> Option<impl IntoView + use<>> {
    let breaks = job::breaks(job, progress);
    (!breaks.is_empty()).then(|| {
        let rows = breaks.iter().map(|pause| {
            let stops = report::after_break(pause, device::date_and_time);
            view! {
                <li>
                    <span>{device::date_and_time(pause.at)}</span>
                    <span>{report::words::sentences(&stops)}</span>
                </li>
            }
        });
        view! {
            <h2>{report::words::BREAKS}</h2>
            <ul class="pairs">{rows.collect_view()}</ul>
        }
    })
}
