//! A fitted socket as a sheet: pin, signal, where it is taken from, and what stands on it.

use super::Id;
use crate::metrology::Tolerance;
use serde::{Deserialize, Serialize};

/// A socket whose pins are wired and then measured one by one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Socket {
    /// What it is called.
    pub name: String,
    /// The instrument's role.
    pub with: Id,
    /// Its pins.
    pub pins: Vec<Pin>,
}

/// One pin of a socket.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Pin {
    /// Its number or letter.
    pub pin: Id,
    /// What it carries.
    pub signal: String,
    /// Where in the set that is taken from.
    pub from: String,
    /// The lead's colour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub colour: String,
    /// What stands on it, in each state of the set.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub expects: Vec<Expectation>,
}

/// What stands on a pin in one state of the set.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Expectation {
    /// The state, such as `RX` or `TX, AM`.
    pub state: Id,
    /// Where the reading must lie.
    pub tolerance: Tolerance,
}

impl Socket {
    /// What is expected on a pin in a state.
    pub fn expected(&self, pin: &Id, state: &Id) -> Option<&Tolerance> {
        let pin = self.pins.iter().find(|other| other.pin == *pin)?;
        let expectation = pin.expects.iter().find(|e| e.state == *state)?;
        Some(&expectation.tolerance)
    }

    /// The states that any pin names, in the order in which they first appear.
    pub fn states(&self) -> Vec<&Id> {
        let mut states = Vec::new();
        for expectation in self.pins.iter().flat_map(|pin| &pin.expects) {
            if !states.contains(&&expectation.state) {
                states.push(&expectation.state);
            }
        }
        states
    }
}
