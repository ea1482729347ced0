//! Which instrument played a role at which place in the log. A reading is corrected, judged and
//! said to be read with the one that it was taken with, whatever is used later.

use crate::job::{Deed, Header, Heard, Progress, StepProgress, UsedInstrument};
use crate::metrology::instrument::Source;
use crate::procedure::{Id, Procedure, Step, Work};
use crate::quantity::Quantity;
use std::sync::Arc;

/// The instruments of a job, each from the place in the log on where it took up its role.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InForce {
    /// In the order of the log; the first of each role is from its beginning.
    spells: Vec<Spell>,
    /// What was said anew of a spell.
    restated: Vec<Restated>,
    /// The device itself, for the one reading that it took at each place in the log.
    heard: Vec<(usize, Arc<UsedInstrument>)>,
    /// The same as the log has it.
    told: Vec<(usize, Id, Heard, Quantity)>,
}

/// Of what was read with an instrument it was said afterwards that it had been another, or that its
/// figures were others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restated {
    /// The role.
    pub role: Id,
    /// What the instrument was called before, if anything.
    pub was: Option<String>,
    /// What it is called since, if anything.
    pub is: Option<String>,
    /// Where in the log that was said.
    pub said: usize,
    /// From where in the log on it tells of readings.
    from: usize,
}

/// How long a role is played by one instrument: until the next spell of the same role.
#[derive(Clone, Debug, PartialEq)]
struct Spell {
    role: Id,
    /// The place in the log where it begins.
    from: usize,
    /// The instrument, or none that was named.
    used: Option<Arc<UsedInstrument>>,
}

impl InForce {
    /// The instrument that played a role at a place in the log; `None` where nobody named one.
    pub fn at(&self, role: &Id, order: usize) -> Option<&Arc<UsedInstrument>> {
        let heard = self.heard.binary_search_by_key(&order, |(place, _)| *place);
        let heard = heard.ok().map(|at| &self.heard[at].1);
        if let Some(used) = heard.filter(|used| used.role == *role) {
            return Some(used);
        }
        let mut spells = self.spells.iter().rev();
        let spell = spells.find(|spell| spell.role == *role && spell.from <= order)?;
        spell.used.as_ref()
    }

    /// The place in the log since which the role is played by the instrument of now; 0 where it
    /// has been from the beginning.
    pub fn since(&self, role: &Id) -> usize {
        let mut spells = self.spells.iter().rev();
        let spell = spells.find(|spell| spell.role == *role);
        spell.map_or(0, |spell| spell.from)
    }

    /// Takes what a header says. It tells with what the work is done since each instrument took up
    /// its role, so that what was said of it before is put right.
    pub(in crate::job) fn state(&mut self, header: &Header, order: usize) {
        let named = header.instruments.iter().map(|used| &used.role);
        let known = self.spells.iter().map(|spell| &spell.role);
        let mut roles: Vec<Id> = named.chain(known).cloned().collect();
        roles.sort();
        roles.dedup();
        for role in roles {
            let said = header.used_as(&role);
            let spell = self.present_mut(&role);
            if spell.used.as_deref() == said {
                continue;
            }
            let before = std::mem::replace(&mut spell.used, said.cloned().map(Arc::new));
            let from = spell.from;
            self.restated.push(Restated {
                role,
                was: before.map(|used| used.name.clone()),
                is: said.map(|used| used.name.clone()),
                said: order,
                from,
            });
        }
    }

    /// The spell of now of a role; one from the beginning on where there is none yet.
    fn present_mut(&mut self, role: &Id) -> &mut Spell {
        let known = self.spells.iter().rposition(|spell| spell.role == *role);
        let place = known.unwrap_or(self.spells.len());
        if known.is_none() {
            self.spells.push(Spell {
                role: role.clone(),
                from: 0,
                used: None,
            });
        }
        &mut self.spells[place]
    }

    /// Another instrument takes up its role; one without a name leaves the role to nobody.
    pub(in crate::job) fn take_up(&mut self, order: usize, used: &UsedInstrument) {
        let is_named = !used.name.trim().is_empty();
        self.spells.push(Spell {
            role: used.role.clone(),
            from: order,
            used: is_named.then(|| Arc::new(used.clone())),
        });
    }

    /// The device took a reading itself, in this role. Places come in the order of the log.
    pub(in crate::job) fn hear(
        &mut self,
        order: usize,
        role: &Id,
        heard: &Heard,
        value: &Quantity,
    ) {
        self.told
            .push((order, role.clone(), heard.clone(), value.clone()));
    }

    /// Works out what took those readings, once it is known what played each role.
    pub(in crate::job) fn settle(&mut self) {
        let told = std::mem::take(&mut self.told);
        let used = told.iter().map(|(order, role, heard, value)| {
            let with = self.at(role, *order).map(Arc::as_ref);
            (*order, Arc::new(heard.as_used(role, value, with)))
        });
        self.heard = used.collect();
        self.told = told;
    }

    /// Takes over from what was known before what is the same, so that comparing is quick.
    pub(in crate::job) fn keep(&mut self, before: &InForce) {
        for (spell, known) in self.spells.iter_mut().zip(&before.spells) {
            if spell.used == known.used {
                spell.used.clone_from(&known.used);
            }
        }
        for (one, known) in self.heard.iter_mut().zip(&before.heard) {
            if one == known {
                one.1.clone_from(&known.1);
            }
        }
    }
}

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
