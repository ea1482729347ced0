//! The words of a limit: whole phrases, and whether one stands in a text.

use crate::authoring::table::phrases;
use crate::authoring::table::phrases::{
    BINDING, OF_WHAT, PLAIN_QUANTITIES, QUANTITY_NOUNS, SENSES, Sense,
};

/// Whether a text is nothing but what a figure of that unit is.
pub(super) fn is_quantity(text: &str) -> bool {
    PLAIN_QUANTITIES.contains(&text.trim_end_matches(['.', ' ']).to_lowercase().as_str())
}

/// Whether a text is nothing but the name of something that is read, in a few words, with what it
/// is that of: `rejection of spurious responses`.
pub(super) fn names_quantity(text: &str) -> bool {
    let lower = text.trim_end_matches(['.', ' ']).to_lowercase();
    let joint = |word: &&&str| OF_WHAT.contains(*word);
    let all: Vec<&str> = lower.split_whitespace().collect();
    let to = all.iter().position(|word| joint(&word));
    let (words, of) = all.split_at(to.unwrap_or(all.len()));
    if of.iter().any(|word| !word.chars().all(char::is_alphabetic)) {
        return false;
    }
    let named = words
        .last()
        .is_some_and(|last| QUANTITY_NOUNS.contains(last));
    let plain = |word: &&str| word.chars().all(char::is_alphabetic) && !BINDING.contains(word);
    named && words.len() <= 3 && words.iter().all(plain)
}

/// Whether nothing follows but the word that makes a limit of the figure before.
pub(super) fn ends_as_limit(rest: &str) -> bool {
    use Sense::{Max, Min, OrLess, OrMore};
    let rest = rest.trim();
    sense_of(rest).is_some_and(|(length, sense)| {
        length == rest.len() && matches!(sense, Max | Min | OrLess | OrMore)
    })
}

/// Whether it is a reading of an S meter.
pub(super) fn is_s_point(word: &str) -> bool {
    matches!(word.as_bytes(), [b'S' | b's', digit] if digit.is_ascii_digit())
}

/// Whether the figure behind it is a tolerance and nothing that is read.
pub(super) fn names_a_tolerance(word: &str, rest: &str) -> bool {
    let rest = rest.trim_start_matches([' ', ':', '.']);
    let is_bare = rest.starts_with(|c: char| c.is_ascii_digit());
    is_bare && phrases::TOLERANCES.contains(&word.to_lowercase().as_str())
}

/// How many bytes of a text a phrase in lower case takes up at its beginning, as whole words.
pub(super) fn starts(text: &str, phrase: &str) -> Option<usize> {
    let mut length = 0;
    let mut chars = text.chars();
    for due in phrase.chars() {
        let c = chars.next()?;
        if c != due && c.to_lowercase().ne(std::iter::once(due)) {
            return None;
        }
        length += c.len_utf8();
    }
    let runs_on =
        phrase.ends_with(char::is_alphanumeric) && chars.next().is_some_and(char::is_alphanumeric);
    (!runs_on).then_some(length)
}

/// Whether a text in lower case has a phrase as whole words.
pub(in crate::authoring::table) fn has_word(text: &str, phrase: &str) -> bool {
    let starts_word = |at: usize| !text[..at].ends_with(char::is_alphanumeric);
    let mut found = text.match_indices(phrase);
    found.any(|(at, _)| starts_word(at) && starts(&text[at..], phrase).is_some())
}

/// The longest of some phrases that a text begins with.
pub(super) fn longest<'p, T: Copy + 'p>(
    text: &str,
    phrases: impl Iterator<Item = (&'p [&'p str], T)>,
) -> Option<(usize, T)> {
    let all = phrases.flat_map(|(words, what)| words.iter().map(move |word| (*word, what)));
    all.filter_map(|(word, what)| Some((starts(text, word)?, what)))
        .max_by_key(|(length, _)| *length)
}

pub(super) fn sense_of(text: &str) -> Option<(usize, Sense)> {
    longest(text, SENSES.iter().map(|(words, sense)| (*words, *sense)))
}

/// Whether a text begins with one of some words.
pub(in crate::authoring::table) fn begins(text: &str, words: &[&str]) -> bool {
    words.iter().any(|word| starts(text, word).is_some())
}
