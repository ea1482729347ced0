//! What the words of a heading state: a unit, a tolerance, a set-up.

use crate::authoring::table::aim::{Side, scale_of};
use crate::authoring::table::columns::HeadedSet;
use crate::authoring::table::lex::{Spelled, lone_unit, tail_unit};
use crate::authoring::table::meaning::Meaning::*;
use crate::authoring::table::phrases::{
    BELOW, CHANNELS, ELECTRODES, HEADS, MODES, PINS, PLACES, QUANTITY_NOUNS, READINGS, SIGNALS,
};
use crate::quantity::{Prefix, Scale};

/// Whether a heading in lower case says that something is expected, and what.
pub(in crate::authoring::table) fn is_head(name: &str) -> bool {
    let mut words = name.split_whitespace();
    let first = words.next().unwrap_or_default();
    let last = words.next_back().unwrap_or_default();
    HEADS.contains(&first) && QUANTITY_NOUNS.contains(&last)
}

/// The unit that a heading states; of microvolts it leaves open what they are.
pub(super) fn stated(unit: Spelled) -> Option<Scale> {
    match unit {
        Spelled::Volts(Prefix::Micro) => None,
        unit => scale_of(unit, None),
    }
}

/// A heading without the tolerance that it states for all below it, as in `Value (V ±10 %)`.
pub(super) fn without_margin(heading: &str) -> (String, String) {
    let whole = || (heading.to_owned(), String::new());
    let Some((at, sign)) = ["±", "+/-"]
        .iter()
        .find_map(|sign| Some((heading.find(sign)?, *sign)))
    else {
        return whole();
    };
    let behind = &heading[at + sign.len()..];
    let end = behind.find([')', ']']).unwrap_or(behind.len());
    let (margin, rest) = behind.split_at(end);
    let is_figure = margin
        .trim_start()
        .starts_with(|c: char| c.is_ascii_digit());
    // A sign before a unit says what the figures are.
    match is_figure {
        true => (
            format!("{}{rest}", &heading[..at]),
            margin.trim().to_owned(),
        ),
        false => whole(),
    }
}

/// The unit in a heading, with what is left of the heading and the side of a sign before it.
pub(super) fn unit_of(heading: &str) -> Option<(String, Spelled, Option<Side>)> {
    let signed = |text: &str| {
        let text = text.trim();
        let upper = text
            .strip_prefix(['<', '≤'])
            .map(|rest| (rest, Side::Upper));
        let lower = || {
            text.strip_prefix(['>', '≥'])
                .map(|rest| (rest, Side::Lower))
        };
        let both = || {
            let rest = text.strip_prefix('±').or(text.strip_prefix("+/-"));
            rest.map(|rest| (rest, Side::Both))
        };
        let (rest, side) = match upper.or_else(lower).or_else(both) {
            Some((rest, side)) => (rest, Some(side)),
            None => (text, None),
        };
        lone_unit(rest).map(|unit| (unit, side))
    };
    // Decibels are counted from what stands behind them.
    for word in BELOW {
        if let Some((before, _)) = heading.split_once(&format!(" {word} "))
            && before.to_lowercase().ends_with("db")
            && let Some((name, unit, side)) = unit_of(before)
        {
            return Some((name, unit, side));
        }
    }
    if heading.len() > 1
        && let Some((unit, side)) = signed(heading)
    {
        return Some((String::new(), unit, side));
    }
    if let Some((before, rest)) = heading.split_once(['(', '['])
        && let Some((within, behind)) = rest.split_once([')', ']']).or(Some((rest, "")))
        && let Some((words, unit, side)) = signed(within)
            .map(|(unit, side)| ("", unit, side))
            .or_else(|| {
                let (words, unit) = within.rsplit_once(" in ")?;
                signed(unit).map(|(unit, side)| (words, unit, side))
            })
            .or_else(|| {
                // As in `Ripple (mV p-p max)`.
                let (unit, limit) = within.rsplit_once(' ')?;
                let (unit, side) =
                    signed(unit.trim_end_matches(',')).filter(|_| is_limit(limit))?;
                Some((limit, unit, side))
            })
    {
        let (before, own) = without_sign(before);
        return Some((format!("{before} {words} {behind}"), unit, side.or(own)));
    }
    // What is said in brackets behind a unit tells it from another column.
    if let Some((before, rest)) = heading.split_once(" (")
        && let Some((within, "")) = rest.split_once(')')
        && let Some((name, unit)) = tail_unit(before)
    {
        // With the unit alone before them nothing else is named.
        let within = if name.is_empty() { "" } else { within };
        return Some((format!("{name} {within}"), unit, None));
    }
    // Where it is measured may stand behind the unit.
    for word in PLACES {
        if let Some((before, _)) = heading.split_once(&format!(" {word} "))
            && let Some(("", unit)) = tail_unit(before)
        {
            return Some((String::new(), unit, None));
        }
    }
    for sign in [", ", " in ", " / ", "/"] {
        if let Some((before, behind)) = heading.rsplit_once(sign)
            && let Some((unit, side)) = signed(behind)
        {
            return Some((before.to_owned(), unit, side));
        }
    }
    if let Some((before, unit)) = tail_unit(heading) {
        return Some((before.to_owned(), unit, None));
    }
    // The unit may stand before the limit, as in `Output dBm max`.
    let (before, limit) = heading.rsplit_once(' ')?;
    let (before, unit) = tail_unit(before).filter(|_| is_limit(limit))?;
    Some((format!("{before} {limit}"), unit, None))
}

/// Whether a word says that figures are limits of one side.
fn is_limit(word: &str) -> bool {
    let lower = word.to_lowercase();
    Low.headings().contains(&lower.as_str()) || High.headings().contains(&lower.as_str())
}

/// A heading without the brackets around the word of a limit at its end, as in `VSWR (max)`.
pub(super) fn without_brackets(heading: &str) -> String {
    let parts = heading
        .strip_suffix(')')
        .and_then(|it| it.rsplit_once(" ("));
    match parts {
        Some((name, limit)) if is_limit(limit.trim_end_matches('.')) => {
            format!("{name} {}", limit.trim_end_matches('.'))
        }
        _ => heading.to_owned(),
    }
}

/// A text without the sign of a limit at its end.
fn without_sign(text: &str) -> (&str, Option<Side>) {
    let text = text.trim_end();
    let cut = |signs: [char; 2]| text.strip_suffix(signs);
    let upper = cut(['<', '≤']).map(|rest| (rest, Some(Side::Upper)));
    let lower = cut(['>', '≥']).map(|rest| (rest, Some(Side::Lower)));
    let both = text.strip_suffix('±').map(|rest| (rest, Some(Side::Both)));
    upper.or(lower).or(both).unwrap_or((text, None))
}

/// The set-up that a heading states, where it states nothing else.
pub(super) fn set_of(name: &str) -> Option<HeadedSet> {
    let mut set = HeadedSet::default();
    // What is read there says nothing of the set-up.
    let mut words = name
        .split([' ', '/', ','])
        .filter(|word| !word.is_empty() && !READINGS.contains(word))
        .peekable();
    words.peek()?;
    // One heading may stand for the electrodes of two kinds of parts.
    let mut parts = name
        .split(['(', ')', '/', ' '])
        .filter(|part| !part.is_empty());
    if ELECTRODES.contains(&name) || parts.all(|part| ELECTRODES.contains(&part)) {
        let first = name.split(['(', '/', ' ']).next().unwrap_or(name);
        let first = if ELECTRODES.contains(&name) {
            name
        } else {
            first
        };
        set.point = first.to_owned();
        return Some(set);
    }
    while let Some(word) = words.next() {
        let signal = SIGNALS
            .iter()
            .find(|(spelled, _)| word.len() > 1 && spelled.contains(&word));
        if let Some((_, signal)) = signal {
            if set.signal.is_some() {
                return None;
            }
            set.signal = Some(*signal);
        } else if MODES.contains(&word) {
            if !set.mode.is_empty() {
                return None;
            }
            set.mode = word.to_uppercase();
        } else if CHANNELS.contains(&word) || PINS.contains(&word) {
            let number = words
                .next()
                .filter(|next| next.starts_with(|c: char| c.is_ascii_digit()))?;
            match CHANNELS.contains(&word) {
                true => set.channel = number.to_owned(),
                false => set.point = format!("{word} {number}"),
            }
        } else {
            return None;
        }
    }
    Some(set)
}
