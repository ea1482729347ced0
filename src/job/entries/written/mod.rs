//! Events as they are written: each with a check of its content, so that what an accident
//! changed is not taken for what was entered.
//!
//! The check finds damage, not forgery: whoever changes an event on purpose can write the check
//! that belongs to it.

mod torn;

pub use self::torn::torn;

use crate::job::entries::place;
use crate::job::{Deed, Event};
use crate::procedure::Id;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::de::{Error, IgnoredAny};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::value::RawValue;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, HashMap, HashSet};
use std::fmt;
use std::sync::OnceLock;

/// How many letters a check has.
const LETTERS: usize = 8;
/// How many bytes of the digest these are.
const BYTES: usize = LETTERS * 6 / 8;

/// The check of a text: the first 48 bits of its SHA-256 (FIPS 180-4) in the letters of RFC 4648,
/// section 5. An accident gets by it once in 2⁴⁸ times.
pub fn check_of(text: &str) -> String {
    URL_SAFE_NO_PAD.encode(&Sha256::digest(text)[..BYTES])
}

/// The compact JSON text.
pub(in crate::job) fn json(value: &impl Serialize) -> String {
    // What an event holds JSON can, so this does not fail.
    serde_json::to_string(value).unwrap_or_default()
}

/// An event that is what was entered, as far as its check tells. It never changes, so what was
/// worked out of it once stays.
#[derive(Clone, Debug)]
pub(in crate::job) struct Sound {
    pub event: Event,
    /// Whether it was read from a log of which no entry carries a check.
    pub is_bare: bool,
    check: OnceLock<String>,
    text: OnceLock<String>,
}

impl PartialEq for Sound {
    fn eq(&self, other: &Self) -> bool {
        self.event == other.event
    }
}

impl Eq for Sound {}

impl From<Event> for Sound {
    fn from(event: Event) -> Self {
        let (check, text) = Default::default();
        Sound {
            event,
            is_bare: false,
            check,
            text,
        }
    }
}

impl Sound {
    /// The check of the event: that of its compact JSON text.
    pub fn check(&self) -> &str {
        self.check.get_or_init(|| check_of(&json(&self.event)))
    }

    /// What is written of it.
    pub fn text(&self) -> &str {
        self.text.get_or_init(|| json(self))
    }
}

impl Serialize for Sound {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Written::of(&self.event, Some(self.check())).serialize(serializer)
    }
}

/// What is left of an event that an accident changed. It counts for nothing and stays as it was
/// found, until a sound copy of the event comes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Damaged {
    /// It reads as an event, but its content is not what its check says.
    Altered {
        /// The event as it reads.
        event: Box<Event>,
        /// The check that stands with it; none where that is gone, beside others that have theirs.
        check: Option<String>,
    },
    /// It does not read as an event: its text as it was found.
    Unread(String),
}

/// How an event begins as it is written, and how its check does. Neither can stand inside a text,
/// where quotation marks are escaped.
const START: &str = r#"{"id":""#;
const CHECK: &str = r#""check":""#;

impl Damaged {
    /// The event as it reads, where it reads as one.
    pub fn event(&self) -> Option<&Event> {
        match self {
            Damaged::Altered { event, .. } => Some(event.as_ref()),
            Damaged::Unread(_) => None,
        }
    }

    /// Its text.
    pub fn text(&self) -> String {
        match self {
            Damaged::Altered { .. } => json(self),
            Damaged::Unread(text) => text.clone(),
        }
    }

    /// Whether a sound copy of it is among these: one with the very check, or one that is the same
    /// where only the check was damaged. One that lost its check is known by its id. A text that
    /// does not read as an event is known by all the checks in it, or by the id where the check was
    /// damaged.
    pub(in crate::job) fn is_among(&self, sound: &Known) -> bool {
        match self {
            Damaged::Altered { event, check } => {
                let namesake = sound.by_id.get(event.id.as_str());
                match check {
                    Some(check) => {
                        sound.checks.contains(check.as_str())
                            || namesake.is_some_and(|s| s.event == **event)
                    }
                    None => namesake.is_some(),
                }
            }
            Damaged::Unread(text) => {
                let checks = named(text, CHECK);
                let ids = named(text, START);
                let has_all = |names: &[&str], is_known: &dyn Fn(&str) -> bool| {
                    !names.is_empty() && names.iter().all(|name| is_known(name))
                };
                has_all(&checks, &|check| sound.checks.contains(check))
                    || checks.len() < 2 && has_all(&ids, &|id| sound.by_id.contains_key(id))
            }
        }
    }
}

/// What stands in a text behind each of these keys.
fn named<'t>(text: &'t str, key: &str) -> Vec<&'t str> {
    let behind = text.split(key).skip(1);
    let names = behind.filter_map(|rest| rest.split_once('"'));
    names.map(|(name, _)| name).collect()
}

/// The sound events of a log, by what damaged ones are known by.
pub(in crate::job) struct Known<'a> {
    checks: HashSet<&'a str>,
    by_id: HashMap<&'a str, &'a Sound>,
}

impl<'a> Known<'a> {
    pub fn of(events: impl Iterator<Item = &'a Sound> + Clone) -> Self {
        let by_id = events.clone().map(|sound| (sound.event.id.as_str(), sound));
        Known {
            by_id: by_id.collect(),
            checks: events.map(Sound::check).collect(),
        }
    }
}

impl Serialize for Damaged {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Damaged::Altered { event, check } => {
                Written::of(event, check.as_deref()).serialize(serializer)
            }
            Damaged::Unread(text) => serializer.serialize_str(text),
        }
    }
}

/// What is written of an event.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Written<'a> {
    id: &'a Id,
    seq: u64,
    at: i64,
    did: &'a Deed,
    #[serde(skip_serializing_if = "Option::is_none")]
    check: Option<&'a str>,
}

impl<'a> Written<'a> {
    fn of(event: &'a Event, check: Option<&'a str>) -> Self {
        let Event { id, seq, at, did } = event;
        Written {
            id,
            seq: *seq,
            at: *at,
            did,
            check,
        }
    }
}

/// What is read of an event, or the text of one that does not read as an event.
#[derive(Clone, Debug)]
pub struct ReadEvent(Result<Read, String>);

/// How the entries of a log were written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::job) enum Form {
    /// Before there were checks: such an event is taken as it is and gets its check when it is
    /// written next.
    Bare,
    /// Each with its check. One without has lost it.
    Checked,
}

impl Form {
    /// The form of a log, which is written as a whole: one check among them tells.
    pub fn of(events: &[ReadEvent]) -> Self {
        match events.iter().any(ReadEvent::has_check) {
            true => Form::Checked,
            false => Form::Bare,
        }
    }
}

/// An event that reads as one.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct Read {
    id: Id,
    seq: u64,
    at: i64,
    did: Deed,
    #[serde(default, deserialize_with = "eight_letters")]
    check: Option<String>,
}

fn eight_letters<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<String>, D::Error> {
    let check = String::deserialize(deserializer)?;
    match check.chars().count() {
        LETTERS => Ok(Some(check)),
        _ => Err(D::Error::custom(format!("a check has {LETTERS} letters"))),
    }
}

/// What is wrong in the text of an event.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EventFault {
    /// What it calls itself.
    id: String,
    /// Where in it, as a path of keys; empty for the whole.
    place: String,
    what: String,
}

impl fmt::Display for EventFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let EventFault { id, place, what } = self;
        match place.is_empty() {
            true => write!(f, "event “{id}”: {what}"),
            false => write!(f, "event “{id}” at {place}: {what}"),
        }
    }
}

impl<'de> Deserialize<'de> for ReadEvent {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let raw = Box::<RawValue>::deserialize(deserializer)?;
        ReadEvent::read(raw.get()).map_err(D::Error::custom)
    }
}

/// Whether a text has all the parts that an event had before there were checks, and no other.
fn is_unchecked(text: &str) -> bool {
    let parts: Result<BTreeMap<String, IgnoredAny>, _> = serde_json::from_str(text);
    let names = ["at", "did", "id", "seq"];
    parts.is_ok_and(|parts| parts.keys().eq(names.iter().copied()))
}

impl ReadEvent {
    /// Reads the text of an event. What is whole but never had a check is a fault of who wrote it,
    /// not of an accident.
    pub fn read(text: &str) -> Result<Self, EventFault> {
        let error = match ReadEvent::of(text) {
            Ok(read) => return Ok(read),
            Err(error) => error,
        };
        let left = compact(text);
        if !is_unchecked(text) {
            return Ok(ReadEvent(Err(left)));
        }
        let what = error.to_string();
        let what = what
            .rsplit_once(" at line ")
            .map_or(&*what, |(what, _)| what);
        let id = named(&left, r#""id":""#).first().copied();
        Err(EventFault {
            id: id.unwrap_or_default().to_owned(),
            place: place::of_error(text, &error),
            what: what.to_owned(),
        })
    }

    fn of(text: &str) -> Result<Self, serde_json::Error> {
        match text.starts_with('"') {
            true => serde_json::from_str(text).map(|left| ReadEvent(Err(left))),
            false => serde_json::from_str(text).map(|read| ReadEvent(Ok(read))),
        }
    }

    fn has_check(&self) -> bool {
        match &self.0 {
            Ok(read) => read.check.is_some(),
            Err(text) => text.contains(CHECK),
        }
    }

    /// The event, or what is left of it, in a log of this form.
    pub(in crate::job) fn judged(self, form: Form) -> Result<Result<Sound, Damaged>, Newer> {
        let Read {
            id,
            seq,
            at,
            did,
            check,
        } = match self.0 {
            Ok(read) => read,
            Err(text) if is_whole(&text) => return Err(Newer),
            Err(text) => return Ok(Err(Damaged::Unread(text))),
        };
        let sound = Sound::from(Event { id, seq, at, did });
        let is_sound = match (&check, form) {
            (Some(check), _) => check == sound.check(),
            (None, form) => form == Form::Bare,
        };
        Ok(match is_sound {
            true => Ok(Sound {
                is_bare: check.is_none(),
                ..sound
            }),
            false => Err(Damaged::Altered {
                event: Box::new(sound.event),
                check,
            }),
        })
    }
}

/// An event that nothing happened to, but that this version does not know.
pub(in crate::job) struct Newer;

/// Whether a text is what its check says.
fn is_whole(text: &str) -> bool {
    let parts = text
        .strip_suffix("\"}")
        .and_then(|text| text.rsplit_once(CHECK));
    let parts = parts.and_then(|(rest, check)| Some((rest.strip_suffix(',')?, check)));
    parts.is_some_and(|(rest, check)| check_of(&format!("{rest}}}")) == check)
}

/// A text of JSON without what only makes it wide.
fn compact(text: &str) -> String {
    let (mut is_inside, mut is_escaped) = (false, false);
    let counts = |c: &char| {
        let is_blank = !is_inside && c.is_ascii_whitespace();
        is_inside ^= *c == '"' && !is_escaped;
        is_escaped = is_inside && *c == '\\' && !is_escaped;
        !is_blank
    };
    text.chars().filter(counts).collect()
}
