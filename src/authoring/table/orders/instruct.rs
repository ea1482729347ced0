//! An adjustment in a row's own words: `Adjust R5 for 8.0 V ± 0.1 V at TP3`.

use crate::authoring::table::layout::without_letter;
use crate::authoring::table::lex::begins;
use crate::authoring::table::orders::hold::{is_designator, place_in};
use crate::authoring::table::phrases::{
    CONDITIONALS, DENIALS, MEANWHILE, MEASURES, MODALS, MOVES, PARTS, TURNS, UNLESS, VERIFIED,
};
use crate::authoring::table::row::designators;

/// What an instruction turns, and what for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::authoring::table) struct Instruction {
    /// What is turned; none where it doesn't say that.
    pub adjusters: Vec<String>,
    /// The words of what is aimed at.
    pub target: String,
    /// Where that is read, if the words say it.
    pub at: Option<String>,
    /// Whether something is turned for it.
    pub turns: bool,
}

/// The adjustment that a text asks for, where it asks for one and nothing more.
pub(in crate::authoring::table) fn instruction_in(text: &str) -> Option<Instruction> {
    let text = without_letter(text).trim_end_matches(['.', ' ']);
    let (watched, text) = watched_in(text);
    let lower = text.to_ascii_lowercase();
    let more = ["; ", ". ", " then ", ", and ", "\n"];
    if !begins(text, TURNS) || more.iter().any(|joint| lower.contains(joint)) {
        return None;
    }
    if asks_for_more(&lower) {
        return None;
    }
    let goals = [" for ", " to obtain ", " until ", " to "];
    let (at, goal) = goals
        .iter()
        .filter_map(|goal| Some((lower.find(goal)?, *goal)))
        .min()?;
    let head: Vec<&str> = text[..at].split_whitespace().skip(1).collect();
    let is_part = |word: &&str| PARTS.contains(&word.to_lowercase().as_str());
    let named: Vec<&str> = head.into_iter().filter(|word| !is_part(word)).collect();
    let adjusters = designators(&named.join(" "));
    if adjusters.is_empty() && !named.is_empty() {
        return None;
    }
    let (target, at) = place_in(&text[at + goal.len()..]);
    let target = target
        .split_once(" to be ")
        .map_or(target.as_str(), |(_, is)| is);
    Some(Instruction {
        target: target.to_owned(),
        adjusters,
        at: at.or(watched),
        turns: true,
    })
}

/// Whether an instruction in small letters goes on with something else to do or to read.
pub(in crate::authoring::table) fn asks_for_more(lower: &str) -> bool {
    let mut clauses = lower.split(" and ").skip(1);
    clauses.any(|it| begins(it, TURNS) || begins(it, VERIFIED) || begins(it, MEASURES))
}

/// What a text says will be read, where one of its sentences says that and no other does:
/// `Set the switch to 600. The meter will indicate between 504 and 616 ohms.`
pub(in crate::authoring::table) fn statement_in(text: &str) -> Option<Instruction> {
    let text = without_letter(text).trim_end_matches(['.', ' ']);
    let lower = text.to_ascii_lowercase();
    let modal = |word: &str| MODALS.contains(&word);
    let words = lower.split(|c: char| !c.is_ascii_alphanumeric());
    if words.filter(|word| modal(word)).count() > 1 {
        return None;
    }
    let sentences = text.split(". ").flat_map(|it| it.split("; "));
    let said: Vec<&str> = sentences.filter_map(stated_by).collect();
    let [said] = said.as_slice() else {
        return None;
    };
    let (target, at) = place_in(said);
    let points = text.split(|c: char| !c.is_ascii_alphanumeric());
    let points: Vec<&str> = points
        .filter(|it| it.starts_with("TP") && is_designator(it))
        .collect();
    let only = match points.as_slice() {
        [point] => Some((*point).to_owned()),
        _ => None,
    };
    Some(Instruction {
        adjusters: Vec::new(),
        target,
        at: at.or(only),
        turns: false,
    })
}

/// What a sentence says behind the word that makes a demand of it.
fn stated_by(sentence: &str) -> Option<&str> {
    let sentence = sentence.trim();
    if let Some(said) = mended_unless(sentence) {
        return Some(said);
    }
    if begins(sentence, CONDITIONALS) || begins(sentence, TURNS) {
        return None;
    }
    let lower = sentence.to_ascii_lowercase();
    // What nothing may do is turned round.
    let denies = |before: &str| {
        let mut words = before.split(|c: char| !c.is_alphanumeric());
        words.any(|word| DENIALS.contains(&word))
    };
    let behind = |word: &str| {
        let at = lower.find(&format!(" {word} "))?;
        let said = sentence.get(at + word.len() + 2..)?;
        (!denies(&lower[..at])).then_some(said)
    };
    let verified = || {
        let verifies = VERIFIED.iter().any(|word| {
            lower.starts_with(&format!("{word} ")) || lower.contains(&format!(" {word} "))
        });
        ["is", "reads", "indicates"]
            .iter()
            .chain(MOVES)
            .copied()
            .find_map(behind)
            .filter(|_| verifies)
    };
    MODALS
        .iter()
        .find_map(|word| behind(word))
        .or_else(verified)
}

/// The limit in a sentence that says what to do where it isn't kept: `If the meter does not indicate
/// between 1 and 2 V, adjust R5`.
fn mended_unless(sentence: &str) -> Option<&str> {
    let lower = sentence.to_ascii_lowercase();
    let kept = lower.find(", ").filter(|_| begins(sentence, &["if"]))?;
    let before = &lower[..kept];
    let (at, word) = UNLESS
        .iter()
        .find_map(|word| Some((before.find(word)?, word)))?;
    let alone = before.matches(" not ").count() == 1 && !before.contains(" or ");
    let said = sentence.get(at + word.len()..kept)?;
    alone.then_some(said.trim())
}

/// The test point that is watched meanwhile, and the rest of the text: `While monitoring TP1,
/// adjust R12 …`.
fn watched_in(text: &str) -> (Option<String>, &str) {
    if !begins(text, MEANWHILE) {
        return (None, text);
    }
    match text.split_once(", ") {
        Some((watching, rest)) => {
            let points = watching.split_whitespace().filter(|it| is_designator(it));
            let points: Vec<&str> = points.collect();
            match points.as_slice() {
                [point] => (Some((*point).to_owned()), rest),
                _ => (None, text),
            }
        }
        None => (None, text),
    }
}
