//! The texts under the keys.

use super::{StorageError, packed};
use crate::authoring::Draft;
use crate::exchange::BackupJob;
use crate::job::{self, Job, Log, MAX_EVENTS, Preferences, ReadEvent};
use crate::procedure::{Id, Procedure};
use crate::quantity::Scale;
use serde::de::value::SeqAccessDeserializer;
use serde::de::{self, DeserializeOwned, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// How the text of an open job ends, behind its last event.
pub(super) const END: &str = "]}";

/// These events behind others that are written, and the end.
pub(super) fn with_end<'a>(events: impl IntoIterator<Item = &'a str>) -> String {
    let mut text = String::new();
    for event in events {
        text.push(',');
        text.push_str(event);
    }
    text + END
}

/// A job as it is stored. Its procedure is stored once for all jobs that use it. The log of a
/// finished job is a packed text, that of one in hand the list of its events.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct JobRecord {
    pub procedure: String,
    #[serde(
        serialize_with = "packed_if_finished",
        deserialize_with = "open_or_packed"
    )]
    log: Log,
}

fn packed_if_finished<S: Serializer>(log: &Log, serializer: S) -> Result<S::Ok, S::Error> {
    match log.is_signed_off() {
        true => serializer.serialize_str(&packed::pack(log)),
        false => log.serialize(serializer),
    }
}

fn open_or_packed<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Log, D::Error> {
    struct Either;
    impl<'de> Visitor<'de> for Either {
        type Value = Log;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a list of events or a packed log")
        }

        fn visit_str<E: de::Error>(self, text: &str) -> Result<Log, E> {
            packed::unpack(text).map_err(E::custom)
        }

        fn visit_seq<A: SeqAccess<'de>>(self, events: A) -> Result<Log, A::Error> {
            Log::deserialize(SeqAccessDeserializer::new(events))
        }
    }
    deserializer.deserialize_any(Either)
}

impl JobRecord {
    pub fn new(procedure: String, log: Log) -> Self {
        JobRecord { procedure, log }
    }

    pub fn log(&self) -> Log {
        self.log.clone()
    }

    /// The record in a text. Where its log is broken, what can be read of that is not lost with
    /// the rest.
    pub fn read(key: &str, text: &str) -> Result<Self, StorageError> {
        parse(key, text).or_else(|error| {
            let Some((procedure, log)) = torn(text) else {
                return Err(error);
            };
            let log = Log::from_read(log).map_err(|fault| unreadable(key, &fault.to_string()))?;
            Ok(JobRecord::new(procedure.to_owned(), log))
        })
    }

    pub fn text(&self) -> String {
        match self.log.is_signed_off() {
            true => json(self),
            // The same, and little work where only one event is new.
            false => format!(
                r#"{{"procedure":{},"log":{}}}"#,
                json(&self.procedure),
                self.log.text()
            ),
        }
    }

    /// The job, if its log is one by this procedure, which is the one that it names. What is not
    /// could be written to a file that no device reads again.
    pub fn checked(
        self,
        key: &str,
        id: Id,
        procedure: &Procedure,
    ) -> Result<BackupJob, StorageError> {
        match self.log.fault(procedure) {
            None => Ok(BackupJob {
                id,
                procedure: self.procedure,
                log: self.log,
            }),
            Some(fault) => Err(unreadable(key, &fault.to_string())),
        }
    }

    /// The same with the procedure itself.
    pub fn with_procedure(
        self,
        key: &str,
        id: Id,
        procedure: impl Into<Arc<Procedure>>,
    ) -> Result<Job, StorageError> {
        let procedure = procedure.into();
        let BackupJob { id, log, .. } = self.checked(key, id, &procedure)?;
        Ok(Job { id, procedure, log })
    }
}

/// The digest and the events in the text of a job whose log is broken and not packed.
fn torn(text: &str) -> Option<(&str, Vec<ReadEvent>)> {
    let frame = text.strip_prefix(r#"{"procedure":""#)?;
    let (procedure, log) = frame.split_once(r#"","log":["#)?;
    let events = job::torn(log);
    (events.len() <= MAX_EVENTS).then_some((procedure, events))
}

pub(super) fn read_procedure(key: &str, text: &str) -> Result<Procedure, StorageError> {
    let procedure = read_unchecked(key, text)?;
    check_procedure(key, &procedure).map(|()| procedure)
}

/// The same without a look at whether it is what its fingerprint says.
pub(super) fn read_unchecked(key: &str, text: &str) -> Result<Procedure, StorageError> {
    parse(key, text)
}

/// Whether a procedure is what its fingerprint says.
pub(super) fn check_procedure(key: &str, procedure: &Procedure) -> Result<(), StorageError> {
    match key.ends_with(&procedure.digest()) {
        true => Ok(()),
        false => Err(unreadable(
            key,
            "its content is not what its fingerprint says",
        )),
    }
}

pub(super) fn procedure_text(procedure: &Procedure) -> String {
    json(procedure)
}

pub(super) fn json(value: &impl Serialize) -> String {
    // What we store holds nothing that JSON can't, so this does not fail.
    serde_json::to_string(value).unwrap_or_default()
}

fn parse<'a, T: Deserialize<'a>>(key: &str, text: &'a str) -> Result<T, StorageError> {
    serde_json::from_str(text).map_err(|error| unreadable(key, &error.to_string()))
}

pub(super) fn read_preferences(text: &str) -> Option<Preferences> {
    serde_json::from_str(text).ok()
}

pub(super) fn read_list<T: DeserializeOwned>(text: &str) -> Option<Vec<T>> {
    serde_json::from_str(text).ok()
}

/// What was typed for one input of a calculation.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Typed {
    /// The text as it stands in the field.
    pub text: String,
    /// The scale chosen beside it, where it isn't the usual one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale: Option<Scale>,
}

/// What was typed in a calculation, by the ids of its inputs.
pub type TypedInputs = BTreeMap<String, Typed>;

pub(super) fn read_typed(text: &str) -> Option<TypedInputs> {
    serde_json::from_str(text).ok()
}

pub(super) fn unreadable(key: &str, why: &str) -> StorageError {
    StorageError::Unreadable {
        key: key.to_owned(),
        why: why.to_owned(),
    }
}

/// A job whose procedure is gone.
pub(super) fn orphan(key: &str) -> StorageError {
    unreadable(key, "the procedure that it was started with is missing")
}

/// A procedure that is being written, as it is stored.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Authored {
    /// How often it was saved, which tells whether another page changed it meanwhile.
    pub saved: u64,
    /// When it was saved last, in milliseconds since 1970 UTC.
    pub at: i64,
    /// What is written so far.
    pub draft: Draft,
}

pub(super) fn read_authored(key: &str, text: &str) -> Result<Authored, StorageError> {
    let record: Authored = parse(key, text)?;
    let named = key.strip_prefix(crate::store::keys::AUTHORING);
    match named == Some(record.draft.id.as_str()) {
        true => Ok(record),
        false => Err(unreadable(
            key,
            "it holds another procedure than its key says",
        )),
    }
}
