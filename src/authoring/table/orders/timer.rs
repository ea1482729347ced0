//! How long a row waits, in its own words: `Allow 15 minutes to warm up`.

use crate::authoring::table::layout::without_letter;
use crate::authoring::table::phrases::{NUMBERS, WAITS};

/// The whole minutes that a text waits, rounded up, so that nothing is done too early; `None`
/// where it names no time behind a word for waiting.
pub(in crate::authoring::table) fn minutes_in(text: &str) -> Option<u32> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || c == '-' || c == '\u{2011}')
        .map(|word| word.trim_matches([',', '.', ';', ':', '(', ')']))
        .collect();
    let waits = words.iter().position(|word| WAITS.contains(word))?;
    time_in(&words[waits + 1..])
}

/// The whole minutes that a remark waits before the step is done: it begins with the word for
/// waiting, or with after so much of it. Any other time in a remark is one within the step.
pub(in crate::authoring::table) fn minutes_before(remark: &str) -> Option<u32> {
    let lower = remark.to_lowercase();
    let clauses = lower.split([',', ';']).flat_map(|it| it.split(". "));
    let mut found = clauses.filter_map(|clause| {
        let clause = without_letter(clause);
        let mut words = clause.split(|c: char| !c.is_alphanumeric());
        let first = words.next()?;
        let after = first == "after" && words.any(|word| WAITS.contains(&word));
        match after {
            true => {
                let words: Vec<&str> = clause.split_whitespace().collect();
                time_in(&words)
            }
            false => minutes_in(clause).filter(|_| WAITS.contains(&first)),
        }
    });
    found.next()
}

fn time_in(words: &[&str]) -> Option<u32> {
    let mut found = words.windows(2).filter_map(|pair| {
        let unit = pair[1].trim_end_matches(['.', ',', ')']);
        let seconds = number(pair[0])?.checked_mul(seconds_of(unit)?)?;
        Some(seconds.div_ceil(60))
    });
    found.next().filter(|minutes| *minutes > 0)
}

fn number(word: &str) -> Option<u32> {
    let written = NUMBERS.iter().find(|(name, _)| *name == word);
    written.map_or_else(|| word.parse().ok(), |(_, number)| Some(*number))
}

fn seconds_of(unit: &str) -> Option<u32> {
    match unit {
        "s" | "sec" | "secs" | "second" | "seconds" => Some(1),
        "min" | "mins" | "minute" | "minutes" => Some(60),
        "h" | "hr" | "hrs" | "hour" | "hours" => Some(3600),
        _ => None,
    }
}
