//! Rows that send back to rows before them: `Repeat steps 3 and 4 until both are within limits`.

use crate::authoring::draft::{DraftRepeat, UntilKind, typed};
use crate::authoring::table::aim::{Due, read_aims};
use crate::authoring::table::phrases::{ALL_INSIDE, NO_CHANGE};
use crate::quantity::DecimalSign;

/// What a row says is repeated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) struct Again {
    /// The printed numbers of the first and the last row.
    pub rows: (String, String),
    /// Until when, as far as it was understood. The steps are not known yet.
    pub repeat: DraftRepeat,
    /// Whether it says when to end.
    pub ends: bool,
}

/// What a text says is repeated, if it says that of numbered rows.
pub(in crate::authoring::table) fn again_in(text: &str, sign: DecimalSign) -> Option<Again> {
    let lower = text.trim().to_lowercase();
    let rest = lower.strip_prefix("repeat ")?;
    let rest = ["steps ", "step ", "items ", "item ", "rows ", "row "]
        .into_iter()
        .find_map(|word| rest.strip_prefix(word))
        .unwrap_or(rest);
    let (steps, until) = match rest.split_once(" until ").or(rest.split_once(" till ")) {
        Some((steps, until)) => (steps, until),
        None => (rest, ""),
    };
    let steps = steps.replace("–", " ").replace("-", " ");
    let words = steps.split(|c: char| c.is_whitespace() || matches!(c, ',' | '&' | '.' | ';'));
    let names: Vec<String> = words
        .map(row_name)
        .take_while(|name| name.is_empty() || is_row_name(name) || is_joint(name))
        .filter(|name| is_row_name(name))
        .collect();
    let rows = (names.first()?.clone(), names.last()?.clone());
    let says = |phrases: &[&str]| phrases.iter().any(|phrase| until.contains(phrase));
    let (repeat, ends) = if says(NO_CHANGE) {
        let change = change_in(until, sign);
        let steady = DraftRepeat {
            until: UntilKind::Steady,
            change: change.unwrap_or_default(),
            ..DraftRepeat::default()
        };
        (steady, true)
    } else {
        (DraftRepeat::default(), says(ALL_INSIDE))
    };
    Some(Again { rows, repeat, ends })
}

/// By how much a reading may still change, where the words say it.
fn change_in(until: &str, sign: DecimalSign) -> Option<String> {
    let (_, figure) = until.split_once(" than ")?;
    let due = Due::alone(None, sign);
    // The figure ends where its unit does.
    let words: Vec<&str> = figure.split_whitespace().take(2).collect();
    let aims = read_aims(&words.join(" "), "", due);
    let figure = aims.first()?.nominal.as_ref()?;
    Some(typed(figure, sign))
}

/// The printed number of a row without the signs around it.
pub(in crate::authoring::table) fn row_name(text: &str) -> String {
    let bare = text.trim().trim_matches(|c: char| !c.is_alphanumeric());
    bare.to_lowercase()
}

/// Whether a word can be the number of a row: digits with a letter or without, or a letter alone.
fn is_row_name(name: &str) -> bool {
    let digits = name.trim_end_matches(|c: char| c.is_ascii_lowercase());
    let letters = &name[digits.len()..];
    let is_number = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    (is_number && letters.len() <= 1) || (digits.is_empty() && letters.len() == 1)
}

fn is_joint(name: &str) -> bool {
    ["and", "to", "through", "thru", "step", "steps"].contains(&name)
}
