//! The line map of a job: a tick for each step, told apart by its shape.

use crate::app::words::shell::parts as words;
use crate::job::{Progress, Status, StepProgress};
use leptos::prelude::*;

/// How a step is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tick {
    /// Still to be done: a hollow box.
    Open,
    /// Behind a stop: a hollow box, low.
    Locked,
    /// Done: a solid box.
    Done,
    /// Done, and found outside: a solid box with a notch.
    FoundOut,
    /// Outside now: a solid triangle.
    Outside,
    /// To be done anew: a box half filled.
    Again,
    /// Left out: a dash.
    Waived,
    /// A stop that is to be confirmed: a hollow diamond.
    Hold,
    /// A stop that holds: a solid diamond.
    Held,
}

impl Tick {
    fn of(step: &StepProgress, is_stop: bool) -> Self {
        match (is_stop, step.status) {
            (_, Status::Waived) => Tick::Waived,
            (true, Status::Done) => Tick::Held,
            (true, _) => Tick::Hold,
            (_, Status::Done) if was_outside(step) => Tick::FoundOut,
            (_, Status::Done) => Tick::Done,
            (_, Status::Outside) => Tick::Outside,
            (_, Status::Open) if step.behind.is_some() => Tick::Locked,
            (_, Status::Open) => Tick::Open,
            _ => Tick::Again,
        }
    }

    /// What is solid, and what is only drawn round.
    const fn shapes(self) -> (&'static str, &'static str) {
        match self {
            Tick::Open => ("", "M2 6h8v8h-8z"),
            Tick::Locked => ("", "M2 11h8v3h-8z"),
            Tick::Done => ("M1 5h10v10h-10z", ""),
            Tick::FoundOut => ("M1 5h2l3 5 3-5h2v10h-10z", ""),
            Tick::Outside => ("M6 3l6 12h-12z", ""),
            Tick::Again => ("M2 10h8v4h-8z", "M2 6h8v8h-8z"),
            Tick::Waived => ("M1 12h10v3h-10z", ""),
            Tick::Hold => ("", "M6 4l5 6-5 6-5-6z"),
            Tick::Held => ("M6 3l6 7-6 7-6-7z", ""),
        }
    }

    /// Whether a step is done with.
    const fn is_settled(self) -> bool {
        matches!(
            self,
            Tick::Done | Tick::FoundOut | Tick::Held | Tick::Waived
        )
    }
}

fn was_outside(step: &StepProgress) -> bool {
    let found = step.found.as_ref().and_then(|found| found.verdict.as_ref());
    found.is_some_and(|verdict| !verdict.is_inside())
}

/// The ticks of a job in the order of its steps.
pub fn ticks(progress: &Progress) -> Vec<Tick> {
    let steps = progress.course.procedure.steps();
    let both = steps.zip(&progress.steps);
    both.map(|(step, standing)| Tick::of(standing, step.work.is_stop()))
        .collect()
}

/// The map, with a ring round the step in front.
#[component]
pub fn LineMap(
    /// A tick for each step.
    ticks: Vec<Tick>,
    /// The number of the step in front.
    #[prop(optional_no_strip)]
    here: Option<usize>,
) -> impl IntoView {
    let settled = ticks.iter().filter(|tick| tick.is_settled()).count();
    let label = words::line_map(settled, ticks.len());
    let drawn: String = ticks
        .iter()
        .enumerate()
        .map(|(index, tick)| drawn(*tick, here == Some(index + 1)))
        .collect();
    // Holds shapes of ours only.
    view! { <span class="line-map" role="img" aria-label=label inner_html=drawn></span> }
}

fn drawn(tick: Tick, is_here: bool) -> String {
    let (solid, round) = tick.shapes();
    let here = match is_here {
        true => r#"<path class="here" d="M-1 .8h14v18.4h-14z"/>"#,
        false => "",
    };
    format!(
        r#"<svg viewBox="-2 0 16 20"><path class="solid" d="{solid}"/><path class="round" d="{round}"/>{here}</svg>"#
    )
}
