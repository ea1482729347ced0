//! What a file holds, and what is wrong with one.

use crate::exchange::images::picture::Picture;
use crate::job::{Job, Log, Preferences};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure};
use crate::radio::channels::ChannelTable;
use serde::{Deserialize, Serialize};
use std::collections::{HashMap, HashSet};
use std::fmt;
use std::sync::Arc;

/// The version that is written. All from 1 up to it are read.
pub const VERSION: u32 = 3;

/// The largest file that is read: 64 MiB, some hundred pictures. While it is read, its text and
/// the bytes of its pictures are in memory, together less than twice as much.
pub const MAX_BYTES: usize = 64 << 20;

/// The most things of one kind that a file may hold. More don't fit into a browser's storage.
pub const MAX_THINGS: usize = 100_000;

/// The most of them that are told as faulty. With more, the file is none that can be mended by
/// looking at it thing by thing.
pub(in crate::exchange) const MAX_FAULTY: usize = 10_000;

/// A file as far as it can be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// What it holds, without what is faulty.
    pub document: Document,
    /// The pictures that the document names.
    pub pictures: Vec<Picture>,
    /// What can't be taken. It doesn't keep the rest from being taken.
    pub faulty: Vec<Faulty>,
}

/// A thing in a file that can't be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faulty {
    /// What it is.
    pub part: Part,
    /// What it calls itself, where that can be read.
    pub name: Option<String>,
    /// What is wrong with it.
    pub why: DocumentError,
}

/// The parts that a file with several things has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The settings.
    Preferences,
    /// An instrument, with its place in the file from 1.
    Instrument(usize),
    /// A channel table.
    Channels(usize),
    /// A procedure.
    Procedure(usize),
    /// A job.
    Job(usize),
    /// A picture.
    Picture(usize),
    /// Something else that was kept in the device's storage.
    Kept,
}

/// What a file can hold.
#[derive(Clone, Debug, PartialEq, Eq)]
#[allow(clippy::large_enum_variant)] // One is in hand at a time, so its size costs nothing.
pub enum Document {
    /// A procedure.
    Procedure(Procedure),
    /// A job with its procedure.
    Job(Job),
    /// Several things, or everything on a device.
    Backup(Backup),
}

/// Several things of a device, or everything on it. Jobs name their procedures by digest, so
/// that each is held once.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Backup {
    /// The technician's settings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub preferences: Option<Preferences>,
    /// Instruments on the shelf.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub kit: Vec<Instrument>,
    /// Channel tables of the technician's own.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub channels: Vec<ChannelTable>,
    /// Procedures, those of the jobs included.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub procedures: Vec<Procedure>,
    /// Jobs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub jobs: Vec<BackupJob>,
    /// What could not be read on the device, as it was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unread: Vec<Unread>,
}

/// Something that a device holds and could not read. It goes along, so that nothing is lost with
/// the device, and is not taken in anywhere.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Unread {
    /// The key that it was under.
    pub key: String,
    /// What is wrong with it.
    pub why: String,
    /// Its text.
    pub text: String,
}

impl Unread {
    /// The same among what a file holds and can't be taken.
    pub fn faulty(&self) -> Faulty {
        Faulty {
            part: Part::Kept,
            name: Some(short_name(&self.key)),
            why: unsound("", self.why.as_str()),
        }
    }
}

/// A job in a backup.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BackupJob {
    /// The job's id.
    pub id: Id,
    /// The digest of its procedure.
    pub procedure: String,
    /// Its log.
    pub log: Log,
}

/// Why a file was not taken. Nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DocumentError {
    /// Nothing in it.
    Empty,
    /// Larger than any file of ours.
    TooLarge(usize),
    /// It ends in the middle.
    CutShort,
    /// Not JSON, from this line and column on.
    NotJson {
        /// Line from 1.
        line: usize,
        /// Column from 1.
        column: usize,
    },
    /// JSON, but not from here.
    NotOurs,
    /// A type that is not known here.
    UnknownType(String),
    /// Written by a later version.
    FutureVersion(u32),
    /// Something in it is missing, odd or not allowed.
    Unsound {
        /// Where, as a path of keys.
        place: String,
        /// What.
        what: String,
    },
}

impl fmt::Display for DocumentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DocumentError::Empty => write!(f, "The file is empty: choose another"),
            DocumentError::TooLarge(bytes) => write!(
                f,
                "The file has {} MB; files from here have at most {} MB: choose another",
                bytes.div_ceil(1 << 20),
                MAX_BYTES >> 20
            ),
            DocumentError::CutShort => write!(
                f,
                "The file stops in the middle, as if it was not copied to its end: fetch it again"
            ),
            DocumentError::NotJson { line, column } => write!(
                f,
                "The file is not one of ours: it is not JSON from line {line}, column {column} on"
            ),
            DocumentError::NotOurs => write!(
                f,
                "The file is JSON, but does not say that it is a procedure, a job or a backup from here"
            ),
            DocumentError::UnknownType(kind) => {
                write!(
                    f,
                    "The file is of the type “{kind}”, which is not known here"
                )
            }
            DocumentError::FutureVersion(version) => write!(
                f,
                "The file is in format {version}, from a later version of the app; this one reads up to {VERSION}: update the app first"
            ),
            DocumentError::Unsound { place, what } if place.is_empty() || place == "." => {
                write!(f, "Something in the file is not right: {what}")
            }
            DocumentError::Unsound { place, what } => {
                write!(f, "Something in the file is not right at {place}: {what}")
            }
        }
    }
}

impl std::error::Error for DocumentError {}

pub(super) fn unsound(place: impl Into<String>, what: impl Into<String>) -> DocumentError {
    DocumentError::Unsound {
        place: place.into(),
        what: what.into(),
    }
}

impl Backup {
    /// A backup of these procedures and jobs, in an order of its own.
    pub fn of(
        preferences: impl Into<Option<Preferences>>,
        kit: Vec<Instrument>,
        procedures: Vec<Procedure>,
        jobs: Vec<Job>,
    ) -> Self {
        let used = jobs.iter().map(|job| Procedure::clone(&job.procedure));
        let mut all: Vec<(String, Procedure)> = procedures
            .into_iter()
            .chain(used)
            .map(|procedure| (procedure.digest(), procedure))
            .collect();
        all.sort_by(|a, b| {
            let key = |p: &(String, Procedure)| (p.1.id.clone(), p.1.revision, p.0.clone());
            key(a).cmp(&key(b))
        });
        all.dedup_by(|a, b| a.0 == b.0);
        let mut jobs: Vec<BackupJob> = jobs
            .into_iter()
            .map(|job| BackupJob {
                id: job.id,
                procedure: job.procedure.digest(),
                log: job.log,
            })
            .collect();
        jobs.sort_by(|a, b| a.id.cmp(&b.id));
        Backup {
            preferences: preferences.into(),
            kit,
            channels: Vec::new(),
            procedures: all.into_iter().map(|(_, procedure)| procedure).collect(),
            jobs,
            unread: Vec::new(),
        }
    }

    /// The same with these jobs and, out of those known by their digests, their procedures.
    pub fn with_jobs(
        self,
        mut jobs: Vec<BackupJob>,
        mut known: HashMap<String, Arc<Procedure>>,
    ) -> Self {
        let used: HashSet<&String> = jobs.iter().map(|job| &job.procedure).collect();
        known.retain(|digest, _| used.contains(digest));
        let used = known.into_values().map(Arc::unwrap_or_clone);
        let procedures = self.procedures.into_iter().chain(used);
        let shelf = Backup::of(self.preferences, self.kit, procedures.collect(), Vec::new());
        jobs.sort_by(|a, b| a.id.cmp(&b.id));
        Backup {
            channels: self.channels,
            unread: self.unread,
            jobs,
            ..shelf
        }
    }

    /// How many things it holds.
    pub fn things(&self) -> usize {
        let settings = usize::from(self.preferences.is_some());
        let shelf = self.kit.len() + self.channels.len();
        settings + shelf + self.procedures.len() + self.jobs.len() + self.unread.len()
    }

    /// The jobs, each with its procedure again.
    pub fn whole_jobs(&self) -> Vec<Job> {
        let by_digest: HashMap<_, _> = by_digest(&self.procedures)
            .into_iter()
            .map(|(digest, procedure)| (digest, Arc::new(procedure.clone())))
            .collect();
        self.jobs
            .iter()
            .filter_map(|job| {
                let procedure = by_digest.get(&job.procedure)?;
                Some(Job {
                    id: job.id.clone(),
                    procedure: procedure.clone(),
                    log: job.log.clone(),
                })
            })
            .collect()
    }
}

fn by_digest(procedures: &[Procedure]) -> HashMap<String, &Procedure> {
    let pairs = procedures
        .iter()
        .map(|procedure| (procedure.digest(), procedure));
    pairs.collect()
}

/// The message without its `at line … column …`, since the path says it better.
pub(super) fn without_position(message: &str) -> String {
    let end = message.rfind(" at line ").unwrap_or(message.len());
    message[..end].chars().take(300).collect()
}

/// A name as far as a sentence has room for it.
pub(in crate::exchange) fn short_name(name: &str) -> String {
    name.chars().take(80).collect()
}
