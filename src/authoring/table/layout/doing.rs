//! What the words of a line ask to be done.

use crate::authoring::table::lex::begins;
use crate::authoring::table::phrases::{
    ACTIONS, APPLIES, CONTROLS, DURATIONS, LOOKS, MEASURES, NAMES_TOO, OBJECTS, POSITIONS,
    PROMISES, PUT, STOPS,
};

/// Whether an instruction asks for a reading that nothing beside it states.
pub(in crate::authoring::table) fn promises(text: &str) -> bool {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().collect();
    let figure = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let of_figure = words.windows(2).enumerate().any(|(index, pair)| {
        let lasts = words
            .get(index + 2)
            .is_some_and(|word| DURATIONS.contains(&word.trim_matches(['.', ','])));
        pair[0] == "for" && figure(&pair[1]) && !lasts
    });
    let starts = lower
        .char_indices()
        .filter(|(at, _)| *at == 0 || lower[..*at].ends_with([' ', ',']));
    let mut starts = starts.map(|(at, _)| &lower[at..]);
    // What is brought has its own figures, in one clause with it.
    let brought =
        begins(&lower, APPLIES) && ![". ", "; ", " and "].iter().any(|it| lower.contains(it));
    let signs = |rest: &str| rest.starts_with(['±', '<', '>', '≤', '≥']) || rest.starts_with("+/-");
    of_figure || starts.any(|rest| begins(rest, PROMISES) && !(brought && signs(rest)))
}

/// Whether an instruction asks for two readings or adjustments, one of them with its figure.
pub(in crate::authoring::table) fn has_two_steps(text: &str) -> bool {
    let lower = text.to_lowercase();
    let mut clauses = vec![lower.as_str()];
    for joint in ["; ", ". ", ", then ", " and then ", "then ", ", and "] {
        clauses = clauses.iter().flat_map(|it| it.split(joint)).collect();
    }
    let named = |word: &str| {
        let digits = word.trim_start_matches(|c: char| c.is_ascii_alphabetic());
        let letters = word.len() - digits.len();
        let bare = digits.trim_end_matches(|c: char| !c.is_ascii_digit());
        (1..=2).contains(&letters) && !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit())
    };
    let is_step = |clause: &&str| {
        let clause = without_letter(clause.trim());
        let sets = begins(clause, &["set", "turn", "rotate"]);
        begins(clause, MEASURES) || (sets && clause.split_whitespace().any(named))
    };
    let figure = |clause: &&str| promises(clause) && clause.contains(|c: char| c.is_ascii_digit());
    let steps: Vec<&str> = clauses.into_iter().filter(is_step).collect();
    steps.len() > 1 && steps.iter().any(figure)
}

/// Whether words say that something is to be done.
pub(in crate::authoring::table) fn is_doing(text: &str) -> bool {
    let text = without_letter(text);
    let put = text
        .split_whitespace()
        .next_back()
        .is_some_and(|word| PUT.contains(&word.to_lowercase().as_str()));
    let few = text.split_whitespace().count() <= 8;
    is_action(text)
        || begins(text, LOOKS)
        || begins(text, MEASURES)
        || begins(text, STOPS)
        || (put && few)
}

/// Whether a text says in which position a control is put, as in `MODE switch to NORMAL`.
pub(in crate::authoring::table) fn puts_control(text: &str) -> bool {
    let lower = without_letter(text).to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().collect();
    let put = |pair: &[&str]| CONTROLS.contains(&pair[0]) && POSITIONS.contains(&pair[1]);
    let read = ["indication", "reading", "meter", "for"];
    words.windows(2).any(put) && !words.iter().any(|word| read.contains(word)) && !promises(text)
}

/// Whether a text begins with a word that says what to do, and not with the name of something.
pub(in crate::authoring::table) fn is_action(text: &str) -> bool {
    if !begins(text, ACTIONS) {
        return false;
    }
    let names = begins(text, NAMES_TOO);
    let mut words = text.split_whitespace().skip(1).peekable();
    let is_object = |word: &&str| {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
        let capitals = bare.len() > 2 && !bare.contains(char::is_lowercase);
        let named = bare.contains(|c: char| c.is_ascii_digit()) || capitals;
        named || OBJECTS.contains(&bare.to_lowercase().as_str())
    };
    let object = words.peek().is_some_and(is_object);
    let moved =
        words.any(|word| ["to", "into", "at", "with"].contains(&word) || PUT.contains(&word));
    !names || object || moved
}

/// A text without the letter or number that it is counted by, as in `a. Inspect the case`.
pub(in crate::authoring::table) fn without_letter(text: &str) -> &str {
    let text = text.trim_start();
    let end = text.find(['.', ')']).filter(|end| *end <= 4);
    // A short word counts nothing.
    let counted = |head: &str| {
        let bare = head.trim_start_matches('(');
        let letters = bare.chars().filter(|c| c.is_ascii_alphabetic()).count();
        let roman = bare.chars().all(|c| "ivxIVX".contains(c));
        bare.chars().all(|c| c.is_ascii_alphanumeric()) && (letters <= 1 || roman)
    };
    match end {
        Some(end) if counted(&text[..end]) && text[end + 1..].starts_with(' ') => {
            text[end + 1..].trim_start()
        }
        _ => text,
    }
}
