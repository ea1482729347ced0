//! All visits of a set.

use crate::app::screens::counter::paper;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::words::counter::history as words;
use crate::exchange::report::{self, html, visits_of};
use crate::job::{Job, SetIdentity, is_same_set};
use leptos::prelude::*;

/// The screen: sets that share a serial number, but not make and type, stand apart.
pub fn screen(serial: String) -> impl IntoView {
    let bench = use_bench();
    let wanted = SetIdentity {
        serial,
        ..SetIdentity::default()
    };
    move || {
        let preferences = bench.preferences.get();
        let jobs: Vec<Job> = bench.jobs_where(|line| is_same_plate(&line.set, &wanted));
        let sets = sets(&jobs, &wanted);
        let nothing = sets
            .is_empty()
            .then(|| view! { <p class="lead">{report::words::NO_VISITS}</p> });
        let sections = sets
            .into_iter()
            .map(|set| {
                let section = paper::with_look(&preferences, |look| visits_of(&set, &jobs, look));
                let sheet = section.map(|section| html::section_fragment(&section));
                view! {
                    <h2>{set.title()}</h2>
                    <div inner_html=sheet.unwrap_or_default()></div>
                    <ul class="plain-list no-print">{reports(&jobs, &set)}</ul>
                }
            })
            .collect_view();
        view! {
            <section class="page">
                <p class="crumbs"><a href=Route::Jobs.address()>{words::JOBS}</a></p>
                <h1>{words::visits_of(&wanted.serial)}</h1>
                {nothing}
                {sections}
            </section>
        }
    }
}

/// The visits of a set on its details, once it was here more than once.
pub fn of_set(bench: Bench, set: &SetIdentity) -> Option<impl IntoView + use<>> {
    let jobs: Vec<Job> = bench.jobs_where(|line| is_same_set(&line.set, set));
    let preferences = bench.preferences.get();
    let section = paper::with_look(&preferences, |look| visits_of(set, &jobs, look));
    let sheet = html::section_fragment(&section.filter(|_| jobs.len() > 1)?);
    // Every text in it is escaped.
    Some(view! { <div class="set-history" inner_html=sheet></div> })
}

/// The different sets with the serial number.
fn sets(jobs: &[Job], wanted: &SetIdentity) -> Vec<SetIdentity> {
    let mut sets: Vec<SetIdentity> = Vec::new();
    for set in jobs.iter().map(|job| job.progress().header.set) {
        if is_same_plate(&set, wanted) && !sets.iter().any(|known| is_same_set(known, &set)) {
            sets.push(set);
        }
    }
    sets
}

/// Whether a set has the serial number that is wanted, whatever its make and type.
fn is_same_plate(set: &SetIdentity, wanted: &SetIdentity) -> bool {
    let plate = SetIdentity {
        serial: set.serial.clone(),
        ..SetIdentity::default()
    };
    is_same_set(&plate, wanted)
}

/// A way to the report of each visit.
fn reports(jobs: &[Job], set: &SetIdentity) -> impl IntoView + use<> {
    jobs.iter()
        .map(|job| (job, job.progress().header))
        .filter(|(_, header)| is_same_set(&header.set, set))
        .map(|(job, header)| {
            let name = words::report_of(&header.number);
            view! { <li><a class="button plain" href=Route::Report(job.id.clone()).address()>{name}</a></li> }
        })
        .collect_view()
}
