//! Why a formula can't be read.

use std::fmt;

/// Why a text is not a formula.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormulaError {
    /// More characters than are read.
    TooLong,
    /// It ends where a number, a quantity or a bracket is due.
    EndsEarly,
    /// A sign that has no place there, with what follows.
    Unexpected(String),
    /// A word that is no function and no quantity.
    UnknownWord(String),
    /// Digits that are no number.
    Number(String),
    /// A bracket that is not closed.
    Unclosed,
}

impl fmt::Display for FormulaError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FormulaError::TooLong => write!(
                f,
                "The formula is too long: type at most {MOST_CHARACTERS} characters"
            ),
            FormulaError::EndsEarly => write!(
                f,
                "The formula ends too early: a number, a quantity or a bracket is due"
            ),
            FormulaError::Unexpected(text) => {
                write!(f, "“{text}” has no place there: check the sign before it")
            }
            FormulaError::UnknownWord(word) => write!(
                f,
                "“{word}” is unknown: use quantities a to e and √ or sqrt, ln, sin, cos"
            ),
            FormulaError::Number(text) => write!(f, "“{text}” is not a number: check its digits"),
            FormulaError::Unclosed => write!(f, "A bracket is not closed: add “)”"),
        }
    }
}

impl std::error::Error for FormulaError {}

/// The longest formula that is read; it also bounds how deep one can be nested.
pub(super) const MOST_CHARACTERS: usize = 200;
