//! What is waited for before work goes on, in a row's own words: `Discharge until below 10 V at
//! TP1, then go on`.

use crate::authoring::table::aim::{Due, read_aims};
use crate::authoring::table::layout::without_letter;
use crate::authoring::table::lex::begins;
use crate::authoring::table::phrases::{GO_ON, HOLDS, STOPS};
use crate::metrology::Tolerance;
use crate::quantity::DecimalSign;

/// What a row waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) struct Hold {
    /// Where the reading must lie.
    pub tolerance: Tolerance,
    /// Where it is read, if the words say it.
    pub at: Option<String>,
}

/// Whether a text says that work goes on only afterwards.
pub(in crate::authoring::table) fn says_to_hold(text: &str) -> bool {
    let lower = text.to_lowercase();
    begins(text, STOPS) || GO_ON.iter().any(|phrase| lower.contains(phrase))
}

/// Whether a text says to wait, or to discharge something, until something is so.
pub(in crate::authoring::table) fn says_to_wait_until(text: &str) -> bool {
    begins(without_letter(text), HOLDS) && text.to_lowercase().contains(" until ")
}

/// What comes after `until` in a text, where that is one limit.
pub(in crate::authoring::table) fn hold_in(text: &str, sign: DecimalSign) -> Option<Hold> {
    let lower = text.to_ascii_lowercase();
    let from = lower.find("until ")? + "until ".len();
    let ends = [", ", "; ", ". ", " then ", " before "];
    let to = ends.iter().filter_map(|end| lower[from..].find(end)).min();
    let clause = &text[from..to.map_or(text.len(), |to| from + to)];
    let (rest, at) = place_in(clause);
    let due = Due::alone(None, sign);
    let aims = read_aims(&rest, "", due);
    let [aim] = aims.as_slice() else {
        return None;
    };
    let is_clear = aim.unclear.is_none() && aim.extreme.is_none();
    Some(Hold {
        tolerance: aim.tolerance.clone().filter(|_| is_clear)?,
        at,
    })
}

/// A clause without the test point that it names, and that.
pub(in crate::authoring::table) fn place_in(clause: &str) -> (String, Option<String>) {
    let words: Vec<&str> = clause.trim_end_matches('.').split_whitespace().collect();
    let preposition = |at: usize| {
        let before = at.checked_sub(1).and_then(|before| words.get(before));
        before.is_some_and(|word| ["at", "on", "across"].contains(word))
    };
    let is_point = |at: usize| (at == 0 || preposition(at)) && is_designator(words[at]);
    let place = (0..words.len()).find(|at| is_point(*at));
    let of_place = |at: usize| {
        place.is_some_and(|place| at == place || (at + 1 == place && preposition(place)))
    };
    let rest = words.iter().enumerate().filter(|(at, _)| !of_place(*at));
    let rest: Vec<&str> = rest.map(|(_, word)| *word).collect();
    (rest.join(" "), place.map(|place| words[place].to_owned()))
}

/// Whether a word is a name as boards print it: capitals, then a number.
pub(in crate::authoring::table) fn is_designator(word: &str) -> bool {
    let digits = word.trim_start_matches(|c: char| c.is_ascii_uppercase());
    digits.len() < word.len() && !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit())
}
