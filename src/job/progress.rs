//! Everything that follows from a procedure and a log.

use super::photos::{self, Photo};
use super::proof::{self, Left, Unproved};
use super::put_back::{self, Off, OffState};
use super::{Change, Deed, Event, Finding, Header, Log, Phase, Tool, look_again};
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
    /// Everything that came off, in the order in which it did.
    pub off: Vec<Off>,
    /// Parts that were changed.
    pub changes: Vec<Changed>,
    /// Photos that were taken and not removed.
    pub photos: Vec<Photo>,
    /// Where in the log the last break is.
    paused: Option<usize>,
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
    /// What the step stands by: for an adjustment the reading as left, if it is the last one;
    /// for a plain reading the last one; in both cases with the readings that it repeats.
    pub left: Option<Left>,
    /// Readings that were slips, with the reasons.
    pub struck: Vec<(Taken, String)>,
    /// What the other route showed, the last one.
    pub cross: Option<Quantity>,
    /// What was measured on the pins of a socket, the last of each pin and state.
    pub pins: Vec<PinReading>,
    /// When its wait began.
    pub wait_begun: Option<i64>,
    /// Whether a confirmed stop still holds; a break ends that.
    pub holds: bool,
    /// Whether a break has ended a stop that was confirmed.
    pub lapsed: bool,
    /// Why the step needs another look, if it does.
    pub look_again: Option<LookAgain>,
    /// When it was ticked or confirmed.
    pub ticked: Option<i64>,
    /// Where in the log that is.
    ticked_order: Option<usize>,
    /// Where in the log its reading or its waiver was settled last.
    pub(super) touched: Option<usize>,
    /// Where in the log the hands were at it first; what it takes off is off since then.
    pub(super) worked: Option<usize>,
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
    /// Something was turned since that moves its reading.
    LookAgain,
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
    /// Whether the tool was in the adjuster, where that was said.
    pub tool: Option<Tool>,
    /// Whether it is the last reading taken once more.
    pub repeat: bool,
    /// Its place in the log.
    pub order: usize,
}

/// What was measured on a pin of a socket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PinReading {
    /// The pin.
    pub pin: Id,
    /// The state of the set.
    pub state: Id,
    /// What the instrument showed.
    pub value: Quantity,
}

/// Why a step needs another look.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LookAgain {
    /// The adjuster that was turned.
    pub adjuster: Id,
    /// The number of the step in which it was turned.
    pub turned_in: usize,
}

/// A part that was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// In which step, if in one.
    pub step: Option<Id>,
    /// What was changed.
    pub change: Change,
    /// When, by the device's clock.
    pub at: i64,
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
    /// Its place in the log.
    order: usize,
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
        let counting = log
            .events()
            .enumerate()
            .filter(|(_, event)| !undone.contains(&event.id));
        let mut progress = Progress::blank(procedure);
        let places: HashMap<Id, usize> = progress
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| (step.id.clone(), index))
            .collect();
        for (order, event) in counting {
            progress.take(order, event);
            let index = event.did.step().and_then(|id| places.get(id));
            if let Some(&index) = index {
                progress.steps[index].take(order, event);
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
            off: Vec::new(),
            changes: Vec::new(),
            photos: Vec::new(),
            paused: None,
        }
    }

    fn take(&mut self, order: usize, event: &Event) {
        match &event.did {
            Deed::Opened(header) | Deed::Amended(header) => self.header = header.clone(),
            Deed::Noted { step: None, text } => self.notes.push(Note {
                text: text.clone(),
                at: event.at,
                order,
            }),
            Deed::Paused => self.paused = Some(order),
            Deed::Changed { step, change } => self.changes.push(Changed {
                step: step.clone(),
                change: change.clone(),
                at: event.at,
            }),
            Deed::TakenOff { .. } | Deed::PutBack { .. } | Deed::StaysOff { .. } => {
                put_back::take(&mut self.off, order, event);
            }
            Deed::Photographed { .. } | Deed::PhotoRemoved { .. } => {
                photos::take(&mut self.photos, event);
            }
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
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            progress.tolerance = procedure.tolerance(step, |id| left.get(id).cloned());
            progress.judge(step, &self.header);
        }
        look_again::mark(procedure, &mut self.steps);
        self.gate(procedure);
        put_back::follow(procedure, &self.steps, &mut self.off);
    }

    /// Finds the stops that hold, and closes what comes behind those that don't.
    fn gate(&mut self, procedure: &Procedure) {
        let paused = self.paused;
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            let is_stop = matches!(step.work, Work::Stop { .. });
            let confirmed = is_stop && progress.ticked.is_some();
            progress.holds = confirmed && progress.ticked_order > paused;
            progress.lapsed = confirmed && !progress.holds;
        }
        let failing: HashMap<Id, usize> = procedure
            .steps()
            .zip(&self.steps)
            .filter(|(step, progress)| matches!(step.work, Work::Stop { .. }) && !progress.holds)
            .map(|(step, progress)| (step.id.clone(), progress.number))
            .collect();
        let mut gate = None;
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            let lapsed = step
                .needs
                .iter()
                .find_map(|need| failing.get(need).copied());
            progress.behind = gate.or(lapsed);
            let is_stop = matches!(step.work, Work::Stop { .. });
            if is_stop && gate.is_none() && progress.ticked.is_none() {
                gate = Some(progress.number);
            }
        }
    }

    /// What is still off, with no reason given for it.
    pub fn still_off(&self) -> impl Iterator<Item = &Off> {
        self.off.iter().filter(|off| off.state == OffState::Off)
    }

    /// The step with this id.
    pub fn step(&self, id: &Id) -> Option<&StepProgress> {
        self.steps.iter().find(|step| step.id == *id)
    }

    /// The steps that keep the job from being finished.
    pub fn owed(&self) -> impl Iterator<Item = &StepProgress> {
        self.steps.iter().filter(|step| step.status.is_owed())
    }

    /// Whether nothing keeps the job from being finished. It may be signed off all the same where
    /// a copy of it was merged that holds more.
    pub fn is_closed(&self) -> bool {
        self.owed().next().is_none() && self.still_off().next().is_none()
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
        matches!(
            self,
            Status::Open | Status::Outside | Status::Unproved | Status::LookAgain
        )
    }

    /// The state in a word or two.
    pub const fn name(self) -> &'static str {
        match self {
            Status::Open => "open",
            Status::Outside => "outside",
            Status::Unproved => "not proved",
            Status::LookAgain => "look again",
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
            struck: Vec::new(),
            cross: None,
            pins: Vec::new(),
            wait_begun: None,
            holds: false,
            lapsed: false,
            look_again: None,
            ticked: None,
            ticked_order: None,
            touched: None,
            worked: None,
            answer: None,
            waived: None,
            notes: Vec::new(),
        }
    }

    fn take(&mut self, order: usize, event: &Event) {
        let note = |text: &String| Note {
            text: text.clone(),
            at: event.at,
            order,
        };
        if matches!(
            event.did,
            Deed::Reading { .. }
                | Deed::Ticked { .. }
                | Deed::Answered { .. }
                | Deed::PinRead { .. }
        ) {
            self.worked.get_or_insert(order);
        }
        match &event.did {
            Deed::Reading {
                phase,
                value,
                tool,
                repeat,
                ..
            } => {
                // A new reading speaks for itself: the reason was given for the old state.
                self.waived = None;
                self.touched = Some(order);
                self.readings.push(Taken {
                    event: event.id.clone(),
                    at: event.at,
                    phase: *phase,
                    value: value.clone(),
                    corrected: value.clone(),
                    verdict: None,
                    tool: *tool,
                    repeat: *repeat,
                    order,
                });
            }
            Deed::Struck {
                reading, reason, ..
            } => self.strike(reading, reason),
            Deed::CrossRead { value, .. } => self.cross = Some(value.clone()),
            Deed::PinRead {
                pin, state, value, ..
            } => {
                self.pins.retain(|p| p.pin != *pin || p.state != *state);
                self.pins.push(PinReading {
                    pin: pin.clone(),
                    state: state.clone(),
                    value: value.clone(),
                });
            }
            Deed::WaitBegun { .. } => self.wait_begun = Some(event.at),
            Deed::Ticked { .. } => {
                self.ticked = Some(event.at);
                self.ticked_order = Some(order);
            }
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
            Deed::Waived { reason, .. } => {
                self.touched = Some(order);
                self.waived = Some(note(reason));
            }
            _ => {}
        }
    }

    /// Sets a reading apart as a slip.
    fn strike(&mut self, reading: &Id, reason: &str) {
        if let Some(index) = self.readings.iter().position(|t| t.event == *reading) {
            let taken = self.readings.remove(index);
            self.struck.push((taken, reason.to_owned()));
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

    /// The readings that the step stands by: the last one, with those that it repeats.
    fn standing_group(&self, work: &Work) -> &[Taken] {
        let Some(last) = self.readings.last() else {
            return &[];
        };
        if proof::adjusts(work) && last.phase != Phase::AsLeft {
            return &[];
        }
        let repeats = self.readings.iter().rev().take_while(|t| t.repeat).count();
        let first = self.readings.len().saturating_sub(repeats + 1);
        &self.readings[first..]
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
            Work::Fit(_) | Work::Wire(_) | Work::Tick | Work::Stop { .. } | Work::Socket(_)
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
