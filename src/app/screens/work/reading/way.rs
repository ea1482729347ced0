//! Which way the reading must go, and which way that is to turn.

use crate::app::screens::work::step::At;
use crate::app::ui::Turn;
use crate::app::words::work::reading as words;
use crate::metrology::{Place, Verdict};
use crate::procedure::{Id, Sense};
use leptos::prelude::*;

/// Whether the reading must rise, and which way that is to turn, where known.
fn direction(at: At, place: Place) -> Option<(Id, bool, Option<bool>)> {
    let adjuster = at.step.with_value(|step| step.work.adjuster().cloned())?;
    let sense = at
        .procedure
        .with_value(|p| p.adjuster(&adjuster).and_then(|a| a.clockwise));
    let up = match place {
        Place::Inside => return None,
        Place::Low => true,
        Place::High => false,
    };
    let clockwise = sense.map(|sense| (sense == Sense::Raises) == up);
    Some((adjuster, up, clockwise))
}

/// Which way the reading must go and, where known, which way to turn.
pub fn way_to_go(at: At, place: Place) -> Option<String> {
    let (adjuster, up, clockwise) = direction(at, place)?;
    Some(words::way_to_go(up, adjuster.as_str(), clockwise))
}

/// Which way to turn and how far off the reading is, where both are known.
pub fn turn(at: At, verdict: &Verdict) -> Option<Turn> {
    let (_, _, clockwise) = direction(at, verdict.place)?;
    let beyond = verdict.margin.base_f64();
    // From the target to the limit; with no target, a tenth of nothing known is shown as little.
    let allowed = verdict
        .deviation
        .as_ref()
        .map(|deviation| deviation.base_f64().abs() - beyond)
        .filter(|allowed| *allowed > 0.0);
    Some(Turn {
        clockwise: clockwise?,
        off: allowed.map_or(1.0, |allowed| 1.0 + beyond / allowed),
    })
}

/// The same of the latest reading, while there is something to turn for.
pub fn turning(at: At) -> Option<Turn> {
    if !at.is_open() {
        return None;
    }
    let verdict = at
        .standing
        .with(|s| s.as_ref()?.readings.last()?.verdict.clone())?;
    turn(at, &verdict)
}
