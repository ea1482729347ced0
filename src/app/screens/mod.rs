//! The screens, a folder for each part of the work.

pub mod audio;
pub mod author;
pub mod counter;
pub mod device;
pub mod lookup;
pub mod parts;
pub mod procedures;
pub mod set;
pub mod work;

use self::counter::jobs;
use self::work::{step, steps};
use crate::app::shell::route::Route;
use crate::app::shell::route::parts::Part;
use leptos::prelude::*;

/// The screen of an address. Those of a part that is not here yet are shown once it is.
pub fn screen(route: &Route) -> AnyView {
    match route {
        Route::Step { job, step } => apart(|| step::screen(job.clone(), step.clone())),
        Route::Steps(_) => apart(steps::screen),
        route => match Part::of(route) {
            Some(part) => parts::screen(part, route.clone()),
            None => apart(jobs::screen),
        },
    }
}

/// What a function makes. It stays a function of its own in the compiled app, for a browser
/// takes in a function whole when it is first called, and only one screen is shown.
#[inline(never)]
pub fn apart<V: IntoView + 'static>(make: impl FnOnce() -> V) -> AnyView {
    make().into_any()
}
