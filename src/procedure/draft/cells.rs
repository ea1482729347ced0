//! Lines of a draft as rows of cells, for forms that offer a field for each part of a line.

/// The cells of a line: always `count`, the last with all that remains.
pub fn cells(line: &str, separator: char, count: usize) -> Vec<String> {
    let mut parts: Vec<String> = line
        .splitn(count, separator)
        .map(|part| part.strip_prefix(' ').unwrap_or(part).to_owned())
        .collect();
    parts.resize(count, String::new());
    parts
}

/// The line of some cells. What would end a cell or the line is replaced in all but the last
/// cell, so that a cell stays one.
pub fn line_of(cells: &[String], separator: char) -> String {
    let last = cells.len().saturating_sub(1);
    let cell = |(index, cell): (usize, &String)| match index == last {
        true => cell.replace('\n', " "),
        false => cell.replace(['\n', separator], " "),
    };
    let parts: Vec<String> = cells.iter().enumerate().map(cell).collect();
    match parts.iter().all(String::is_empty) {
        true => String::new(),
        false => parts.join(&format!("{separator} ")),
    }
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

    #[test]
    fn spaces_stay_while_a_cell_is_typed() {
        let typed = ["IF ".to_owned(), "a ".to_owned()];
        assert_eq!(cells(&line_of(&typed, ';'), ';', 2), typed);
    }

    #[test]
    fn a_separator_in_a_cell_does_not_make_two_of_it() {
        let typed = ["a;b".to_owned(), "c\nd".to_owned(), "e;f".to_owned()];
        assert_eq!(line_of(&typed, ';'), "a b; c d; e;f");
    }
}
