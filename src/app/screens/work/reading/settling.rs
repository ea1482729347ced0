//! Whether a drifting reading has settled: slope, its uncertainty, and a small plot.

use crate::app::screens::work::step::At;
use crate::app::ui::TermKey;
use crate::app::words::work::reading as words;
use crate::app::words::work::terms::Term;
use crate::exchange::report::{self, Drifting, drift_plot};
use crate::metrology::inference::drift::Steadiness;
use leptos::prelude::*;

/// What the repeated readings say of the drift, for a step that states a limit.
pub fn settling(at: At) -> impl IntoView {
    move || {
        let step = at.step.get_value();
        let per_minute = &step.settles.as_ref()?.per_minute;
        let scale = step.work.gauge()?.scale;
        let sign = at.bench.sign();
        let limit = per_minute.typeset(sign);
        let said = at
            .standing
            .with(|standing| standing.as_ref()?.settling.clone());
        // Where nothing is entered any more, there is nothing to do for it.
        if !at.is_open() && !matches!(said, Some(Ok(_))) {
            return None;
        }
        Some(match said {
            None => view! {
                <p class="aim">{words::how_to_settle(&limit)}<TermKey term=Term::Settled/></p>
            }
            .into_any(),
            Some(Err(reason)) => view! {
                <p class="aim">{words::settled_or_not(&limit, reason)}<TermKey term=Term::Settled/></p>
            }
            .into_any(),
            Some(Ok(settled)) => {
                let word = match settled.steadiness {
                    Steadiness::Settled => words::SETTLED,
                    Steadiness::Unsure => words::UNSURE,
                    Steadiness::Drifting => words::DRIFTING,
                };
                let slope = words::slope(
                    &settled.slope.typeset(sign),
                    &settled.expanded.typeset(sign),
                    &limit,
                );
                let standing = at.standing.get()?;
                let drawn = drift_plot(
                    &Drifting {
                        settled: &settled,
                        per_minute,
                        tolerance: standing.known_tolerance(),
                        scale,
                    },
                    sign,
                );
                view! {
                    <div class="aim" role="status">
                        <p><strong>{word}</strong>{slope}<TermKey term=Term::Settled/></p>
                        <div inner_html=drawn></div>
                        <p class="hint">{report::words::DRIFT_KEY}</p>
                    </div>
                }
                .into_any()
            }
        })
    }
}
