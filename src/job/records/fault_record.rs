//! What was wrong with the set: as seen, what showed it, the cause, the cure, and what proves it.

use crate::job::{Phase, Progress, Status, StepProgress};
use crate::procedure::Id;
use serde::{Deserialize, Serialize};

/// One fault, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct FaultRecord {
    /// Whether it is the fault that was reported, or one that was not.
    pub of: FaultOf,
    /// The symptom as seen on the bench.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub seen: String,
    /// The stage or part that it came from.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// The cause.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub cause: String,
    /// What was done about it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub cure: String,
    /// How far that came, as the technician says.
    pub outcome: Outcome,
    /// The steps whose readings show it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shown_by: Vec<Id>,
    /// The steps whose readings show that it is gone.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub proved_by: Vec<Id>,
}

/// Which fault a record is of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FaultOf {
    /// That which was reported.
    #[default]
    Report,
    /// One that nobody reported.
    Bench,
}

impl FaultOf {
    /// Both, in the order in which they are offered.
    pub const ALL: [FaultOf; 2] = [FaultOf::Report, FaultOf::Bench];
}

/// How far a fault was followed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// It is looked for.
    #[default]
    Open,
    /// It did not show on the bench.
    NotSeen,
    /// Its cause was not found.
    NotFound,
    /// Its cause was found, and it is not cured.
    Found,
    /// It is cured.
    Cured,
}

impl Outcome {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Outcome; 5] = [
        Outcome::Open,
        Outcome::NotSeen,
        Outcome::NotFound,
        Outcome::Found,
        Outcome::Cured,
    ];
}

/// A record as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Its name, the same through all its entries: that of the first.
    pub name: Id,
    /// What was last written of it.
    pub record: FaultRecord,
    /// When, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
}

/// What is missing in a record for what it says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsaid {
    /// A cause is found, and not named.
    Cause,
    /// It is cured, and nothing says how.
    Cure,
    /// Nothing at all is said.
    All,
    /// It did not show, and yet a cause or a cure is named.
    Contradicts,
}

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

impl FaultRecord {
    /// What it says in words.
    pub fn texts(&self) -> [&str; 4] {
        [&self.seen, &self.place, &self.cause, &self.cure]
    }

    /// What it lacks, if anything.
    pub fn unsaid(&self) -> Option<Unsaid> {
        let blank = |text: &str| text.trim().is_empty();
        match self.outcome {
            Outcome::Found if blank(&self.cause) => Some(Unsaid::Cause),
            Outcome::Cured if blank(&self.cure) => Some(Unsaid::Cure),
            Outcome::NotSeen if !blank(&self.cause) || !blank(&self.cure) => {
                Some(Unsaid::Contradicts)
            }
            Outcome::Open if self.texts().iter().all(|text| blank(text)) => Some(Unsaid::All),
            _ => None,
        }
    }
}

impl Fault {
    /// Whether something is still to be done about it: it is looked for, or found and not cured.
    pub fn is_at_no_end(&self) -> bool {
        matches!(self.record.outcome, Outcome::Open | Outcome::Found)
    }
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
