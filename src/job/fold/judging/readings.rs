//! What the readings of each step prove.

use crate::job::fold::judging::known::Readings;
use crate::job::fold::judging::second::second_opinion;
use crate::job::fold::judging::{look_again, passes, put_back, settling, socket};
use crate::job::fold::proof;
use crate::job::fold::standing::group::{Group, Proof, Read, Reference};
use crate::job::fold::standing::pins::PinReading;
use crate::job::fold::standing::second::CrossReading;
use crate::job::fold::standing::step::StepProgress;
use crate::job::fold::standing::step::adjusts;
use crate::job::fold::standing::taken::{Taken, is_same};
use crate::job::fold::standing::unproved::Unproved;
use crate::job::fold::standing::way::Way;
use crate::job::fold::standing::whole::Progress;
use crate::job::{InForce, Phase};
use crate::metrology::decision::Rule;
use crate::procedure::{Id, Procedure, Socket, Step, Work};
use crate::quantity::Quantity;
use bigdecimal::BigDecimal;
use std::collections::HashMap;
use std::sync::Arc;

impl Progress {
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
    pub(in crate::job::fold) fn judge(&mut self, procedure: &Procedure, before: Option<&Progress>) {
        // Then nothing that a reading is corrected by is another than it was.
        let stays = before.filter(|before| {
            std::ptr::eq(&*before.course.procedure, procedure)
                && before.instruments == self.instruments
        });
        for (place, (step, progress)) in procedure.steps().zip(&mut self.steps).enumerate() {
            let known = Readings::of(before, place);
            progress.correct(step, &self.instruments, known, stays.is_some());
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
}

impl StepProgress {
    /// Puts the readings right by what is known of the instruments that they were taken with, and
    /// finds what is left. Those that are known under theirs stay as they are.
    fn correct(
        &mut self,
        step: &Step,
        instruments: &InForce,
        mut known: Readings,
        known_stay: bool,
    ) {
        if let (Some(cross), Some(check)) = (&mut self.cross, &step.cross_check) {
            let with = instruments.at(&check.gauge.with, cross.order).cloned();
            cross.read = Read::with(with, cross.read.indicated.clone());
        }
        let Some(gauge) = step.work.gauge() else {
            return;
        };
        for taken in &mut self.readings {
            if known_stay && known.has(taken) {
                continue;
            }
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
        let must_be_left = adjusts(&step.work) || self.readings.iter().any(is_left);
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

    /// Judges what is not known under this tolerance.
    pub(super) fn judge(
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
            let opinion = second_opinion(step, &cross.read, self.left.as_ref());
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
}
