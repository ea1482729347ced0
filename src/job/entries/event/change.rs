//! A part that was changed, and what the owner replied.

use crate::procedure::Id;
use crate::quantity::Number;
use crate::radio::components::substitution::Substitution;
use serde::{Deserialize, Serialize};

/// A part that was changed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Change {
    /// What came out.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub out: String,
    /// What went in.
    #[serde(rename = "in", skip_serializing_if = "String::is_empty")]
    pub fitted: String,
    /// Why.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub why: String,
    /// Whether the owner agreed to it.
    pub agreed: Reply,
    /// Whether it can be taken back.
    pub reversible: Reply,
    /// Whether it can touch the set's type approval.
    pub touches_approval: Reply,
    /// How the new part compares with the old one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub substitution: Option<Box<Substitution>>,
    /// What it costs, in the currency of the workshop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub price: Option<Number>,
    /// The wanted part that was fitted, where it was one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<Id>,
}

/// What was said to a question, which may not have been asked.
///
/// Documents write it as `true`, `false` and `"no"`: once there was only a tick, and what was not
/// ticked was not denied.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(from = "WrittenReply", into = "WrittenReply")]
pub enum Reply {
    /// Nobody asked, or nobody knew.
    #[default]
    NotAsked,
    /// It is so.
    Yes,
    /// It is not so.
    No,
}

impl Reply {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Reply; 3] = [Reply::Yes, Reply::No, Reply::NotAsked];
}

/// A reply as documents write it.
#[derive(Serialize, Deserialize)]
#[serde(untagged)]
enum WrittenReply {
    Ticked(bool),
    Denied(Denial),
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Denial {
    No,
}

impl From<WrittenReply> for Reply {
    fn from(written: WrittenReply) -> Self {
        match written {
            WrittenReply::Ticked(true) => Reply::Yes,
            WrittenReply::Ticked(false) => Reply::NotAsked,
            WrittenReply::Denied(Denial::No) => Reply::No,
        }
    }
}

impl From<Reply> for WrittenReply {
    fn from(reply: Reply) -> Self {
        match reply {
            Reply::Yes => WrittenReply::Ticked(true),
            Reply::NotAsked => WrittenReply::Ticked(false),
            Reply::No => WrittenReply::Denied(Denial::No),
        }
    }
}
