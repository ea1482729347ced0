//! The files that travel. Each says its type and version; keys keep one order, so that two
//! files can be compared line by line.

use super::picture::Picture;
use crate::job::{Job, Log, Preferences};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure, faults};
use crate::radio::channels::ChannelTable;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::fmt;

/// The version that is written. All from 1 up to it are read.
pub const VERSION: u32 = 2;

/// The largest file that is read: 64 MiB, some hundred pictures. While it is read, its text and
/// the bytes of its pictures are in memory, together less than twice as much.
pub const MAX_BYTES: usize = 64 << 20;

/// A file: its document and the pictures that the document names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct File {
    /// What it holds.
    pub document: Document,
    /// The pictures.
    pub pictures: Vec<Picture>,
}

/// What a file can hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Document {
    /// A procedure.
    Procedure(Procedure),
    /// A job with its procedure.
    Job(Job),
    /// Everything on a device.
    Backup(Backup),
}

/// Everything on a device. Jobs name their procedures by digest, so that each is held once.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Backup {
    /// The technician's settings.
    pub preferences: Preferences,
    /// The instruments on the shelf.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kit: Vec<Instrument>,
    /// Channel tables of the technician's own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub channels: Vec<ChannelTable>,
    /// Every procedure, those that only finished jobs still use included.
    pub procedures: Vec<Procedure>,
    /// Every job.
    pub jobs: Vec<BackupJob>,
}

/// A job in a backup.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
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

#[derive(Deserialize)]
struct Envelope {
    #[serde(rename = "type")]
    kind: String,
    version: u32,
}

/// How every type of ours begins.
const OURS: &str = "halfturn-";

const PROCEDURE: &str = "halfturn-procedure";
const JOB: &str = "halfturn-job";
const BACKUP: &str = "halfturn-backup";

/// What every file starts with, around its one content.
macro_rules! file_shape {
    ($name:ident, $field:ident: $content:ty) => {
        #[derive(Serialize, Deserialize)]
        #[serde(deny_unknown_fields)]
        struct $name<'a> {
            #[serde(rename = "type")]
            kind: Cow<'a, str>,
            version: u32,
            $field: Cow<'a, $content>,
            #[serde(default, skip_serializing_if = "<[Picture]>::is_empty")]
            pictures: Cow<'a, [Picture]>,
        }
    };
}
file_shape!(ProcedureFile, procedure: Procedure);
file_shape!(JobFile, job: JobContent);
file_shape!(BackupFile, backup: Backup);

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct JobContent {
    id: Id,
    procedure: Procedure,
    log: Log,
}

/// The text of a document, the same for the same content on every device.
pub fn write(document: &Document) -> String {
    write_with(document, &[])
}

/// The text of a document together with the pictures that it names.
pub fn write_with(document: &Document, pictures: &[Picture]) -> String {
    write_as(VERSION, document, pictures)
}

/// The same as it was in an earlier version, where the document holds nothing that is newer.
pub(super) fn write_as(version: u32, document: &Document, pictures: &[Picture]) -> String {
    let pictures = Cow::Borrowed(pictures);
    let text = match document {
        Document::Procedure(procedure) => pretty(&ProcedureFile {
            kind: PROCEDURE.into(),
            version,
            procedure: Cow::Borrowed(procedure),
            pictures,
        }),
        Document::Job(job) => pretty(&JobFile {
            kind: JOB.into(),
            version,
            job: Cow::Owned(JobContent {
                id: job.id.clone(),
                procedure: job.procedure.clone(),
                log: job.log.clone(),
            }),
            pictures,
        }),
        Document::Backup(backup) => pretty(&BackupFile {
            kind: BACKUP.into(),
            version,
            backup: Cow::Borrowed(backup),
            pictures,
        }),
    };
    text + "\n"
}

fn pretty(content: &impl Serialize) -> String {
    // Our documents hold nothing that JSON can't, so this does not fail.
    serde_json::to_string_pretty(content).unwrap_or_default()
}

/// A file name for a document: what it is and whose, in letters that every system takes.
pub fn file_name(document: &Document, date: &str) -> String {
    let (kind, title) = match document {
        Document::Procedure(p) => ("procedure", format!("{} rev {}", p.title, p.revision)),
        Document::Job(job) => {
            let header = job.progress().header;
            ("job", format!("{} {}", header.number, header.set.title()))
        }
        Document::Backup(_) => ("backup", date.to_owned()),
    };
    let mut slug = String::new();
    for c in title.chars().take(60) {
        match c.is_alphanumeric() {
            true => slug.extend(c.to_lowercase()),
            false if !slug.ends_with('-') => slug.push('-'),
            false => {}
        }
    }
    match slug.trim_matches('-') {
        "" => format!("halfturn-{kind}.json"),
        slug => format!("halfturn-{kind}-{slug}.json"),
    }
}

/// Reads the document of a file of any version up to ours.
pub fn read(text: &str) -> Result<Document, DocumentError> {
    open(text).map(|file| file.document)
}

/// Reads a file of any version up to ours.
pub fn open(text: &str) -> Result<File, DocumentError> {
    if text.len() > MAX_BYTES {
        return Err(DocumentError::TooLarge(text.len()));
    }
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(DocumentError::Empty);
    }
    let envelope: Envelope = serde_json::from_str(text).map_err(envelope_error)?;
    // Files from elsewhere have versions of their own, which say nothing here.
    if !envelope.kind.starts_with(OURS) {
        return Err(unknown_type(&envelope.kind));
    }
    match envelope.version {
        0 => return Err(unsound("version", "versions count from 1")),
        1..=VERSION => {}
        later => return Err(DocumentError::FutureVersion(later)),
    }
    match envelope.kind.as_str() {
        PROCEDURE => {
            let file: ProcedureFile = parse(text)?;
            let procedure = file.procedure.into_owned();
            sound_procedure("procedure", &procedure)?;
            Ok(File::of(Document::Procedure(procedure), file.pictures))
        }
        JOB => {
            let file: JobFile = parse(text)?;
            let JobContent { id, procedure, log } = file.job.into_owned();
            sound_procedure("job.procedure", &procedure)?;
            sound_log("job.log", &procedure, &log)?;
            let job = Job { id, procedure, log };
            Ok(File::of(Document::Job(job), file.pictures))
        }
        BACKUP => {
            let file: BackupFile = parse(text)?;
            let backup = file.backup.into_owned();
            sound_backup(&backup)?;
            Ok(File::of(Document::Backup(backup), file.pictures))
        }
        other => Err(unknown_type(other)),
    }
}

impl File {
    fn of(document: Document, pictures: Cow<'_, [Picture]>) -> Self {
        let pictures = pictures.into_owned();
        File { document, pictures }
    }
}

fn unknown_type(kind: &str) -> DocumentError {
    DocumentError::UnknownType(kind.chars().take(40).collect())
}

/// Reads the content of a text that is JSON as a whole, so that whatever is wrong with it now
/// has a place of its own.
fn parse<'a, T: Deserialize<'a>>(text: &'a str) -> Result<T, DocumentError> {
    let mut deserializer = serde_json::Deserializer::from_str(text);
    serde_path_to_error::deserialize(&mut deserializer).map_err(|error| {
        let place: String = error.path().to_string().chars().take(200).collect();
        unsound(place, without_position(&error.into_inner().to_string()))
    })
}

fn envelope_error(error: serde_json::Error) -> DocumentError {
    match error.classify() {
        serde_json::error::Category::Data => DocumentError::NotOurs,
        _ => syntax_error(&error),
    }
}

fn syntax_error(error: &serde_json::Error) -> DocumentError {
    if error.is_eof() {
        return DocumentError::CutShort;
    }
    DocumentError::NotJson {
        line: error.line(),
        column: error.column(),
    }
}

/// The message without its `at line … column …`, since the path says it better.
fn without_position(message: &str) -> String {
    let end = message.rfind(" at line ").unwrap_or(message.len());
    message[..end].chars().take(300).collect()
}

fn unsound(place: impl Into<String>, what: impl Into<String>) -> DocumentError {
    DocumentError::Unsound {
        place: place.into(),
        what: what.into(),
    }
}

fn sound_procedure(place: &str, procedure: &Procedure) -> Result<(), DocumentError> {
    match faults(procedure).first() {
        None => Ok(()),
        Some(fault) => Err(unsound(place, fault.to_string())),
    }
}

/// A log must open its job, and speak only of steps that its procedure has.
fn sound_log(place: &str, procedure: &Procedure, log: &Log) -> Result<(), DocumentError> {
    match log.fault(procedure) {
        None => Ok(()),
        Some(fault) => Err(unsound(place, fault.to_string())),
    }
}

fn sound_backup(backup: &Backup) -> Result<(), DocumentError> {
    for (index, procedure) in backup.procedures.iter().enumerate() {
        sound_procedure(&format!("backup.procedures[{index}]"), procedure)?;
    }
    let by_digest: std::collections::HashMap<String, &Procedure> = backup
        .procedures
        .iter()
        .map(|procedure| (procedure.digest(), procedure))
        .collect();
    let mut seen = std::collections::HashSet::new();
    for (index, job) in backup.jobs.iter().enumerate() {
        let place = format!("backup.jobs[{index}]");
        if !seen.insert(&job.id) {
            return Err(unsound(place, format!("two jobs have the id “{}”", job.id)));
        }
        let Some(procedure) = by_digest.get(&job.procedure) else {
            return Err(unsound(place, "its procedure is not in the file"));
        };
        sound_log(&format!("{place}.log"), procedure, &job.log)?;
    }
    Ok(())
}

impl Backup {
    /// A backup of these procedures and jobs, in an order of its own.
    pub fn of(
        preferences: Preferences,
        kit: Vec<Instrument>,
        procedures: Vec<Procedure>,
        jobs: Vec<Job>,
    ) -> Self {
        let used = jobs.iter().map(|job| job.procedure.clone());
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
            preferences,
            kit,
            channels: Vec::new(),
            procedures: all.into_iter().map(|(_, procedure)| procedure).collect(),
            jobs,
        }
    }

    /// The jobs, each with its procedure again.
    pub fn whole_jobs(&self) -> Vec<Job> {
        let by_digest: std::collections::HashMap<String, &Procedure> = self
            .procedures
            .iter()
            .map(|procedure| (procedure.digest(), procedure))
            .collect();
        self.jobs
            .iter()
            .filter_map(|job| {
                let procedure = by_digest.get(&job.procedure)?;
                Some(Job {
                    id: job.id.clone(),
                    procedure: (*procedure).clone(),
                    log: job.log.clone(),
                })
            })
            .collect()
    }
}
