//! Parts that a job needs, from the want to the fitting; what the owner is asked; and who took the
//! set home.

use crate::job::{Change, Deed, Event, Progress};
use crate::procedure::Id;
use crate::quantity::Number;
use serde::{Deserialize, Serialize};

/// A part that is wanted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct PartRecord {
    /// What it is, such as `Electrolytic 470 µF 25 V`.
    pub what: String,
    /// The number that it is ordered by.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub number: String,
    /// How many.
    pub count: u32,
    /// What one costs, in the currency of the workshop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<Number>,
    /// How far it is.
    pub state: PartState,
    /// From whom, or anything else.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl Default for PartRecord {
    fn default() -> Self {
        PartRecord {
            what: String::new(),
            number: String::new(),
            count: 1,
            price: None,
            state: PartState::default(),
            note: String::new(),
        }
    }
}

/// How far a part is. That it is fitted says the change that names it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PartState {
    /// It is to be ordered.
    #[default]
    Needed,
    /// It is on its way.
    Ordered,
    /// It is on the shelf.
    Here,
    /// It is not wanted any more.
    Dropped,
}

impl PartState {
    /// All of them, in the order in which they are offered.
    pub const ALL: [PartState; 4] = [
        PartState::Needed,
        PartState::Ordered,
        PartState::Here,
        PartState::Dropped,
    ];
}

/// A part as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its name, the same through all its entries: that of the first.
    pub name: Id,
    /// What was last written of it.
    pub record: PartRecord,
    /// When, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
}

/// A question to the owner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The entry with the question.
    pub name: Id,
    /// What was asked.
    pub question: String,
    /// When.
    pub at: i64,
    /// What the answer was, and when it came.
    pub answer: Option<(String, i64)>,
}

/// That the set went home.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Collected {
    /// Who took it.
    pub by: String,
    /// When, in milliseconds since 1970 UTC by the device's clock.
    pub at: i64,
}

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

/// All of that in a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dealings {
    /// The parts, in the order in which they were first wanted.
    pub parts: Vec<Part>,
    /// What the owner was asked.
    pub asked: Vec<Asked>,
    collected: Option<Collected>,
    /// Who took it home before the job was taken up again.
    pub collected_before: Vec<Collected>,
}

impl Dealings {
    /// Takes what an entry says of them.
    pub(in crate::job) fn take(&mut self, event: &Event) {
        match &event.did {
            Deed::PartNoted { first, part } => {
                let name = first.as_ref().unwrap_or(&event.id);
                let now = Part {
                    name: name.clone(),
                    record: PartRecord::clone(part),
                    at: event.at,
                };
                match self.parts.iter_mut().find(|part| part.name == *name) {
                    Some(known) => *known = now,
                    None => self.parts.push(now),
                }
            }
            Deed::OwnerAsked { question } => self.asked.push(Asked {
                name: event.id.clone(),
                question: question.clone(),
                at: event.at,
                answer: None,
            }),
            Deed::OwnerAnswered { asked, answer } => {
                let known = self.asked.iter_mut().find(|it| it.name == *asked);
                if let Some(known) = known {
                    known.answer = Some((answer.clone(), event.at));
                }
            }
            Deed::Collected { by } => {
                self.collected = Some(Collected {
                    by: by.clone(),
                    at: event.at,
                });
            }
            Deed::Reopened { .. } => self.collected_before.extend(self.collected.take()),
            _ => {}
        }
    }
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
