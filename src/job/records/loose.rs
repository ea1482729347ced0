//! Readings that were taken before there was a job for them. They stand in a job without a set,
//! which is none to finish: it is kept into one, made one by saying of which set it is, or thrown
//! away.

use crate::job::{Deed, Event, Header, Job, Line, Progress, Refusal, Stamp, UsedInstrument};
use crate::procedure::{Id, Procedure};
use std::collections::{BTreeMap, HashSet};

impl Header {
    /// Whether it says of which set, for whom, or under which number.
    fn says_nothing_of_the_set(&self) -> bool {
        let Header {
            number,
            set,
            owner,
            fault,
            ..
        } = self;
        let texts = [number, owner, fault, &set.make, &set.model, &set.serial];
        texts.iter().all(|text| text.trim().is_empty())
    }
}

impl Progress {
    /// Whether what was read belongs to no job yet.
    pub fn is_loose(&self) -> bool {
        let names_none = self.course.procedures().all(|name| name.is_none());
        names_none && self.signed_off.is_none() && self.header.says_nothing_of_the_set()
    }
}

impl Line {
    /// Whether what was read belongs to no job yet.
    pub fn is_loose(&self) -> bool {
        let names_none = self.procedures().all(|name| name.is_none());
        let header = Header {
            number: self.number.clone(),
            set: self.set.clone(),
            owner: self.owner.clone(),
            fault: self.fault.clone(),
            ..Header::default()
        };
        names_none && !self.is_finished() && header.says_nothing_of_the_set()
    }
}

impl Job {
    /// Begins with a reading that belongs to no job yet.
    pub fn loose(id: Id, header: Header, stamp: Stamp) -> Self {
        let header = Header {
            technician: header.technician,
            instruments: header.instruments,
            ..Header::default()
        };
        Job::open(id, Procedure::none(), header, stamp)
    }

    /// Takes in what was read before there was this job, each entry with the time that it has. What
    /// is here already is not taken in twice. Each reading stays with the instrument that it was
    /// taken with, and afterwards each role is played as it was before. `said` is noted last.
    pub fn take_in(
        &mut self,
        loose: &Job,
        said: &str,
        mut fresh: impl FnMut() -> Stamp,
    ) -> Result<(), Refusal> {
        let coming = self.lacks(loose);
        let Some(first) = coming.iter().find_map(|event| event.did.names_step()) else {
            return Ok(());
        };
        let progress = self.progress();
        let was = |role: &Id| progress.header.used_as(role).cloned();
        let read_with = read_with(loose);
        let mut playing: BTreeMap<Id, Option<UsedInstrument>> = BTreeMap::new();
        let mut deeds: Vec<(Stamp, Deed)> = Vec::new();
        for Event { id, at, did, .. } in coming {
            if let Some((role, used)) = read_with.get(&id) {
                let now = playing.entry(role.clone()).or_insert_with(|| was(role));
                if now != used {
                    let stamp = Stamp { at, ..fresh() };
                    deeds.push((stamp, takes_up(role, used.clone())));
                    now.clone_from(used);
                }
            }
            deeds.push((Stamp { id, at }, did));
        }
        for (role, now) in playing {
            let before = was(&role);
            if before != now {
                deeds.push((fresh(), takes_up(&role, before)));
            }
        }
        let note = Deed::Noted {
            step: Some(first),
            text: said.to_owned(),
        };
        deeds.push((fresh(), note));
        self.record_all(&progress, deeds)
    }

    /// The work of a job without a set that is not here.
    fn lacks(&self, loose: &Job) -> Vec<Event> {
        let known: HashSet<&Id> = self.log.events().map(|event| &event.id).collect();
        let undone = loose.log.undone();
        let counts = |event: &&Event| {
            let is_here = known.contains(&event.id);
            !is_here && !undone.contains(&event.id) && is_of_the_work(&event.did)
        };
        loose.log.events().filter(counts).cloned().collect()
    }
}

fn takes_up(role: &Id, used: Option<UsedInstrument>) -> Deed {
    let instrument = used.unwrap_or_else(|| UsedInstrument::nobody(role.clone()));
    Deed::MeasuredWith {
        instrument: Box::new(instrument),
    }
}

/// The role of each reading, and what played it. The sound input plays none: its readings name it
/// themselves.
fn read_with(loose: &Job) -> BTreeMap<Id, (Id, Option<UsedInstrument>)> {
    let progress = loose.progress();
    let steps = progress.course.procedure.steps().zip(&progress.steps);
    let read = steps.filter_map(|(step, standing)| Some((&step.work.gauge()?.with, standing)));
    let each = read.flat_map(|(role, standing)| {
        let all = standing.readings.iter();
        let instruments = &progress.instruments;
        all.map(move |taken| {
            let used = instruments.played(role, taken.order);
            let used = used.map(|used| UsedInstrument::clone(used));
            (taken.event.clone(), (role.clone(), used))
        })
    });
    each.collect()
}

impl Deed {
    fn names_step(&self) -> Option<Id> {
        match self {
            Deed::AddedStep { added } => Some(added.step.id.clone()),
            other => other.step().cloned(),
        }
    }
}

/// Whether an entry tells of what was read, and not of the job around it.
fn is_of_the_work(did: &Deed) -> bool {
    !matches!(
        did,
        Deed::Opened(_)
            | Deed::Amended(_)
            | Deed::MeasuredWith { .. }
            | Deed::Paused
            | Deed::SetAside { .. }
            | Deed::SignedOff { .. }
            | Deed::Reopened { .. }
            | Deed::Collected { .. }
            | Deed::Undone { .. }
    )
}
