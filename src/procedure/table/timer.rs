//! How long a row waits, in its own words: `Allow 15 minutes to warm up`.

use super::phrases::{NUMBERS, WAITS};

/// The whole minutes that a text waits, rounded up, so that nothing is done too early; `None`
/// where it names no time behind a word for waiting.
pub(super) fn minutes_in(text: &str) -> Option<u32> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || c == '-' || c == '\u{2011}')
        .map(|word| word.trim_matches([',', '.', ';', ':', '(', ')']))
        .collect();
    let waits = words.iter().position(|word| WAITS.contains(word))?;
    let behind = &words[waits + 1..];
    let mut found = behind.windows(2).filter_map(|pair| {
        let seconds = number(pair[0])?.checked_mul(seconds_of(pair[1])?)?;
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
