//! What an earlier visit of the set left at a step, and how far from there it is found now.

use super::{Progress, StepProgress};
use crate::procedure::{Procedure, Step};
use crate::quantity::{Quantity, Scale};
use std::cmp::Ordering;
use std::sync::Arc;

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
/// of the set; the visits stand with the latest first, each with what it was worked by.
pub fn before<'a>(
    visits: impl IntoIterator<Item = &'a (Arc<Procedure>, Progress)>,
    step: &Step,
    now: &StepProgress,
) -> Option<Before> {
    let mut left = visits.into_iter().filter_map(|(procedure, visit)| {
        let then = procedure
            .step(&step.id)
            .filter(|then| then.reads_as(step))?;
        let group = visit.step(&then.id)?.left.as_ref()?;
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
        apart: Quantity::in_scale(apart, margin.unwrap_or(difference)),
        is: value.base().cmp(&left.base()),
        value,
    })
}
