//! What is wrong with a procedure, so that it can't start a job.

use super::{Id, Procedure, Step, Target};
use std::collections::HashSet;
use std::fmt;

/// Something that is wrong, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where it is.
    pub place: Place,
    /// What it is, as a sentence.
    pub sentence: String,
}

/// A place in a procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The procedure as a whole.
    Whole,
    /// A step, by its number from 1.
    Step(usize),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.place {
            Place::Whole => f.write_str(&self.sentence),
            Place::Step(number) => write!(f, "Step {number}: {}", self.sentence),
        }
    }
}

/// Everything that is wrong with a procedure; empty for a sound one.
pub fn faults(procedure: &Procedure) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut whole = |sentence: String| {
        found.push(Fault {
            place: Place::Whole,
            sentence,
        })
    };
    if procedure.title.trim().is_empty() {
        whole("The procedure has no title: give it one".to_owned());
    }
    if procedure.revision == 0 {
        whole("The revision is 0: count from 1".to_owned());
    }
    if procedure.steps().next().is_none() {
        whole("There are no steps: add at least one".to_owned());
    }
    for id in twice(procedure.steps().map(|step| &step.id)) {
        whole(format!("Two steps are called “{id}”: rename one"));
    }
    for id in twice(procedure.adjusters.iter().map(|a| &a.id)) {
        whole(format!("Two adjusters are called “{id}”: rename one"));
    }
    for id in twice(procedure.test_points.iter().map(|p| &p.id)) {
        whole(format!("Two test points are called “{id}”: rename one"));
    }
    for id in twice(procedure.instruments.iter().map(|i| &i.role)) {
        whole(format!("Two instruments have the role “{id}”: rename one"));
    }
    for (index, step) in procedure.steps().enumerate() {
        for sentence in step_faults(procedure, index, step) {
            found.push(Fault {
                place: Place::Step(index + 1),
                sentence,
            });
        }
    }
    found
}

fn twice<'a>(ids: impl Iterator<Item = &'a Id>) -> Vec<&'a Id> {
    let mut seen = HashSet::new();
    ids.filter(|id| !seen.insert(*id)).collect()
}

fn step_faults(procedure: &Procedure, index: usize, step: &Step) -> Vec<String> {
    let mut found = Vec::new();
    if step.title.trim().is_empty() {
        found.push("it has no title: give it a few words".to_owned());
    }
    if let Some(gauge) = step.work.gauge() {
        if procedure.test_point(&gauge.at).is_none() {
            found.push(format!(
                "there is no test point “{}”: add it or choose another",
                gauge.at
            ));
        }
        if procedure.instrument(&gauge.with).is_none() {
            found.push(format!(
                "there is no instrument “{}”: add it or choose another",
                gauge.with
            ));
        }
    }
    if let Some(adjuster) = step.work.adjuster()
        && procedure.adjuster(adjuster).is_none()
    {
        found.push(format!(
            "there is no adjuster “{adjuster}”: add it or choose another"
        ));
    }
    if let (Some(gauge), Some(target)) = (step.work.gauge(), step.work.target()) {
        found.extend(target_fault(procedure, index, target, gauge.scale.unit));
    }
    found
}

fn target_fault(
    procedure: &Procedure,
    index: usize,
    target: &Target,
    unit: crate::quantity::Unit,
) -> Option<String> {
    match target {
        Target::Fixed(tolerance) => tolerance.fault(unit).map(|fault| fault.to_string()),
        Target::Relative { to, .. } => {
            let Some(number) = procedure.number_of(to) else {
                return Some(format!(
                    "its target refers to a step “{to}” that isn't there"
                ));
            };
            if number > index {
                return Some(format!(
                    "its target refers to step {number}, which does not come before it"
                ));
            }
            let other = procedure.step(to)?;
            match other.work.gauge() {
                None => Some(format!(
                    "its target refers to step {number}, which takes no reading"
                )),
                Some(gauge) if gauge.scale.unit != unit => Some(format!(
                    "its target refers to step {number}, which is in {}, not in {}",
                    gauge.scale.unit.symbol(),
                    unit.symbol()
                )),
                Some(_) => None,
            }
        }
    }
}
