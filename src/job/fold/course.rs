//! What a job is worked by: the procedure that it was started with and what its work took on
//! since, as one.

use crate::job::{Deed, Event, Log, LookAt, OwnStep};
use crate::procedure::{Id, JoinFault, Procedure, Step, Work, faults, joined};
use serde::{Deserialize, Serialize};
use std::ops::Range;
use std::sync::Arc;

/// All that a job is worked by. It follows from the log.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// All steps, in the order in which they came in. A step keeps its number, whatever is taken
    /// on after it.
    pub procedure: Arc<Procedure>,
    /// Where they come from.
    pub parts: Vec<Part>,
    /// What another copy of the job took on that doesn't go with what is here.
    pub left_out: Vec<LeftOut>,
    /// The steps that look for a fault along a path, and where.
    pub looks: Vec<(Id, LookAt)>,
    /// The procedure that the job was started with.
    started: Arc<Procedure>,
    /// The entries that add to it, those that are left out too.
    added: Vec<Id>,
}

/// Steps of one origin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// The places of its steps, from 0.
    pub steps: Range<usize>,
    /// Where they come from.
    pub from: Origin,
}

/// A procedure that a job can't be worked by, though an entry of its log says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Which.
    pub name: ProcedureName,
    /// Why.
    pub why: JoinFault,
    /// When it was taken on, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
}

/// Where steps come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The procedure that the job was started with.
    Start(ProcedureName),
    /// A procedure that was taken on.
    TakenOn {
        /// Which.
        name: ProcedureName,
        /// When, in milliseconds since 1970 UTC by the device's clock.
        at: i64,
    },
    /// The bench: no procedure foresaw them.
    Bench,
}

impl Part {
    /// Whether its steps are those of a procedure, whose stops close what is below them. Steps of
    /// the bench name the stops that they need.
    pub fn is_of_a_procedure(&self) -> bool {
        self.from != Origin::Bench
    }
}

impl Origin {
    /// The procedure, where it is one.
    pub fn name(&self) -> Option<&ProcedureName> {
        match self {
            Origin::Start(name) | Origin::TakenOn { name, .. } => Some(name),
            Origin::Bench => None,
        }
    }
}

impl ProcedureName {
    /// Whether it stands for none.
    pub fn is_none(&self) -> bool {
        self.id == Procedure::none().id
    }

    /// The names of a procedure.
    pub fn of(procedure: &Procedure) -> Self {
        ProcedureName {
            id: procedure.id.clone(),
            revision: procedure.revision,
            title: procedure.title.clone(),
        }
    }
}

impl Course {
    /// What counts of a log on top of the procedure that its job was started with.
    pub fn of(procedure: &Arc<Procedure>, log: &Log) -> Self {
        let undone = log.undone();
        let counting = log.events().filter(|event| !undone.contains(&event.id));
        Course::from_events(procedure, counting)
    }

    pub(in crate::job) fn from_events<'a>(
        procedure: &Arc<Procedure>,
        events: impl IntoIterator<Item = &'a Event>,
    ) -> Self {
        let mut course = Course::start(procedure);
        for event in events {
            course.take(event);
            if event.did.adds_steps() {
                course.added.push(event.id.clone());
            }
        }
        course
    }

    /// Before anything was taken on.
    fn start(procedure: &Arc<Procedure>) -> Self {
        let from = Origin::Start(ProcedureName::of(procedure));
        let steps = 0..procedure.steps().count();
        Course {
            procedure: procedure.clone(),
            left_out: Vec::new(),
            looks: Vec::new(),
            started: procedure.clone(),
            parts: vec![Part { steps, from }],
            added: Vec::new(),
        }
    }

    /// Takes what an entry adds. What doesn't go with what is there, as only a file can bring it,
    /// is left out: its entry stays in the log.
    fn take(&mut self, event: &Event) {
        let from = match &event.did {
            Deed::TookOn { procedure } => {
                if let Err(why) = self.can_take_on(procedure) {
                    self.leave_out(procedure, why, event.at);
                    return;
                }
                Arc::make_mut(&mut self.procedure).take_on(procedure);
                Origin::TakenOn {
                    name: ProcedureName::of(procedure),
                    at: event.at,
                }
            }
            Deed::AddedStep { added } if self.can_change(added) => {
                let OwnStep {
                    step, point, role, ..
                } = OwnStep::clone(added);
                return Arc::make_mut(&mut self.procedure).change_step(step, point, role);
            }
            Deed::AddedStep { added } if self.procedure.step(&added.step.id).is_none() => {
                let OwnStep {
                    step,
                    point,
                    role,
                    look,
                } = OwnStep::clone(added);
                self.looks.extend(look.map(|look| (step.id.clone(), look)));
                let procedure = Arc::make_mut(&mut self.procedure);
                if self
                    .parts
                    .last()
                    .is_none_or(|last| last.from != Origin::Bench)
                {
                    procedure.begin_section();
                }
                procedure.take_step(step, point, role);
                Origin::Bench
            }
            _ => return,
        };
        let end = self.procedure.steps().count();
        let start = self.parts.last().map_or(0, |part| part.steps.end);
        match self.parts.last_mut() {
            Some(last) if from == Origin::Bench && last.from == Origin::Bench => {
                last.steps.end = end;
            }
            _ => self.parts.push(Part {
                steps: start..end,
                from,
            }),
        }
    }

    /// The same procedure in the same revision is no loss: its steps are here.
    fn leave_out(&mut self, procedure: &Procedure, why: JoinFault, at: i64) {
        let name = ProcedureName::of(procedure);
        if !self.procedures().any(|known| *known == name) {
            self.left_out.push(LeftOut { name, why, at });
        }
    }

    /// Whether a procedure can be worked together with what is there.
    pub fn can_take_on(&self, procedure: &Procedure) -> Result<(), JoinFault> {
        match self.procedures().any(|name| name.id == procedure.id) {
            true => Err(JoinFault::Twice),
            false => self.procedure.can_take_on(procedure),
        }
    }

    /// Whether a step may take the place of the one of its name: that was added at the bench as well,
    /// and what was read in it is read in the same unit by the same instrument.
    pub fn can_change(&self, added: &OwnStep) -> bool {
        let id = &added.step.id;
        let is_own = self
            .part_with(id)
            .is_some_and(|part| part.from == Origin::Bench);
        let known = self.procedure.step(id).filter(|_| is_own);
        known.is_some_and(|known| match (&known.work, &added.step.work) {
            (Work::Read { gauge: one, .. }, Work::Read { gauge: other, .. }) => {
                (one.scale.unit, &one.with) == (other.scale.unit, &other.with)
            }
            (one, other) => one == other,
        })
    }

    /// The part that holds a step, by the step's place from 0.
    pub fn part_of(&self, place: usize) -> Option<&Part> {
        self.parts.iter().find(|part| part.steps.contains(&place))
    }

    /// The part that holds the step of this name.
    pub fn part_with(&self, step: &Id) -> Option<&Part> {
        self.part_of(self.procedure.number_of(step)?.checked_sub(1)?)
    }

    /// Whether a stop holds a step: one below it in the same part, or one that names it.
    pub fn holds(&self, stop: &Id, step: &Id) -> bool {
        let place = |id| self.procedure.number_of(id);
        let (Some(above), Some(below)) = (place(stop), place(step)) else {
            return false;
        };
        let part = self.part_with(stop);
        let goes_down = part.is_some_and(Part::is_of_a_procedure);
        let is_below = goes_down && above < below && part == self.part_with(step);
        let names = self
            .procedure
            .step(step)
            .map_or(&[][..], |step| &step.needs);
        is_below || names.contains(stop)
    }

    /// The name by which other jobs know a step, whether they were started with its procedure or
    /// took it on.
    pub fn known_as(&self, step: &Id) -> Id {
        let start = self.parts.first();
        let start = start.and_then(|part| Some((&part.steps, part.from.name()?)));
        let place = self.procedure.number_of(step).map(|number| number - 1);
        match (start, place) {
            (Some((steps, name)), Some(place)) if steps.contains(&place) => joined(&name.id, step),
            _ => step.clone(),
        }
    }

    /// The step that other jobs know by a name.
    pub fn step_known_as(&self, name: &Id) -> Option<&Step> {
        self.procedure
            .steps()
            .find(|step| self.known_as(&step.id) == *name)
    }

    /// The procedures, that which the job was started with first.
    pub fn procedures(&self) -> impl Iterator<Item = &ProcedureName> {
        self.parts.iter().filter_map(|part| part.from.name())
    }

    /// Whether it is still the course of a job that was started with this procedure, and to which
    /// these entries add. What follows from another job is handed in as well when one job takes
    /// the place of another on the screen.
    pub(in crate::job) fn is_of<'a>(
        &self,
        started: &Arc<Procedure>,
        added: impl Iterator<Item = &'a Id>,
    ) -> bool {
        let is_same = Arc::ptr_eq(&self.started, started) || self.started == *started;
        is_same && added.eq(&self.added)
    }
}

impl Deed {
    /// Whether it adds steps to the job.
    pub const fn adds_steps(&self) -> bool {
        matches!(self, Deed::TookOn { .. } | Deed::AddedStep { .. })
    }

    /// The names that the steps have which it adds.
    pub(in crate::job) fn names_added(&self) -> Vec<Id> {
        match self {
            Deed::TookOn { procedure } => {
                let steps = procedure.steps().map(|step| &step.id);
                steps.map(|step| joined(&procedure.id, step)).collect()
            }
            Deed::AddedStep { added } => vec![added.step.id.clone()],
            _ => Vec::new(),
        }
    }

    /// What is wrong in itself with what it adds, if anything is.
    pub(in crate::job) fn fault_of_added(&self) -> Option<String> {
        let whole = match self {
            Deed::TookOn { procedure } => Procedure::clone(procedure),
            Deed::AddedStep { added } => {
                let OwnStep {
                    step, point, role, ..
                } = OwnStep::clone(added);
                // What else is in the job is not known here.
                let needs = Vec::new();
                let mut whole = Procedure::none();
                whole.take_step(Step { needs, ..step }, point, role);
                whole
            }
            _ => return None,
        };
        faults(&whole).first().map(ToString::to_string)
    }
}

/// A procedure by its names.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ProcedureName {
    /// The same through all revisions.
    pub id: Id,
    /// Which revision.
    pub revision: u32,
    /// What it is called.
    pub title: String,
}
