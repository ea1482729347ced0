//! What an earlier visit of the set left at a step, and how far from there it is found now.

use crate::job::{Course, Progress, StepProgress};
use crate::procedure::Step;
use crate::quantity::{Quantity, Scale};
use std::cmp::Ordering;

/// A reading that an earlier visit left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Before {
    /// The reading, corrected.
    pub left: Quantity,
    /// When it was taken, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
    /// What was found now, where that can be compared.
    pub found: Option<Found>,
}

/// A reading as found, beside what was left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The reading, corrected.
    pub value: Quantity,
    /// How far it is from what was left, never negative.
    pub apart: Quantity,
    /// Whether it is more or less than that.
    pub is: Ordering,
}

/// What the latest of earlier visits that left a reading at the step left there, in the same state
/// of the set; the visits stand with the latest first.
pub fn before<'a>(
    visits: impl IntoIterator<Item = &'a Progress>,
    course: &Course,
    step: &Step,
    now: &StepProgress,
) -> Option<Before> {
    let name = course.known_as(&step.id);
    let mut left = visits.into_iter().filter_map(|visit| {
        let then = visit.course.step_known_as(&name);
        let then = then.filter(|then| then.reads_as(step))?;
        let group = visit.step(&then.id)?.as_left()?;
        Some((group.judged.clone(), group.at))
    });
    let (left, at) = left.next()?;
    Some(Before {
        found: found(&left, now),
        left,
        at,
    })
}

/// Compared in the unit of a difference, shown as the verdict shows how far the limit is.
fn found(left: &Quantity, now: &StepProgress) -> Option<Found> {
    let group = now.found.as_ref()?;
    let value = group.judged.clone();
    if value.unit() != left.unit() {
        return None;
    }
    let margin = group.verdict.as_ref().map(|verdict| verdict.margin.scale);
    let difference = Scale::new(value.scale.prefix, value.unit().of_difference());
    let apart = (value.base() - left.base()).abs();
    Some(Found {
        apart: Quantity::in_scale(apart, margin.unwrap_or(difference)).as_fine_as(&value),
        is: value.base().cmp(&left.base()),
        value,
    })
}
