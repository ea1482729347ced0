//! What a step may carry beside its own work: things taken off, a wait, a settling limit, a
//! second route to the same figure, steps that chase each other.

use super::{Gauge, Id};
use crate::metrology::Tolerance;
use crate::quantity::Quantity;
use serde::{Deserialize, Serialize};

/// Something that comes off, is opened, unplugged or fitted for a while, and must be put back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Removable {
    /// What it is, such as `volume knob with its ring`.
    pub what: String,
    /// Where it belongs.
    #[serde(default, rename = "where", skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Which way round it sits.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub orientation: String,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// When a drifting reading counts as settled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Settling {
    /// The largest drift per minute, to either side.
    pub per_minute: Quantity,
}

/// The same thing found by another route.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct CrossCheck {
    /// What to do, in a sentence.
    pub text: String,
    /// Where, with what, in which unit.
    pub gauge: Gauge,
    /// How the second figure is compared with the first.
    pub compares: Comparison,
}

/// How a second figure is compared with a step's reading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Comparison {
    /// It is the same quantity.
    Same,
    /// Power in a load from the voltage across it: P = U²/R.
    PowerInto(Quantity),
    /// Current through a resistor from the drop across it: I = U/R.
    CurrentThrough(Quantity),
    /// It only has to be plausible in itself.
    Plausible(Tolerance),
}

/// Steps whose adjusters pull each other's readings, worked in rounds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Chase {
    /// What they are together.
    pub title: String,
    /// The steps in the order of turning; all set something to a target.
    pub steps: Vec<Id>,
}
