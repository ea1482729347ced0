//! What a cell looks like by itself.

use crate::authoring::table::lex::{Token, lex, plain};
use crate::authoring::table::phrases::{BOXED, DITTO, NOTHING, SIGNALS, Sense};

/// Whether a cell says something; a line to write on does not.
pub(in crate::authoring::table) fn says(cell: &str) -> bool {
    let lower = cell.trim().to_lowercase();
    let blank = !lower.contains(|c: char| c != '_' && !c.is_whitespace())
        || lower.contains("___")
        || is_boxes(&lower);
    !blank && !NOTHING.contains(&lower.as_str())
}

/// Whether a cell has nothing but boxes to tick: `☐ Pass ☐ Fail`.
fn is_boxes(lower: &str) -> bool {
    let boxed =
        lower.contains(['\u{2610}', '\u{25a1}', '\u{2b1c}', '\u{274f}']) || lower.contains("[ ]");
    let mut words = lower.split(|c: char| !c.is_alphanumeric());
    boxed && words.all(|word| word.is_empty() || BOXED.contains(&word))
}

/// Whether a cell only repeats the one above.
pub(in crate::authoring::table) fn repeats(cell: &str) -> bool {
    // Printed small: a word with a capital may be a word.
    DITTO.contains(&cell.trim())
}

pub(super) fn is_signal(cell: &str) -> bool {
    let lower = cell.to_lowercase();
    let mut words = SIGNALS.iter().flat_map(|(words, _)| words.iter());
    words.any(|word| word.len() > 1 && *word == lower)
}

pub(super) fn starts_with_figure(cell: &str) -> bool {
    cell.trim_start_matches(['+', '-', '<', '>', '.', ' '])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a cell is a number, or the letter that letters count from.
pub(super) fn begins_to_count(cell: &str) -> bool {
    let bare = cell.trim_matches(['.', '(', ')']);
    bare.starts_with(|c: char| c.is_ascii_digit()) || matches!(bare, "a" | "A" | "i" | "I")
}

/// Whether a cell is a short number, such as `3`, `3.1` or `3a`, or a letter that counts like one.
pub(super) fn counts(cell: &str) -> bool {
    let bare = cell.trim_matches(['.', '(', ')']);
    let numbered = bare.starts_with(|c: char| c.is_ascii_digit());
    let roman = !bare.is_empty() && bare.chars().all(|c| "ivxIVX".contains(c));
    let lettered =
        roman || (bare.len() == 1 && bare.starts_with(|c: char| c.is_ascii_alphabetic()));
    let short = cell.chars().count() <= 5;
    short && (numbered || lettered) && bare.chars().all(|c| c.is_ascii_alphanumeric() || c == '.')
}

/// Whether a cell is the mark of a row, such as `RF-012`.
pub(super) fn is_mark(cell: &str) -> bool {
    let digits = cell.contains(|c: char| c.is_ascii_digit());
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_' | '(' | ')');
    digits && cell.len() <= 12 && cell.chars().all(plain)
}

pub(super) fn is_test_point(cell: &str) -> bool {
    let digits = cell.strip_prefix("TP").map(str::trim);
    digits.is_some_and(|digits| {
        (1..=4).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit())
    })
}

/// Whether a cell begins with the sign of a limit and states it.
pub(in crate::authoring::table) fn is_limit(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let figure = |token: &Token| matches!(token, Token::Figure(figure) if figure.unit.is_some());
    cell.starts_with(['<', '>', '≤', '≥', '±']) && tokens.iter().any(figure)
}

/// Whether a cell states a limit or a figure with nothing that names something.
pub(super) fn starts_with_limit(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let figure = |token: &Token| matches!(token, Token::Figure(_));
    tokens.iter().any(figure) && !tokens.contains(&Token::Lost) && !tokens.contains(&Token::Word)
}

/// Whether a cell is a figure with its unit and nothing else.
pub(super) fn is_bare_figure(cell: &str) -> bool {
    let cell = plain(cell);
    matches!(lex(&cell).tokens.as_slice(), [Token::Figure(figure)] if figure.unit.is_some())
}

/// Whether a cell states a range or a limit of figures, and nothing that isn't understood.
pub(super) fn states_a_limit(cell: &str) -> bool {
    use Sense::{AtLeast, AtMost, Between, Max, Min, Minus, OrLess, OrMore, PlusMinus, To};
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let limits = [
        AtLeast, AtMost, Between, Max, Min, Minus, OrLess, OrMore, PlusMinus, To,
    ];
    let limit = |token: &Token| matches!(token, Token::Sense(sense) if limits.contains(sense));
    starts_with_limit(&cell) && tokens.iter().any(limit)
}

/// Whether a cell begins with the word for a largest or a smallest reading.
pub(super) fn names_an_extreme(cell: &str) -> bool {
    use Sense::{Dip, Max, Min, Peak};
    let cell = plain(cell);
    let first = lex(&cell).tokens.into_iter().next();
    matches!(first, Some(Token::Sense(Max | Min | Peak | Dip)))
}
