//! The files that travel. Each says its type and version; keys keep one order, so that two
//! files can be compared line by line.

use super::open;
use super::reading::{Checking, take};
use crate::exchange::images::picture::Picture;
use crate::job::entries::place;
use crate::job::{Bounded, Event, Job, Log, Preferences, ReadEvent};
use crate::metrology::instrument::Instrument;
use crate::procedure::{Id, Procedure, faults};
use crate::radio::channels::ChannelTable;
use serde::de::{self, DeserializeOwned, IgnoredAny, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::value::RawValue;
use std::collections::{HashMap, HashSet};
use std::fmt;
use std::marker::PhantomData;
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
pub(super) const MAX_FAULTY: usize = 10_000;

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

/// The content of a backup as it is read.
#[derive(Default, Deserialize)]
#[serde(default, rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct BackupParts {
    pub preferences: Option<Attempt<Preferences>>,
    pub kit: Attempts<Instrument>,
    pub channels: Attempts<ChannelTable>,
    pub procedures: Attempts<Procedure>,
    pub jobs: Attempts<BackupJob>,
    pub unread: Attempts<Unread>,
}

/// The things of a list, faulty ones among them, as many as a file may hold.
pub(super) struct Attempts<T> {
    list: Vec<Attempt<T>>,
    faulty: usize,
}

impl<T> Default for Attempts<T> {
    fn default() -> Self {
        Attempts {
            list: Vec::new(),
            faulty: 0,
        }
    }
}

impl<T> Attempts<T> {
    /// Takes another one, or says why it is one too many.
    pub fn push(&mut self, attempt: Attempt<T>) -> Result<(), String> {
        self.faulty += usize::from(attempt.read.is_err());
        if self.faulty > MAX_FAULTY {
            return Err(format!(
                "more than {MAX_FAULTY} things of this list can’t be read: fetch the file again"
            ));
        }
        if self.list.len() == MAX_THINGS {
            return Err(format!(
                "a file may hold {MAX_THINGS} things of a kind: split it"
            ));
        }
        self.list.push(attempt);
        Ok(())
    }
}

impl<T> IntoIterator for Attempts<T> {
    type Item = Attempt<T>;
    type IntoIter = std::vec::IntoIter<Attempt<T>>;

    fn into_iter(self) -> Self::IntoIter {
        self.list.into_iter()
    }
}

impl<'de, T: InFile> Deserialize<'de> for Attempts<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct List<T>(PhantomData<T>);
        impl<'de, T: InFile> Visitor<'de> for List<T> {
            type Value = Attempts<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "a sequence")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
                let mut attempts = Attempts::default();
                while let Some(attempt) = list.next_element()? {
                    attempts.push(attempt).map_err(de::Error::custom)?;
                }
                Ok(attempts)
            }
        }
        deserializer.deserialize_seq(List(PhantomData))
    }
}

/// A thing in a file, or what keeps it from being one.
pub(super) struct Attempt<T> {
    /// What it calls itself.
    name: Option<String>,
    read: Result<T, Flaw>,
}

/// What is wrong with a thing.
pub(super) struct Flaw {
    /// Where in the thing, as a path of keys; empty for the whole.
    place: String,
    what: String,
}

impl<'de, T: InFile> Deserialize<'de> for Attempt<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let raw = Box::<RawValue>::deserialize(deserializer)?;
        let text = raw.get();
        let flaw = match serde_json::from_str(text) {
            Ok(parts) => return Ok(Attempt::of(parts)),
            Err(error) => Flaw {
                place: place::of_error(text, &error),
                what: without_position(&error.to_string()),
            },
        };
        Ok(Attempt {
            name: name_in(text),
            read: Err(flaw),
        })
    }
}

impl<T> Attempt<T> {
    /// What these parts make. A thing whose parts could be read goes by its place.
    pub fn of(parts: T::Parts) -> Self
    where
        T: InFile,
    {
        let read = T::of(parts);
        Attempt { name: None, read }
    }

    /// The thing, if it could be read and is sound.
    pub fn checked(
        self,
        part: Part,
        place: &str,
        sound: impl FnOnce(&T) -> Result<(), String>,
    ) -> Result<T, Faulty> {
        let checked = self.read.and_then(|thing| match sound(&thing) {
            Ok(()) => Ok(thing),
            Err(what) => {
                let place = String::new();
                Err(Flaw { place, what })
            }
        });
        checked.map_err(|flaw| {
            let dot = if flaw.place.is_empty() { "" } else { "." };
            Faulty {
                part,
                name: self.name,
                why: unsound(format!("{place}{dot}{}", flaw.place), flaw.what),
            }
        })
    }
}

/// What a thing calls itself, whatever else is wrong with it.
fn name_in(text: &str) -> Option<String> {
    /// All else is passed over, for it may be long.
    #[derive(Deserialize)]
    struct Named {
        title: Option<String>,
        name: Option<String>,
    }
    let thing: Named = serde_json::from_str(text).ok()?;
    thing.title.or(thing.name).map(|name| short_name(&name))
}

/// A name as far as a sentence has room for it.
pub(super) fn short_name(name: &str) -> String {
    name.chars().take(80).collect()
}

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

/// The events of a log, each as its text: what is wrong in one has its place there.
type RawLog = Bounded<Box<RawValue>>;

/// The log in the texts of its events, which stand at this place.
fn log_of(place: &str, events: RawLog) -> Result<Log, Flaw> {
    let read = |(index, event): (usize, Box<RawValue>)| {
        ReadEvent::read(event.get()).map_err(|fault| Flaw {
            place: format!("{place}[{index}]"),
            what: without_position(&fault.to_string()),
        })
    };
    let events = events.0.into_iter().enumerate().map(read);
    let events: Vec<ReadEvent> = events.collect::<Result<_, _>>()?;
    Log::from_file(events).map_err(|fault| Flaw {
        place: place.to_owned(),
        what: fault.to_string(),
    })
}

/// Something that can be in a file among others.
pub(super) trait InFile: Sized {
    /// What is read of it.
    type Parts: DeserializeOwned;

    /// The thing that its parts make.
    fn of(parts: Self::Parts) -> Result<Self, Flaw>;
}

macro_rules! in_file {
    ($($thing:ty),*) => {
        $(impl InFile for $thing {
            type Parts = Self;

            fn of(parts: Self) -> Result<Self, Flaw> {
                Ok(parts)
            }
        })*
    };
}
in_file!(
    Preferences,
    Instrument,
    ChannelTable,
    Procedure,
    Unread,
    Picture
);

/// A job in a backup as it is read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BackupJobParts {
    id: Id,
    procedure: String,
    log: RawLog,
}

impl InFile for BackupJob {
    type Parts = BackupJobParts;

    fn of(BackupJobParts { id, procedure, log }: BackupJobParts) -> Result<Self, Flaw> {
        let log = log_of("log", log)?;
        Ok(BackupJob { id, procedure, log })
    }
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

fn by_digest(procedures: &[Procedure]) -> HashMap<String, &Procedure> {
    let pairs = procedures
        .iter()
        .map(|procedure| (procedure.digest(), procedure));
    pairs.collect()
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

/// A log must open its job, speak only of steps that its procedure has, and leave room.
fn sound_log(place: &str, procedure: &Procedure, log: &Log) -> Result<(), DocumentError> {
    match log.fault(procedure).or_else(|| log.file_fault()) {
        None => Ok(()),
        Some(fault) => Err(unsound(place, fault.to_string())),
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
