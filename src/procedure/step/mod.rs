//! One step: the state the set must be in, where to probe, what to turn and what must come of it.

mod gauge;
mod generator;
mod repeat;
mod set_up;
mod work;

pub use self::gauge::{Direction, Gauge, Path};
pub use self::generator::is_level;
pub use self::repeat::{Repeat, Until};
pub use self::set_up::{Alteration, Control, Lead, SetUp, SetUpChange, SetUpItem, Setting, Signal};
pub use self::work::{HoldPoint, Holds, Work};

use super::{CrossCheck, Id, Removable, Settling};
use crate::radio::limits::Known;
use serde::{Deserialize, Serialize};

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    /// Its name within the procedure.
    pub id: Id,
    /// A few words.
    pub title: String,
    /// What to do, in sentences.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// What can hurt or break here.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// The state that the set must be in.
    #[serde(default, skip_serializing_if = "SetUp::is_empty")]
    pub set_up: SetUp,
    /// Stops that must hold here, wherever they stand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<Id>,
    /// What comes off or is fitted for a while in this step.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub takes_off: Vec<Removable>,
    /// What of that goes back in this step, by its name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub puts_back: Vec<String>,
    /// Minutes to wait, such as for a warm-up; other steps can be done meanwhile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<u32>,
    /// When the reading counts as settled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settles: Option<Settling>,
    /// The other step of a null that one adjuster makes in two modes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shares_null_with: Option<Id>,
    /// The same thing found by another route.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cross_check: Option<CrossCheck>,
    /// What the limit that the step states itself rests on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub basis: Option<Basis>,
    /// What kind of step it is, with what only that kind needs.
    pub work: Work,
}

/// What a limit rests on, so that who reads it a year later knows what it is worth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Basis {
    /// How its figures are known.
    pub known: Known,
    /// The document with its clause, or what it was worked out from; empty where nothing is to be
    /// named.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}

impl Step {
    /// A step with nothing but its work.
    pub fn new(id: Id, title: impl Into<String>, work: Work) -> Self {
        Step {
            id,
            title: title.into(),
            text: String::new(),
            cautions: Vec::new(),
            set_up: SetUp::default(),
            needs: Vec::new(),
            takes_off: Vec::new(),
            puts_back: Vec::new(),
            wait: None,
            settles: None,
            shares_null_with: None,
            cross_check: None,
            basis: None,
            work,
        }
    }
}

impl Step {
    /// Whether another step, such as that of an earlier revision, reads the same thing in the same
    /// state of the set: only then can their readings be compared.
    pub fn reads_as(&self, other: &Step) -> bool {
        self.work.gauge() == other.work.gauge() && self.set_up == other.set_up
    }
}

#[cfg(test)]
mod tests {}
