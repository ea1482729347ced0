//! A reading that was taken.

use crate::job::fold::standing::group::Read;
use crate::job::fold::standing::way::Way;
use crate::job::{Heard, Phase, Tool, UsedInstrument};
use crate::metrology::Verdict;
use crate::procedure::Id;
use crate::quantity::Quantity;
use bigdecimal::BigDecimal;
use std::sync::Arc;

impl Read {
    /// A reading that was taken.
    pub fn of(taken: &Taken) -> Self {
        Read {
            indicated: taken.value.clone(),
            corrected: taken.corrected.clone(),
            right: taken.right.clone(),
            with: taken.with.clone(),
            way: taken.way.clone(),
        }
    }
}

/// A reading that was struck out as a slip.
#[derive(Clone, Debug, PartialEq)]
pub struct Struck {
    /// The reading.
    pub taken: Taken,
    /// Why it was struck out.
    pub reason: String,
    /// When it was struck out, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
}

/// A reading and what it proves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// The event that brought it.
    pub event: Id,
    /// When, by the device's clock.
    pub at: i64,
    /// Before, during or after adjusting.
    pub phase: Phase,
    /// What the instrument showed.
    pub value: Quantity,
    /// The same put right by the instrument's corrections.
    pub corrected: Quantity,
    /// The same unrounded, in the unit without prefix: what is judged.
    pub right: BigDecimal,
    /// What the tolerance says of it.
    pub verdict: Option<Verdict>,
    /// Whether the tool was in the adjuster, where that was said.
    pub tool: Option<Tool>,
    /// Whether it is the last reading taken once more.
    pub repeat: bool,
    /// How the device took it itself, where it did.
    pub heard: Option<Box<Heard>>,
    /// The instrument that it was read with, where one was named.
    pub with: Option<Arc<UsedInstrument>>,
    /// How it came to be in the unit and at the place that are judged, where it wasn't.
    pub way: Option<Arc<Way>>,
    /// Its place in the log.
    pub order: usize,
}

impl Taken {
    /// The same as it was typed, for it is not to be judged any more.
    pub(in crate::job::fold) fn unjudged(self) -> Self {
        Taken {
            corrected: self.value.clone(),
            right: self.value.base(),
            verdict: None,
            with: None,
            way: None,
            ..self
        }
    }
}

/// Whether two readings were taken with one instrument as it was known.
pub(in crate::job::fold) fn is_same(
    one: Option<&Arc<UsedInstrument>>,
    other: Option<&Arc<UsedInstrument>>,
) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => Arc::ptr_eq(one, other) || one == other,
        (one, other) => one.is_none() && other.is_none(),
    }
}
