//! Which instrument played a role at which place in the log. A reading is corrected, judged and
//! said to be read with the one that it was taken with, whatever is used later.

use crate::job::fold::standing::in_force::Restated;
use crate::job::{Deed, Header, Progress, StepProgress, UsedInstrument};
use crate::metrology::instrument::Source;
use crate::procedure::{Id, Procedure, Step, Work};
use std::sync::Arc;

/// An instrument that readings of a job were taken with.
#[derive(Clone, Debug, PartialEq)]
pub struct Measuring {
    /// Its role.
    pub role: Id,
    /// The instrument, where one was named.
    pub with: Option<Arc<UsedInstrument>>,
    /// The numbers of the steps that were read with it, in the order of the procedure.
    pub steps: Vec<usize>,
}

/// Whether two readings were taken with one thing. The device is one for all that it takes in one
/// way, however uncertain each reading is.
fn is_one(one: Option<&Arc<UsedInstrument>>, other: Option<&Arc<UsedInstrument>>) -> bool {
    let itself = |used: &&Arc<UsedInstrument>| {
        let record = used.record.as_ref();
        record.is_some_and(|record| record.further.iter().any(|it| it.from == Source::Samples))
    };
    match (one.filter(itself), other.filter(itself)) {
        (Some(one), Some(other)) => one.name == other.name,
        _ => one == other,
    }
}

impl Progress {
    /// With what the readings that count were taken: by role, and in a role in the order in which
    /// the instruments took it up.
    pub fn measured_with(&self, procedure: &Procedure) -> Vec<Measuring> {
        let mut read: Vec<Reading> = self.readings(procedure).collect();
        read.sort_by_key(|it| (it.role, it.order));
        let mut all: Vec<Measuring> = Vec::new();
        for Reading { order, role, step } in read {
            let with = self.instruments.at(role, order);
            let is_it = |it: &&mut Measuring| it.role == *role && is_one(it.with.as_ref(), with);
            match all.iter_mut().find(is_it) {
                Some(known) => known.steps.push(step),
                None => all.push(Measuring {
                    role: role.clone(),
                    with: with.cloned(),
                    steps: vec![step],
                }),
            }
        }
        for one in &mut all {
            one.steps.sort_unstable();
            one.steps.dedup();
        }
        all
    }

    /// The readings that count, each once for every role that it was taken with.
    fn readings<'a>(&'a self, procedure: &'a Procedure) -> impl Iterator<Item = Reading<'a>> {
        let steps = procedure.steps().zip(&self.steps);
        steps.flat_map(|(step, standing)| {
            let number = standing.number;
            readings(step, standing).map(move |(order, role)| Reading {
                order,
                role,
                step: number,
            })
        })
    }
}

/// A reading that counts, in one of the roles that it was taken with.
struct Reading<'a> {
    /// Its place in the log.
    order: usize,
    role: &'a Id,
    /// The number of its step.
    step: usize,
}

/// The readings of a step that count, of whatever kind: where each is in the log, and each role that
/// it was taken with.
fn readings<'a>(
    step: &'a Step,
    standing: &'a StepProgress,
) -> impl Iterator<Item = (usize, &'a Id)> {
    let plain = standing.readings.iter().flat_map(|taken| {
        let gauge = step.work.gauge().into_iter();
        gauge.flat_map(|gauge| gauge.roles().map(|role| (taken.order, role)))
    });
    let second = standing.cross.as_ref().zip(step.cross_check.as_ref());
    let second = second.into_iter().flat_map(|(cross, check)| {
        let roles = check.gauge.roles();
        roles.map(|role| (cross.order, role))
    });
    let socket = match &step.work {
        Work::Socket(socket) => Some(&socket.with),
        _ => None,
    };
    let pins = socket.into_iter().flat_map(|role| {
        let pins = standing.pins.iter().chain(&standing.pins_before);
        pins.map(move |pin| (pin.result.last, role))
    });
    plain.chain(second).chain(pins)
}

/// What another instrument in a role counts for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counts {
    /// For what is read from here on.
    FromHere,
    /// Also for what was read since the one of now took up its role: that was named wrongly, or
    /// not at all.
    Before,
}

/// What plays a role now, where something was read with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Present {
    /// The role.
    pub role: Id,
    /// The instrument, where one is named.
    pub used: Option<UsedInstrument>,
}

impl Counts {
    /// What is usually meant: naming what nobody named, or stating the figures of one that had
    /// none, tells of what was read; anything else is another instrument on the bench.
    pub fn usual(replaced: &[Present], header: &Header) -> Self {
        let tells_of_it = |it: &Present| match &it.used {
            None => true,
            Some(used) => {
                let now = header.used_as(&it.role);
                used.record.is_none() && now.is_some_and(|now| now.name == used.name)
            }
        };
        match replaced.iter().all(tells_of_it) {
            true => Counts::Before,
            false => Counts::FromHere,
        }
    }
}

impl Progress {
    /// What was said anew of the instruments with which something had been read.
    pub fn restated(&self, procedure: &Procedure) -> Vec<&Restated> {
        let is_read = |it: &&Restated| {
            let within = it.from..it.said;
            let mut all = self.readings(procedure);
            all.any(|reading| *reading.role == it.role && within.contains(&reading.order))
        };
        self.instruments.restated.iter().filter(is_read).collect()
    }

    /// What plays a role now, if something was read with it.
    pub fn present(&self, procedure: &Procedure, role: &Id) -> Option<Present> {
        let since = self.instruments.since(role);
        let mut all = self.readings(procedure);
        all.any(|reading| reading.role == role && reading.order >= since)
            .then(|| Present {
                role: role.clone(),
                used: self.header.used_as(role).cloned(),
            })
    }

    /// What a header gives up for other instruments although something was read with it.
    pub fn replaced(&self, procedure: &Procedure, header: &Header) -> Vec<Present> {
        let named = self.header.instruments.iter().chain(&header.instruments);
        let mut roles: Vec<&Id> = named.map(|used| &used.role).collect();
        roles.sort();
        roles.dedup();
        let is_other = |role: &&Id| self.header.used_as(role) != header.used_as(role);
        let roles = roles.into_iter().filter(is_other);
        roles
            .filter_map(|role| self.present(procedure, role))
            .collect()
    }

    /// What is to be written so that a header is in force: nothing where it is already.
    pub fn amended(&self, procedure: &Procedure, header: Header, counts: Counts) -> Vec<Deed> {
        let mut now = self.header.clone();
        let mut deeds = Vec::new();
        if counts == Counts::FromHere {
            for Present { role, .. } in self.replaced(procedure, &header) {
                let used = header.used_as(&role).cloned();
                let used = used.unwrap_or_else(|| UsedInstrument::nobody(role));
                now.use_instrument(used.clone());
                deeds.push(Deed::MeasuredWith {
                    instrument: Box::new(used),
                });
            }
        }
        if now != header {
            deeds.push(Deed::Amended(Box::new(header)));
        }
        deeds
    }
}
