//! What is read: where, with which instrument, through what.

use crate::procedure::Id;
use crate::quantity::{Quantity, Scale};
use serde::{Deserialize, Serialize};

/// How a reading is taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Gauge {
    /// The test point.
    pub at: Id,
    /// The instrument's role.
    pub with: Id,
    /// The unit and prefix in which a bare number is taken.
    #[serde(rename = "in")]
    pub scale: Scale,
    /// The impedance in which a voltage is a power.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub into: Option<Quantity>,
    /// What stands between the set and the instrument.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub path: Option<Path>,
}

impl Gauge {
    /// The roles that a reading is taken with: that of the instrument, and of what the signal
    /// passes on its way.
    pub fn roles(&self) -> impl Iterator<Item = &Id> {
        let passed = self.path.iter().flat_map(|path| &path.through);
        [&self.with].into_iter().chain(passed)
    }
}

/// What a signal passes between the set and the instrument.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Path {
    /// The roles of pads, couplers and probes, from the set on.
    pub through: Vec<Id>,
    /// Which way the signal goes.
    #[serde(default, skip_serializing_if = "Direction::is_from_set")]
    pub direction: Direction,
}

/// Which way a signal goes: what a pad takes away is added to a reading of the set, and taken from
/// what a generator gives.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// From the set to the instrument, which reads it.
    #[default]
    FromSet,
    /// From the instrument, such as a generator, into the set.
    IntoSet,
}

impl Direction {
    /// Both, in the order in which they are offered.
    pub const ALL: [Direction; 2] = [Direction::FromSet, Direction::IntoSet];

    /// Whether the instrument reads what the set gives.
    pub fn is_from_set(&self) -> bool {
        *self == Direction::FromSet
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Direction::FromSet => "From the set",
            Direction::IntoSet => "Into the set",
        }
    }
}

impl Gauge {
    /// An instrument straight at the test point.
    pub fn new(at: Id, with: Id, scale: Scale) -> Self {
        Gauge {
            at,
            with,
            scale,
            into: None,
            path: None,
        }
    }

    /// The roles of what stands in the path.
    pub fn through(&self) -> &[Id] {
        self.path.as_ref().map_or(&[], |path| &path.through)
    }
}
