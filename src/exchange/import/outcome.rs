//! What taking a thing would do.

use crate::authoring::Difference;
use crate::job::{Correction, Job, Preferences};
use crate::metrology::instrument::Instrument;
use crate::procedure::Procedure;
use crate::radio::channels::ChannelTable;
use std::iter::once;

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
