//! A reading that looks like a slip: asked once, put right by one tap, never changed unasked.

use crate::app::screens::work::step::At;
use crate::app::words::work::reading as words;
use crate::job::guidance::advice;
use crate::metrology::inference::slip::Slip;
use crate::procedure::Id;
use leptos::prelude::*;

/// The offer to put the latest reading right, where it looks like a slip.
pub fn offer(at: At) -> impl IntoView {
    let left_alone = RwSignal::new(None::<Id>);
    move || {
        let standing = at.standing.get()?;
        let last = standing.readings.last()?.clone();
        if left_alone.get().as_ref() == Some(&last.event) || !at.is_open() {
            return None;
        }
        let step = at.step.get_value();
        let slips = at.bench.progress.with(|progress| {
            let progress = progress.as_ref()?;
            Some(
                at.procedure
                    .with_value(|p| advice::slips(p, progress, &step)),
            )
        })?;
        let suspicion = slips.into_iter().next()?;
        let asked = question(at, &suspicion);
        let button = button(at, &suspicion);
        let event = last.event.clone();
        // It may be gone a moment before this is.
        let is_latest = {
            let event = event.clone();
            move || {
                at.standing
                    .with_untracked(|s| s.as_ref()?.readings.last().map(|it| it.event == event))
                    == Some(true)
            }
        };
        let put_right = move |_| {
            if is_latest() {
                put_right(at, &suspicion);
            }
        };
        Some(view! {
            <div class="offer-line" role="status">
                <p>{asked}</p>
                <div class="row">
                    <button type="button" on:click=put_right>{button}</button>
                    <button type="button" class="plain" on:click=move |_| left_alone.set(Some(event.clone()))>
                        {words::AS_TYPED}
                    </button>
                </div>
            </div>
        })
    }
}

fn number_of(at: At, step: &Id) -> usize {
    at.procedure.with_value(|p| p.number_of(step)).unwrap_or(0)
}

fn question(at: At, slip: &Slip<Id>) -> String {
    match slip {
        Slip::Sign { .. } => words::WRONG_SIGN.to_owned(),
        Slip::Prefix { .. } => words::WRONG_PREFIX.to_owned(),
        Slip::Swapped { with, .. } => words::were_swapped(number_of(at, with)),
        Slip::Neighbour { step } => words::fits_step(number_of(at, step)),
        Slip::Decade { .. } => words::WRONG_DECADE.to_owned(),
    }
}

fn button(at: At, slip: &Slip<Id>) -> String {
    match (slip, slip.corrected()) {
        (Slip::Swapped { .. }, _) => words::SWAP.to_owned(),
        (Slip::Neighbour { step }, _) => words::move_to(number_of(at, step)),
        (_, Some(corrected)) => words::make_it(&corrected.typeset(at.bench.sign())),
        (_, None) => words::STRIKE_IT.to_owned(),
    }
}

/// Strikes the slip out with its reason and enters what was meant: all of it, or nothing.
fn put_right(at: At, slip: &Slip<Id>) {
    let reason = match slip {
        Slip::Sign { .. } => words::SLIP_OF_SIGN,
        Slip::Prefix { .. } => words::SLIP_OF_PREFIX,
        Slip::Swapped { .. } => words::SLIP_SWAPPED,
        Slip::Neighbour { .. } => words::SLIP_NEIGHBOUR,
        Slip::Decade { .. } => words::SLIP_OF_DECADE,
    };
    let step = at.id();
    let deeds = at.bench.progress.with_untracked(|progress| {
        let progress = progress.as_ref()?;
        advice::corrections(progress, &step, slip, reason)
    });
    if let Some(deeds) = deeds {
        at.bench.record_all(deeds);
    }
}
