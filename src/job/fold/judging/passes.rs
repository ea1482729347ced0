//! Steps that are gone through until they hold: which pass this is, what it showed, and whether
//! another is due.

use crate::job::Taken;
use crate::job::fold::judging::look_again::turned;
use crate::job::fold::standing::noted::LookAgain;
use crate::job::fold::standing::passes::{Pass, PassRead, Passes, Shows};
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::step::StepProgress;
use crate::job::fold::standing::whole::Progress;
use crate::procedure::{Procedure, Repeat, Step, Until, Work};
use crate::quantity::Quantity;
use bigdecimal::BigDecimal;
use std::ops::RangeInclusive;
use std::sync::Arc;

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

pub(in crate::job::fold) fn shows(
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
