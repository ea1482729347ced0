//! A calculation as data: what goes in, what comes out, and where the formula is from.
//!
//! One screen shows every sum; the rooms above only fill in the data.

mod given;
mod input;
mod outcome;

pub use self::given::Given;
pub use self::input::{Entry, Input, Kind, Role};
pub use self::outcome::{Outcome, Output, Picture, Value};

use super::Fault;

/// A calculation.
#[derive(Debug)]
pub struct Sum {
    /// A stable name, such as `level`.
    pub id: &'static str,
    /// Where the catalogue lists it.
    pub group: Group,
    /// Its title.
    pub title: &'static str,
    /// What it needs.
    pub inputs: &'static [Input],
    /// The formula in words and signs.
    pub formula: &'static str,
    /// Where the formula is published.
    pub source: &'static str,
    /// The formula itself; called when every input that it can't do without is there.
    pub compute: fn(&Given) -> Result<Outcome, Fault>,
}

/// A part of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Power, voltage and decibels.
    Levels,
    /// Standing waves and reflection.
    Match,
    /// AM, SSB and FM.
    Modulation,
    /// Sensitivity and unwanted responses.
    Receiver,
    /// Frequency errors and mixing.
    Frequency,
    /// Currents, heat and resonance.
    Stages,
    /// What a capacitor still holds.
    BeforeTheIron,
    /// Preferred values and the colour code.
    Parts,
    /// Uncertainty and decisions.
    Proof,
}

impl Group {
    /// The heading.
    pub const fn title(self) -> &'static str {
        match self {
            Group::Levels => "Levels",
            Group::Match => "Match",
            Group::Modulation => "Modulation and SSB",
            Group::Receiver => "Receiver",
            Group::Frequency => "Frequency",
            Group::Stages => "Stages",
            Group::BeforeTheIron => "Discharge safety",
            Group::Parts => "Preferred values",
            Group::Proof => "What a reading proves",
        }
    }
}

/// What a sum says so far.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Labels of the inputs that are still needed.
    StillNeeded(Vec<&'static str>),
    /// The results.
    Worked {
        /// Results and picture.
        outcome: Outcome,
        /// How many digits the inputs support.
        digits: usize,
    },
}

impl Sum {
    /// Works the sum out, or names what is still needed.
    ///
    /// `entries` are in the order of the inputs. Results have as many digits as the measured
    /// input with the fewest, and at least three.
    pub fn answer(&self, entries: &[Option<Entry>]) -> Result<Answer, Fault> {
        let entry = |index: usize| entries.get(index).and_then(Option::as_ref);
        let is_missing = |(index, input): &(usize, &Input)| {
            input.role != Role::Optional && entry(*index).is_none()
        };
        let needed: Vec<_> = self
            .inputs
            .iter()
            .enumerate()
            .filter(is_missing)
            .map(|(_, input)| input.label)
            .collect();
        if !needed.is_empty() {
            return Ok(Answer::StillNeeded(needed));
        }
        let given = Given {
            inputs: self.inputs,
            entries,
        };
        Ok(Answer::Worked {
            outcome: (self.compute)(&given)?,
            digits: self.digits(entries),
        })
    }

    fn digits(&self, entries: &[Option<Entry>]) -> usize {
        const LEAST: u64 = 3;
        const MOST: u64 = 12;
        let measured = self
            .inputs
            .iter()
            .zip(entries)
            .filter(|(input, _)| input.role != Role::Nominal);
        let fewest = measured
            .filter_map(|(_, entry)| entry.as_ref()?.digits())
            .min();
        fewest.unwrap_or(LEAST).clamp(LEAST, MOST) as usize
    }
}
