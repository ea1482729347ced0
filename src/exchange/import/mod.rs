//! What an import will do, said before it does it.

mod outcome;

pub use self::outcome::{Choice, Item, Outcome, Subject};

use super::{Document, compare};
use crate::authoring::{Difference, differences};
use crate::job::{Correction, Damaged, Event, Job, Preferences};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::quantity::DecimalSign;
use crate::radio::channels::ChannelTable;
use std::collections::HashMap;
use std::iter::once;
use std::sync::Arc;

/// What is on this device, as far as an import asks.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Here {
    /// Its procedures, all revisions.
    pub procedures: Vec<Procedure>,
    /// Its jobs.
    pub jobs: Vec<Job>,
    /// Its kit.
    pub kit: Vec<Instrument>,
    /// Its own channel tables.
    pub channels: Vec<ChannelTable>,
    /// Its settings.
    pub preferences: Preferences,
}

/// What taking each thing in the document will do, given what is here.
pub fn preview(document: Document, here: &Here) -> Vec<Item> {
    let job_here = |id: &Id| here.jobs.iter().find(|job| job.id == *id).cloned();
    items(document, here, job_here).collect()
}

/// The same thing by thing. Of the jobs that are here, those that are in the document too are
/// asked for one by one.
pub fn items<'a>(
    document: Document,
    here: &'a Here,
    job_here: impl Fn(&Id) -> Option<Job> + 'a,
) -> Box<dyn Iterator<Item = Item> + 'a> {
    let job_items = move |job: Job| {
        let other = job_here(&job.id);
        job_items(job, other.as_ref(), here)
    };
    let backup = match document {
        Document::Procedure(procedure) => return Box::new(once(procedure_item(procedure, here))),
        Document::Job(job) => return Box::new(job_items(job).into_iter()),
        Document::Backup(backup) => backup,
    };
    let shared: HashMap<String, Arc<Procedure>> = backup
        .procedures
        .iter()
        .map(|procedure| (procedure.digest(), Arc::new(procedure.clone())))
        .collect();
    let jobs = backup.jobs.into_iter().filter_map(move |job| {
        Some(Job {
            procedure: shared.get(&job.procedure)?.clone(),
            id: job.id,
            log: job.log,
        })
    });
    let settings = backup.preferences.filter(|p| *p != here.preferences);
    let settings = settings.map(|preferences| Item {
        differences: compare::preferences(&here.preferences, &preferences),
        subject: Subject::Preferences(preferences),
        // Settings that nobody has made are none.
        outcome: match here.preferences == Preferences::default() {
            true => Outcome::New,
            false => Outcome::Replaces,
        },
    });
    let kit = backup.kit.into_iter().map(|instrument| {
        let namesake = here.kit.iter().find(|other| other.name == instrument.name);
        named_item(
            namesake,
            instrument,
            compare::instruments,
            Subject::Instrument,
        )
    });
    let tables = backup.channels.into_iter().map(|table| {
        let namesake = here.channels.iter().find(|other| other.name == table.name);
        named_item(namesake, table, compare::channels, Subject::Channels)
    });
    // That which stands for none is no news: it comes with the jobs that have none.
    let mut procedures = backup.procedures;
    procedures.retain(|procedure| !procedure.is_none());
    let procedures = procedures.into_iter();
    let procedures = procedures.map(|procedure| procedure_item(procedure, here));
    Box::new(
        settings
            .into_iter()
            .chain(kit)
            .chain(tables)
            .chain(procedures)
            .chain(jobs.flat_map(job_items)),
    )
}

/// Something that is known by its name.
fn named_item<T: PartialEq>(
    namesake: Option<&T>,
    brought: T,
    compare: impl Fn(&T, &T) -> Vec<Difference>,
    subject: impl Fn(T) -> Subject,
) -> Item {
    let outcome = match namesake {
        None => Outcome::New,
        Some(other) if *other == brought => Outcome::Same,
        Some(_) => Outcome::Replaces,
    };
    let differences = namesake.map(|other| compare(other, &brought));
    Item {
        subject: subject(brought),
        outcome,
        differences: differences.unwrap_or_default(),
    }
}

fn procedure_item(procedure: Procedure, here: &Here) -> Item {
    let kin = || {
        here.procedures
            .iter()
            .filter(|other| other.id == procedure.id)
    };
    let latest = kin().max_by_key(|other| other.revision);
    let namesake = here.namesake(&procedure);
    let outcome = match latest.map(|latest| latest.revision) {
        None => Outcome::New,
        Some(_) if kin().any(|other| *other == procedure) => Outcome::Same,
        Some(_) if namesake.is_some() => Outcome::Beside,
        Some(than) if than < procedure.revision => Outcome::Newer { than },
        Some(than) => Outcome::Older { than },
    };
    let differences = match (&outcome, namesake.or(latest)) {
        (Outcome::Same, _) | (_, None) => Vec::new(),
        (_, Some(other)) => differences(other, &procedure, here.sign()),
    };
    Item {
        subject: Subject::Procedure(Box::new(procedure)),
        outcome,
        differences,
    }
}

/// The job, and what reads otherwise in it than here, if something does.
fn job_items(job: Job, other: Option<&Job>, here: &Here) -> Vec<Item> {
    let corrections = other.and_then(|other| corrections(other, &job, here.sign()));
    once(job_item(job, other, here))
        .chain(corrections)
        .collect()
}

fn corrections(here: &Job, job: &Job, sign: DecimalSign) -> Option<Item> {
    let clashes = match here.procedure == job.procedure {
        true => here.log.clashes(&job.log),
        false => Vec::new(),
    };
    let outcome = match (clashes.len(), here.log.is_signed_off()) {
        (0, _) => return None,
        (count, true) => Outcome::Finished(count),
        (count, false) => Outcome::Corrects(count),
    };
    let corrections = clashes.iter().map(|(here, there)| Correction {
        event: Event::clone(there),
        note: compare::correction(here, there, sign),
    });
    Some(Item {
        differences: compare::side_by_side(here, &clashes, sign),
        outcome,
        subject: Subject::Corrections {
            corrections: corrections.collect(),
            job: Job {
                log: here.log.merge(&job.log),
                ..job.clone()
            },
        },
    })
}

fn job_item(job: Job, other: Option<&Job>, here: &Here) -> Item {
    let sign = here.sign();
    let item = |job, outcome, differences| Item {
        subject: Subject::Job(job),
        outcome,
        differences,
    };
    let Some(other) = other else {
        if let Some(namesake) = here.namesake(&job.procedure) {
            let differences = differences(namesake, &job.procedure, sign);
            return item(job, Outcome::OtherProcedure, differences);
        }
        let odd = compare::odd(&job);
        return item(job, Outcome::New, odd);
    };
    if other.procedure != job.procedure {
        let differences = differences(&other.procedure, &job.procedure, sign);
        return item(job, Outcome::Clashes, differences);
    }
    if other.log == job.log {
        return item(job, Outcome::Same, Vec::new());
    }
    let log = other.log.merge(&job.log);
    let is_new = |left: &&Damaged| !other.log.damaged().any(|known| known == *left);
    let outcome = Outcome::Merges {
        adds: other.log.lacks(&job.log),
        keeps: job.log.lacks(&other.log),
        clashes: other.log.clashes(&job.log).len(),
        damaged: job.log.damaged().len(),
        left: log.damaged().filter(is_new).count(),
    };
    let additions = compare::additions(other, &job, sign);
    item(Job { log, ..job }, outcome, additions)
}

impl Here {
    /// What is here under a procedure's name and revision in its place. Jobs once brought another
    /// of the same revision along, so there may be several.
    fn namesake(&self, procedure: &Procedure) -> Option<&Procedure> {
        let has_its_name =
            |other: &&Procedure| other.id == procedure.id && other.revision == procedure.revision;
        let mut namesakes = self.procedures.iter().filter(has_its_name);
        match namesakes.clone().any(|other| other == procedure) {
            true => None,
            false => namesakes.next(),
        }
    }

    fn sign(&self) -> DecimalSign {
        self.preferences.decimal_sign
    }
}
