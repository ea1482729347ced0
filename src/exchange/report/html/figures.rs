//! Figures of a column under each other at their decimal sign: what stands before that gets the same
//! room in all of them, and ends at its right edge. No digit need be as wide as another for it.

use crate::exchange::report::Table;

/// What a figure has before its decimal sign: digits, and a sign in front of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Whole {
    digits: usize,
    has_sign: bool,
}

/// As much room as the style sheet knows of.
const MOST: usize = 8;

impl Whole {
    /// Of a text that begins with a figure and its unit; a day, a count or a word is none.
    fn of(text: &str) -> Option<Self> {
        let unsigned = text.strip_prefix(['\u{2212}', '+']).unwrap_or(text);
        let digits = unsigned.chars().take_while(char::is_ascii_digit).count();
        let mut rest = unsigned.get(digits..)?.chars();
        let ends = match rest.next() {
            Some('.' | ',') => rest.find(|c| !c.is_ascii_digit()),
            end => end,
        };
        let has_unit = ends == Some('\u{a0}');
        (digits > 0 && has_unit).then_some(Whole {
            digits,
            has_sign: unsigned.len() < text.len(),
        })
    }

    fn widest(self, other: Self) -> Self {
        Whole {
            digits: self.digits.max(other.digits),
            has_sign: self.has_sign || other.has_sign,
        }
    }
}

/// How many signs stand before the decimal sign at most in each column; nothing where fewer than
/// two figures stand under each other.
pub(super) fn widest(table: &Table) -> Vec<Option<usize>> {
    let of_column = |column: usize| {
        let cells = table.rows.iter().filter_map(|row| row.get(column));
        let wholes: Vec<Whole> = cells.filter_map(|cell| Whole::of(&cell.text)).collect();
        let widest = wholes.iter().copied().reduce(Whole::widest)?;
        let signs = widest.digits + usize::from(widest.has_sign);
        (wholes.len() > 1 && signs <= MOST).then_some(signs)
    };
    (0..table.columns.len()).map(of_column).collect()
}

/// A figure in two: what stands before its decimal sign, and the rest.
pub(super) fn split(text: &str) -> Option<(&str, &str)> {
    let Whole { digits, has_sign } = Whole::of(text)?;
    let sign = text.chars().next().filter(|_| has_sign);
    text.split_at_checked(sign.map_or(0, char::len_utf8) + digits)
}

#[cfg(test)]
mod tests {
    use super::{Whole, split, widest};
    use crate::exchange::report::{Cell, Table};

    #[test]
    fn a_figure_is_told_from_what_else_begins_with_digits() {
        let whole = |text| Whole::of(text).map(|whole| (whole.digits, whole.has_sign));
        assert_eq!(whole("16.4925\u{a0}MHz"), Some((2, false)));
        assert_eq!(whole("\u{2212}73,4\u{a0}dBm"), Some((2, true)));
        assert_eq!(whole("+0.5\u{a0}dB below the limit"), Some((1, true)));
        assert_eq!(whole("150\u{a0}mW → 4\u{a0}W"), Some((3, false)));
        for other in [
            "",
            "–",
            "not taken",
            "2026-03-31",
            "12 of 43",
            "3",
            "≤\u{a0}3\u{a0}W",
            "1.2.3\u{a0}V",
        ] {
            assert_eq!(whole(other), None, "{other}");
        }
    }

    #[test]
    fn a_figure_is_split_before_its_decimal_sign() {
        assert_eq!(split("16.4925\u{a0}MHz"), Some(("16", ".4925\u{a0}MHz")));
        assert_eq!(
            split("\u{2212}73,4\u{a0}dBm"),
            Some(("\u{2212}73", ",4\u{a0}dBm"))
        );
        assert_eq!(split("8\u{a0}V"), Some(("8", "\u{a0}V")));
        assert_eq!(split("not taken"), None);
    }

    #[test]
    fn a_column_has_room_for_its_longest_figure_and_a_sign() {
        let rows = |texts: &[&str]| Table {
            caption: String::new(),
            lead: String::new(),
            kind: "plain",
            columns: vec![String::new()],
            rows: texts.iter().map(|text| vec![Cell::of(*text)]).collect(),
        };
        assert_eq!(
            widest(&rows(&["8.0\u{a0}V", "150\u{a0}mV", "not taken"])),
            [Some(3)]
        );
        assert_eq!(
            widest(&rows(&["\u{2212}8.0\u{a0}V", "150\u{a0}mV"])),
            [Some(4)]
        );
        assert_eq!(widest(&rows(&["8.0\u{a0}V", "not taken"])), [None]);
        assert_eq!(widest(&rows(&["123456789\u{a0}Hz", "8\u{a0}Hz"])), [None]);
    }
}
