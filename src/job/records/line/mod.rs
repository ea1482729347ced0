//! A job in a line: what lists and searches need to know of it, without its log.

pub mod map;

use crate::job::fold::course::ProcedureName;
use crate::job::records::plain::is_alike;
use crate::job::{
    Awaits, Collected, FaultRecord, Job, LineMap, Outcome, PartDue, Progress, SetIdentity, waits,
};
use crate::procedure::Id;
use serde::{Deserialize, Serialize};

/// A job in short. It follows from the job, so it can always be made again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Line {
    /// The job.
    pub id: Id,
    /// Its number in the workshop.
    pub number: String,
    /// The set, as typed off its plate.
    pub set: SetIdentity,
    /// The owner's name or reference.
    pub owner: String,
    /// The fault as reported.
    pub fault: String,
    /// What it was started with.
    pub procedure: ProcedureName,
    /// What it took on since.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub taken_on: Vec<ProcedureName>,
    /// What it waits for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub awaits: Vec<Awaits>,
    /// The parts that are still to come.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts_due: Vec<PartDue>,
    /// What was wrong with the set.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub faults: Vec<FaultRecord>,
    /// Who took the set home.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub collected: Option<Collected>,
    /// Where it stands.
    pub standing: Standing,
    /// How many steps are done or waived.
    pub settled: usize,
    /// How many steps there are.
    pub steps: usize,
    /// Where each of them stands.
    pub map: LineMap,
    /// How many entries its log has.
    pub entries: usize,
    /// When it was started, in milliseconds since 1970 UTC by the device's clock.
    pub started: i64,
    /// When it was last touched.
    pub touched: i64,
}

/// Where a job stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Standing {
    /// A step is to be done.
    InHand(StepReached),
    /// A step is to be done, and a wait that was begun is not settled yet.
    Waiting {
        /// The step to be done.
        step: StepReached,
        /// When the first wait is over, in milliseconds since 1970 UTC.
        until: i64,
    },
    /// All steps are settled, and nobody has signed it off.
    Settled,
    /// It is signed off.
    Finished {
        /// By whom.
        by: String,
        /// When.
        at: i64,
    },
}

/// The first step that keeps a job from being finished.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct StepReached {
    /// The step.
    pub id: Id,
    /// Its place in the whole, from 1.
    pub number: usize,
    /// What it is called.
    pub title: String,
}

impl Line {
    /// The line of a job.
    pub fn of(job: &Job) -> Self {
        Line::from_progress(job, &job.progress())
    }

    /// The same, where what follows from the log is known already.
    pub fn from_progress(job: &Job, progress: &Progress) -> Self {
        let Job { id, procedure, .. } = job;
        let header = &progress.header;
        let (started, touched) = progress.span.unwrap_or_default();
        Line {
            id: id.clone(),
            number: header.number.clone(),
            set: header.set.clone(),
            owner: header.owner.clone(),
            fault: header.fault.clone(),
            procedure: ProcedureName::of(procedure),
            taken_on: progress.course.procedures().skip(1).cloned().collect(),
            awaits: progress.awaits(),
            parts_due: progress.parts_due().map(PartDue::of).collect(),
            faults: progress.faults.iter().map(|it| it.record.clone()).collect(),
            collected: progress.collected().cloned(),
            standing: standing(progress),
            settled: progress.settled(),
            steps: progress.steps.len(),
            map: LineMap::of(progress),
            entries: job.log.len(),
            started,
            touched,
        }
    }

    /// The procedures that it is worked by.
    pub fn procedures(&self) -> impl Iterator<Item = &ProcedureName> {
        [&self.procedure].into_iter().chain(&self.taken_on)
    }

    /// Whether both are worked by a procedure of one name, in whatever revision.
    pub fn shares_procedure(&self, other: &Line) -> bool {
        let is_theirs = |name: &ProcedureName| other.procedures().any(|it| it.id == name.id);
        self.procedures().any(is_theirs)
    }

    /// Whether it is another job on a set of this make and model.
    pub fn is_on_such_a_set(&self, job: &Id, set: &SetIdentity) -> bool {
        let is_same = is_alike(&self.set.make, &set.make) && is_alike(&self.set.model, &set.model);
        let is_known = !set.model.trim().is_empty();
        self.id != *job && is_known && is_same
    }

    /// How many faults were found in it at a stage or part.
    pub fn found_at(&self, place: &str) -> usize {
        let is_found = |it: &&FaultRecord| matches!(it.outcome, Outcome::Found | Outcome::Cured);
        let found = self.faults.iter().filter(is_found);
        found.filter(|it| is_alike(&it.place, place)).count()
    }

    /// Whether it is signed off.
    pub fn is_finished(&self) -> bool {
        matches!(self.standing, Standing::Finished { .. })
    }

    /// Its number and its set, as a list names it.
    pub fn title(&self) -> String {
        format!("{} {}", self.number, self.set.title())
    }
}

fn standing(progress: &Progress) -> Standing {
    if let Some(done) = &progress.signed_off {
        return Standing::Finished {
            by: done.by.clone(),
            at: done.at,
        };
    }
    let Some(current) = progress.current() else {
        return Standing::Settled;
    };
    let procedure = &progress.course.procedure;
    let title = procedure.step(&current.id).map(|s| s.title.clone());
    let step = StepReached {
        id: current.id.clone(),
        number: current.number,
        title: title.unwrap_or_default(),
    };
    let open_waits = waits(procedure, progress).into_iter();
    let first = open_waits.filter(|w| !w.settled).map(|w| w.ends).min();
    match first {
        Some(until) => Standing::Waiting { step, until },
        None => Standing::InHand(step),
    }
}
