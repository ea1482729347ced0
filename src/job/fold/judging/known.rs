//! The readings that are judged already and stay as they are.

use crate::job::fold::standing::taken::Taken;
use crate::job::fold::standing::whole::Progress;
use std::sync::Arc;

/// The readings of a step as they were before something was added, asked for in the order of the
/// log.
pub(in crate::job::fold) struct Readings<'a>(pub(super) &'a [Arc<Taken>]);

impl<'a> Readings<'a> {
    pub(in crate::job::fold) fn of(before: Option<&'a Progress>, place: usize) -> Self {
        let step = before.and_then(|before| before.steps.get(place));
        Readings(step.map_or(&[], |step| &step.readings))
    }

    /// The one at a place in the log.
    pub(in crate::job::fold) fn at(&mut self, order: usize) -> Option<&'a Arc<Taken>> {
        while let Some((first, rest)) = self.0.split_first() {
            if first.order >= order {
                return Some(first).filter(|first| first.order == order);
            }
            self.0 = rest;
        }
        None
    }

    /// Whether this is one of them, unchanged.
    pub(super) fn has(&mut self, taken: &Arc<Taken>) -> bool {
        self.at(taken.order)
            .is_some_and(|known| Arc::ptr_eq(known, taken))
    }
}
