//! The files that travel. Each says its type and version; keys keep one order, so that two
//! files can be compared line by line.

pub(super) use self::attempt::BackupParts;

use crate::exchange::document::content::without_position;
mod attempt;
pub(super) mod content;

pub use self::content::{
    Backup, BackupJob, Document, DocumentError, Faulty, File, MAX_BYTES, MAX_THINGS, Part, Unread,
    VERSION,
};
pub(super) use crate::exchange::document::attempt::{Attempt, Attempts, InFile};
pub(super) use crate::exchange::document::content::short_name;

use super::open;
use super::reading::{Checking, take};
use crate::exchange::document::attempt::{RawLog, log_of};
use crate::exchange::document::content::unsound;
use crate::exchange::images::picture::Picture;
use crate::job::entries::place;
use crate::job::{Event, Job, Log};
use crate::procedure::{Id, Procedure, faults};
use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

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
pub(super) const BACKUP: &str = "halfturn-backup";

/// What every file has around its one content, as it is written and as it is read. What may be
/// faulty without spoiling the rest is read as an attempt.
macro_rules! file_shape {
    ($written:ident, $read:ident, $field:ident: $content:ty, $parts:ty) => {
        #[derive(Serialize)]
        struct $written<'a> {
            #[serde(rename = "type")]
            kind: &'a str,
            version: u32,
            $field: &'a $content,
            #[serde(skip_serializing_if = "<[Picture]>::is_empty")]
            pictures: &'a [Picture],
        }

        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct $read {
            #[serde(rename = "type")]
            _kind: IgnoredAny,
            #[serde(rename = "version")]
            _version: IgnoredAny,
            $field: $parts,
            #[serde(default)]
            pictures: Attempts<Picture>,
        }
    };
}
file_shape!(WrittenProcedure, ProcedureFile, procedure: Procedure, Procedure);
file_shape!(WrittenJob, JobFile, job: JobContent, JobParts);
file_shape!(WrittenBackup, BackupFile, backup: Backup, BackupParts);

#[derive(Serialize)]
struct JobContent {
    id: Id,
    procedure: Procedure,
    log: WrittenLog,
}

/// A log as it is written.
#[derive(Serialize)]
#[serde(untagged)]
enum WrittenLog {
    /// Each event with its check.
    Checked(Log),
    /// As it was before there were checks.
    Bare(Vec<Event>),
}

impl WrittenLog {
    fn of(version: u32, log: &Log) -> Self {
        match version {
            1 | 2 => WrittenLog::Bare(log.events().cloned().collect()),
            _ => WrittenLog::Checked(log.clone()),
        }
    }
}

/// The content of a job's file as it is read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct JobParts {
    id: Id,
    procedure: Procedure,
    log: RawLog,
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
    let text = match document {
        Document::Procedure(procedure) => pretty(&WrittenProcedure {
            kind: PROCEDURE,
            version,
            procedure,
            pictures,
        }),
        Document::Job(job) => pretty(&WrittenJob {
            kind: JOB,
            version,
            job: &JobContent {
                id: job.id.clone(),
                procedure: Procedure::clone(&job.procedure),
                log: WrittenLog::of(version, &job.log),
            },
            pictures,
        }),
        Document::Backup(backup) => pretty(&WrittenBackup {
            kind: BACKUP,
            version,
            backup,
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
        Document::Backup(backup) => match backup.preferences {
            Some(_) => ("backup", date.to_owned()),
            None => ("several", date.to_owned()),
        },
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

/// Reads the document of a file of any version up to ours, refusing it if anything is faulty.
pub fn read(text: &str) -> Result<Document, DocumentError> {
    let file = open(text)?;
    match file.faulty.into_iter().next() {
        None => Ok(file.document),
        Some(faulty) => Err(faulty.why),
    }
}

/// Reads a file of any version up to ours in one go, as far as it can be taken.
pub(super) fn open_whole(text: &str) -> Result<File, DocumentError> {
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
            sound_procedure("procedure", &file.procedure)?;
            let document = Document::Procedure(file.procedure);
            Ok(File::of(document, Vec::new(), file.pictures))
        }
        JOB => {
            let file: JobFile = parse(text)?;
            let JobParts { id, procedure, log } = file.job;
            sound_procedure("job.procedure", &procedure)?;
            let log = log_of("job.log", log).map_err(|flaw| unsound(flaw.place, flaw.what))?;
            sound_log("job.log", &procedure, &log)?;
            let procedure = Arc::new(procedure);
            let document = Document::Job(Job { id, procedure, log });
            Ok(File::of(document, Vec::new(), file.pictures))
        }
        BACKUP => {
            let file: BackupFile = parse(text)?;
            Ok(Checking::of(file.backup, file.pictures).end())
        }
        other => Err(unknown_type(other)),
    }
}

impl File {
    pub(super) fn of(
        document: Document,
        mut faulty: Vec<Faulty>,
        pictures: Attempts<Picture>,
    ) -> Self {
        let pictures = take(&mut faulty, "pictures", Part::Picture, pictures);
        File {
            document,
            pictures,
            faulty,
        }
    }
}

fn unknown_type(kind: &str) -> DocumentError {
    DocumentError::UnknownType(kind.chars().take(40).collect())
}

/// Reads a text that is JSON as a whole, so that whatever is wrong with it now has a place of
/// its own.
fn parse<'a, T: Deserialize<'a>>(text: &'a str) -> Result<T, DocumentError> {
    let mut deserializer = serde_json::Deserializer::from_str(text);
    T::deserialize(&mut deserializer).map_err(|error| {
        let place = place::of_error(text, &error);
        unsound(place, without_position(&error.to_string()))
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

fn sound_procedure(place: &str, procedure: &Procedure) -> Result<(), DocumentError> {
    match faults(procedure).first() {
        None => Ok(()),
        Some(fault) => Err(unsound(place, fault.to_string())),
    }
}

/// A log must open its job, speak only of steps that its procedure has, and leave room.
fn sound_log(place: &str, procedure: &Procedure, log: &Log) -> Result<(), DocumentError> {
    match log.fault(procedure).or_else(|| log.file_fault()) {
        None => Ok(()),
        Some(fault) => Err(unsound(place, fault.to_string())),
    }
}
