//! Parts that a job needs, from the want to the fitting; what the owner is asked; and who took the
//! set home.

use crate::job::entries::event::part::PartRecord;
use crate::job::{Deed, Event};
use crate::procedure::Id;
use serde::{Deserialize, Serialize};

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

/// All of that in a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dealings {
    /// The parts, in the order in which they were first wanted.
    pub parts: Vec<Part>,
    /// What the owner was asked.
    pub asked: Vec<Asked>,
    pub(super) collected: Option<Collected>,
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
