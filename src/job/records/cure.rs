//! What the readings show of a cure, and what is still owed to the report.

use crate::job::entries::event::fault::{FaultOf, FaultRecord, Outcome};
use crate::job::records::fault_record::Fault;
use crate::job::{Phase, Progress, Status, StepProgress};

/// What the readings say of a cure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CureShown {
    /// No step is named.
    NoStep,
    /// All of the named steps were read since it showed, and are inside their limits.
    Inside,
    /// The numbers of those that are not.
    Not(Vec<usize>),
}

impl Progress {
    /// Whether one record of the fault that was reported says that it did not show, or that its
    /// cause was not found, and another that it was found.
    pub fn answers_differ(&self) -> bool {
        let reported = self.faults.iter().map(|fault| &fault.record);
        let reported = reported.filter(|record| record.of == FaultOf::Report);
        let outcomes: Vec<Outcome> = reported.map(|record| record.outcome).collect();
        let was_found = |it: &Outcome| matches!(it, Outcome::Found | Outcome::Cured);
        let is_denied = |it: &Outcome| matches!(it, Outcome::NotSeen | Outcome::NotFound);
        let is_both =
            |one: Outcome, other: Outcome| outcomes.contains(&one) && outcomes.contains(&other);
        (outcomes.iter().any(was_found) && outcomes.iter().any(is_denied))
            || is_both(Outcome::NotSeen, Outcome::NotFound)
    }

    /// What the readings of the steps that a record names say of its cure.
    pub fn cure_shown(&self, record: &FaultRecord) -> CureShown {
        let steps: Vec<&StepProgress> = record
            .proved_by
            .iter()
            .filter_map(|id| self.step(id))
            .collect();
        if steps.is_empty() {
            return CureShown::NoStep;
        }
        // What was read before the fault showed, or before anything was done, proves no cure.
        let first = |step: &StepProgress| step.readings.first().map(|taken| taken.order);
        let shown = record
            .shown_by
            .iter()
            .filter_map(|id| first(self.step(id)?))
            .max();
        let is_later = |step: &StepProgress| {
            let last = step.readings.last();
            last.is_some_and(|last| match shown {
                Some(shown) => last.order > shown,
                None => last.phase == Phase::AsLeft,
            })
        };
        let is_inside = |step: &&StepProgress| {
            let verdict = step.left.as_ref().and_then(|left| left.verdict.as_ref());
            step.status == Status::Done
                && is_later(step)
                && verdict.is_some_and(|verdict| verdict.is_inside())
        };
        let not: Vec<usize> = steps
            .iter()
            .filter(|it| !is_inside(it))
            .map(|it| it.number)
            .collect();
        match not.is_empty() {
            true => CureShown::Inside,
            false => CureShown::Not(not),
        }
    }

    /// Whether a fault was reported that no record answers to the end.
    pub fn owes_an_answer(&self) -> bool {
        let is_reported = !self.header.fault.trim().is_empty();
        let answers = |fault: &Fault| {
            fault.record.of == FaultOf::Report && fault.record.outcome != Outcome::Open
        };
        is_reported && !self.faults.iter().any(answers)
    }
}
