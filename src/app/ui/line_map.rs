//! The line map of a job: a tick for each step, told apart by its shape.

use crate::app::words::shell::parts as words;
use crate::job::{LineMap as Map, Tick};
use leptos::prelude::*;

/// What is solid, and what is only drawn round.
const fn shapes(tick: Tick) -> (&'static str, &'static str) {
    match tick {
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

/// The map, with a ring round the step in front.
#[component]
pub fn LineMap(
    /// A tick for each step.
    map: Map,
    /// The number of the step in front.
    #[prop(optional_no_strip)]
    here: Option<usize>,
) -> impl IntoView {
    let label = words::line_map(map.settled(), map.0.len());
    let ticks = map.0.into_iter().enumerate();
    let ticks = ticks.map(|(index, tick)| drawn(tick, here == Some(index + 1)));
    view! { <span class="line-map" role="img" aria-label=label>{ticks.collect_view()}</span> }
}

fn drawn(tick: Tick, is_here: bool) -> impl IntoView {
    let (solid, round) = shapes(tick);
    view! {
        <svg viewBox="-2 0 16 20">
            <path class="solid" d=solid/>
            <path class="round" d=round/>
            {is_here.then(|| view! { <path class="here" d="M-1 .8h14v18.4h-14z"/> })}
        </svg>
    }
}
