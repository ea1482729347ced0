//! A reading held against that of the step's second route.

use crate::job::fold::proof;
use crate::job::fold::standing::figures::rounded;
use crate::job::fold::standing::second::{Opinion, SecondOpinion};
use crate::job::{Group, Read};
use crate::metrology::inference::agreement::{Agreement, Measured, normalised_error};
use crate::procedure::{Comparison, CrossCheck, Step};
use crate::quantity::{Unit, to_f64};

/// Compares a step's reading with its second route; `None` until both are there.
pub(in crate::job) fn second_opinion(
    step: &Step,
    second: &Read,
    left: Option<&Group>,
) -> Option<SecondOpinion> {
    let check = step.cross_check.as_ref()?;
    let shown = &second.corrected;
    if let Comparison::Plausible(tolerance) = &check.compares {
        let verdict = (tolerance.unit() == shown.unit())
            .then(|| tolerance.judge_unrounded(shown, &second.right))?;
        return Some(SecondOpinion {
            figure: shown.clone(),
            difference: None,
            opinion: Opinion::Plausible(verdict),
        });
    }
    let left = left?;
    let first = left.value.base_f64();
    let (value, sensitivity) = converted(check, shown.unit(), to_f64(&second.right))?;
    let opinion = match is_one_instrument(step, check, left, second) {
        true => Opinion::SameInstrument,
        false => {
            let place = second.indicated.resolution();
            let budget = proof::budget(second.record(), &check.gauge.with, shown, &place, None);
            let second = budget.ok().map(|budget| budget.expanded * sensitivity);
            compared((value, second), (first, left))
        }
    };
    Some(SecondOpinion {
        figure: rounded(value, step, 3)?,
        difference: rounded(value - first, step, 3),
        opinion,
    })
}

/// What two figures say of each other, where both have an uncertainty.
fn compared((value, second): (f64, Option<f64>), (reference, left): (f64, &Group)) -> Opinion {
    let first = left.proof.as_ref().ok().map(|proof| proof.budget.expanded);
    let judged = first.zip(second).and_then(|(first, second)| {
        let measured = |value, expanded| Measured { value, expanded };
        normalised_error(measured(value, second), measured(reference, first)).ok()
    });
    judged.map_or(Opinion::Unjudged, |error| {
        Opinion::Judged(error, Agreement::of(error))
    })
}

/// Whether a step and its second route were read with one instrument: by one of the kit in both
/// or, where it is not of the kit, in one role.
fn is_one_instrument(step: &Step, check: &CrossCheck, left: &Group, second: &Read) -> bool {
    match (left.record(), second.record()) {
        (Some(a), Some(b)) => (&a.name, &a.asset) == (&b.name, &b.asset),
        _ => step
            .work
            .gauge()
            .is_some_and(|gauge| gauge.with == check.gauge.with),
    }
}

/// The second figure in the unit of the first without prefix, and by how much it moves for
/// one unit of what was read. P = U²/R for RMS volts, U = Upp/(2√2); I = U/R.
fn converted(check: &CrossCheck, unit: Unit, read: f64) -> Option<(f64, f64)> {
    match &check.compares {
        Comparison::Same | Comparison::Plausible(_) => Some((read, 1.0)),
        Comparison::CurrentThrough(ohms) => {
            let ohms = ohms.base_f64();
            (ohms > 0.0).then(|| (read / ohms, 1.0 / ohms))
        }
        Comparison::PowerInto(ohms) => {
            let ohms = ohms.base_f64();
            let to_rms = match unit {
                Unit::VoltRms | Unit::VoltDc => 1.0,
                Unit::VoltPeak => 1.0 / 2f64.sqrt(),
                Unit::VoltPeakToPeak => 1.0 / (2.0 * 2f64.sqrt()),
                _ => return None,
            };
            let rms = read * to_rms;
            (ohms > 0.0).then(|| (rms * rms / ohms, 2.0 * rms * to_rms / ohms))
        }
    }
}
