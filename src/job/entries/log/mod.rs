//! The append-only log, and how two copies of it become one.

mod fault;
mod union;

pub use self::fault::LogFault;
pub use self::union::Clash;

use crate::job::entries::bounded::{Bounded, MAX_EVENTS};
use crate::job::entries::written::{Damaged, Form, Known, Newer, ReadEvent, Sound, json};
use crate::job::{Deed, Event, Header, Stamp};
use crate::procedure::{Id, Procedure};
use serde::ser::SerializeSeq;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

/// Events in their order, each id once. They never change, so copies of a log share them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    events: Arc<BTreeMap<(u64, Id), Arc<Sound>>>,
    /// What is left of others, in the order of their ids. None of it counts.
    damaged: Vec<Arc<Damaged>>,
}

/// The highest sequence number that every reader of JSON keeps exact: 2⁵³ − 1 (RFC 8259, 6).
const MAX_SEQ: u64 = (1 << 53) - 1;

/// How many entries must still have room behind those of a log in a file: more than any hand
/// writes. One with less would push whatever is entered here to the end of all numbers.
const ROOM: u64 = 1 << 32;

impl Log {
    /// A log from events in any order.
    pub fn from_events(events: impl IntoIterator<Item = Event>) -> Result<Self, LogFault> {
        Log::from_sound(events.into_iter().map(Sound::from))
    }

    /// A log from events as they are written, in any order, of which some may be damaged.
    pub fn from_read(events: impl IntoIterator<Item = ReadEvent>) -> Result<Self, LogFault> {
        let events: Vec<ReadEvent> = events.into_iter().collect();
        let form = Form::of(&events);
        Log::judged(events, form)
    }

    /// The same of a file. A damaged copy beside its sound event would give way to it without a
    /// word, though somebody put it there: an accident changes an event and makes none.
    pub fn from_file(events: Vec<ReadEvent>) -> Result<Self, LogFault> {
        let count = events.len();
        let log = Log::from_read(events)?;
        match count - log.entries() {
            0 => Ok(log),
            copies => Err(LogFault::Copied(copies)),
        }
    }

    /// The same of entries that were set apart from a log whose entries carry checks.
    pub fn from_checked(events: impl IntoIterator<Item = ReadEvent>) -> Result<Self, LogFault> {
        Log::judged(events, Form::Checked)
    }

    fn judged(events: impl IntoIterator<Item = ReadEvent>, form: Form) -> Result<Self, LogFault> {
        let (mut sound, mut damaged) = (Vec::new(), Vec::new());
        for event in events {
            match event.judged(form) {
                Ok(Ok(event)) => sound.push(event),
                Ok(Err(left)) => damaged.push(Arc::new(left)),
                Err(Newer) => return Err(LogFault::Newer),
            }
        }
        let mut log = Log::from_sound(sound)?;
        log.take_damaged(damaged);
        Ok(log)
    }

    fn from_sound(events: impl IntoIterator<Item = Sound>) -> Result<Self, LogFault> {
        let events: Vec<Sound> = events.into_iter().collect();
        let mut seen = HashSet::with_capacity(events.len());
        for Sound { event, .. } in &events {
            if !seen.insert(&event.id) {
                return Err(LogFault::Twice(event.id.clone()));
            }
            if event.seq > MAX_SEQ {
                return Err(LogFault::Sequence(event.id.clone()));
            }
        }
        let mut log = Log::default();
        events
            .into_iter()
            .for_each(|event| log.insert(event.into()));
        Ok(log)
    }

    /// Takes in what is left of events, but for those of which a sound copy is here.
    fn take_damaged(&mut self, damaged: impl IntoIterator<Item = Arc<Damaged>>) {
        self.damaged.extend(damaged);
        if self.damaged.is_empty() {
            return;
        }
        let sound = Known::of(self.events.values().map(Arc::as_ref));
        self.damaged.retain(|left| !left.is_among(&sound));
        self.damaged.sort_by_cached_key(|left| {
            let id = left.event().map(|event| event.id.clone());
            (id, left.text())
        });
        self.damaged.dedup();
    }

    /// Why this can't be the log of a job by the procedure, if it can't.
    pub fn fault(&self, procedure: &Procedure) -> Option<LogFault> {
        if !self.events().any(|e| matches!(e.did, Deed::Opened(_))) {
            // What can't be read may have been it.
            let opens = |event: &Event| matches!(event.did, Deed::Opened(_));
            match self.damaged().any(|left| left.event().is_none_or(opens)) {
                false => return Some(LogFault::Unopened),
                true if self.header().is_some() => {}
                true => return Some(LogFault::OpeningDamaged),
            }
        }
        let adds = || self.events().filter(|event| event.did.adds_steps());
        let paper = self.events().find_map(|event| event.did.fault_of_paper());
        let fault = adds()
            .find_map(|event| event.did.fault_of_added())
            .or(paper);
        fault.map(LogFault::Unsound).or_else(|| {
            let added = adds().flat_map(|event| event.did.names_added());
            self.lost_step(procedure, &added.collect())
        })
    }

    /// An event about a step that is not there, unless a damaged one may have added it. What two
    /// copies of a job took on may not go together: what is left out then is no fault of the log.
    fn lost_step(&self, procedure: &Procedure, added: &HashSet<Id>) -> Option<LogFault> {
        let may_add = |left: &Damaged| left.event().is_none_or(|event| event.did.adds_steps());
        if self.damaged().any(may_add) {
            return None;
        }
        self.events().find_map(|event| {
            let step = event.did.step()?;
            let is_here = procedure.step(step).is_some() || added.contains(step);
            (!is_here).then(|| LogFault::NoStep {
                event: event.id.clone(),
                step: step.clone(),
            })
        })
    }

    fn insert(&mut self, sound: Arc<Sound>) {
        let key = (sound.event.seq, sound.event.id.clone());
        Arc::make_mut(&mut self.events).insert(key, sound);
    }

    /// The events in order, without those that are damaged.
    pub fn events(&self) -> impl DoubleEndedIterator<Item = &Event> {
        self.events.values().map(|sound| &sound.event)
    }

    /// What is left of events that an accident changed.
    pub fn damaged(&self) -> impl ExactSizeIterator<Item = &Damaged> {
        self.damaged.iter().map(Arc::as_ref)
    }

    /// How many events were read without a check, from a log of which none carries one: nothing
    /// says whether they are what was entered.
    pub fn bare(&self) -> usize {
        self.events.values().filter(|sound| sound.is_bare).count()
    }

    /// How many of the numbers up to the last one no entry has, the damaged ones counted in. Each
    /// entry takes the next, so something was lost, or was damaged once: what is written behind
    /// damaged entries leaves room for them, whatever their numbers are.
    pub fn missing(&self) -> u64 {
        let mut before = 0;
        let mut missing = 0u64;
        for (seq, _) in self.events.keys() {
            missing += seq.saturating_sub(before + 1);
            before = *seq;
        }
        missing.saturating_sub(self.damaged.len() as u64)
    }

    /// How many events there are.
    pub fn len(&self) -> usize {
        self.events.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }

    /// Whether another entry can follow.
    pub fn has_room(&self) -> bool {
        self.last() < MAX_SEQ && self.entries() < MAX_EVENTS
    }

    /// Whether it is short enough to be read back. Two copies joined need not be.
    pub fn is_readable(&self) -> bool {
        self.entries() <= MAX_EVENTS
    }

    /// How many entries there are, damaged ones among them.
    fn entries(&self) -> usize {
        self.events.len() + self.damaged.len()
    }

    /// Why a file may not bring this log, if it may not: it must leave room for what follows.
    pub fn file_fault(&self) -> Option<LogFault> {
        let ((seq, id), _) = self.events.last_key_value()?;
        (*seq > MAX_SEQ - ROOM).then(|| LogFault::NoRoom(id.clone()))
    }

    /// The highest number that may have been given. Those of damaged events can't be believed,
    /// but there are no more than these.
    fn last(&self) -> u64 {
        let last = self.events.last_key_value();
        last.map_or(0, |((seq, _), _)| *seq) + self.damaged.len() as u64
    }

    /// Writes a deed behind everything known so far, and gives the new event's id. Where there
    /// is no room (`has_room`), what is written can't be read back.
    pub fn append(&mut self, stamp: Stamp, did: Deed) -> Id {
        let id = stamp.id.clone();
        let event = Event {
            id: stamp.id,
            seq: self.last() + 1,
            at: stamp.at,
            did,
        };
        self.insert(Arc::new(event.into()));
        id
    }

    /// Whether an event is in the log, which is soon said of the latest.
    pub fn has(&self, event: &Id) -> bool {
        self.events().rev().any(|known| known.id == *event)
    }

    /// The compact JSON text, put together from what was written of each event before.
    pub fn text(&self) -> String {
        let sound = self.events.values().map(|sound| Cow::from(sound.text()));
        let damaged = self.damaged().map(|left| Cow::from(json(left)));
        let all: Vec<Cow<str>> = sound.chain(damaged).collect();
        format!("[{}]", all.join(","))
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
            Deed::Opened(header) | Deed::Amended(header) => Some(header.as_ref()),
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
        let mut list = serializer.serialize_seq(Some(self.entries()))?;
        for sound in self.events.values() {
            list.serialize_element(&**sound)?;
        }
        for left in self.damaged() {
            list.serialize_element(left)?;
        }
        list.end()
    }
}

impl<'de> Deserialize<'de> for Log {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let Bounded(events) = Bounded::<ReadEvent>::deserialize(deserializer)?;
        Log::from_read(events).map_err(serde::de::Error::custom)
    }
}
