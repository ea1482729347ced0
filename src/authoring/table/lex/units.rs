//! Numbers and units as they are printed.

use crate::authoring::table::lex::tokens::{Spelled, plain};
use crate::authoring::table::lex::words::{begins, longest};
use crate::authoring::table::phrases;
use crate::authoring::table::phrases::{BELOW, UNITS, VOLTS};
use crate::quantity::{Prefix, Scale, Unit};

/// How long the number is that a text begins with.
pub(super) fn number(text: &str, signed: bool) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut at = 0;
    if signed && matches!(bytes.first(), Some(b'+' | b'-')) {
        at += 1;
        at += bytes[at..].iter().take_while(|b| **b == b' ').count();
    }
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let is_point = |at: usize| matches!(bytes.get(at), Some(b'.' | b','));
    let begins = digit(at) || (bytes.get(at) == Some(&b'.') && digit(at + 1));
    if !begins {
        return None;
    }
    let from = at;
    while digit(at) || (is_point(at) && digit(at + 1)) {
        at += 1;
    }
    if let Some(end) = fraction(&text[from..at], &text[at..]).or(coded(&text[at..])) {
        return Some(at + end);
    }
    // Spaces may stand between groups of three.
    let group =
        |at: usize| bytes.get(at) == Some(&b' ') && (1..4).all(|i| digit(at + i)) && !digit(at + 4);
    if at - from <= 3 {
        while group(at) {
            at += 4;
        }
        if is_point(at) && digit(at + 1) {
            at += 1;
            while digit(at) {
                at += 1;
            }
        }
    }
    Some(at)
}

/// How long the rest of a common fraction is, as in `1/4`; any other slash parts two figures.
fn fraction(over: &str, rest: &str) -> Option<usize> {
    let below = ["2", "4", "8", "16"].into_iter().find(|below| {
        let behind = rest
            .strip_prefix('/')
            .and_then(|it| it.strip_prefix(*below));
        behind.is_some_and(|it| !it.starts_with(|c: char| c.is_ascii_digit() || c == '.'))
    })?;
    let less = over.parse::<u32>().ok()? < below.parse().ok()?;
    less.then_some(1 + below.len())
}

/// How long the rest of a figure is that has its prefix or unit for a decimal sign, as in `4k7`.
fn coded(rest: &str) -> Option<usize> {
    let sign = rest.chars().next().filter(|sign| INFIX.contains(sign))?;
    let behind = &rest[sign.len_utf8()..];
    let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
    let ends = !behind[digits..].starts_with(['.', ',']);
    ((1..=3).contains(&digits) && ends).then_some(sign.len_utf8() + digits)
}

/// What stands for a decimal sign in the values of parts.
const INFIX: [char; 9] = ['k', 'K', 'M', 'R', 'V', 'µ', 'u', 'n', 'p'];

/// The prefix or unit that a figure has for a decimal sign.
pub(in crate::authoring::table) fn infix(number: &str) -> Option<char> {
    number.chars().find(|c| INFIX.contains(c))
}

/// The unit that such a figure has, with what is behind it: its own, or what a prefix belongs to.
pub(super) fn unit_with(sign: char, rest: &str) -> Option<(Spelled, &str)> {
    let prefix = match sign {
        'R' => return Some((Spelled::Scale(Scale::plain(Unit::Ohm)), rest)),
        'V' => return Some((Spelled::Volts(Prefix::None), rest)),
        sign => prefix_of(sign)?,
    };
    match unit(rest) {
        Some((Spelled::Scale(scale), behind)) if scale.prefix == Prefix::None => {
            let scale = Scale::new(prefix, scale.unit);
            Some((Spelled::Scale(scale), behind))
        }
        _ => Some((Spelled::Prefix(prefix), rest)),
    }
}

/// The unit behind a number, which a hyphen may join to it.
pub(super) fn unit_behind(rest: &str) -> Option<(Spelled, &str)> {
    unit(if is_joined(rest) { &rest[1..] } else { rest })
}

/// Whether a hyphen joins a word to the number before.
pub(super) fn is_joined(rest: &str) -> bool {
    let behind = rest.strip_prefix('-');
    behind.is_some_and(|behind| behind.starts_with(char::is_alphabetic))
}

/// The unit that a text begins with, and what is behind it.
pub(super) fn unit(text: &str) -> Option<(Spelled, &str)> {
    let text = text.trim_start_matches(' ');
    let known = UNITS.iter().map(|entry| (entry, true));
    let known = known.chain(VOLTS.iter().map(|entry| (entry, false)));
    let by_word = longest(
        text,
        known.map(|((symbol, words), told)| (*words, (*symbol, told))),
    );
    let (length, spelled) = match (by_symbol(text), by_word) {
        (Some((length, scale)), by_word) if by_word.is_none_or(|(longer, _)| longer <= length) => {
            (length, kind_of(scale))
        }
        (_, Some((length, (symbol, told)))) => {
            let scale: Scale = symbol.parse().ok()?;
            // Nobody knows whether MW is a hasty mW.
            if length <= 3 && text.starts_with('M') && symbol.starts_with('m') {
                return None;
            }
            match told {
                true => (length, Spelled::Scale(scale)),
                false => (length, kind_of(scale)),
            }
        }
        _ => lone_prefix(text)?,
    };
    Some((spelled, &text[length..]))
}

/// Plain volts are volts of a kind that isn't said.
fn kind_of(scale: Scale) -> Spelled {
    match scale.unit {
        Unit::VoltDc => Spelled::Volts(scale.prefix),
        _ => Spelled::Scale(scale),
    }
}

/// A printed symbol as it stands. A lone F may be Fahrenheit and a lone H hours, and nobody
/// measures a farad: both need a prefix.
fn by_symbol(text: &str) -> Option<(usize, Scale)> {
    let all = Unit::ALL.iter().flat_map(|&unit| {
        unit.prefixes()
            .iter()
            .map(move |&prefix| Scale::new(prefix, unit))
    });
    all.filter(|scale| {
        scale.prefix != Prefix::None || !matches!(scale.unit, Unit::Farad | Unit::Henry)
    })
    .filter_map(|scale| {
        let symbol = scale.symbol();
        let rest = text.strip_prefix(symbol.as_str())?;
        let runs_on =
            symbol.ends_with(char::is_alphanumeric) && rest.starts_with(char::is_alphanumeric);
        (!runs_on).then_some((symbol.len(), scale))
    })
    .max_by_key(|(length, _)| *length)
}

fn lone_prefix(text: &str) -> Option<(usize, Spelled)> {
    let first = text.chars().next()?;
    let alone = !text[first.len_utf8()..].starts_with(char::is_alphanumeric);
    let prefix = prefix_of(first)?;
    alone.then_some((first.len_utf8(), Spelled::Prefix(prefix)))
}

fn prefix_of(sign: char) -> Option<Prefix> {
    Some(match sign {
        'k' | 'K' => Prefix::Kilo,
        'M' => Prefix::Mega,
        'm' => Prefix::Milli,
        'µ' | 'u' => Prefix::Micro,
        'n' => Prefix::Nano,
        'p' => Prefix::Pico,
        _ => return None,
    })
}

/// A unit that stands alone, such as in a heading or a column of units.
pub(in crate::authoring::table) fn lone_unit(text: &str) -> Option<Spelled> {
    let text = plain(text);
    let text = text.trim_matches(['.', ' ']);
    match unit(text)? {
        (Spelled::Prefix(_), _) => None,
        (spelled, rest) if rest.trim_matches(['.', ' ']).is_empty() => Some(spelled),
        // Decibels below something are decibels.
        (spelled @ Spelled::Scale(scale), rest)
            if scale.unit == Unit::Decibel && begins(rest.trim_start(), BELOW) =>
        {
            Some(spelled)
        }
        _ => None,
    }
}

/// The unit at the end of a heading that has nothing around it, and what stands before it.
pub(in crate::authoring::table) fn tail_unit(text: &str) -> Option<(&str, Spelled)> {
    let lower = text.to_lowercase();
    if lower.len() != text.len() {
        return None;
    }
    let found = phrases::TAIL_UNITS.iter().filter_map(|unit| {
        let before = lower.strip_suffix(unit)?;
        (before.is_empty() || before.ends_with(' ')).then_some(before.len())
    });
    let at = found.min()?;
    // A unit behind a figure is that of the figure.
    if lower[..at]
        .trim_end()
        .ends_with(|c: char| c.is_ascii_digit())
    {
        return None;
    }
    // Letters may change their length with their case.
    Some((text.get(..at)?.trim_end(), lone_unit(text.get(at..)?)?))
}
