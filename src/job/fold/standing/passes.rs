//! The passes over steps that are gone through until they hold.

use crate::job::Taken;
use crate::job::fold::standing::status::Status;
use crate::quantity::Quantity;
use std::sync::Arc;

/// The passes over the steps that a step repeats.
#[derive(Clone, Debug, PartialEq)]
pub struct Passes {
    /// The numbers of the first and the last of these steps.
    pub range: (usize, usize),
    /// Each pass in order, the one in hand last.
    pub all: Vec<Pass>,
    /// The most that there may be, where that is stated.
    pub most: Option<u32>,
    /// What the one in hand shows.
    pub shows: Shows,
}

/// One pass: what was read in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Pass {
    /// When it began, by the device's clock; the first begins with the job.
    pub begun: Option<i64>,
    /// The readings of the steps that take one, in their order.
    pub reads: Vec<PassRead>,
    /// Where in the log it began.
    pub(in crate::job::fold) start: Option<usize>,
}

/// What was read at a step in a pass.
#[derive(Clone, Debug, PartialEq)]
pub struct PassRead {
    /// The number of the step.
    pub step: usize,
    /// The first reading and the last, where any was taken.
    pub ends: Option<(Arc<Taken>, Arc<Taken>)>,
}

/// What a pass shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Shows {
    /// Steps are still to be gone through in it: their numbers.
    Open(Vec<usize>),
    /// A step is not done in it.
    NotDone {
        /// Its number.
        step: usize,
        /// Where it stands.
        status: Status,
    },
    /// A step was turned after another was read.
    Turned {
        /// The number of the one that was turned.
        step: usize,
        /// The number of the one that was read before.
        read: usize,
    },
    /// It is the first, or the first that read it all: there is nothing to compare it with.
    NothingBefore,
    /// A reading changed more than it may; the one that changed most.
    Changed {
        /// The number of the step.
        step: usize,
        /// By how much.
        by: Quantity,
    },
    /// What was waited for.
    Holds,
}

impl Passes {
    /// Which pass this is, from 1.
    pub fn number(&self) -> usize {
        self.all.len()
    }

    /// In which pass a reading was taken.
    pub fn pass_of(&self, taken: &Taken) -> usize {
        let begun = |pass: &&Pass| pass.start < Some(taken.order);
        self.all.iter().filter(begun).count()
    }

    /// Whether another pass may begin: this one is through, and there may be more.
    pub fn may_go_on(&self) -> bool {
        !matches!(self.shows, Shows::Open(_) | Shows::Holds) && !self.is_last()
    }

    /// Whether there may be no more passes.
    pub fn is_last(&self) -> bool {
        self.most.is_some_and(|most| self.number() >= most as usize)
    }
}
