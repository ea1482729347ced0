//! The append-only log, and how two copies of it become one.

use super::{Deed, Event, Header, Stamp};
use crate::procedure::{Id, Procedure};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::{BTreeMap, HashMap, HashSet};
use std::fmt;
use std::sync::Arc;

/// Events in their order, each id once. They never change, so copies of a log share them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log(BTreeMap<(u64, Id), Arc<Event>>);

/// Why a list of events is no log, or not the log of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LogFault {
    /// Two events have the same id.
    Twice(Id),
    /// A sequence number that no honest log reaches.
    Sequence(Id),
    /// A sequence number that leaves no room for further entries.
    NoRoom(Id),
    /// No event opens the job.
    Unopened,
    /// An event is about a step that the procedure does not have.
    NoStep {
        /// The event.
        event: Id,
        /// The step.
        step: Id,
    },
}

/// The highest sequence number that every reader of JSON keeps exact: 2⁵³ − 1 (RFC 8259, 6).
const MAX_SEQ: u64 = (1 << 53) - 1;

/// How many entries must still have room behind those of a log in a file: more than any hand
/// writes. One with less would push whatever is entered here to the end of all numbers.
const ROOM: u64 = 1 << 32;

/// Two different events with one id: the one here and the other copy's.
pub type Clash<'a> = (&'a Event, &'a Event);

impl fmt::Display for LogFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogFault::Twice(id) => write!(f, "two events have the id “{id}”"),
            LogFault::Sequence(id) => write!(f, "event “{id}” has an impossible sequence number"),
            LogFault::NoRoom(id) => write!(
                f,
                "event “{id}” has so high a sequence number that no entry can follow it: export the job again from where it was written"
            ),
            LogFault::Unopened => write!(f, "no event opens the job"),
            LogFault::NoStep { event, step } => write!(
                f,
                "event “{event}” is about a step “{step}”, which the procedure does not have"
            ),
        }
    }
}

impl Log {
    /// A log from events in any order.
    pub fn from_events(events: impl IntoIterator<Item = Event>) -> Result<Self, LogFault> {
        let events: Vec<Event> = events.into_iter().collect();
        let mut seen = HashSet::with_capacity(events.len());
        for event in &events {
            if !seen.insert(&event.id) {
                return Err(LogFault::Twice(event.id.clone()));
            }
            if event.seq > MAX_SEQ {
                return Err(LogFault::Sequence(event.id.clone()));
            }
        }
        let keyed = events.into_iter();
        Ok(Log(keyed
            .map(|e| ((e.seq, e.id.clone()), Arc::new(e)))
            .collect()))
    }

    /// Why this can't be the log of a job by the procedure, if it can't.
    pub fn fault(&self, procedure: &Procedure) -> Option<LogFault> {
        if !self.events().any(|e| matches!(e.did, Deed::Opened(_))) {
            return Some(LogFault::Unopened);
        }
        self.events().find_map(|event| {
            let step = event.did.step()?;
            procedure.step(step).is_none().then(|| LogFault::NoStep {
                event: event.id.clone(),
                step: step.clone(),
            })
        })
    }

    fn insert(&mut self, event: Arc<Event>) {
        self.0.insert((event.seq, event.id.clone()), event);
    }

    /// The events in order.
    pub fn events(&self) -> impl DoubleEndedIterator<Item = &Event> {
        self.0.values().map(Arc::as_ref)
    }

    /// How many events there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether another entry can follow.
    pub fn has_room(&self) -> bool {
        self.last() < MAX_SEQ
    }

    /// Why a file may not bring this log, if it may not: it must leave room for what follows.
    pub fn file_fault(&self) -> Option<LogFault> {
        let ((seq, id), _) = self.0.last_key_value()?;
        (*seq > MAX_SEQ - ROOM).then(|| LogFault::NoRoom(id.clone()))
    }

    fn last(&self) -> u64 {
        self.0.keys().next_back().map_or(0, |(seq, _)| *seq)
    }

    /// Writes a deed behind everything known so far, and gives the new event's id. Where there
    /// is no room (`has_room`), what is written can't be read back.
    pub fn append(&mut self, stamp: Stamp, did: Deed) -> Id {
        let id = stamp.id.clone();
        self.insert(Arc::new(Event {
            id: stamp.id,
            seq: self.last() + 1,
            at: stamp.at,
            did,
        }));
        id
    }

    /// The union of two copies. Where two different events share an id, which only a damaged or
    /// forged file can bring about, the one here stays.
    ///
    /// It is associative and idempotent, and commutative but for such clashes: among any copies
    /// the first that has an id says what its event is, in whatever groups they are merged.
    pub fn merge(&self, other: &Log) -> Log {
        let known: HashSet<&Id> = self.events().map(|event| &event.id).collect();
        let new = other.0.values().filter(|e| !known.contains(&e.id));
        let mut merged = self.clone();
        new.for_each(|event| merged.insert(event.clone()));
        merged
    }

    /// Where the other copy has a different event under an id that is here.
    pub fn clashes<'a>(&'a self, other: &'a Log) -> Vec<Clash<'a>> {
        let theirs: HashMap<&Id, &Event> = other.events().map(|e| (&e.id, e)).collect();
        let both = self.events().filter_map(|e| Some((e, *theirs.get(&e.id)?)));
        both.filter(|(here, there)| here != there).collect()
    }

    /// How many events the other copy has that this one lacks.
    pub fn lacks(&self, other: &Log) -> usize {
        let known: HashSet<&Id> = self.events().map(|event| &event.id).collect();
        other.events().filter(|e| !known.contains(&e.id)).count()
    }

    /// The events that are not among those that are known.
    pub fn beyond(&self, known: &HashSet<Id>) -> Log {
        let new = self.0.iter().filter(|(_, e)| !known.contains(&e.id));
        Log(new.map(|(k, e)| (k.clone(), e.clone())).collect())
    }

    /// Whether the last word is that the job is finished.
    pub fn is_signed_off(&self) -> bool {
        let undone = self.undone();
        let counting = self.events().rev().filter(|e| !undone.contains(&e.id));
        let mut ends = counting.filter_map(|event| match event.did {
            Deed::SignedOff { .. } => Some(true),
            Deed::Reopened { .. } => Some(false),
            _ => None,
        });
        ends.next().unwrap_or(false)
    }

    /// The header as last amended.
    pub fn header(&self) -> Option<&Header> {
        let undone = self.undone();
        let mut counting = self.events().rev().filter(|e| !undone.contains(&e.id));
        counting.find_map(|event| match &event.did {
            Deed::Opened(header) | Deed::Amended(header) => Some(header),
            _ => None,
        })
    }

    /// The events that no longer count. One rule for what a button and what a file may take
    /// back: an undo counts where it stands behind its event and that can be undone.
    pub fn undone(&self) -> HashSet<Id> {
        let undos = self.undos();
        let counting = undos.into_iter().filter(|(_, is_allowed)| *is_allowed);
        counting.map(|(target, _)| target.clone()).collect()
    }

    /// The undos that count for nothing, since what they would take back can't be.
    pub fn void_undos(&self) -> usize {
        let undos = self.undos();
        undos.iter().filter(|(_, is_allowed)| !is_allowed).count()
    }

    /// What each undo would take back, and whether it may. One of an event that is not here
    /// does nothing yet.
    fn undos(&self) -> Vec<(&Id, bool)> {
        let undos = || self.events().filter_map(|event| event.did.takes_back());
        let targets: HashSet<&Id> = undos().collect();
        let mut found: HashMap<&Id, bool> = HashMap::new();
        let mut judged = Vec::new();
        for event in self.events() {
            if let Some(target) = event.did.takes_back()
                && let Some(is_allowed) = found.get(target)
            {
                judged.push((target, *is_allowed));
            }
            if targets.contains(&event.id) {
                found.insert(&event.id, event.did.can_be_undone());
            }
        }
        judged
    }
}

impl Serialize for Log {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.events())
    }
}

impl<'de> Deserialize<'de> for Log {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let events = Vec::<Event>::deserialize(deserializer)?;
        Log::from_events(events).map_err(serde::de::Error::custom)
    }
}
