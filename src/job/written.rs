//! Events as they are written: each with a check of its content, so that what an accident
//! changed is not taken for what was entered.
//!
//! The check finds damage, not forgery: whoever changes an event on purpose can write the check
//! that belongs to it.

use super::{Deed, Event};
use crate::procedure::Id;
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest, Sha256};
use std::sync::{Arc, OnceLock};

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
pub(super) fn json(value: &impl Serialize) -> String {
    // What an event holds JSON can, so this does not fail.
    serde_json::to_string(value).unwrap_or_default()
}

/// An event that is what was entered, as far as its check tells. It never changes, so what was
/// worked out of it once stays.
#[derive(Clone, Debug)]
pub(super) struct Sound {
    pub event: Event,
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
        Sound { event, check, text }
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
        Written::of(&self.event, self.check()).serialize(serializer)
    }
}

/// An event whose content is not what its check says. It counts for nothing and stays as it was
/// found, until a sound copy of it comes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Damaged {
    /// The event as it reads.
    pub event: Event,
    /// The check that stands with it.
    pub check: String,
}

impl Serialize for Damaged {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Written::of(&self.event, &self.check).serialize(serializer)
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
    check: &'a str,
}

impl<'a> Written<'a> {
    fn of(event: &'a Event, check: &'a str) -> Self {
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

/// What is read of an event. Until there were checks none was written; such an event is taken as
/// it is and gets its check when it is written next.
#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ReadEvent {
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

impl ReadEvent {
    /// The event, or what is left of it.
    pub(super) fn judged(self) -> Result<Sound, Arc<Damaged>> {
        let ReadEvent {
            id,
            seq,
            at,
            did,
            check,
        } = self;
        let sound = Sound::from(Event { id, seq, at, did });
        match check {
            Some(check) if check != sound.check() => Err(Arc::new(Damaged {
                event: sound.event,
                check,
            })),
            _ => Ok(sound),
        }
    }
}
