//! Words with numbers in them, put together before it is known how numbers are written.

use super::{DecimalSign, Number};
use std::fmt;

/// A text in which each `{}` stands for the next of its numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Phrase {
    text: String,
    numbers: Vec<Number>,
}

impl Phrase {
    /// A text with as many `{}` as there are numbers.
    pub fn new(text: impl Into<String>, numbers: impl Into<Vec<Number>>) -> Self {
        Phrase {
            text: text.into(),
            numbers: numbers.into(),
        }
    }

    /// The text as a page shows it.
    pub fn typeset(&self, sign: DecimalSign) -> String {
        let mut pieces = self.text.split("{}");
        let mut out = pieces.next().unwrap_or_default().to_owned();
        let mut numbers = self.numbers.iter();
        for piece in pieces {
            out.extend(numbers.next().map(|number| number.typeset(sign)));
            out.push_str(piece);
        }
        out
    }
}

/// A text with a full stop at its end, unless it ends as a sentence does already, be it within a
/// quotation, brackets or what isolates a typed text.
pub fn ended(text: impl fmt::Display) -> String {
    let text = text.to_string();
    let inner = text.trim_end_matches(['”', '’', ')', '\u{2069}']);
    match inner.ends_with(['.', '!', '?', '…', ':']) {
        true => text,
        false => format!("{text}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_ends_once() {
        for (text, sentence) in [
            ("its wait is no number", "its wait is no number."),
            ("Change the unit.", "Change the unit."),
            (
                "write it like “Clarifier: centre”",
                "write it like “Clarifier: centre”.",
            ),
            ("say “I have looked.”", "say “I have looked.”"),
            ("(see the sheet)", "(see the sheet)."),
            ("what is it?", "what is it?"),
        ] {
            assert_eq!(ended(text), sentence);
        }
    }

    #[test]
    fn numbers_stand_in_their_places_with_the_sign_in_use() {
        let number = |value| Number::from_f64(value, 1).expect("it is finite");
        let phrase = Phrase::new("{} V and {}", [number(42.4), number(-0.5)]);
        assert_eq!(phrase.typeset(DecimalSign::Comma), "42,4 V and −0,5");
        assert_eq!(phrase.typeset(DecimalSign::Point), "42.4 V and −0.5");
        assert_eq!(Phrase::new("none", []).typeset(DecimalSign::Comma), "none");
    }
}
