//! Steps that are gone through until they hold: which pass this is, what it showed, and whether
//! another is due.

use crate::job::Taken;
use crate::job::fold::look_again::turned;
use crate::job::fold::progress::{LookAgain, Progress, Status, StepProgress};
use crate::procedure::{Procedure, Repeat, Step, Until, Work};
use crate::quantity::Quantity;
use bigdecimal::BigDecimal;
use std::ops::RangeInclusive;
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
    start: Option<usize>,
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

impl Progress {
    /// The step that repeats the one with this number, if one does, with its passes.
    pub fn repeated_by(&self, number: usize) -> Option<(&StepProgress, &Passes)> {
        self.steps.iter().find_map(|step| {
            let passes = step.passes.as_ref()?;
            let (first, last) = passes.range;
            (first..=last).contains(&number).then_some((step, passes))
        })
    }
}

/// Whether a step is gone through anew in each pass: what is read and what is done is, what was
/// fitted, wired or made safe stays so.
fn is_repeated(step: &Step) -> bool {
    step.work.measures() || (matches!(step.work, Work::Tick) && step.wait.is_none())
}

/// Opens the steps of a pass again, and says of each step that repeats others where it stands.
pub(in crate::job) fn mark(procedure: &Procedure, steps: &mut [StepProgress]) {
    if !procedure
        .steps()
        .any(|step| matches!(step.work, Work::Repeat(_)))
    {
        return;
    }
    let turned = turned(procedure, steps);
    let all: Vec<&Step> = procedure.steps().collect();
    for (place, step) in all.iter().enumerate() {
        let Work::Repeat(repeat) = &step.work else {
            continue;
        };
        let Some(range) = procedure.range_of(repeat) else {
            continue;
        };
        let passes = passes(&all, steps, place, range.clone());
        for at in range.clone().filter(|at| is_repeated(all[*at])) {
            reopen(&mut steps[at], &passes, place + 1);
        }
        let shows = shows(&all, steps, (repeat, range.clone()), &passes, &turned);
        let standing = &mut steps[place];
        standing.status = match (&shows, &standing.waived) {
            (Shows::Holds, _) => Status::Done,
            (_, Some(_)) => Status::Waived,
            (_, None) => Status::Open,
        };
        standing.passes = Some(Passes {
            range: (range.start() + 1, range.end() + 1),
            all: passes,
            most: repeat.passes,
            shows,
        });
    }
}

/// What was read in each pass.
fn passes(
    all: &[&Step],
    steps: &[StepProgress],
    place: usize,
    range: RangeInclusive<usize>,
) -> Vec<Pass> {
    let begun = steps[place].passes_begun.iter();
    let starts = begun.map(|(order, at)| (Some(*order), Some(*at)));
    let starts: Vec<(Option<usize>, Option<i64>)> =
        [(None, None)].into_iter().chain(starts).collect();
    let ends = starts.iter().skip(1).map(|(start, _)| *start).chain([None]);
    let pass = |((start, begun), end): (&(Option<usize>, Option<i64>), Option<usize>)| {
        let is_in = |taken: &&Arc<Taken>| {
            Some(taken.order) > *start && end.is_none_or(|end| taken.order < end)
        };
        let reads = range
            .clone()
            .filter(|at| all[*at].work.measures())
            .map(|at| {
                let mut readings = steps[at].readings.iter().filter(is_in);
                let first = readings.next();
                let last = readings.next_back().or(first);
                PassRead {
                    step: at + 1,
                    ends: first.cloned().zip(last.cloned()),
                }
            });
        Pass {
            begun: *begun,
            reads: reads.collect(),
            start: *start,
        }
    };
    starts.iter().zip(ends).map(pass).collect()
}

/// Where in the log a step was gone through last.
fn gone_through(standing: &StepProgress) -> Option<usize> {
    standing.touched.max(standing.ticked_order)
}

/// Opens a step again that was settled before the pass began.
fn reopen(standing: &mut StepProgress, passes: &[Pass], repeated_by: usize) {
    let Some(start) = passes.last().and_then(|pass| pass.start) else {
        return;
    };
    let was_settled = matches!(standing.status, Status::Done | Status::Waived);
    if was_settled && gone_through(standing) < Some(start) {
        standing.status = Status::LookAgain;
        standing.look_again = Some(LookAgain::Pass {
            pass: passes.len(),
            repeated_by,
        });
    }
}

fn shows(
    all: &[&Step],
    steps: &[StepProgress],
    (repeat, range): (&Repeat, RangeInclusive<usize>),
    passes: &[Pass],
    turned: &[Option<usize>],
) -> Shows {
    let start = passes.last().and_then(|pass| pass.start);
    let repeated: Vec<usize> = range.filter(|at| is_repeated(all[*at])).collect();
    let is_open = |at: &&usize| {
        let standing = &steps[**at];
        let is_stale = standing.status == Status::LookAgain;
        gone_through(standing).is_none() || gone_through(standing) < start || is_stale
    };
    let open: Vec<usize> = repeated.iter().filter(is_open).map(|at| at + 1).collect();
    if !open.is_empty() {
        return Shows::Open(open);
    }
    match &repeat.until {
        Until::Inside => all_inside(steps, &repeated, turned),
        Until::Steady(most) => steady(passes, &most.base()),
    }
}

/// Whether each step is done, and nothing was turned after another was read.
fn all_inside(steps: &[StepProgress], repeated: &[usize], turned: &[Option<usize>]) -> Shows {
    let mut at = repeated.iter().map(|at| &steps[*at]);
    if let Some(other) = at.find(|standing| standing.status != Status::Done) {
        return Shows::NotDone {
            step: other.number,
            status: other.status,
        };
    }
    let pairs = repeated.iter().flat_map(|read| {
        let others = repeated.iter().filter(move |step| *step != read);
        others.map(move |step| (*step, *read))
    });
    let is_stale = |(step, read): &(usize, usize)| {
        let last = steps[*read].readings.last().map(|taken| taken.order);
        last.is_some() && turned[*step] > last
    };
    match pairs.filter(is_stale).max_by_key(|(step, _)| turned[*step]) {
        Some((step, read)) => Shows::Turned {
            step: step + 1,
            read: read + 1,
        },
        None => Shows::Holds,
    }
}

/// Whether no reading is further from where the pass before left it than it may be, neither as it
/// was found in this pass nor as it is left: what is set to a target always ends near it.
fn steady(passes: &[Pass], most: &BigDecimal) -> Shows {
    let [.., before, now] = passes else {
        return Shows::NothingBefore;
    };
    let mut largest: Option<(usize, BigDecimal, &Taken)> = None;
    for (was, is) in before.reads.iter().zip(&now.reads) {
        let (Some((_, was)), Some((first, last))) = (&was.ends, &is.ends) else {
            return Shows::NothingBefore;
        };
        for taken in [first, last] {
            let change = (&taken.right - &was.right).abs();
            if largest.as_ref().is_none_or(|(_, most, _)| change > *most) {
                largest = Some((is.step, change, taken));
            }
        }
    }
    match largest {
        None => Shows::NothingBefore,
        Some((_, change, _)) if change <= *most => Shows::Holds,
        Some((step, change, taken)) => Shows::Changed {
            step,
            by: Quantity::natural(change, taken.value.unit().of_difference()),
        },
    }
}
