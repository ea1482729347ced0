//! A wanted part as it is written into the log.

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
