//! What else is to be known of a job on its last screen: what is off or stays off, sockets, breaks.

use super::device;
use super::put_back;
use super::socket;
use crate::job::{self, Job, Progress};
use leptos::prelude::*;

/// The sections, each only where there is something to say.
pub fn sections(job: &Job, progress: &Progress) -> impl IntoView + use<> {
    view! {
        {put_back::keeps_open(job, progress)}
        {put_back::dealt_with(progress)}
        {socket::summary(job, progress)}
        {breaks(job)}
    }
}

/// When the bench was left.
fn breaks(job: &Job) -> Option<impl IntoView + use<>> {
    let times = job::breaks(job);
    (!times.is_empty()).then(|| {
        let rows = times
            .into_iter()
            .map(|at| view! { <li><span>{device::date_and_time(at)}</span></li> });
        view! {
            <h2>"Breaks"</h2>
            <p>"After each of these, stops were confirmed again before what needs them."</p>
            <ul class="pairs">{rows.collect_view()}</ul>
        }
    })
}
