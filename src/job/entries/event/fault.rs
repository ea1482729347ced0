//! A fault as it is written into the log.

use crate::procedure::Id;
use serde::{Deserialize, Serialize};

/// One fault, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct FaultRecord {
    /// Whether it is the fault that was reported, or one that was not.
    pub of: FaultOf,
    /// The symptom as seen on the bench.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub seen: String,
    /// The stage or part that it came from.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// The cause.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub cause: String,
    /// What was done about it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub cure: String,
    /// How far that came, as the technician says.
    pub outcome: Outcome,
    /// The steps whose readings show it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shown_by: Vec<Id>,
    /// The steps whose readings show that it is gone.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub proved_by: Vec<Id>,
}

/// Which fault a record is of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FaultOf {
    /// That which was reported.
    #[default]
    Report,
    /// One that nobody reported.
    Bench,
}

impl FaultOf {
    /// Both, in the order in which they are offered.
    pub const ALL: [FaultOf; 2] = [FaultOf::Report, FaultOf::Bench];
}

/// How far a fault was followed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// It is looked for.
    #[default]
    Open,
    /// It did not show on the bench.
    NotSeen,
    /// Its cause was not found.
    NotFound,
    /// Its cause was found, and it is not cured.
    Found,
    /// It is cured.
    Cured,
}

impl Outcome {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Outcome; 5] = [
        Outcome::Open,
        Outcome::NotSeen,
        Outcome::NotFound,
        Outcome::Found,
        Outcome::Cured,
    ];
}
