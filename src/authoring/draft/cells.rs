//! Lines of a draft as rows of cells, for forms that offer a field for each part of a line.

use crate::authoring::draft::lines;

/// Takes the meaning of a separator, or of itself, from the character after it.
const ESCAPE: char = '\\';

/// The cells of a line: always `count`, the last with all that remains, as it stands there.
pub fn cells(line: &str, separator: char, count: usize) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut letters = line.chars().peekable();
    while let Some(letter) = letters.next() {
        let is_last = parts.len() == count;
        if letter == separator && !is_last {
            letters.next_if_eq(&' ');
            parts.push(String::new());
            continue;
        }
        let meant = match letter == ESCAPE && !is_last {
            true => letters.next_if(|next| [ESCAPE, separator].contains(next)),
            false => None,
        };
        if let Some(cell) = parts.last_mut() {
            cell.push(meant.unwrap_or(letter));
        }
    }
    parts.resize(count, String::new());
    parts
}

/// The line of some cells, from which `cells` makes the same again, whatever is typed in them.
/// It has a separator also where all are empty, so that such a row is seen.
pub fn line_of(cells: &[String], separator: char) -> String {
    let last = cells.len().saturating_sub(1);
    let used = cells.iter().rposition(|cell| !cell.is_empty());
    let used = used.map_or(2, |index| (index + 1).max(2)).min(cells.len());
    let cell = |(index, cell): (usize, &String)| {
        let cell = cell.replace('\n', " ");
        match index == last {
            true => cell,
            false => escaped(&cell, separator),
        }
    };
    let parts: Vec<String> = cells[..used].iter().enumerate().map(cell).collect();
    parts.join(&format!("{separator} "))
}

fn escaped(cell: &str, separator: char) -> String {
    let mut text = String::new();
    for letter in cell.chars() {
        if [ESCAPE, separator].contains(&letter) {
            text.push(ESCAPE);
        }
        text.push(letter);
    }
    text
}

/// The lines that have more in them than what separates their parts.
pub(super) fn rows(text: &str, separator: char) -> Vec<String> {
    let mut rows = lines(text);
    rows.retain(|line| line.chars().any(|c| c != separator && !c.is_whitespace()));
    rows
}

/// The cells of a line without what surrounds them.
pub(super) fn parts<const COUNT: usize>(line: &str, separator: char) -> [String; COUNT] {
    let mut parts = cells(line, separator, COUNT).into_iter();
    std::array::from_fn(|_| parts.next().unwrap_or_default().trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cells_and_cells_are_a_line() {
        for (line, separator, count, wanted) in [
            (
                "1; GND; chassis; black",
                ';',
                5,
                ["1", "GND", "chassis", "black", ""].as_slice(),
            ),
            (
                "2; +8 V; R12; red; RX = 8 V ± 0.2 V; TX = 7.9 V ± 0.2 V",
                ';',
                5,
                [
                    "2",
                    "+8 V",
                    "R12",
                    "red",
                    "RX = 8 V ± 0.2 V; TX = 7.9 V ± 0.2 V",
                ]
                .as_slice(),
            ),
            (
                "Clarifier: centre",
                ':',
                2,
                ["Clarifier", "centre"].as_slice(),
            ),
            (
                "Clarifier: 12:00",
                ':',
                2,
                ["Clarifier", "12:00"].as_slice(),
            ),
            ("", ';', 2, ["", ""].as_slice()),
        ] {
            let parts = cells(line, separator, count);
            assert_eq!(parts, wanted, "{line}");
            assert_eq!(cells(&line_of(&parts, separator), separator, count), wanted);
        }
    }

    /// What stands in the cells after each key when these texts are typed into them in turn.
    fn stands_key_by_key(separator: char, typed: &[&str]) {
        let mut line = line_of(&vec![String::new(); typed.len()], separator);
        let mut wanted = vec![String::new(); typed.len()];
        for (column, text) in typed.iter().enumerate() {
            for key in text.chars() {
                let mut parts = cells(&line, separator, typed.len());
                parts[column].push(key);
                line = line_of(&parts, separator);
                wanted[column].push(key);
                assert_eq!(cells(&line, separator, typed.len()), wanted, "{line}");
            }
        }
    }

    #[test]
    fn every_key_stays_in_its_cell() {
        for typed in [
            ["IF ", "a "],
            [" ", " "],
            ["a;b", "e;f; "],
            ["C:\\", "\\;\\\\"],
            ["one  two", "  "],
        ] {
            stands_key_by_key(';', &typed);
            stands_key_by_key(':', &typed);
        }
        stands_key_by_key(
            ';',
            &[
                "1",
                "",
                "a; b",
                "red ",
                "RX = 8 V ± 0.2 V; TX = 7.9 V ± 0.2 V",
            ],
        );
    }

    #[test]
    fn a_row_with_nothing_in_it_is_a_line() {
        assert_eq!(line_of(&[String::new(), String::new()], ';'), "; ");
    }

    #[test]
    fn a_line_break_does_not_end_the_row() {
        let typed = ["a".to_owned(), "c\nd".to_owned()];
        assert_eq!(line_of(&typed, ';'), "a; c d");
    }
}
