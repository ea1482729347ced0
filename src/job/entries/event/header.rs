//! What is said of a job as a whole: the set, its owner, what it is measured with.

use crate::metrology::date::Date;
use crate::metrology::decision::Rule;
use crate::metrology::instrument::Instrument;
use crate::procedure::Id;
use crate::quantity::Number;
use serde::{Deserialize, Serialize};

/// What is known of the set and the work as a whole.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Header {
    /// The job's number in the workshop.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub number: String,
    /// The set, as typed off its plate.
    pub set: SetIdentity,
    /// The owner's name or reference.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub owner: String,
    /// The fault as reported.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub fault: String,
    /// The state in which the set came in.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub condition: String,
    /// What came in with it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub accessories: String,
    /// Who works on it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub technician: String,
    /// What it is measured with.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub instruments: Vec<UsedInstrument>,
    /// How readings near a limit are judged.
    #[serde(skip_serializing_if = "is_simple")]
    pub rule: Rule,
    /// The day on which the set should be checked again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next_check: Option<Date>,
    /// What the work costs.
    #[serde(skip_serializing_if = "Charge::is_blank")]
    pub charge: Charge,
}

/// What the work costs, in the currency of the workshop.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Charge {
    /// For an hour.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate: Option<Number>,
    /// The minutes that it took, where that is not as the log has it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// The price that was agreed with the owner.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub agreed: Option<Number>,
}

impl Charge {
    /// Whether nothing is said of it.
    pub fn is_blank(&self) -> bool {
        *self == Charge::default()
    }
}

fn is_simple(rule: &Rule) -> bool {
    *rule == Rule::SimpleAcceptance
}

/// A set as its plate has it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct SetIdentity {
    /// Who made it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub make: String,
    /// Its type.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub model: String,
    /// Its serial number.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub serial: String,
}

impl SetIdentity {
    /// Make, model and serial in a line; empty when none is known.
    pub fn title(&self) -> String {
        let parts = [&self.make, &self.model, &self.serial];
        let known: Vec<&str> = parts
            .into_iter()
            .map(|part| part.trim())
            .filter(|part| !part.is_empty())
            .collect();
        known.join(" ")
    }
}

/// An instrument that was used in a role.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct UsedInstrument {
    /// The procedure's role.
    pub role: Id,
    /// The instrument itself, as the technician names it.
    pub name: String,
    /// Its entry in the kit as it was then, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub record: Option<Instrument>,
}

impl UsedInstrument {
    /// A role that nobody plays.
    pub fn nobody(role: Id) -> Self {
        UsedInstrument {
            role,
            name: String::new(),
            record: None,
        }
    }
}
