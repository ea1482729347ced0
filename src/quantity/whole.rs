//! Figures in texts that people wrote.

use super::Scale;

/// The text with each figure on one line with the unit behind it, which whoever wrote it parted by
/// a plain blank.
pub fn whole_figures(text: &str) -> String {
    let mut whole = String::with_capacity(text.len());
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        whole.push_str(word);
        let is_figure = word.ends_with(|last: char| last.is_ascii_digit());
        match words.peek() {
            Some(next) if is_figure && is_unit(next) => whole.push('\u{a0}'),
            Some(_) => whole.push(' '),
            None => {}
        }
    }
    whole
}

/// Whether a word is a unit, with whatever ends a sentence or a bracket behind it.
fn is_unit(word: &str) -> bool {
    let word = word.trim_end_matches(['.', ',', ';', ':', ')', '!', '?']);
    !word.is_empty() && word.parse::<Scale>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_stays_with_its_unit_and_nothing_else_with_anything() {
        let cases = [
            (
                "Set it to 10.300 MHz, then on.",
                "Set it to 10.300\u{a0}MHz, then on.",
            ),
            ("(13.8 V)", "(13.8\u{a0}V)"),
            ("Channel 20 first", "Channel 20 first"),
            ("TP1 reads 5", "TP1 reads 5"),
            ("1 kHz  and 60 dB", "1\u{a0}kHz  and 60\u{a0}dB"),
            ("", ""),
        ];
        for (typed, whole) in cases {
            assert_eq!(whole_figures(typed), whole);
        }
    }
}
