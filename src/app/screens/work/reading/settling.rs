//! Whether a drifting reading has settled: slope, its uncertainty, and a small plot.

use crate::app::screens::work::step::At;
use crate::app::words::work::reading as words;
use crate::exchange::report::drift_plot;
use crate::metrology::inference::drift::Steadiness;
use leptos::prelude::*;

/// What the repeated readings say of the drift, for a step that states a limit.
pub fn settling(at: At) -> impl IntoView {
    move || {
        let step = at.step.get_value();
        let limit = step.settles.as_ref()?.per_minute.clone();
        let sign = at.bench.sign();
        let limit = limit.typeset(sign);
        let said = at
            .standing
            .with(|standing| standing.as_ref()?.settling.clone());
        // Where nothing is entered any more, there is nothing to do for it.
        if !at.is_open() && !matches!(said, Some(Ok(_))) {
            return None;
        }
        Some(match said {
            None => view! {
                <p class="aim">{words::how_to_settle(&limit)}</p>
            }
            .into_any(),
            Some(Err(reason)) => view! {
                <p class="aim">{words::settled_or_not(&limit, reason)}</p>
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
                view! {
                    <div class="aim" role="status">
                        <p><strong>{word}</strong>{slope}</p>
                        <div inner_html=drift_plot(&settled, sign)></div>
                    </div>
                }
                .into_any()
            }
        })
    }
}
