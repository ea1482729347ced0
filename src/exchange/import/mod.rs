//! What an import will do, said before it does it.

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

/// One thing in a file, and what taking it will do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// What it is; for a job that is here already, the merged one.
    pub subject: Subject,
    /// What taking it will do.
    pub outcome: Outcome,
    /// How it differs from what is here, or what it adds to that.
    pub differences: Vec<Difference>,
}

/// A thing that a file can bring.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A procedure.
    Procedure(Box<Procedure>),
    /// A job.
    Job(Job),
    /// Entries of a job that have another form in the file than here.
    Corrections {
        /// The job as it will be without them.
        job: Job,
        /// The entries as the file has them.
        corrections: Vec<Correction>,
    },
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
        /// How many events have another form in the file; those here stay.
        clashes: usize,
        /// How many entries are damaged in the file.
        damaged: usize,
        /// How many of those are not here, sound or damaged: they will stand beside the log.
        left: usize,
    },
    /// Entries that are here would be taken back, and those of the file written behind them.
    Corrects(usize),
    /// The same, but the job is finished and takes no entries.
    Finished(usize),
    /// It would replace what is here under the same name.
    Replaces,
    /// Something else is here under the same name, so it can't be taken.
    Clashes,
    /// The procedure differs from the one here of the same name and revision, and would stand
    /// beside it.
    Beside,
    /// The job follows such a procedure, and would bring it along.
    OtherProcedure,
}

/// Whether an item is worth taking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// Taking it changes something.
    Offered,
    /// Taking it takes back something that was entered here, or brings what is easily taken for
    /// something else, so it has to be asked for.
    Asked,
    /// Taking it would change nothing.
    Needless,
    /// It can't be taken.
    Refused,
}

impl Outcome {
    /// Whether the item is worth taking.
    pub fn choice(&self) -> Choice {
        match self {
            Outcome::Same
            | Outcome::Merges {
                adds: 0, left: 0, ..
            } => Choice::Needless,
            Outcome::Corrects(_) | Outcome::Beside | Outcome::OtherProcedure => Choice::Asked,
            Outcome::Clashes | Outcome::Finished(_) => Choice::Refused,
            _ => Choice::Offered,
        }
    }

    /// Whether the item is ticked before anyone has looked at it: taking it takes nothing away.
    pub fn is_ticked(&self) -> bool {
        self.choice() == Choice::Offered && *self != Outcome::Replaces
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
            Outcome::Merges {
                adds,
                keeps,
                clashes,
                damaged,
                left,
            } => {
                let merged = match (adds, keeps) {
                    (0, _) if *left > 0 => {
                        "Already here, with all that is sound in the file.".to_owned()
                    }
                    (0, _) if *damaged > 0 => {
                        "Already here, with all that is sound in the file: nothing changes."
                            .to_owned()
                    }
                    (0, _) => {
                        "Already here, with all that the file has: nothing changes.".to_owned()
                    }
                    (_, 0) => format!("Here already: {} will be added to its log.", events(adds)),
                    _ => format!(
                        "Here already, and worked on in both places: {} will be added, {} of this device stay.",
                        events(adds),
                        events(keeps)
                    ),
                };
                let clashes = (*clashes > 0).then(|| {
                    format!(
                        "{} of it read otherwise in the file: what is here stays.",
                        events(clashes)
                    )
                });
                let damaged = match (damaged, left) {
                    (0, _) => None,
                    (1, 0) => Some("1 entry of the file is damaged: it counts for nothing.".into()),
                    (n, 0) => Some(format!(
                        "{n} entries of the file are damaged: they count for nothing."
                    )),
                    (n, left) => Some(format!(
                        "Damaged in the file: {}; not here, kept beside the log and shown as damaged: {left}.",
                        events(n)
                    )),
                };
                let parts = once(merged).chain(clashes).chain(damaged);
                parts.collect::<Vec<String>>().join(" ")
            }
            Outcome::Corrects(count) => format!(
                "{} here and in the file under one name, but not the same. What is here stays, unless you tick this: then it is taken back, and what the file has is written behind it, with a note that says so.",
                events(count)
            ),
            Outcome::Finished(count) => format!(
                "{} here and in the file under one name, but not the same. The job is finished, so what is here stays: reopen it to take what the file has.",
                events(count)
            ),
            Outcome::Replaces => "Differs from what is here: it would replace that.".to_owned(),
            Outcome::Clashes => {
                "Something else is here under the same name and revision: it can't be taken."
                    .to_owned()
            }
            Outcome::Beside => {
                "Another one is here under the same name and revision, and differs. It stays as it is; if you tick this, both are here, and lists tell them apart."
                    .to_owned()
            }
            Outcome::OtherProcedure => {
                "It follows a procedure that differs from the one here under the same name and revision. If you tick this, it comes with its own, by which its readings are judged as they were; the one here stays as it is, and lists tell them apart."
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
