//! What the words around a figure say of it: its title, its heading and its section.

use crate::authoring::table::aim::Side;
use crate::authoring::table::lex::has_word;
use crate::authoring::table::phrases::{
    ALTERNATING, BETTER_LESS, BETTER_MORE, KINDS_OF_VOLTS, LOSSES, OFFSETS, QUANTITIES, REACHES,
    REJECTS, SWINGS, TOLERANCES, TURNED_ROUND, WORSE_MORE,
};
use crate::quantity::Unit;

/// What words say of a reading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Hints {
    /// Of which kind its volts are.
    pub volts: Option<Unit>,
    /// What a lone prefix belongs to.
    pub unit: Option<Unit>,
    /// What is read in the whole section.
    pub section: Option<Unit>,
    /// On which side of a figure the better readings are not.
    pub better: Option<Side>,
    /// Whether the least that is needed is the largest figure, as of a sensitivity.
    pub less_is_better: bool,
    /// Whether a level of it is the better the lower it is.
    pub falls: bool,
    /// Whether its decibels are the better the more they are.
    pub rejects: bool,
    /// Whether it is how far something is off, as a stability in parts per million.
    pub off: bool,
    /// Whether it is off from nothing.
    pub offset: bool,
    /// Whether its volts are no direct voltage.
    pub alternates: bool,
    /// Whether it swings to both sides and is read as how far.
    pub swings: bool,
    /// Whether it is lost on the way.
    pub loses: bool,
    /// Whether it reaches so far to both sides.
    pub reaches: bool,
}

impl Hints {
    /// What the words of the reading's own title and heading say, and those of its section.
    pub fn of(title: &str, heading: &str, section: &str) -> Hints {
        let own = format!("{heading} {title}").to_lowercase();
        let section = section.to_lowercase();
        let says = |words: &[&str]| words.iter().any(|word| has_word(&own, word));
        let better = match (says(BETTER_MORE), says(BETTER_LESS)) {
            (true, false) => Some(Side::Lower),
            (false, true) => Some(Side::Upper),
            _ => None,
        };
        let of_section = only(QUANTITIES, &section);
        Hints {
            volts: only(KINDS_OF_VOLTS, &own),
            unit: only(QUANTITIES, &own).or(of_section),
            section: of_section,
            better,
            less_is_better: says(TURNED_ROUND),
            falls: says(WORSE_MORE),
            rejects: says(REJECTS),
            off: TOLERANCES
                .iter()
                .any(|word| has_word(&own, word) || has_word(&section, word)),
            offset: says(OFFSETS),
            alternates: says(ALTERNATING),
            swings: says(SWINGS),
            loses: says(LOSSES),
            reaches: says(REACHES),
        }
    }
}

/// What the words of a text name, where they name one thing only.
pub(super) fn only(list: &[(&[&str], Unit)], text: &str) -> Option<Unit> {
    let named = |(words, _): &&(&[&str], Unit)| words.iter().any(|word| has_word(text, word));
    let mut found = list.iter().filter(named).map(|(_, unit)| *unit);
    found.next().filter(|_| found.next().is_none())
}
