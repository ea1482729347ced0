//! Steps that are gone through again.

use crate::procedure::Id;
use crate::quantity::{DecimalSign, Quantity};
use serde::{Deserialize, Serialize};

/// Steps that are gone through again until their readings hold.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Repeat {
    /// The first of them.
    pub from: Id,
    /// The last of them.
    pub to: Id,
    /// What ends it.
    #[serde(default, skip_serializing_if = "Until::is_inside")]
    pub until: Until,
    /// The most passes, the first one among them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passes: Option<u32>,
}

/// What ends the passes over some steps.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Until {
    /// All of them are inside their limits in one pass.
    #[default]
    Inside,
    /// No reading changes by more than this from one pass to the next.
    Steady(Quantity),
}

impl Until {
    /// Whether all have to be inside.
    pub fn is_inside(&self) -> bool {
        *self == Until::Inside
    }

    /// In words.
    pub fn words(&self, sign: DecimalSign) -> String {
        match self {
            Until::Inside => "all of them are inside in one pass".to_owned(),
            Until::Steady(most) => format!(
                "no reading changes by more than {} from one pass to the next",
                most.typeset(sign)
            ),
        }
    }
}

impl Repeat {
    /// What is repeated, in words: what a step without a title of its own is called.
    pub fn title(&self, number: impl Fn(&Id) -> Option<usize>) -> String {
        let name = |id| number(id).map_or(id.to_string(), |number| number.to_string());
        match self.from == self.to {
            true => format!("Repeat step {}", name(&self.from)),
            false => format!("Repeat steps {} to {}", name(&self.from), name(&self.to)),
        }
    }

    /// What is repeated and until when, in words; the steps by their numbers.
    pub fn words(&self, sign: DecimalSign, number: impl Fn(&Id) -> Option<usize>) -> String {
        format!("{} {}", self.title(number), self.end(sign))
    }

    /// Until when, in words.
    pub fn end(&self, sign: DecimalSign) -> String {
        let until = self.until.words(sign);
        let most = self
            .passes
            .map(|most| format!(", in {most} passes at most"));
        format!("until {until}{}", most.unwrap_or_default())
    }
}
