//! Texts of a row, in one line and short.

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

/// The longest title that is made of a cell; a longer cell stands in the text as a whole.
const LONGEST_TITLE: usize = 80;

/// Whether a test point is named by a letter or a number alone, as an electrode or a pin is.
pub(super) fn is_part_of_a_stage(point: &str) -> bool {
    let is_number = point.len() <= 3 && point.bytes().all(|b| b.is_ascii_digit());
    !point.is_empty() && (is_number || matches!(point.as_bytes(), [b'A'..=b'Z' | b'a'..=b'z']))
}
