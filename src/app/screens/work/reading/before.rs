//! What the set's last visit left at this step, and how far from there it is found now.

use crate::app::platform::device;
use crate::app::screens::work::step::At;
use crate::app::words::work::reading as words;
use crate::job;
use crate::procedure::Step;
use leptos::prelude::*;

/// The line, where an earlier visit left a reading here.
pub fn line(at: At) -> impl IntoView {
    // Earlier visits don't change while one works on this one.
    let visits = at.bench.visits_before();
    let course = at.bench.course();
    move || {
        let sign = at.bench.sign();
        let course = course.as_ref()?;
        let before = at.standing.with(|standing| {
            let before = |step: &Step| job::before(visits.iter(), course, step, standing.as_ref()?);
            at.step.with_value(before)
        })?;
        let left = words::last_visit(&device::date(before.at), &before.left.typeset(sign));
        let found = before.found.map(|found| {
            words::found_now(
                &found.value.typeset(sign),
                found.is,
                &found.apart.typeset(sign),
            )
        });
        Some(view! { <p class="hint before">{left}{found}</p> })
    }
}
