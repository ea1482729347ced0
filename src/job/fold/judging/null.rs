//! A null that one adjuster makes in two steps.

use crate::job::fold::judging::look_again;
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::whole::Progress;
use crate::job::{StepProgress, Taken};
use crate::metrology::Place;
use crate::procedure::{Procedure, Step};
use crate::quantity::Quantity;
use bigdecimal::BigDecimal;
use std::ops::Range;

impl Progress {
    /// A null that one adjuster makes in two steps is made where the worse of both is inside.
    pub(super) fn hold_shared_nulls(&mut self, procedure: &Procedure) {
        let is_outside = |step: &Step| {
            let standing = self.step(&step.id)?;
            let is_done = standing.status == Status::Done;
            Some(is_done && is_null_outside(self, step))
        };
        let outside: Vec<bool> = procedure
            .steps()
            .map(|step| is_outside(step).unwrap_or(false))
            .collect();
        for (standing, is_outside) in self.steps.iter_mut().zip(outside) {
            if is_outside {
                standing.status = match standing.waived {
                    Some(_) => Status::Waived,
                    None => Status::Outside,
                };
            }
        }
    }
}

/// A null that one adjuster makes in two modes.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedNull {
    /// The two readings that were last taken without a turn between them, this step's first.
    pub latest: (Quantity, Quantity),
    /// Whether the adjuster still stands as it did then; else either side has to be looked at.
    pub is_current: bool,
    /// Whether the worse of the two is inside, where both are known as the adjuster stands now.
    pub place: Option<Place>,
    /// Which of the two is the worse, and so the one to give to.
    pub worse: Side,
    /// The pair whose worse reading was the best so far.
    pub best: (Quantity, Quantity),
}

/// One of the two steps of a shared null.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The step asked about.
    This,
    /// Its partner.
    Other,
    /// Both alike.
    Both,
}

/// Judges a shared null by the worse of its two readings; `None` until both have one, and where
/// its other step was waived, which then asks for nothing.
pub fn shared_null(procedure: &Procedure, progress: &Progress, step: &Step) -> Option<SharedNull> {
    let (this, other) = null_sides(progress, step)?;
    let partner = procedure.step(&other.id)?;
    let is_still = look_again::stood_still(procedure, &progress.steps);
    let mut pairs = null_pairs(this, other, |between| {
        is_still(step, between.clone()) && is_still(partner, between)
    });
    let now = null_now(this, other);
    pairs.extend(now.clone());
    let latest = pairs.last()?.clone();
    let best = pairs.iter().min_by_key(|pair| worse_of(pair))?.clone();
    let worse = match latest.0.base().cmp(&latest.1.base()) {
        std::cmp::Ordering::Greater => Side::This,
        std::cmp::Ordering::Less => Side::Other,
        std::cmp::Ordering::Equal => Side::Both,
    };
    Some(SharedNull {
        latest,
        is_current: now.is_some(),
        place: now.and_then(|now| null_place(this, &now)),
        worse,
        best,
    })
}

/// Whether the worse side of a step's null lies outside as the adjuster stands now. The fold asks
/// this at each entry, so it looks at the last readings alone.
pub fn is_null_outside(progress: &Progress, step: &Step) -> bool {
    let place = null_sides(progress, step)
        .and_then(|(this, other)| null_place(this, &null_now(this, other)?));
    place.is_some_and(|place| place != Place::Inside)
}

/// A step and the other step of its null; none where that was waived.
fn null_sides<'a>(
    progress: &'a Progress,
    step: &Step,
) -> Option<(&'a StepProgress, &'a StepProgress)> {
    let this = progress.step(&step.id)?;
    let other = progress.step(step.shares_null_with.as_ref()?)?;
    (other.status != Status::Waived).then_some((this, other))
}

/// Both readings as the adjuster stands now; none where a side has to be looked at first.
fn null_now(this: &StepProgress, other: &StepProgress) -> Option<(Quantity, Quantity)> {
    let last = |of: &StepProgress| {
        let taken = of.readings.last().filter(|_| of.look_again.is_none())?;
        Some(taken.corrected.clone())
    };
    last(this).zip(last(other))
}

fn null_place(this: &StepProgress, now: &(Quantity, Quantity)) -> Option<Place> {
    let tolerance = this.tolerance.as_ref()?.as_ref().ok()?;
    Some(tolerance.limits().place(&worse_of(now)))
}

fn worse_of(pair: &(Quantity, Quantity)) -> BigDecimal {
    pair.0.base().max(pair.1.base())
}

/// Neighbouring readings of the two steps, where what moves them stood still between them.
fn null_pairs(
    this: &StepProgress,
    other: &StepProgress,
    is_still: impl Fn(Range<usize>) -> bool,
) -> Vec<(Quantity, Quantity)> {
    let mine = this.readings.iter().map(|taken| (true, &**taken));
    let theirs = other.readings.iter().map(|taken| (false, &**taken));
    let mut all: Vec<(bool, &Taken)> = mine.chain(theirs).collect();
    all.sort_by_key(|(_, taken)| taken.order);
    all.windows(2)
        .filter(|pair| pair[0].0 != pair[1].0 && is_still(pair[0].1.order..pair[1].1.order))
        .map(|pair| {
            let value = |want: bool| {
                let taken = if pair[0].0 == want {
                    pair[0].1
                } else {
                    pair[1].1
                };
                taken.corrected.clone()
            };
            (value(true), value(false))
        })
        .collect()
}
