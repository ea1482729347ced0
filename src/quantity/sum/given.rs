//! What was given, asked for by name.

use crate::quantity::formula::Formula;
use crate::quantity::sum::input::{Entry, Input, Kind};
use crate::quantity::{Fault, Number, Quantity};

/// The entries of a sum, found by the ids of its inputs.
#[derive(Debug)]
pub struct Given<'a> {
    pub(super) inputs: &'a [Input],
    pub(super) entries: &'a [Option<Entry>],
}

impl<'a> Given<'a> {
    fn entry(&self, id: &str) -> Option<&'a Entry> {
        let index = self.inputs.iter().position(|input| input.id == id)?;
        self.entries.get(index)?.as_ref()
    }

    fn missing(&self, id: &str) -> Fault {
        Fault::Missing {
            what: "value",
            name: id.to_owned(),
        }
    }

    /// The quantity of an input.
    pub fn quantity(&self, id: &str) -> Result<&'a Quantity, Fault> {
        match self.entry(id) {
            Some(Entry::Amount(quantity)) => Ok(quantity),
            _ => Err(self.missing(id)),
        }
    }

    /// The size of an input in its unit without prefix, or its bare number.
    pub fn value(&self, id: &str) -> Result<f64, Fault> {
        match self.entry(id) {
            Some(Entry::Amount(quantity)) => Ok(quantity.base_f64()),
            Some(Entry::Plain(number)) => Ok(number.to_f64()),
            _ => Err(self.missing(id)),
        }
    }

    /// The exact number of an input without a unit.
    pub fn number(&self, id: &str) -> Result<&'a Number, Fault> {
        match self.entry(id) {
            Some(Entry::Plain(number)) => Ok(number),
            _ => Err(self.missing(id)),
        }
    }

    /// The exact numbers of a list without a unit; none when it was left out.
    pub fn numbers(&self, id: &str) -> &'a [Number] {
        match self.entry(id) {
            Some(Entry::Plains(numbers)) => numbers,
            _ => &[],
        }
    }

    /// The formula of an input.
    pub fn formula(&self, id: &str) -> Result<&'a Formula, Fault> {
        match self.entry(id) {
            Some(Entry::Formula(formula)) => Ok(formula),
            _ => Err(self.missing(id)),
        }
    }

    /// Numbers that belong to two quantities each; none when they were left out.
    pub fn pairs(&self, id: &str) -> &'a [(usize, usize, Number)] {
        match self.entry(id) {
            Some(Entry::Pairs(pairs)) => pairs,
            _ => &[],
        }
    }

    /// The size of an input that may be left out.
    pub fn maybe(&self, id: &str) -> Option<f64> {
        self.value(id).ok()
    }

    /// An input in percent, as a share of 1.
    pub fn share(&self, id: &str) -> Result<f64, Fault> {
        Ok(self.value(id)? / 100.0)
    }

    /// The position of a choice, which its input has.
    pub fn choice(&self, id: &str) -> Result<usize, Fault> {
        let input = self.inputs.iter().find(|input| input.id == id);
        match (self.entry(id), input.map(|input| input.kind)) {
            (Some(&Entry::Choice(index)), Some(Kind::Choice(choices))) if index < choices.len() => {
                Ok(index)
            }
            _ => Err(self.missing(id)),
        }
    }

    /// The quantities of a list; none when it was left out.
    pub fn quantities(&self, id: &str) -> &'a [Quantity] {
        match self.entry(id) {
            Some(Entry::Amounts(quantities)) => quantities,
            _ => &[],
        }
    }

    /// The sizes of a list, in the unit without prefix.
    pub fn values(&self, id: &str) -> Vec<f64> {
        let sizes = self.quantities(id).iter();
        sizes.map(Quantity::base_f64).collect()
    }
}
