//! A look along a path, without a figure.

use crate::procedure::{CheckName, Id};
use serde::{Deserialize, Serialize};

/// What a look without a figure showed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Look {
    /// Where along which path.
    pub at: LookAt,
    /// What it showed.
    pub showed: Showed,
    /// In words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A place along a path of the job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct LookAt {
    /// The entry that the path was first written with.
    pub path: Id,
    /// Where along it.
    pub check: CheckName,
}

/// What was found where something was looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Showed {
    /// It is as it should be.
    Expected,
    /// It is not.
    Otherwise,
}

impl Showed {
    /// Both, in the order in which they are offered.
    pub const ALL: [Showed; 2] = [Showed::Expected, Showed::Otherwise];
}
