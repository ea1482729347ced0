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

impl fmt::Display for LogFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogFault::Twice(id) => write!(f, "two events have the id “{id}”"),
            LogFault::Sequence(id) => write!(f, "event “{id}” has an impossible sequence number"),
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

    /// Writes a deed behind everything known so far, and gives the new event's id.
    pub fn append(&mut self, stamp: Stamp, did: Deed) -> Id {
        let last = self.0.keys().next_back().map_or(0, |(seq, _)| *seq);
        // Only a forged log gets there; one that can't be read back would be worse.
        let seq = (last + 1).min(MAX_SEQ);
        let id = stamp.id.clone();
        self.insert(Arc::new(Event {
            id: stamp.id,
            seq,
            at: stamp.at,
            did,
        }));
        id
    }

    /// The union of two copies: commutative, associative and idempotent.
    ///
    /// Where two different events share an id, which only a damaged or forged file can
    /// bring about, the one that is greater as text stays, so that every order of merging
    /// gives the same log.
    pub fn merge(&self, other: &Log) -> Log {
        let mut by_id: HashMap<&Id, &Arc<Event>> = HashMap::new();
        for event in self.0.values().chain(other.0.values()) {
            by_id
                .entry(&event.id)
                .and_modify(|kept| {
                    if *kept != event && as_text(event) > as_text(kept) {
                        *kept = event;
                    }
                })
                .or_insert(event);
        }
        let mut merged = Log::default();
        for event in by_id.into_values() {
            merged.insert(event.clone());
        }
        merged
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

    /// The events that no longer count. An undo that was itself undone undoes nothing.
    pub fn undone(&self) -> HashSet<Id> {
        let mut undone = HashSet::new();
        for event in self.events().rev() {
            if let Deed::Undone { event: target } = &event.did
                && !undone.contains(&event.id)
            {
                undone.insert(target.clone());
            }
        }
        undone
    }
}

fn as_text(event: &Event) -> String {
    // Events hold nothing that JSON can't, so this does not fail.
    serde_json::to_string(event).unwrap_or_default()
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
