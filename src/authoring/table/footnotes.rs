//! Footnotes of a table, and the rows that refer to them by their marks.

use crate::authoring::table::layout::{Line, Part, Text};
use crate::authoring::table::phrases::{FOOTNOTES, NOTES};

/// Gives each footnote to the rows that carry its mark, and takes the mark off their cells, where
/// it would be taken for a part of a figure.
pub(super) fn refer(parts: &mut [Part]) {
    let lines = || parts.iter().flat_map(|part| &part.lines);
    let mut marks: Vec<String> = lines().filter_map(mark_of_line).collect();
    marks.sort();
    marks.dedup();
    let refers = |mark: &String| {
        let mut rows = lines().filter(|text| text.line == Line::Row);
        rows.any(|row| row.record.iter().any(|cell| without(cell, mark).is_some()))
    };
    marks.retain(refers);
    // The longest first: ** is none of *.
    marks.sort_by_key(|mark| std::cmp::Reverse(mark.len()));
    for text in parts.iter_mut().flat_map(|part| &mut part.lines) {
        let own = mark_of_line(text).filter(|mark| marks.contains(mark));
        if let Some(mark) = own {
            text.line = Line::Note;
            text.marks = vec![mark];
            continue;
        }
        if text.line != Line::Row {
            continue;
        }
        for cell in &mut text.cells {
            for mark in &marks {
                if let Some(bare) = without(cell, mark) {
                    *cell = bare;
                    text.marks.push(mark.clone());
                }
            }
        }
    }
}

/// The mark that a line begins with, if it stands alone in it.
fn mark_of_line(text: &Text) -> Option<String> {
    let mut cells = text.record.iter().filter(|cell| !cell.is_empty());
    let (Some(cell), None) = (cells.next(), cells.next()) else {
        return None;
    };
    mark_of(cell)
}

/// The mark of a footnote that a text begins with: a sign, a number in brackets, or its name.
fn mark_of(text: &str) -> Option<String> {
    if let Some(sign) = FOOTNOTES.iter().find(|sign| text.starts_with(**sign)) {
        let length = text.len() - text.trim_start_matches(sign).len();
        return Some(text[..length].to_owned());
    }
    if let Some(rest) = text.strip_prefix(['(', '[']) {
        let end = rest.find([')', ']'])?;
        let short = (1..=2).contains(&end) && rest[..end].chars().all(char::is_alphanumeric);
        let goes_on = rest.len() > end + 1;
        return (short && goes_on).then(|| text[..end + 2].to_owned());
    }
    let first = text.split_whitespace().next()?;
    if let Some(number) = first.strip_suffix('/') {
        let short = (1..=2).contains(&number.len());
        return (short && number.bytes().all(|b| b.is_ascii_digit())).then(|| first.to_owned());
    }
    let word = first.trim_end_matches(['.', ':']).to_lowercase();
    if !NOTES.contains(&word.as_str()) {
        return None;
    }
    let second = text.split_whitespace().nth(1).unwrap_or_default();
    let number = second.trim_end_matches(['.', ':', ')', ',']);
    let is_number = (1..=2).contains(&number.len()) && number.bytes().all(|b| b.is_ascii_digit());
    match is_number && first.len() == word.len() {
        true => Some(format!("note {number}")),
        false => Some("see note".to_owned()),
    }
}

/// A cell without a mark at its end, if it has that.
fn without(cell: &str, mark: &str) -> Option<String> {
    let lower = cell.to_ascii_lowercase();
    let bare = lower.trim_end_matches([')', ']', '.', ' ']);
    if mark.starts_with("note ") || mark == "see note" {
        let rest = bare.strip_suffix(mark)?;
        let rest = rest.trim_end();
        let rest = rest.strip_suffix("see").unwrap_or(rest);
        let rest = rest.trim_end_matches([' ', '(', '[', ',']);
        return Some(cell[..rest.len()].to_owned());
    }
    let rest = cell.strip_suffix(mark)?;
    // A sign of the same kind before it makes it another mark, and nothing before it a mark alone.
    let sign = mark.chars().next()?;
    let other = FOOTNOTES.contains(&sign.to_string().as_str()) && rest.ends_with(sign);
    (!other && !rest.trim().is_empty()).then(|| rest.trim_end().to_owned())
}
