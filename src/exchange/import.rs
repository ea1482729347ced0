//! What an import will do, said before it does it.

use super::Document;
use crate::job::{Job, Preferences};
use crate::metrology::instrument::Instrument;
use crate::procedure::Procedure;
use crate::radio::channels::ChannelTable;

/// One thing in a file, and what taking it will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// What it is; for a job that is here already, the merged one.
    pub subject: Subject,
    /// What taking it will do.
    pub outcome: Outcome,
}

/// A thing that a file can bring.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A procedure.
    Procedure(Procedure),
    /// A job.
    Job(Job),
    /// A channel table of the technician's own.
    Channels(ChannelTable),
    /// An instrument of the kit.
    Instrument(Instrument),
    /// The technician's settings.
    Preferences(Preferences),
}

/// What taking an item will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It is not here yet.
    New,
    /// It is here, the same.
    Same,
    /// An earlier revision is here and stays.
    Newer {
        /// The latest revision here.
        than: u32,
    },
    /// A later revision is here and stays the one in use.
    Older {
        /// The latest revision here.
        than: u32,
    },
    /// The two copies of the job become one.
    Merges {
        /// How many events the file adds.
        adds: usize,
        /// How many events only this device has.
        keeps: usize,
    },
    /// It would replace what is here under the same name.
    Replaces,
    /// Something else is here under the same name, so it can't be taken.
    Clashes,
}

/// Whether an item is worth taking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Taking it changes something.
    Offered,
    /// Taking it would change nothing.
    Needless,
    /// It can't be taken.
    Refused,
}

impl Outcome {
    /// Whether the item is worth taking.
    pub fn choice(&self) -> Choice {
        match self {
            Outcome::Same | Outcome::Merges { adds: 0, .. } => Choice::Needless,
            Outcome::Clashes => Choice::Refused,
            _ => Choice::Offered,
        }
    }

    /// The outcome as a sentence.
    pub fn sentence(&self) -> String {
        let events = |count: &usize| match count {
            1 => "1 entry".to_owned(),
            n => format!("{n} entries"),
        };
        match self {
            Outcome::New => "New here: it will be added.".to_owned(),
            Outcome::Same => "Already here, the same: nothing changes.".to_owned(),
            Outcome::Newer { than } => {
                format!(
                    "A later revision than the one here ({than}): it will be added, the earlier one stays."
                )
            }
            Outcome::Older { than } => {
                format!(
                    "An earlier revision than the one here ({than}): it will be added, the later one stays in use."
                )
            }
            Outcome::Merges { adds: 0, .. } => {
                "Already here, with all that the file has: nothing changes.".to_owned()
            }
            Outcome::Merges { adds, keeps: 0 } => {
                format!("Here already: {} will be added to its log.", events(adds))
            }
            Outcome::Merges { adds, keeps } => format!(
                "Here already, and worked on in both places: {} will be added, {} of this device stay.",
                events(adds),
                events(keeps)
            ),
            Outcome::Replaces => "Differs from what is here: it would replace that.".to_owned(),
            Outcome::Clashes => {
                "Something else is here under the same name and revision: it can't be taken."
                    .to_owned()
            }
        }
    }
}

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
    match document {
        Document::Procedure(procedure) => vec![procedure_item(procedure, &here.procedures)],
        Document::Job(job) => vec![job_item(job, &here.jobs)],
        Document::Backup(backup) => {
            let jobs = backup.whole_jobs();
            let jobs = jobs.into_iter().map(|job| job_item(job, &here.jobs));
            let settings = (backup.preferences != here.preferences).then_some(Item {
                subject: Subject::Preferences(backup.preferences),
                outcome: Outcome::Replaces,
            });
            let kit = backup.kit.into_iter();
            let kit = kit.map(|instrument| {
                let namesake = here.kit.iter().find(|other| other.name == instrument.name);
                named_item(namesake, instrument, Subject::Instrument)
            });
            let tables = backup.channels.into_iter().map(|table| {
                let namesake = here.channels.iter().find(|other| other.name == table.name);
                named_item(namesake, table, Subject::Channels)
            });
            let procedures = backup.procedures.into_iter();
            let procedures = procedures.map(|p| procedure_item(p, &here.procedures));
            settings
                .into_iter()
                .chain(kit)
                .chain(tables)
                .chain(procedures)
                .chain(jobs)
                .collect()
        }
    }
}

/// Something that is known by its name.
fn named_item<T: PartialEq>(
    namesake: Option<&T>,
    brought: T,
    subject: impl Fn(T) -> Subject,
) -> Item {
    let outcome = match namesake {
        None => Outcome::New,
        Some(other) if *other == brought => Outcome::Same,
        Some(_) => Outcome::Replaces,
    };
    Item {
        subject: subject(brought),
        outcome,
    }
}

fn procedure_item(procedure: Procedure, here: &[Procedure]) -> Item {
    let kin = || here.iter().filter(|other| other.id == procedure.id);
    let latest = kin().map(|other| other.revision).max();
    let outcome = match latest {
        None => Outcome::New,
        // Jobs can bring another of the same revision along, so there may be several.
        Some(_) if kin().any(|other| *other == procedure) => Outcome::Same,
        Some(_) if kin().any(|other| other.revision == procedure.revision) => Outcome::Clashes,
        Some(than) if than < procedure.revision => Outcome::Newer { than },
        Some(than) => Outcome::Older { than },
    };
    Item {
        subject: Subject::Procedure(procedure),
        outcome,
    }
}

fn job_item(job: Job, here: &[Job]) -> Item {
    let Some(other) = here.iter().find(|other| other.id == job.id) else {
        return Item {
            subject: Subject::Job(job),
            outcome: Outcome::New,
        };
    };
    if other.procedure != job.procedure {
        return Item {
            subject: Subject::Job(job),
            outcome: Outcome::Clashes,
        };
    }
    if other.log == job.log {
        return Item {
            subject: Subject::Job(job),
            outcome: Outcome::Same,
        };
    }
    let outcome = Outcome::Merges {
        adds: other.log.lacks(&job.log),
        keeps: job.log.lacks(&other.log),
    };
    let merged = Job {
        log: other.log.merge(&job.log),
        ..job
    };
    Item {
        subject: Subject::Job(merged),
        outcome,
    }
}
