//! Whether a drifting reading has settled: slope, its uncertainty, and a small plot.

use crate::app::step::At;
use crate::job::advice::{self, Settled};
use crate::metrology::drift::Steadiness;
use leptos::prelude::*;

/// What the repeated readings say of the drift, for a step that states a limit.
pub fn settling(at: At) -> impl IntoView {
    move || {
        let step = at.step.get_value();
        let limit = step.settles.as_ref()?.per_minute.clone();
        let sign = at.bench.sign();
        let limit = limit.typeset(sign);
        let standing = at.standing.get()?;
        let said = advice::settled(&step, &standing);
        Some(match said {
            None => view! {
                <p class="aim">{format!("Settled when it drifts by no more than {limit} a minute. Read it, then “Again” every minute or so.")}</p>
            }
            .into_any(),
            Some(Err(reason)) => view! {
                <p class="aim">{format!("Settled within {limit} a minute? ")}{reason}</p>
            }
            .into_any(),
            Some(Ok(settled)) => {
                let word = match settled.steadiness {
                    Steadiness::Settled => "Settled.",
                    Steadiness::Unsure => "Not sure yet: read it again, later.",
                    Steadiness::Drifting => "Still drifting.",
                };
                let slope = format!(
                    " {} a minute, U = {}; the limit is {limit}.",
                    settled.slope.typeset(sign),
                    settled.expanded.typeset(sign)
                );
                view! {
                    <div class="aim" role="status">
                        <p><strong>{word}</strong>{slope}</p>
                        {plot(&settled)}
                    </div>
                }
                .into_any()
            }
        })
    }
}

const WIDTH: f64 = 600.0;
const HEIGHT: f64 = 140.0;
const EDGE: f64 = 16.0;

/// The readings over time with the straight line through them.
fn plot(settled: &Settled) -> impl IntoView + use<> {
    let line = |minutes: f64| settled.drift.at(minutes);
    let last = settled
        .points
        .last()
        .map_or(1.0, |(minutes, _)| minutes.max(1e-9));
    let values = settled.points.iter().map(|(_, value)| *value);
    let all: Vec<f64> = values.chain([line(0.0), line(last)]).collect();
    let low = all.iter().copied().fold(f64::INFINITY, f64::min);
    let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let span = (high - low).max(f64::MIN_POSITIVE);
    let x = move |minutes: f64| EDGE + minutes / last * (WIDTH - 2.0 * EDGE);
    let y = move |value: f64| HEIGHT - EDGE - (value - low) / span * (HEIGHT - 2.0 * EDGE);
    let dots = settled
        .points
        .iter()
        .map(|(minutes, value)| {
            view! { <circle cx=format!("{:.1}", x(*minutes)) cy=format!("{:.1}", y(*value)) r="6"/> }
        })
        .collect_view();
    let path = format!(
        "M{:.1} {:.1}L{:.1} {:.1}",
        x(0.0),
        y(line(0.0)),
        x(last),
        y(line(last))
    );
    let said = format!(
        "{} readings over {last:.1} minutes with a line through them",
        settled.points.len()
    );
    view! {
        <svg class="drift-plot" viewBox="0 0 600 140" role="img" aria-label=said>
            <path class="plot-frame" d="M16 8V124H584"/>
            <path class="plot-line" d=path/>
            {dots}
        </svg>
    }
}
