//! Everything that follows from a procedure and a log.

use super::proof::{self, Left, Unproved};
use super::{Deed, Event, Finding, Header, Log, Phase};
use crate::metrology::decision::Rule;
use crate::metrology::{Tolerance, Verdict};
use crate::procedure::{Id, Procedure, Step, TargetFault, Work};
use crate::quantity::Quantity;
use std::collections::HashMap;

/// Where a job stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// The header as last amended.
    pub header: Header,
    /// One for each step of the procedure, in order.
    pub steps: Vec<StepProgress>,
    /// Remarks on the job as a whole.
    pub notes: Vec<Note>,
    /// Who finished it, while it is finished.
    pub signed_off: Option<SignOff>,
    /// When it was started and last touched, by the device's clock.
    pub span: Option<(i64, i64)>,
}

/// Where a step stands.
#[derive(Clone, Debug, PartialEq)]
pub struct StepProgress {
    /// The step.
    pub id: Id,
    /// Its place in the whole, from 1.
    pub number: usize,
    /// What is left to do.
    pub status: Status,
    /// The number of the stop that must be confirmed before this step opens.
    pub behind: Option<usize>,
    /// Where the reading must lie, once that is known.
    pub tolerance: Option<Result<Tolerance, TargetFault>>,
    /// The readings that count, in order.
    pub readings: Vec<Taken>,
    /// What the step stands by: for an adjustment the readings as left, if they are the last
    /// ones; for a plain reading the last one, with those just before it in the same phase.
    pub left: Option<Left>,
    /// When it was ticked or confirmed.
    pub ticked: Option<i64>,
    /// What the inspection found.
    pub answer: Option<Answer>,
    /// Why it was waived.
    pub waived: Option<Note>,
    /// Remarks.
    pub notes: Vec<Note>,
}

/// What is left to do in a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Status {
    /// Not done yet.
    Open,
    /// Read or left outside its tolerance.
    Outside,
    /// Inside, but not proved under the job's rule.
    Unproved,
    /// Done, and inside where there is a tolerance.
    Done,
    /// Left out or left outside on purpose, with a reason.
    Waived,
}

/// A reading and what it proves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// The event that brought it.
    pub event: Id,
    /// When, by the device's clock.
    pub at: i64,
    /// Before, during or after adjusting.
    pub phase: Phase,
    /// What the instrument showed.
    pub value: Quantity,
    /// The same put right by the instrument's corrections.
    pub corrected: Quantity,
    /// What the tolerance says of it.
    pub verdict: Option<Verdict>,
}

/// An inspection's answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// What was found.
    pub finding: Finding,
    /// In words.
    pub note: String,
    /// When, by the device's clock.
    pub at: i64,
}

/// A remark or a reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// In words.
    pub text: String,
    /// When, by the device's clock.
    pub at: i64,
}

/// The end of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignOff {
    /// Who answers for it.
    pub by: String,
    /// In words.
    pub remarks: String,
    /// When, by the device's clock.
    pub at: i64,
}

impl Progress {
    /// Folds the log over the procedure.
    pub fn of(procedure: &Procedure, log: &Log) -> Self {
        let undone = log.undone();
        let counting = || log.events().filter(|event| !undone.contains(&event.id));
        let mut progress = Progress::blank(procedure);
        let places: HashMap<Id, usize> = progress
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| (step.id.clone(), index))
            .collect();
        for event in counting() {
            match event.did.step() {
                Some(id) => {
                    if let Some(&index) = places.get(id) {
                        progress.steps[index].take(event);
                    }
                }
                None => progress.take(event),
            }
        }
        progress.span = log
            .events()
            .next()
            .zip(log.events().next_back())
            .map(|(first, last)| (first.at, last.at));
        progress.judge(procedure);
        progress
    }

    fn blank(procedure: &Procedure) -> Self {
        let steps = procedure
            .steps()
            .enumerate()
            .map(|(index, step)| StepProgress::blank(step, index + 1))
            .collect();
        Progress {
            header: Header::default(),
            steps,
            notes: Vec::new(),
            signed_off: None,
            span: None,
        }
    }

    fn take(&mut self, event: &Event) {
        match &event.did {
            Deed::Opened(header) | Deed::Amended(header) => self.header = header.clone(),
            Deed::Noted { text, .. } => self.notes.push(Note {
                text: text.clone(),
                at: event.at,
            }),
            Deed::SignedOff { by, remarks } => {
                self.signed_off = Some(SignOff {
                    by: by.clone(),
                    remarks: remarks.clone(),
                    at: event.at,
                });
            }
            Deed::Reopened { .. } => self.signed_off = None,
            _ => {}
        }
    }

    /// Works out corrections, tolerances, verdicts, states and gates, in the order of the steps.
    fn judge(&mut self, procedure: &Procedure) {
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            progress.correct(step, &self.header);
        }
        let left: HashMap<Id, Quantity> = self
            .steps
            .iter()
            .filter_map(|step| Some((step.id.clone(), step.left.as_ref()?.value.clone())))
            .collect();
        let mut gate = None;
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            progress.tolerance = procedure.tolerance(step, |id| left.get(id).cloned());
            progress.judge(step, &self.header);
            progress.behind = gate;
            let is_stop = matches!(step.work, Work::Stop { .. });
            if is_stop && gate.is_none() && progress.ticked.is_none() {
                gate = Some(progress.number);
            }
        }
    }

    /// The step with this id.
    pub fn step(&self, id: &Id) -> Option<&StepProgress> {
        self.steps.iter().find(|step| step.id == *id)
    }

    /// The steps that keep the job from being finished.
    pub fn owed(&self) -> impl Iterator<Item = &StepProgress> {
        self.steps.iter().filter(|step| step.status.is_owed())
    }

    /// The first step that keeps the job from being finished.
    pub fn current(&self) -> Option<&StepProgress> {
        self.owed().next()
    }

    /// How many steps are done or waived.
    pub fn settled(&self) -> usize {
        self.steps.len() - self.owed().count()
    }
}

impl Status {
    /// Whether it keeps the job from being finished.
    pub const fn is_owed(self) -> bool {
        matches!(self, Status::Open | Status::Outside | Status::Unproved)
    }

    /// The state in a word or two.
    pub const fn name(self) -> &'static str {
        match self {
            Status::Open => "open",
            Status::Outside => "outside",
            Status::Unproved => "not proved",
            Status::Done => "done",
            Status::Waived => "waived",
        }
    }
}

impl StepProgress {
    fn blank(step: &Step, number: usize) -> Self {
        StepProgress {
            id: step.id.clone(),
            number,
            status: Status::Open,
            behind: None,
            tolerance: None,
            readings: Vec::new(),
            left: None,
            ticked: None,
            answer: None,
            waived: None,
            notes: Vec::new(),
        }
    }

    fn take(&mut self, event: &Event) {
        let note = |text: &String| Note {
            text: text.clone(),
            at: event.at,
        };
        match &event.did {
            Deed::Reading { phase, value, .. } => {
                // A new reading speaks for itself: the reason was given for the old state.
                self.waived = None;
                self.readings.push(Taken {
                    event: event.id.clone(),
                    at: event.at,
                    phase: *phase,
                    value: value.clone(),
                    corrected: value.clone(),
                    verdict: None,
                });
            }
            Deed::Ticked { .. } => self.ticked = Some(event.at),
            Deed::Answered {
                answer, note: text, ..
            } => {
                self.answer = Some(Answer {
                    finding: *answer,
                    note: text.clone(),
                    at: event.at,
                });
            }
            Deed::Noted { text, .. } => self.notes.push(note(text)),
            Deed::Waived { reason, .. } => self.waived = Some(note(reason)),
            _ => {}
        }
    }

    /// Puts the readings right by what is known of the instrument, and finds what is left.
    fn correct(&mut self, step: &Step, header: &Header) {
        let Some(gauge) = step.work.gauge() else {
            return;
        };
        if let Some(instrument) = header.kit_instrument(&gauge.with) {
            for taken in &mut self.readings {
                taken.corrected = instrument.corrected(&taken.value);
            }
        }
        let group = self.standing_group(&step.work);
        self.left = proof::mean(group).map(|(value, repeats)| Left {
            value,
            at: group.last().map_or(0, |taken| taken.at),
            repeats,
            verdict: None,
            proof: Err(Unproved::NoTarget),
        });
    }

    /// The readings that the step stands by: the last ones of one phase.
    fn standing_group(&self, work: &Work) -> &[Taken] {
        let Some(last) = self.readings.last() else {
            return &[];
        };
        if proof::adjusts(work) && last.phase != Phase::AsLeft {
            return &[];
        }
        let same = self.readings.iter().rev();
        let count = same.take_while(|taken| taken.phase == last.phase).count();
        &self.readings[self.readings.len() - count..]
    }

    fn judge(&mut self, step: &Step, header: &Header) {
        let known = self.tolerance.as_ref().and_then(|t| t.as_ref().ok());
        let verdict = |value: &Quantity| {
            known
                .filter(|tolerance| tolerance.unit() == value.unit())
                .map(|tolerance| tolerance.judge(value))
        };
        for taken in &mut self.readings {
            taken.verdict = verdict(&taken.corrected);
        }
        if let (Some(left), Some(gauge)) = (&mut self.left, step.work.gauge()) {
            left.verdict = verdict(&left.value);
            let repeats = left.repeats.as_ref();
            left.proof = proof::prove(&left.value, repeats, known, &gauge.with, header);
        }
        self.status = self.status_of(&step.work, &header.rule);
    }

    fn status_of(&self, work: &Work, rule: &Rule) -> Status {
        // A stop is there for safety: a reason given for it, which only a file can bring, does
        // not settle it.
        let waived = self.waived.is_some() && !matches!(work, Work::Stop { .. });
        let judged = match work {
            Work::Inspect if self.answer.is_some() => Status::Done,
            Work::Fit(_) | Work::Wire(_) | Work::Tick | Work::Stop { .. }
                if self.ticked.is_some() =>
            {
                Status::Done
            }
            Work::Read { .. } | Work::Set { .. } | Work::Peak { .. } | Work::Dip { .. } => {
                self.status_of_reading(rule)
            }
            _ => Status::Open,
        };
        match (judged, waived) {
            (Status::Done, _) => Status::Done,
            (_, true) => Status::Waived,
            (owed, false) => owed,
        }
    }

    fn status_of_reading(&self, rule: &Rule) -> Status {
        match (&self.left, &self.tolerance) {
            (None, _) => Status::Open,
            (Some(_), None) => Status::Done,
            (Some(left), Some(_)) => match &left.verdict {
                Some(_) if proof::accepts(rule, left) => Status::Done,
                Some(verdict) if verdict.is_inside() => Status::Unproved,
                Some(_) => Status::Outside,
                None => Status::Open,
            },
        }
    }

    /// The first reading as found.
    pub fn found(&self) -> Option<&Taken> {
        self.readings
            .iter()
            .find(|taken| taken.phase == Phase::AsFound)
    }

    /// The largest reading of a peak or the smallest of a dip, as found included.
    pub fn best(&self, work: &Work) -> Option<&Taken> {
        let by_size = |a: &&Taken, b: &&Taken| a.corrected.base().cmp(&b.corrected.base());
        match work {
            Work::Peak { .. } => self.readings.iter().max_by(by_size),
            Work::Dip { .. } => self.readings.iter().min_by(by_size),
            _ => None,
        }
    }

    /// The phase that the next reading most likely has: a good one as left is repeated rather
    /// than turned away from.
    pub fn next_phase(&self, work: &Work) -> Phase {
        let adjusts = proof::adjusts(work);
        let left_well = self
            .readings
            .last()
            .is_some_and(|last| last.phase == Phase::AsLeft)
            && !self.status.is_owed();
        match (self.readings.is_empty(), adjusts && !left_well) {
            (true, _) => Phase::AsFound,
            (false, true) => Phase::Try,
            (false, false) => Phase::AsLeft,
        }
    }
}
