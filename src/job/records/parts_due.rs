//! The parts that are still to come, and what else a job waits for.

use crate::job::entries::event::part::PartState;
use crate::job::records::part::{Collected, Part};
use crate::job::{Change, Progress};
use crate::procedure::Id;
use serde::{Deserialize, Serialize};

/// What a job waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Awaits {
    /// A part that is ordered and not here.
    Parts,
    /// An answer of the owner.
    Owner,
}

/// A part that is still to come, for the lists over all jobs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct PartDue {
    /// What it is.
    pub what: String,
    /// The number that it is ordered by.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub number: String,
    /// How many.
    pub count: u32,
    /// Whether it is on its way.
    pub ordered: bool,
}

impl Progress {
    /// Who took the set home, while the job is finished.
    pub fn collected(&self) -> Option<&Collected> {
        let collected = self.dealings.collected.as_ref();
        collected.filter(|_| self.signed_off.is_some())
    }

    /// The change by which a part was fitted, if it was.
    pub fn fitted(&self, part: &Id) -> Option<&Change> {
        let changes = self.changes.iter().map(|changed| &changed.change);
        changes
            .rev()
            .find(|change| change.part.as_ref() == Some(part))
    }

    /// The parts that are still to come.
    pub fn parts_due(&self) -> impl Iterator<Item = &Part> {
        let is_due = |part: &&Part| {
            matches!(part.record.state, PartState::Needed | PartState::Ordered)
                && self.fitted(&part.name).is_none()
        };
        self.dealings.parts.iter().filter(is_due)
    }

    /// What it waits for, while it is in hand.
    pub fn awaits(&self) -> Vec<Awaits> {
        let parts = self
            .parts_due()
            .any(|part| part.record.state == PartState::Ordered);
        let owner = self
            .dealings
            .asked
            .iter()
            .any(|asked| asked.answer.is_none());
        let all = [(Awaits::Parts, parts), (Awaits::Owner, owner)].into_iter();
        let waits = all.filter(|(_, waits)| *waits && self.signed_off.is_none());
        waits.map(|(what, _)| what).collect()
    }
}

impl PartDue {
    /// The same of a part.
    pub fn of(part: &Part) -> Self {
        let record = &part.record;
        PartDue {
            what: record.what.clone(),
            number: record.number.clone(),
            count: record.count,
            ordered: record.state == PartState::Ordered,
        }
    }
}

/// Parts with one order number that are still to be ordered, for however many jobs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderedTogether {
    /// The order number as it was first written.
    pub number: String,
    /// How many.
    pub count: u64,
    /// For how many entries of the lists.
    pub rows: usize,
}

/// What is wanted more than once under one order number, however that is capitalised and spaced,
/// and not ordered yet.
pub fn ordered_together<'a>(due: impl IntoIterator<Item = &'a PartDue>) -> Vec<OrderedTogether> {
    let plain = |number: &str| -> String {
        let letters = number.chars().filter(|c| !c.is_whitespace());
        letters.flat_map(char::to_lowercase).collect()
    };
    let mut all: Vec<OrderedTogether> = Vec::new();
    for part in due {
        let number = part.number.trim();
        if number.is_empty() || part.ordered {
            continue;
        }
        let count = u64::from(part.count);
        match all.iter_mut().find(|it| plain(&it.number) == plain(number)) {
            Some(known) => {
                known.count += count;
                known.rows += 1;
            }
            None => all.push(OrderedTogether {
                number: number.to_owned(),
                count,
                rows: 1,
            }),
        }
    }
    all.retain(|it| it.rows > 1);
    all
}
