//! Two copies of a log held against each other, and merged.

use crate::job::entries::log::Log;
use crate::job::entries::written::Sound;
use crate::job::{Deed, Event};
use crate::procedure::Id;
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

/// Two different events with one id: the one here and the other copy's.
pub type Clash<'a> = (&'a Event, &'a Event);

impl Log {
    /// The union of two copies. Where two different events share an id, which only a damaged or
    /// forged file can bring about, the one here stays.
    ///
    /// It is associative and idempotent, and commutative but for such clashes: among any copies
    /// the first that has an id says what its event is, in whatever groups they are merged. A
    /// sound copy of an event takes the place of what is left of it, whichever comes first.
    pub fn merge(&self, other: &Log) -> Log {
        let known: HashSet<&Id> = self.events().map(|event| &event.id).collect();
        let others = other.events.values();
        let new = others.filter(|sound| !known.contains(&sound.event.id));
        let mut merged = self.clone();
        new.for_each(|sound| merged.insert(sound.clone()));
        merged.take_damaged(other.damaged.iter().cloned());
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
        if self.goes_on_from(other) {
            return 0;
        }
        let known: HashSet<&Id> = self.events().map(|event| &event.id).collect();
        other.events().filter(|e| !known.contains(&e.id)).count()
    }

    /// Whether this copy shares all events of the other, as one does to which something was added.
    /// Looks at no event, so that what is often asked costs little.
    fn goes_on_from(&self, other: &Log) -> bool {
        let mut here = self.events.values();
        let mut there = other.events.values();
        there.all(|event| here.any(|other| Arc::ptr_eq(event, other)))
    }

    /// What is written of the events that this copy has behind those of the other, where the other
    /// is written without them as it is: nothing came in between, nothing is damaged, and none of
    /// them can end the job or take that back.
    pub fn added_to<'a>(&'a self, other: &Log) -> Option<Vec<&'a str>> {
        if !self.damaged.is_empty() || !other.damaged.is_empty() || other.is_empty() {
            return None;
        }
        let mut here = self.events.values();
        let is_same = other
            .events
            .values()
            .all(|event| here.next().is_some_and(|other| Arc::ptr_eq(event, other)));
        let added: Vec<&Arc<Sound>> = here.collect();
        let may_end = |event: &Event| {
            let did = &event.did;
            matches!(
                did,
                Deed::SignedOff { .. } | Deed::Reopened { .. } | Deed::Undone { .. }
            )
        };
        let is_plain = is_same && !added.iter().any(|sound| may_end(&sound.event));
        is_plain.then(|| added.into_iter().map(|it| it.text()).collect())
    }

    /// Whether this copy has all that the other has, damaged events among it.
    pub fn holds(&self, other: &Log) -> bool {
        self.lacks(other) == 0 && (other.damaged.is_empty() || self.merge(other) == *self)
    }

    /// The events that another copy doesn't have under their numbers, and all that are damaged.
    pub fn beyond(&self, known: &Log) -> Log {
        let mut known = known.events.keys().peekable();
        // Both are in order.
        let new = self.events.iter().filter(|(key, _)| {
            while known.next_if(|known| known < key).is_some() {}
            known.peek() != Some(key)
        });
        let new: BTreeMap<_, _> = new
            .map(|(key, event)| (key.clone(), event.clone()))
            .collect();
        Log {
            events: Arc::new(new),
            damaged: self.damaged.clone(),
        }
    }
}
