//! What a target and its tolerance say, in the spellings that tables use.

mod parts;

pub use self::parts::Side;
pub(super) use self::parts::{Aim, Cell, Due, Extreme};

use crate::authoring::table::aim::parts::{Bound, Said};
mod quantity;
mod resolve;
mod said;
mod tolerances;

pub(super) use self::quantity::scale_of;
pub(super) use self::resolve::ordered;

use self::said::{level_of_sensitivity, understood};
use self::tolerances::{of_tolerance_alone, with_tolerance};
use crate::authoring::table::lex::{Figure, Lexed, Spelled, Token, lex, plain};
use crate::authoring::table::phrases::Sense::*;
use crate::authoring::table::why::Why;
use crate::metrology::Tolerance;
use crate::quantity::{DecimalSign, Family, Prefix, Scale, Unit, read_number};

/// Reads the cells of target and tolerance; several aims where one cell limits several readings.
pub(super) fn read_aims(target: &str, tolerance: &str, due: Due) -> Vec<Aim> {
    let (target, tolerance) = (plain(target), plain(tolerance));
    if target.is_empty() {
        return vec![match tolerance.is_empty() {
            true => Aim::default(),
            // A table may state it all in the one column or the other.
            false => of_tolerance_alone(&tolerance, due),
        }];
    }
    if let Some(level) = level_of_sensitivity(&target) {
        let aim = with_tolerance(Bound::AtMost(level), &tolerance, due);
        let volts_unsaid = asks_volts(&[Token::Figure(level)], due);
        return vec![Aim {
            more: true,
            volts_unsaid,
            ..aim
        }];
    }
    let target = value_behind_its_name(&target).unwrap_or(&target);
    let Lexed { tokens, more } = lex(target);
    let words = tokens.iter().all(is_prose);
    let volts_unsaid = asks_volts(&tokens, due);
    let Some(said) = understood(&tokens)
        .filter(|said| said.len() < 2 || !names_cases(target))
        .filter(|_| !is_range_of_words(&tokens) && !are_volts_of_two_kinds(&tokens))
    else {
        let why = match lone_number(target, &tokens, due) {
            Some(why) => why,
            None => Why::NoTarget,
        };
        let aim = Aim::unclear(Cell::Target, why);
        return vec![Aim { words, more, ..aim }];
    };
    let of_one = |said: &Said| {
        let aim = match said.bound {
            None => match tolerance.is_empty() {
                true => Aim::default(),
                false => of_tolerance_alone(&tolerance, due),
            },
            Some(bound) => with_tolerance(bound, &tolerance, due),
        };
        Aim {
            extreme: said.extreme,
            words,
            more,
            usual: tokens.contains(&Token::Sense(About)),
            volts_unsaid: volts_unsaid && (aim.tolerance.is_some() || aim.nominal.is_some()),
            ..aim
        }
    };
    said.iter().map(of_one).collect()
}

/// The limit that a phrase states, where it states one and nothing more.
pub fn read_limit(text: &str, scale: Scale, sign: DecimalSign) -> Option<Tolerance> {
    let due = Due::alone(Some(scale), sign);
    match read_aims(text, "", due).as_slice() {
        [
            Aim {
                extreme: None,
                tolerance: Some(tolerance),
                unclear: None,
                more: false,
                volts_unsaid: false,
                ..
            },
        ] => Some(tolerance.clone()),
        _ => None,
    }
}

/// The figure or limit behind the name of what is read, as in `Q5 gate 1: 0 V`, where the name
/// keeps the whole from being understood.
fn value_behind_its_name(text: &str) -> Option<&str> {
    let (name, value) = text.split_once(": ")?;
    let signed = value.trim_start_matches(['<', '>', '≤', '≥', '±', '+', '-', '~', ' ']);
    let figure = |token: &Token| matches!(token, Token::Figure(figure) if figure.unit.is_some());
    let names = name.starts_with(char::is_alphabetic)
        && !lex(name).tokens.iter().any(figure)
        && !names_cases(text)
        && signed.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    (names && understood(&lex(text).tokens).is_none()).then_some(value)
}

/// Whether a text names several cases, each with a limit of its own: `VHF: 1-6 W; UHF: 1-5 W`.
fn names_cases(text: &str) -> bool {
    text.matches(": ").count() > 1
}

/// Whether a plain range stands before words that are asked for, and may be where they hold.
fn is_range_of_words(tokens: &[Token]) -> bool {
    use Token::{Figure as F, Sense as S};
    matches!(tokens, [F(_), S(To | Minus), F(_), S(And), Token::Word, ..])
}

/// Whether some volts say of which kind they are beside others that don't.
fn are_volts_of_two_kinds(tokens: &[Token]) -> bool {
    let any = |is: fn(Spelled) -> bool| {
        let mut tokens = tokens.iter();
        tokens.any(|token| matches!(token, Token::Figure(figure) if figure.unit.is_some_and(is)))
    };
    let told = |unit: Spelled| {
        matches!(unit, Spelled::Scale(scale) if scale.unit.family() == Family::Voltage
            && scale.unit != Unit::VoltDc
            && scale.unit.of_difference() != Unit::Decibel)
    };
    any(|unit| matches!(unit, Spelled::Volts(_))) && any(told)
}

/// Whether a piece states no figure and no limit.
fn is_prose(token: &Token) -> bool {
    match token {
        Token::Word => true,
        Token::Figure(_) | Token::Range(..) | Token::Lost => false,
        Token::Sense(sense) => !matches!(
            sense,
            AtLeast
                | AtMost
                | Better
                | OrMore
                | OrLess
                | Between
                | PlusMinus
                | Within
                | About
                | Count
        ),
    }
}

/// Why a text that is a single figure can't be taken.
fn lone_number(text: &str, tokens: &[Token], due: Due) -> Option<Why> {
    match tokens {
        [Token::Figure(Figure { unit: None, .. })] => read_number(text, due.sign)
            .err()
            .map(|error| Why::Figure(error.to_string())),
        _ => None,
    }
}

/// Whether a text has volts of a kind that nothing states, where that matters. Microvolts at an
/// aerial are EMF or PD, 6 dB apart, and elsewhere neither; a level may be rms or peak to peak. Any
/// other volts and millivolts are those of a voltmeter.
fn asks_volts(tokens: &[Token], due: Due) -> bool {
    let settled = due.hints.volts.is_some()
        || due.scale.is_some_and(|scale| {
            scale.unit.family() == Family::Voltage && scale.unit != Unit::VoltDc
        });
    let asks = |figure: &Figure| match figure.unit {
        Some(Spelled::Volts(prefix)) => {
            (prefix == Prefix::Micro || due.hints.alternates) && !settled
        }
        Some(_) => false,
        None => due.volts_unsaid,
    };
    tokens.iter().any(|token| match token {
        Token::Figure(figure) => asks(figure),
        Token::Range(low, high) => asks(low) || asks(high),
        _ => false,
    })
}
