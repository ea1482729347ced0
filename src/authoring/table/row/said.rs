//! Texts of a row, in one line and short.

use crate::authoring::table::row::LONGEST_TITLE;

pub(in crate::authoring::table) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text short enough for a title, cut between words where it is too long.
pub(in crate::authoring::table) fn shortened(text: &str) -> String {
    let line = one_line(text);
    let Some((most, _)) = line.char_indices().nth(LONGEST_TITLE) else {
        return line;
    };
    let end = line[..most].rfind(' ').unwrap_or(most);
    format!("{}…", &line[..end])
}

/// What a list of words names by this one.
pub(super) fn among<T: Copy>(list: &[(&[&str], T)], word: &str) -> Option<T> {
    let word = word.to_lowercase();
    let found = list
        .iter()
        .find(|(words, _)| words.contains(&word.as_str()));
    found.map(|(_, named)| *named)
}
