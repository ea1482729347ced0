//! The step last looked at: the way back to it, and what it takes from a calculation.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::route::Route;
use crate::app::words::shared;
use crate::app::words::shell::open_step as words;
use crate::job::{Deed, Phase};
use crate::procedure::Id;
use crate::quantity::{Number, Quantity, Scale};
use leptos::prelude::*;

/// The step last looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenStep {
    /// Its address.
    pub route: Route,
    /// Its number in the procedure.
    pub number: usize,
    /// The scale of its readings, where it takes any now.
    pub scale: Option<Scale>,
    /// Its id.
    pub id: Id,
    /// In which phase it is read next.
    pub phase: Phase,
}

impl OpenStep {
    /// The step last looked at, while its job is in hand.
    pub fn find(bench: Bench) -> Option<OpenStep> {
        let route = bench.last_step.get()?;
        let Route::Step { job, step } = &route else {
            return None;
        };
        let id = step.clone()?;
        let is_its =
            |in_hand: &Option<crate::job::Job>| in_hand.as_ref().is_some_and(|it| it.id == *job);
        if !bench.job.with(is_its) {
            return None;
        }
        bench.progress.with(|progress| {
            let progress = progress.as_ref()?;
            let work = progress.course.procedure.step(&id)?.work.clone();
            let standing = progress.step(&id)?;
            let takes = progress.signed_off.is_none();
            Some(OpenStep {
                number: standing.number,
                scale: work.gauge().filter(|_| takes).map(|gauge| gauge.scale),
                phase: standing.next_phase(&work),
                route: route.clone(),
                id,
            })
        })
    }

    /// What the step would take of a result: the same size in the step's own scale.
    pub fn reading(&self, result: Option<Quantity>) -> Option<Quantity> {
        let (result, scale) = (result?, self.scale?);
        let number = Number::from_decimal(scale.prefix.remove(&result.base()));
        (result.unit() == scale.unit).then(|| Quantity::new(number.without_exponent(), scale))
    }

    /// Enters a reading that was worked out, with the working as a note, and shows the step.
    ///
    /// The note comes first, so that taking the last entry back takes the reading.
    pub fn take(&self, bench: Bench, value: Quantity, working: String) {
        let note = Deed::Noted {
            step: Some(self.id.clone()),
            text: working,
        };
        let reading = Deed::Reading {
            step: self.id.clone(),
            phase: self.phase,
            value,
            tool: None,
            repeat: false,
            heard: None,
        };
        if bench.record_all([note, reading]) {
            bench.go(&self.route);
        }
    }
}

/// The ways back from a screen of a job: to all its steps, and to the one last looked at.
pub fn ways_back(job: &Id) -> impl IntoView + use<> {
    view! {
        <p class="crumbs">
            <span class="ways">
                <a href=Route::Steps(job.clone()).address()>{shared::ALL_STEPS}</a>
                <WayBack/>
            </span>
        </p>
    }
}

/// The way back to the step last looked at.
#[component]
pub fn WayBack() -> impl IntoView {
    let bench = use_bench();
    move || {
        OpenStep::find(bench).map(|step| {
            let text = words::back_to_step(step.number);
            view! { <a href=step.route.address()>{text}</a> }
        })
    }
}
