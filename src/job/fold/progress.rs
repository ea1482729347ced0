//! Everything that follows from a procedure and a log.

use crate::job::Heard;
use crate::job::entries::remains::{Remains, remains};
use crate::job::fold::proof::{Group, Proof, Read, Reference, Unproved};
use crate::job::fold::put_back::{Off, OffState};
use crate::job::fold::settling::Settled;
use crate::job::fold::socket::{PinReading, PinTaken, SocketFault};
use crate::job::fold::way::Way;
use crate::job::fold::{look_again, passes, pause, proof, put_back, settling, socket};
use crate::job::guidance::advice;
use crate::job::guidance::advice::{Opinion, SecondOpinion};
use crate::job::records::photos::Photo;
use crate::job::records::{papers, photos};
use crate::job::{
    Change, Course, Damaged, Dealings, Deed, Event, Fault, FaultRecord, Finding, Header, InForce,
    Log, Outcome, Part, Passes, Phase, Tool, Trace, UsedInstrument,
};
use crate::metrology::decision::Rule;
use crate::metrology::inference::drift::Steadiness;
use crate::metrology::{Tolerance, Verdict};
use crate::procedure::{Id, Paper, Procedure, Socket, Step, TargetFault, Work};
use crate::quantity::Quantity;
use bigdecimal::BigDecimal;
use std::collections::HashMap;
use std::sync::Arc;

/// Where a job stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// The header as last amended.
    pub header: Header,
    /// Which instrument played which role when.
    pub instruments: InForce,
    /// All that it is worked by.
    pub course: Course,
    /// One for each step of it, in order.
    pub steps: Vec<StepProgress>,
    /// Remarks on the job as a whole.
    pub notes: Vec<Note>,
    /// Who finished it, while it is finished.
    pub signed_off: Option<SignOff>,
    /// Who finished it before it was taken up again.
    pub ended_before: Vec<SignOff>,
    /// Why it was taken up again.
    pub reopened: Vec<Note>,
    /// When it was started and last touched, by the device's clock.
    pub span: Option<(i64, i64)>,
    /// Everything that came off, in the order in which it did.
    pub off: Vec<Off>,
    /// Parts that were changed.
    pub changes: Vec<Changed>,
    /// Parts that are wanted, what the owner was asked, and who took the set home.
    pub dealings: Dealings,
    /// What was wrong with the set.
    pub faults: Vec<Fault>,
    /// The paths along which a fault was looked for.
    pub traces: Vec<Trace>,
    /// Where in the log a part was changed or a cure recorded last.
    pub(in crate::job) mended: Option<usize>,
    /// Photos that were taken and not removed.
    pub photos: Vec<Photo>,
    /// The papers, those of its procedures first.
    pub papers: Vec<Paper>,
    /// What is left of damaged entries.
    pub damaged: Vec<Remains>,
    /// The breaks: where in the log, and when by the device's clock.
    paused: Vec<(usize, i64)>,
}

/// A reading that was struck out as a slip.
#[derive(Clone, Debug, PartialEq)]
pub struct Struck {
    /// The reading.
    pub taken: Taken,
    /// Why it was struck out.
    pub reason: String,
    /// When it was struck out, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
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
    pub readings: Vec<Arc<Taken>>,
    /// How it was found: the first reading as found, with those that repeat it.
    pub found: Option<Group>,
    /// What the step stands by: for an adjustment the reading as left, if it is the last one;
    /// for a plain reading the last one; in both cases with the readings that it repeats.
    pub left: Option<Group>,
    /// Readings that were slips, with the reasons.
    pub struck: Vec<Struck>,
    /// What the drift of the readings shows where the step watches that, or why it can't be said
    /// yet; `None` before there is a reading.
    pub settling: Option<Result<Settled, String>>,
    /// What the other route showed, the last one.
    pub cross: Option<CrossReading>,
    /// What was measured on the pins of a socket, the last of each pin and state.
    pub pins: Vec<PinReading>,
    /// The same, where a later reading took its place.
    pub pins_before: Vec<PinReading>,
    /// What is wrong with the wiring of a socket, or not measured yet.
    pub wiring: Vec<SocketFault>,
    /// When its wait began, unless a break has ended that.
    pub wait_begun: Option<i64>,
    /// Where in the log that is.
    wait_order: Option<usize>,
    /// Whether it is a stop that is confirmed and that no break has ended.
    pub holds: bool,
    /// Why the step needs another look, if it does.
    pub look_again: Option<LookAgain>,
    /// When it was ticked or confirmed.
    pub ticked: Option<i64>,
    /// Where in the log that is.
    pub(in crate::job) ticked_order: Option<usize>,
    /// The passes over the steps that it repeats.
    pub passes: Option<Passes>,
    /// Where in the log each pass after the first began, and when.
    pub(in crate::job) passes_begun: Vec<(usize, i64)>,
    /// Every reading of a pin, in order.
    pins_taken: Vec<PinTaken>,
    /// Where in the log its reading or its waiver was settled last.
    pub(in crate::job) touched: Option<usize>,
    /// Where in the log the hands were at it first; what it takes off is off since then.
    pub(in crate::job) worked: Option<usize>,
    /// Where in the log the hands were at it last.
    last_worked: Option<usize>,
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
    /// Inside, but still drifting beyond the limit that the step sets.
    Unsettled,
    /// Something was turned since that moves its reading.
    LookAgain,
    /// A stop that was confirmed; a break has ended that.
    Lapsed,
    /// A warm-up that was done; a break has ended that, and readings follow it.
    WaitAgain,
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
    /// The same unrounded, in the unit without prefix: what is judged.
    pub right: BigDecimal,
    /// What the tolerance says of it.
    pub verdict: Option<Verdict>,
    /// Whether the tool was in the adjuster, where that was said.
    pub tool: Option<Tool>,
    /// Whether it is the last reading taken once more.
    pub repeat: bool,
    /// How the device took it itself, where it did.
    pub heard: Option<Box<Heard>>,
    /// The instrument that it was read with, where one was named.
    pub with: Option<Arc<UsedInstrument>>,
    /// How it came to be in the unit and at the place that are judged, where it wasn't.
    pub way: Option<Arc<Way>>,
    /// Its place in the log.
    pub order: usize,
}

/// What the other route of a step showed.
#[derive(Clone, Debug, PartialEq)]
pub struct CrossReading {
    /// The event that brought it.
    pub event: Id,
    /// As it was indicated, and corrected.
    pub read: Read,
    /// Its place in the log.
    pub(in crate::job) order: usize,
    /// What it says of the step's reading, once there is one.
    pub opinion: Option<SecondOpinion>,
}

/// Why a step needs another look.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LookAgain {
    /// Something was turned that moves its reading.
    Turned {
        /// The adjuster.
        adjuster: Id,
        /// The number of the step in which it was turned.
        turned_in: usize,
    },
    /// It is gone through once more.
    Pass {
        /// Which pass it is, from 1.
        pass: usize,
        /// The number of the step that repeats it.
        repeated_by: usize,
    },
}

/// A part that was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// Its name, the same through all its entries: that of the first.
    pub name: Id,
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
    /// Its place in the log.
    order: usize,
}

impl Taken {
    /// The same as it was typed, for it is not to be judged any more.
    fn unjudged(self) -> Self {
        Taken {
            corrected: self.value.clone(),
            right: self.value.base(),
            verdict: None,
            with: None,
            way: None,
            ..self
        }
    }
}

/// Whether two readings were taken with one instrument as it was known.
fn is_same(one: Option<&Arc<UsedInstrument>>, other: Option<&Arc<UsedInstrument>>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => Arc::ptr_eq(one, other) || one == other,
        (one, other) => one.is_none() && other.is_none(),
    }
}

/// The readings of a step as they were before something was added, asked for in the order of the
/// log.
struct Readings<'a>(&'a [Arc<Taken>]);

impl<'a> Readings<'a> {
    fn of(before: Option<&'a Progress>, place: usize) -> Self {
        let step = before.and_then(|before| before.steps.get(place));
        Readings(step.map_or(&[], |step| &step.readings))
    }

    /// The one at a place in the log.
    fn at(&mut self, order: usize) -> Option<&'a Arc<Taken>> {
        while let Some((first, rest)) = self.0.split_first() {
            if first.order >= order {
                return Some(first).filter(|first| first.order == order);
            }
            self.0 = rest;
        }
        None
    }

    /// Whether this is one of them, unchanged.
    fn has(&mut self, taken: &Arc<Taken>) -> bool {
        self.at(taken.order)
            .is_some_and(|known| Arc::ptr_eq(known, taken))
    }
}

impl Progress {
    /// Folds the log over the procedure that the job was started with.
    pub fn of(procedure: &Arc<Procedure>, log: &Log) -> Self {
        Progress::fold(procedure, log, None)
    }

    /// The same, where it is known what followed from the log before something was added: what is
    /// still so of its readings is not worked out again.
    pub fn after(&self, procedure: &Arc<Procedure>, log: &Log) -> Self {
        Progress::fold(procedure, log, Some(self))
    }

    fn fold(started: &Arc<Procedure>, log: &Log, before: Option<&Progress>) -> Self {
        let undone = log.undone();
        let counting = || {
            let all = log.events().enumerate();
            all.filter(|(_, event)| !undone.contains(&event.id))
        };
        let adds = || {
            counting()
                .map(|(_, event)| event)
                .filter(|it| it.did.adds_steps())
        };
        let course = before
            .map(|before| &before.course)
            .filter(|known| known.is_of(started, adds().map(|event| &event.id)))
            .cloned();
        let course = course.unwrap_or_else(|| Course::from_events(started, adds()));
        let procedure = &course.procedure.clone();
        let mut progress = Progress::blank(course);
        let places: HashMap<Id, usize> = progress
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| (step.id.clone(), index))
            .collect();
        let mut known: Vec<Readings> = (0..progress.steps.len())
            .map(|place| Readings::of(before, place))
            .collect();
        for (order, event) in counting() {
            progress.take(order, event);
            let index = event.did.step().and_then(|id| places.get(id));
            if let Some(&index) = index {
                progress.steps[index].take(order, event, &mut known[index]);
            }
        }
        progress.instruments.settle();
        if let Some(before) = before {
            progress.instruments.keep(&before.instruments);
        }
        progress.damaged = remains(log);
        progress.span = log
            .events()
            .next()
            .zip(log.events().next_back())
            .map(|(first, last)| (first.at, last.at));
        progress.judge(procedure, before);
        progress
    }

    fn blank(course: Course) -> Self {
        let steps = course
            .procedure
            .steps()
            .enumerate()
            .map(|(index, step)| StepProgress::blank(step, index + 1))
            .collect();
        Progress {
            header: Header::default(),
            instruments: InForce::default(),
            papers: course.procedure.papers.clone(),
            course,
            steps,
            notes: Vec::new(),
            signed_off: None,
            ended_before: Vec::new(),
            reopened: Vec::new(),
            span: None,
            off: Vec::new(),
            changes: Vec::new(),
            dealings: Dealings::default(),
            faults: Vec::new(),
            traces: Vec::new(),
            mended: None,
            photos: Vec::new(),
            damaged: Vec::new(),
            paused: Vec::new(),
        }
    }

    fn take(&mut self, order: usize, event: &Event) {
        let was_away = self.collected().is_some();
        self.dealings.take(event);
        match &event.did {
            Deed::Opened(header) | Deed::Amended(header) => {
                self.instruments.state(header, order);
                self.header = Header::clone(header);
            }
            Deed::MeasuredWith { instrument } => {
                self.instruments.take_up(order, instrument);
                self.header
                    .use_instrument(UsedInstrument::clone(instrument));
            }
            Deed::Reading {
                step,
                value,
                heard: Some(heard),
                ..
            } => {
                let step = self.course.procedure.step(step);
                if let Some(gauge) = step.and_then(|step| step.work.gauge()) {
                    self.instruments.hear(order, &gauge.with, heard, value);
                }
            }
            Deed::Noted { step: None, text } => self.notes.push(Note {
                text: text.clone(),
                at: event.at,
                order,
            }),
            Deed::Paused => self.paused.push((order, event.at)),
            Deed::PathNoted { .. } | Deed::Looked { .. } => {
                Trace::take(&mut self.traces, order, event);
            }
            Deed::Changed {
                first,
                step,
                change,
            } => {
                // One that is put right was made then.
                if first.is_none() {
                    self.mended = Some(order);
                }
                let name = first.as_ref().unwrap_or(&event.id);
                let known = self.changes.iter_mut().find(|it| it.name == *name);
                let change = Change::clone(change);
                match known {
                    // When it was done, and in which step, stays.
                    Some(known) => known.change = change,
                    None => self.changes.push(Changed {
                        name: name.clone(),
                        step: step.clone(),
                        change,
                        at: event.at,
                    }),
                }
            }
            Deed::FaultNoted { first, record } => {
                if record.outcome == Outcome::Cured {
                    self.mended = Some(order);
                }
                let name = first.as_ref().unwrap_or(&event.id);
                let known = self.faults.iter_mut().find(|fault| fault.name == *name);
                let now = Fault {
                    name: name.clone(),
                    record: FaultRecord::clone(record),
                    at: event.at,
                };
                match known {
                    Some(known) => *known = now,
                    None => self.faults.push(now),
                }
            }
            Deed::TakenOff { .. } | Deed::PutBack { .. } | Deed::StaysOff { .. } => {
                put_back::take(&mut self.off, order, event);
            }
            Deed::Photographed { .. } | Deed::PhotoRemoved { .. } => {
                photos::take(&mut self.photos, event);
            }
            Deed::PaperKept { .. } | Deed::PaperChanged { .. } => {
                papers::take(&mut self.papers, event);
            }
            Deed::SignedOff { by, remarks } => {
                self.signed_off = Some(SignOff {
                    by: by.clone(),
                    remarks: remarks.clone(),
                    at: event.at,
                    order,
                });
            }
            Deed::Reopened { reason } => {
                // The set was away: nobody knows what became of what a stop had confirmed.
                if was_away {
                    self.paused.push((order, event.at));
                }
                self.ended_before.extend(self.signed_off.take());
                self.reopened.push(Note {
                    text: reason.clone(),
                    at: event.at,
                    order,
                });
            }
            _ => {}
        }
    }

    /// The reading as left that a step's target is worked out from.
    fn reference(&self, procedure: &Procedure, step: &Step) -> Option<Reference> {
        let target = step.work.target()?;
        let to = target.leans_on()?;
        let left = self.step(to)?.left_for_sure()?.clone();
        Some(Reference {
            slope: target.slope(&left.value)?,
            role: procedure.step(to)?.work.gauge()?.with.clone(),
            left,
        })
    }

    /// What a reading that counts proves: with those that repeat it where it is the last of them,
    /// else by itself.
    pub fn proof_of(
        &self,
        procedure: &Procedure,
        step: &Step,
        taken: &Taken,
    ) -> Result<Proof, Unproved> {
        let standing = self.step(&step.id);
        let (standing, gauge) = standing.zip(step.work.gauge()).ok_or(Unproved::NoTarget)?;
        let stands = [&standing.left, &standing.found].into_iter().flatten();
        if let Some(group) = stands.into_iter().find(|group| group.last == taken.order) {
            return group.proof.clone();
        }
        let tolerance = standing.tolerance.as_ref().and_then(|it| it.as_ref().ok());
        let mut group = Group::single(Read::of(taken), taken.at, taken.order);
        let reference = self.reference(procedure, step);
        group.judge(
            tolerance,
            &gauge.with,
            reference.as_ref(),
            &self.header.rule,
        );
        group.proof
    }

    /// Works out corrections, tolerances, verdicts, states and gates, in the order of the steps.
    fn judge(&mut self, procedure: &Procedure, before: Option<&Progress>) {
        for (place, (step, progress)) in procedure.steps().zip(&mut self.steps).enumerate() {
            progress.correct(step, &self.instruments, Readings::of(before, place));
        }
        let left: HashMap<Id, Quantity> = self
            .steps
            .iter()
            .filter_map(|step| Some((step.id.clone(), step.left_for_sure()?.value.clone())))
            .collect();
        let references: Vec<Option<Reference>> = procedure
            .steps()
            .map(|step| self.reference(procedure, step))
            .collect();
        let steps = procedure.steps().zip(&mut self.steps).zip(&references);
        for (place, ((step, progress), reference)) in steps.enumerate() {
            progress.tolerance = procedure.tolerance(step, |id| left.get(id).cloned());
            let then = before.and_then(|before| before.steps.get(place));
            let is_same = then.is_some_and(|then| then.tolerance == progress.tolerance);
            let known = Readings::of(before.filter(|_| is_same), place);
            let rule = &self.header.rule;
            progress.judge(step, reference.as_ref(), rule, &self.instruments, known);
        }
        look_again::mark(procedure, &mut self.steps);
        self.hold_shared_nulls(procedure);
        passes::mark(procedure, &mut self.steps);
        self.gate(procedure);
        self.cool_down(procedure);
        put_back::follow(procedure, &self.steps, &mut self.off);
        self.follow_traces();
    }

    /// A null that one adjuster makes in two steps is made where the worse of both is inside.
    fn hold_shared_nulls(&mut self, procedure: &Procedure) {
        let is_outside = |step: &Step| {
            let standing = self.step(&step.id)?;
            let is_done = standing.status == Status::Done;
            Some(is_done && advice::is_null_outside(self, step))
        };
        let outside: Vec<bool> = procedure
            .steps()
            .map(|step| is_outside(step).unwrap_or(false))
            .collect();
        for (standing, is_outside) in self.steps.iter_mut().zip(outside) {
            if is_outside {
                standing.status = match standing.waived {
                    Some(_) => Status::Waived,
                    None => Status::Outside,
                };
            }
        }
    }

    /// Finds the stops that hold, and closes what comes behind those that don't in the same
    /// procedure. A break ends what was confirmed before it for the work to come; a job signed off
    /// since has none to come.
    fn gate(&mut self, procedure: &Procedure) {
        let signed = self.signed_off.as_ref().map(|end| end.order);
        self.paused.retain(|(order, _)| signed < Some(*order));
        let paused = self.paused.last().map(|(order, _)| *order);
        let mut failing: HashMap<Id, usize> = HashMap::new();
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            let Work::Stop { holds, .. } = &step.work else {
                continue;
            };
            let lapsed = holds.is_until_a_break() && progress.ticked_order < paused;
            progress.holds = progress.ticked.is_some() && !lapsed;
            if progress.ticked.is_some() && lapsed {
                progress.status = Status::Lapsed;
            }
            if !progress.holds {
                failing.insert(step.id.clone(), progress.number);
            }
        }
        for (step, progress) in procedure.steps().zip(&mut self.steps) {
            let place = progress.number - 1;
            let part = self.course.part_of(place);
            let start = part.map_or(0, |part| part.steps.start);
            let stops = failing.values().copied();
            let goes_down = part.is_some_and(Part::is_of_a_procedure);
            let above = stops
                .filter(|stop| goes_down && (start + 1..=place).contains(stop))
                .min();
            let mut needs = step.needs.iter();
            progress.behind = above.or_else(|| needs.find_map(|need| failing.get(need).copied()));
        }
    }

    /// Ends the waits that a break outlasted, and the warm-ups that were done before it where
    /// something is read after them: nobody knows whether the set was on meanwhile.
    fn cool_down(&mut self, procedure: &Procedure) {
        let Some(&(last, _)) = self.paused.last() else {
            return;
        };
        let mut reads_on = false;
        let steps: Vec<&Step> = procedure.steps().collect();
        for (step, progress) in steps.into_iter().zip(&mut self.steps).rev() {
            let ends = pause::wait_ends(step, progress);
            let outlasts = |(order, at): &(usize, i64)| {
                let began_before = progress.wait_order < Some(*order);
                began_before && ends.is_some_and(|ends| pause::is_past_wait(ends, *at))
            };
            let is_warm = pause::is_warm_up(step) && progress.status == Status::Done;
            let is_cold = is_warm && reads_on && progress.ticked_order < Some(last);
            let is_outlasted = progress.status.is_owed() && self.paused.iter().any(outlasts);
            // Nor is it over where it was ticked since without being started again.
            let is_undone = is_warm && reads_on && progress.wait_order < Some(last);
            if is_outlasted || is_undone {
                progress.wait_begun = None;
            }
            if is_cold {
                progress.status = Status::WaitAgain;
            }
            let read_since = progress.last_worked > Some(last);
            reads_on |= step.work.measures() && (progress.status.is_owed() || read_since);
        }
    }

    /// The stops that a break has ended and that are not confirmed again.
    pub fn lapsed(&self) -> impl Iterator<Item = &StepProgress> {
        self.steps
            .iter()
            .filter(|step| step.status == Status::Lapsed)
    }

    /// What is still off, with no reason given for it.
    pub fn still_off(&self) -> impl Iterator<Item = &Off> {
        self.off.iter().filter(|off| off.state == OffState::Off)
    }

    /// The damaged entries that are not set aside.
    pub fn unsettled(&self) -> impl Iterator<Item = &Damaged> {
        let open = self.damaged.iter().filter(|it| it.set_aside.is_none());
        open.map(|it| &it.left)
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
        let is_settled = self.owed().next().is_none() && self.still_off().next().is_none();
        is_settled && self.unsettled().next().is_none()
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
            Status::Open
                | Status::Outside
                | Status::Unproved
                | Status::Unsettled
                | Status::LookAgain
                | Status::Lapsed
                | Status::WaitAgain
        )
    }

    /// The state in a word or two.
    pub const fn name(self) -> &'static str {
        match self {
            Status::Open => "open",
            Status::Outside => "outside",
            Status::Unproved => "not proved",
            Status::Unsettled => "not settled",
            Status::LookAgain => "look again",
            Status::Lapsed => "confirm again",
            Status::WaitAgain => "wait again",
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
            found: None,
            left: None,
            struck: Vec::new(),
            settling: None,
            cross: None,
            pins: Vec::new(),
            pins_before: Vec::new(),
            wiring: Vec::new(),
            pins_taken: Vec::new(),
            wait_begun: None,
            wait_order: None,
            holds: false,
            look_again: None,
            ticked: None,
            ticked_order: None,
            passes: None,
            passes_begun: Vec::new(),
            touched: None,
            worked: None,
            last_worked: None,
            answer: None,
            waived: None,
            notes: Vec::new(),
        }
    }

    fn take(&mut self, order: usize, event: &Event, known: &mut Readings) {
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
            self.last_worked = Some(order);
        }
        match &event.did {
            Deed::Reading {
                phase,
                value,
                tool,
                repeat,
                heard,
                ..
            } => {
                // A new reading speaks for itself: the reason was given for the old state.
                self.waived = None;
                self.touched = Some(order);
                let is_it = |taken: &&Arc<Taken>| {
                    let said = (&taken.event, taken.at, taken.phase, &taken.value);
                    said == (&event.id, event.at, *phase, value)
                        && (taken.tool, taken.repeat, &taken.heard) == (*tool, *repeat, heard)
                };
                let taken = known.at(order).filter(is_it).cloned();
                self.readings.push(taken.unwrap_or_else(|| {
                    Arc::new(Taken {
                        event: event.id.clone(),
                        at: event.at,
                        phase: *phase,
                        value: value.clone(),
                        corrected: value.clone(),
                        right: value.base(),
                        verdict: None,
                        tool: *tool,
                        repeat: *repeat,
                        heard: heard.clone(),
                        with: None,
                        way: None,
                        order,
                    })
                }));
            }
            Deed::Struck {
                reading, reason, ..
            } => self.strike(reading, reason, event.at),
            Deed::CrossRead { value, .. } => {
                self.cross = Some(CrossReading {
                    event: event.id.clone(),
                    read: Read::with(None, value.clone()),
                    order,
                    opinion: None,
                });
            }
            Deed::PinRead {
                pin, state, value, ..
            } => self.pins_taken.push(PinTaken {
                event: event.id.clone(),
                at: event.at,
                order,
                pin: pin.clone(),
                state: state.clone(),
                value: value.clone(),
            }),
            Deed::WaitBegun { .. } => {
                self.wait_begun = Some(event.at);
                self.wait_order = Some(order);
            }
            Deed::PassBegun { .. } => {
                // The reason was given for the passes before.
                self.waived = None;
                self.passes_begun.push((order, event.at));
            }
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

    /// Sets a reading apart as a slip. The first that repeats it then stands for itself.
    fn strike(&mut self, reading: &Id, reason: &str, at: i64) {
        if let Some(index) = self.readings.iter().position(|t| t.event == *reading) {
            let taken = self.readings.remove(index);
            if let Some(next) = self.readings.get_mut(index)
                && next.repeat
                && !taken.repeat
            {
                Arc::make_mut(next).repeat = false;
            }
            self.struck.push(Struck {
                taken: Arc::unwrap_or_clone(taken).unjudged(),
                reason: reason.to_owned(),
                at,
            });
        }
    }

    /// Puts the readings right by what is known of the instruments that they were taken with, and
    /// finds what is left. Those that are known under theirs stay as they are.
    fn correct(&mut self, step: &Step, instruments: &InForce, mut known: Readings) {
        if let (Some(cross), Some(check)) = (&mut self.cross, &step.cross_check) {
            let with = instruments.at(&check.gauge.with, cross.order).cloned();
            cross.read = Read::with(with, cross.read.indicated.clone());
        }
        let Some(gauge) = step.work.gauge() else {
            return;
        };
        for taken in &mut self.readings {
            let with = instruments.at(&gauge.with, taken.order);
            let way = Way::at(gauge, instruments, taken.order);
            let same_way = taken.way.as_deref().is_none_or(|known| *known == way);
            if !known.has(taken) || !is_same(taken.with.as_ref(), with) || !same_way {
                let taken = Arc::make_mut(taken);
                let read = Read::by(gauge, with.cloned(), way, taken.value.clone());
                (taken.corrected, taken.right, taken.with) =
                    (read.corrected, read.right, read.with);
                taken.way = read.way;
            }
        }
        let found = self.readings.iter().position(|t| t.phase == Phase::AsFound);
        let found = found.map(|first| self.group_of(first));
        let last = self.last_group();
        let is_left = |taken: &Arc<Taken>| taken.phase == Phase::AsLeft;
        // Where nothing is turned, what was found is how it is left until something was read as left.
        let must_be_left = proof::adjusts(&step.work) || self.readings.iter().any(is_left);
        let stands = !must_be_left || last.last().is_some_and(is_left);
        let (found, left, settling) = match &step.settles {
            None => (found.and_then(proof::group), proof::group(last), None),
            Some(limit) => {
                let result = |readings: &[Arc<Taken>]| {
                    let settling = settling::judge(limit, gauge, readings);
                    Some((settling::result(readings, settling.as_ref())?, settling))
                };
                let (left, settling) = result(last).unzip();
                (
                    found.and_then(result).map(|(found, _)| found),
                    left,
                    settling.flatten(),
                )
            }
        };
        self.found = found;
        self.left = left.filter(|_| stands);
        self.settling = settling;
    }

    /// The readings of a phase that stand beside what was found and left, and that a sheet must
    /// not hide for that. A try is a result only where it was repeated.
    pub fn beside(&self, phase: Phase) -> impl Iterator<Item = &Taken> {
        let of = |group: &Option<Group>| group.as_ref().map_or(0, |group| group.readings.len());
        let first = self.readings.iter().position(|t| t.phase == Phase::AsFound);
        let found = first.map_or(0..0, |first| first..first + of(&self.found));
        let left = self.readings.len() - of(&self.left)..self.readings.len();
        let readings = self.readings.iter().enumerate();
        readings.filter_map(move |(place, taken)| {
            let stands = match phase {
                Phase::AsFound => found.contains(&place),
                Phase::AsLeft => left.contains(&place),
                Phase::Try => left.contains(&place) || self.group_of(place).len() == 1,
            };
            (taken.phase == phase && !stands).then_some(&**taken)
        })
    }

    /// The last reading with those that it repeats: nothing was turned in between.
    pub(in crate::job) fn last_group(&self) -> &[Arc<Taken>] {
        match self.readings.len().checked_sub(1) {
            Some(last) => self.group_of(last),
            None => &[],
        }
    }

    /// The reading at a place with those that it repeats and those that repeat it, all of one
    /// phase and with one instrument.
    fn group_of(&self, place: usize) -> &[Arc<Taken>] {
        let readings = &self.readings;
        let is_alike = |at: usize| {
            let (here, one) = (&readings[at], &readings[place]);
            here.phase == one.phase
                && is_same(here.with.as_ref(), one.with.as_ref())
                && here.way == one.way
        };
        let goes_on = |at: usize| at < readings.len() && readings[at].repeat && is_alike(at);
        let mut first = place;
        while first > 0 && goes_on(first) && is_alike(first - 1) {
            first -= 1;
        }
        let mut end = place + 1;
        while goes_on(end) {
            end += 1;
        }
        &readings[first..end]
    }

    /// What it stands by, unless something in the path takes away nobody knows how much of it.
    fn left_for_sure(&self) -> Option<&Group> {
        self.left.as_ref().filter(|left| left.lacks().is_none())
    }

    /// Judges what is not known under this tolerance.
    fn judge(
        &mut self,
        step: &Step,
        reference: Option<&Reference>,
        rule: &Rule,
        instruments: &InForce,
        mut known_readings: Readings,
    ) {
        let known = self.tolerance.as_ref().and_then(|t| t.as_ref().ok());
        let verdict = |value: &Quantity, right: &BigDecimal| {
            known
                .filter(|tolerance| tolerance.unit() == value.unit())
                .map(|tolerance| tolerance.judge_unrounded(value, right))
        };
        for taken in &mut self.readings {
            if !known_readings.has(taken) {
                let taken = Arc::make_mut(taken);
                let is_known = Read::of(taken).lacks().is_none();
                let said = is_known.then(|| verdict(&taken.corrected, &taken.right));
                taken.verdict = said.flatten();
            }
        }
        let groups = self.found.iter_mut().chain(&mut self.left);
        if let Some(gauge) = step.work.gauge() {
            groups.for_each(|group| group.judge(known, &gauge.with, reference, rule));
        }
        if let Some(cross) = &self.cross {
            let opinion = advice::second_opinion(step, &cross.read, self.left.as_ref());
            self.cross = Some(CrossReading {
                opinion,
                ..cross.clone()
            });
        }
        if let Work::Socket(socket) = &step.work {
            self.judge_pins(socket, rule, instruments);
        }
        if let Work::Stop { reads: Some(_), .. } = &step.work {
            self.confirm_by_reading(rule);
        }
        self.status = self.status_of(&step.work, rule);
    }

    /// A stop with a reading is confirmed by that alone, and only as long as the last one is
    /// inside and the job's rule does not say otherwise. Where the accuracy is not known the rule
    /// says nothing, and a stop that this kept closed could neither be waived nor be confirmed.
    fn confirm_by_reading(&mut self, rule: &Rule) {
        let confirms = self.left.as_ref().filter(|left| proof::opens(rule, left));
        self.ticked = confirms.map(|left| left.at);
        self.ticked_order = confirms.map(|left| left.last);
    }

    /// Whether a reading of a stop, by itself, opens it.
    pub(in crate::job) fn is_opened_by(&self, stop: &Step, taken: &Taken, rule: &Rule) -> bool {
        let Some(gauge) = stop.work.gauge() else {
            return false;
        };
        let tolerance = self.tolerance.as_ref().and_then(|t| t.as_ref().ok());
        let mut group = Group::single(Read::of(taken), taken.at, taken.order);
        group.judge(tolerance, &gauge.with, None, rule);
        proof::opens(rule, &group)
    }

    fn judge_pins(&mut self, socket: &Socket, rule: &Rule, instruments: &InForce) {
        for taken in &self.pins_taken {
            let is_same = |pin: &PinReading| pin.pin == taken.pin && pin.state == taken.state;
            let before = self.pins.iter().position(is_same);
            let before = before.map(|place| self.pins.remove(place));
            self.pins_before.extend(before);
            let with = instruments.at(&socket.with, taken.order).cloned();
            self.pins.push(taken.judged(socket, with, rule));
        }
        self.wiring = socket::faults(socket, &self.pins);
    }

    fn status_of(&self, work: &Work, rule: &Rule) -> Status {
        // A stop is there for safety: a reason given for it, which only a file can bring, does
        // not settle it.
        let waived = self.waived.is_some() && !matches!(work, Work::Stop { .. });
        let is_ticked = self.ticked.is_some();
        let done_if = |it: bool| if it { Status::Done } else { Status::Open };
        // Every kind says here what settles it.
        let judged = match work {
            Work::Inspect => done_if(self.answer.is_some()),
            Work::Fit(_) | Work::Wire(_) | Work::Tick => done_if(is_ticked),
            Work::Socket(_) => socket::status(&self.wiring, &self.pins, rule, is_ticked),
            Work::Read { .. } | Work::Set { .. } | Work::Peak { .. } | Work::Dip { .. } => {
                self.status_of_reading(rule)
            }
            Work::Stop { .. } if is_ticked => Status::Done,
            Work::Stop { reads: None, .. } => Status::Open,
            Work::Stop { reads: Some(_), .. } => match &self.left {
                Some(left) => match &left.verdict {
                    Some(verdict) if verdict.is_inside() => Status::Unproved,
                    Some(_) => Status::Outside,
                    None => Status::Open,
                },
                None => Status::Open,
            },
            // The steps that it repeats settle it, all passes together.
            Work::Repeat(_) => Status::Open,
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
            (Some(_), None) if self.is_drifting() => Status::Unsettled,
            (Some(_), None) => Status::Done,
            (Some(left), Some(_)) => match &left.verdict {
                Some(_) if proof::accepts(rule, left) => match self.is_drifting() {
                    true => Status::Unsettled,
                    false => Status::Done,
                },
                Some(verdict) if verdict.is_inside() => Status::Unproved,
                Some(_) => Status::Outside,
                None => Status::Open,
            },
        }
    }

    /// Whether the readings show a drift beyond the limit that the step sets.
    fn is_drifting(&self) -> bool {
        let settling = self.settling.as_ref().and_then(|said| said.as_ref().ok());
        settling.is_some_and(|settled| settled.steadiness == Steadiness::Drifting)
    }

    /// What its second route says, where that speaks against the reading.
    pub fn spoken_against(&self) -> Option<&Opinion> {
        let said = self.cross.as_ref()?.opinion.as_ref()?;
        Some(&said.opinion).filter(|opinion| opinion.is_against())
    }

    /// Each reading that is judged, of whatever kind, in the order of the log: its event, and
    /// whether it is inside.
    pub fn judged(&self) -> Vec<(&Id, bool)> {
        let inside = |verdict: &Option<Verdict>| Some(verdict.as_ref()?.is_inside());
        let readings = self.readings.iter();
        let readings =
            readings.filter_map(|taken| Some((taken.order, &taken.event, inside(&taken.verdict)?)));
        // One in another unit, which only a file can bring, fits nothing.
        let pins = self.pins.iter().map(|pin| {
            let inside = inside(&pin.result.verdict).unwrap_or(false);
            (pin.result.last, &pin.event, inside)
        });
        let mut all: Vec<(usize, &Id, bool)> = readings.chain(pins).collect();
        all.sort_by_key(|(order, ..)| *order);
        all.into_iter()
            .map(|(_, id, inside)| (id, inside))
            .collect()
    }

    /// The reading of a pin that an event brought.
    pub fn pin_read(&self, event: &Id) -> Option<&PinReading> {
        let mut all = self.pins.iter().chain(&self.pins_before);
        all.find(|pin| pin.event == *event)
    }

    /// What stands on a pin in a state of the set, where that was measured.
    pub fn pin(&self, pin: &Id, state: &Id) -> Option<&PinReading> {
        let mut pins = self.pins.iter();
        pins.find(|read| read.pin == *pin && read.state == *state)
    }

    /// The verdict of the reading as found that lies furthest outside, if one does. Where a drift
    /// is watched, that of the last of them: how it began is no finding.
    pub fn found_outside(&self) -> Option<&Verdict> {
        if self.settling.is_some() {
            let found = self.found.as_ref()?.verdict.as_ref();
            return found.filter(|verdict| !verdict.is_inside());
        }
        self.readings
            .iter()
            .filter(|taken| taken.phase == Phase::AsFound)
            .filter_map(|taken| taken.verdict.as_ref())
            .filter(|verdict| !verdict.is_inside())
            .max_by_key(|verdict| verdict.margin.base())
    }

    /// The largest reading of a peak or the smallest of a dip, as found included.
    pub fn best(&self, work: &Work) -> Option<&Taken> {
        let by_size = |a: &&Taken, b: &&Taken| a.right.cmp(&b.right);
        let readings = self.readings.iter().map(Arc::as_ref);
        match work {
            Work::Peak { .. } => readings.max_by(by_size),
            Work::Dip { .. } => readings.min_by(by_size),
            _ => None,
        }
    }

    /// The phase that the next reading most likely has: a good one as left is repeated rather
    /// than turned away from. Whatever the repeats show, they change nothing about what is next.
    pub fn next_phase(&self, work: &Work) -> Phase {
        let Some(first) = self.last_group().first() else {
            return Phase::AsFound;
        };
        if !proof::adjusts(work) {
            return Phase::AsLeft;
        }
        let was_inside = first.verdict.as_ref().is_none_or(Verdict::is_inside);
        let left_well = match self.status {
            Status::Outside | Status::Unsettled | Status::LookAgain => was_inside,
            status => !status.is_owed(),
        };
        match left_well && first.phase == Phase::AsLeft {
            true => Phase::AsLeft,
            false => Phase::Try,
        }
    }
}
