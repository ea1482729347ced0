//! What is entered at a step.

use crate::job::LookAt;
use crate::procedure::{Instrument as Role, Step, TestPoint};
use serde::{Deserialize, Serialize};

/// A step that no procedure foresaw, with what has to be known for it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct OwnStep {
    /// The step, under a name that nothing else has. It speaks of other steps by the names that
    /// they have in the job.
    pub step: Step,
    /// Where is probed, where it reads.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub point: Option<TestPoint>,
    /// What it is read with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub role: Option<Role>,
    /// Where along a path that looks for a fault.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub look: Option<LookAt>,
}

/// When a reading was taken, in relation to adjusting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    /// Before anything was turned.
    AsFound,
    /// While adjusting.
    Try,
    /// After adjusting, tool away.
    AsLeft,
}

impl Phase {
    /// The phase in words.
    pub const fn name(self) -> &'static str {
        match self {
            Phase::AsFound => "as found",
            Phase::Try => "try",
            Phase::AsLeft => "as left",
        }
    }
}

/// The state of the set that a photo shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Moment {
    /// As it came in or as it was before a hand changed it.
    #[default]
    Found,
    /// As it goes home.
    Left,
}

impl Moment {
    /// Both, in the order in which they are offered.
    pub const ALL: [Moment; 2] = [Moment::Found, Moment::Left];

    /// The state in words.
    pub const fn name(self) -> &'static str {
        match self {
            Moment::Found => "as found",
            Moment::Left => "as left",
        }
    }
}

/// Where the tool is while a reading is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tool {
    /// In the adjuster, where it may pull the reading.
    In,
    /// Away.
    Out,
}

/// What an inspection found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Finding {
    /// As built and in order.
    Sound,
    /// Changed by earlier hands.
    Altered,
    /// Used up but whole.
    Worn,
    /// Broken.
    Damaged,
}

impl Finding {
    /// Every finding, in the order in which they are offered.
    pub const ALL: [Finding; 4] = [
        Finding::Sound,
        Finding::Altered,
        Finding::Worn,
        Finding::Damaged,
    ];

    /// The finding in a word.
    pub const fn name(self) -> &'static str {
        match self {
            Finding::Sound => "sound",
            Finding::Altered => "altered",
            Finding::Worn => "worn",
            Finding::Damaged => "damaged",
        }
    }
}
