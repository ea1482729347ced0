//! One adjustment pulls another: which steps need another look, and why.

use crate::job::fold::judging::plan_part::reads;
use crate::job::fold::standing::noted::LookAgain;
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::step::StepProgress;
use crate::job::{Phase, Taken};
use crate::procedure::{Id, Procedure, Step, Target, Work};
use crate::radio::plan::Mode;
use std::collections::HashMap;
use std::ops::{Range, RangeInclusive};

/// An adjuster was turned.
struct Turn {
    adjuster: Id,
    /// The step's place, from 0.
    step: usize,
    order: usize,
}

/// Marks every settled step whose reading an adjuster moves that was turned afterwards, also
/// by way of the step that its target refers to.
pub(in crate::job) fn mark(procedure: &Procedure, steps: &mut [StepProgress]) {
    let moves = Moves::of(procedure);
    let turns = turns(procedure, steps, &moves, |_| {});
    for (index, (step, standing)) in procedure.steps().zip(steps).enumerate() {
        let Some(settled) = standing.touched else {
            continue;
        };
        let since = turns.iter().flatten().filter(|turn| turn.order > settled);
        let because = since
            .filter(|turn| turn.step != index && moves.reach(&turn.adjuster, step))
            .max_by_key(|turn| turn.order);
        standing.look_again = because.map(|turn| LookAgain::Turned {
            adjuster: turn.adjuster.clone(),
            turned_in: turn.step + 1,
        });
        let was_settled = matches!(standing.status, Status::Done | Status::Waived);
        if standing.look_again.is_some() && was_settled {
            standing.status = Status::LookAgain;
        }
    }
}

/// Where in the log each step's own adjuster was turned last, if it was.
pub(in crate::job) fn turned(procedure: &Procedure, steps: &[StepProgress]) -> Vec<Option<usize>> {
    let turns = turns(procedure, steps, &Moves::of(procedure), |_| {});
    let order = |turn: Option<Turn>| turn.map(|turn| turn.order);
    turns.into_iter().map(order).collect()
}

/// Tells whether nothing that moves a step's reading was turned between two places of the log, the
/// later one with it.
pub(in crate::job) fn stood_still<'a>(
    procedure: &'a Procedure,
    steps: &[StepProgress],
) -> impl Fn(&Step, Range<usize>) -> bool + 'a {
    let moves = Moves::of(procedure);
    let mut all: Vec<(Id, usize)> = Vec::new();
    turns(procedure, steps, &moves, |turn| {
        all.push((turn.adjuster.clone(), turn.order));
    });
    move |step, between| {
        let behind = all.partition_point(|(_, order)| *order <= between.start);
        let mut meanwhile = all[behind..]
            .iter()
            .take_while(|(_, order)| *order <= between.end);
        !meanwhile.any(|(adjuster, _)| moves.reach(adjuster, step))
    }
}

/// The last turn in each step, found in the order of the log: what another adjuster moved
/// meanwhile was not turned here. Tells of every turn.
fn turns(
    procedure: &Procedure,
    steps: &[StepProgress],
    moves: &Moves,
    mut tell: impl FnMut(&Turn),
) -> Vec<Option<Turn>> {
    let all: Vec<&Step> = procedure.steps().collect();
    let mut readings: Vec<(usize, &Taken)> = steps
        .iter()
        .enumerate()
        .flat_map(|(index, standing)| {
            standing
                .readings
                .iter()
                .map(move |taken| (index, taken.as_ref()))
        })
        .collect();
    readings.sort_by_key(|(_, taken)| taken.order);
    let mut turns: Vec<Option<Turn>> = all.iter().map(|_| None).collect();
    let mut before: Vec<Option<&Taken>> = vec![None; all.len()];
    for (index, taken) in readings {
        let step = all[index];
        if let Some(adjuster) = step.work.adjuster() {
            let was_moved = |before: &Taken| {
                let others = turns.iter().flatten().filter(|turn| turn.step != index);
                others.filter(|turn| turn.order > before.order).any(|turn| {
                    moves.reach(&turn.adjuster, step) || moves.are_repeated(turn.step, index)
                })
            };
            if is_turn(before[index], taken, was_moved) {
                let turn = Turn {
                    adjuster: adjuster.clone(),
                    step: index,
                    order: taken.order,
                };
                tell(&turn);
                turns[index] = Some(turn);
            }
        }
        before[index] = Some(taken);
    }
    turns
}

/// Whether the step's own adjuster was turned for a reading. Tries are. A reading as left follows
/// a try, or differs from the one before it, unless another adjuster moved it since. One that is
/// taken once more, with nothing changed, may differ in its last digit.
fn is_turn(before: Option<&Taken>, taken: &Taken, was_moved: impl Fn(&Taken) -> bool) -> bool {
    let is_repeat = taken.repeat && before.is_some_and(|before| before.phase == taken.phase);
    if is_repeat {
        return false;
    }
    match (taken.phase, before) {
        (Phase::AsFound, _) | (Phase::AsLeft, None) => false,
        (Phase::Try, _) => true,
        (Phase::AsLeft, Some(before)) if before.phase == Phase::Try => true,
        (Phase::AsLeft, Some(before)) => before.value != taken.value && !was_moved(before),
    }
}

/// What each adjuster moves.
struct Moves<'a> {
    procedure: &'a Procedure,
    /// The steps that read a frequency of the plan, with the adjusters that set what they read.
    of_plan: HashMap<&'a Id, Vec<&'a str>>,
    /// The steps that are gone through together until they hold, by their places.
    repeated: Vec<RangeInclusive<usize>>,
}

impl<'a> Moves<'a> {
    fn of(procedure: &'a Procedure) -> Self {
        let modes = procedure.plan.iter().flat_map(|plan| &plan.modes);
        let modes: Vec<&Mode> = modes.collect();
        let of_step = |step: &'a Step| {
            let read = reads(step)?;
            let mode = modes.iter().find(|mode| mode.name == read.mode)?;
            let parts = mode.terms.iter().filter(|term| {
                read.oscillator
                    .is_none_or(|oscillator| term.oscillator == oscillator)
            });
            let adjusters = parts.map(|term| term.adjuster.as_str());
            Some((&step.id, adjusters.collect()))
        };
        Moves {
            procedure,
            of_plan: procedure.steps().filter_map(of_step).collect(),
            repeated: procedure.ranges().collect(),
        }
    }

    /// Whether two steps are gone through together until they hold: each may move the other.
    fn are_repeated(&self, one: usize, other: usize) -> bool {
        let mut ranges = self.repeated.iter();
        ranges.any(|range| range.contains(&one) && range.contains(&other))
    }

    /// Whether turning the adjuster moves what the step reads, directly or through the step that
    /// its target refers to.
    fn reach(&self, adjuster: &Id, step: &Step) -> bool {
        // The chain of references is no longer than the procedure, even in a circular one.
        let mut at = Some(step);
        for _ in self.procedure.steps() {
            let Some(step) = at else {
                return false;
            };
            if self.disturbs(adjuster, step) {
                return true;
            }
            let to = step.work.target().and_then(Target::leans_on);
            at = to.and_then(|to| self.procedure.step(to));
        }
        false
    }

    /// By what the adjuster is said to disturb, by the plan, as what the step itself sets, and
    /// among steps that pull each other.
    fn disturbs(&self, adjuster: &Id, step: &Step) -> bool {
        let known = self.procedure.adjuster(adjuster);
        let is_said = known.is_some_and(|known| known.disturbs.contains(&step.id));
        let is_own = step.work.adjuster() == Some(adjuster);
        let by_plan = self.of_plan.get(&step.id);
        let is_of_plan = by_plan.is_some_and(|parts| parts.contains(&adjuster.as_str()));
        let is_null = self.makes_null_of(adjuster, step);
        is_said || is_own || is_of_plan || is_null || self.pulls(adjuster, step)
    }

    /// Whether the adjuster makes the null of the step with another, as the resistor and the
    /// trimmer of a balance do: each is turned for the least of one reading in one state of the set.
    fn makes_null_of(&self, adjuster: &Id, step: &Step) -> bool {
        let Work::Dip { gauge, .. } = &step.work else {
            return false;
        };
        let mut others = self.procedure.steps();
        others.any(|other| match &other.work {
            Work::Dip {
                gauge: at,
                adjuster: turned,
                ..
            } => turned == adjuster && at.at == gauge.at && other.set_up.is_state_of(&step.set_up),
            _ => false,
        })
    }

    /// Whether another of the steps that pull each other, the step among them, sets the adjuster.
    fn pulls(&self, adjuster: &Id, step: &Step) -> bool {
        let Some(chase) = self.procedure.chase_of(&step.id) else {
            return false;
        };
        let mut others = chase.steps.iter().filter_map(|id| self.procedure.step(id));
        others.any(|other| other.work.adjuster() == Some(adjuster))
    }
}
