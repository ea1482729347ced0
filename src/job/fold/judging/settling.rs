//! Whether a reading that is watched while it drifts has settled.

use crate::job::fold::standing::figures::stated_in;
use crate::job::fold::standing::group::Settled;
use crate::job::{Group, Read, Taken};
use crate::metrology::inference::drift::{Drift, Timed, recent};
use crate::metrology::uncertainty::{Contribution, Evaluation};
use crate::procedure::{Gauge, Settling};
use crate::quantity::to_f64;
use std::sync::Arc;

/// Judges the drift of the readings since the last turn of the adjuster; a sentence where there
/// are too few. `None` before there is one.
pub(in crate::job) fn judge(
    limit: &Settling,
    gauge: &Gauge,
    readings: &[Arc<Taken>],
) -> Option<Result<Settled, String>> {
    let limit = limit.per_minute.base_f64();
    let first = readings.first()?.at;
    let step = readings.last().map(|taken| taken.value.resolution())?;
    let step = to_f64(&step);
    let points: Vec<Timed> = readings
        .iter()
        .map(|taken| Timed {
            minutes: (taken.at - first) as f64 / 60_000.0,
            value: to_f64(&taken.right),
        })
        .collect();
    let recent = recent(&points, step, limit);
    let latest = &points[points.len() - recent..];
    let judged = Drift::of(latest, step).and_then(|drift| Ok((drift, drift.steadiness(limit)?)));
    Some(match judged {
        Ok((drift, steadiness)) => {
            let unit = gauge.scale.unit.of_difference();
            let (slope, expanded) = stated_in(unit, drift.slope, drift.expanded)?;
            Ok(Settled {
                points: points.iter().map(|p| (p.minutes, p.value)).collect(),
                recent,
                slope,
                expanded,
                drift,
                steadiness,
            })
        }
        Err(fault) => Err(fault.to_string()),
    })
}

/// The readings as one result: the last of them, for the trend is no scatter, with what they
/// scatter about it.
pub(in crate::job) fn result(
    readings: &[Arc<Taken>],
    settling: Option<&Result<Settled, String>>,
) -> Option<Group> {
    let last = readings.last()?;
    let settled = settling.and_then(|said| said.as_ref().ok());
    Some(Group {
        scatter: settled.map(Settled::scatter),
        ..Group::single(Read::of(last), last.at, last.order)
    })
}

impl Settled {
    /// How a single reading scatters about the line.
    fn scatter(&self) -> Contribution {
        let evaluation = Evaluation::Standard {
            uncertainty: self.drift.scatter,
        };
        Contribution::new("Scatter about the drift", evaluation).freedom(self.recent as f64 - 2.0)
    }
}
