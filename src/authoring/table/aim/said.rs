//! The pieces of a cell as what they state.

use crate::authoring::table::aim::Extreme;
use crate::authoring::table::aim::parts::{Bound, Said, Sides};
use crate::authoring::table::lex::{Figure, Spelled, Token, lex};
use crate::authoring::table::phrases::Sense::*;
use crate::authoring::table::phrases::{JOINTS, QUALITIES, Sense};
use crate::quantity::Unit;

/// The level in a text that says how little a receiver needs for how good a signal, either way
/// round: `12 dB SINAD at 0.5 µV`, `0.5 µV for 12 dB SINAD`. The level is what is read there, and
/// less of it is better, so that it is the largest that passes. A text that says at least or at
/// most anywhere says it itself.
pub(super) fn level_of_sensitivity(text: &str) -> Option<Figure<'_>> {
    let lower = text.to_lowercase();
    if lower.len() != text.len() {
        return None;
    }
    let (at, joint) = JOINTS
        .iter()
        .filter_map(|joint| Some((lower.find(joint)?, *joint)))
        .min()?;
    let (first, second) = (&text[..at], &text[at + joint.len()..]);
    let is_quality = |part: &str| {
        let part = part.to_lowercase();
        QUALITIES.iter().any(|quality| part.contains(quality))
            && part.starts_with(|c: char| c.is_ascii_digit())
            && part.contains("db")
    };
    let (quality, level) = match (is_quality(first), is_quality(second)) {
        (true, false) => (first, second),
        (false, true) => (second, first),
        _ => return None,
    };
    // A limit of the quality makes that what is read.
    let limits = [
        AtLeast, AtMost, Better, Min, Max, OrMore, OrLess, Between, To, PlusMinus, Within,
    ];
    let states = |token: &Token| matches!(token, Token::Sense(sense) if limits.contains(sense));
    if lex(quality).tokens.iter().any(states) {
        return None;
    }
    match lex(level).tokens.as_slice() {
        [Token::Figure(figure)] if figure.is_level() => Some(*figure),
        _ => None,
    }
}

/// What carries the meaning.
pub(super) fn meaning<'a>(tokens: &[Token<'a>]) -> Vec<Token<'a>> {
    let empty = [
        Token::Word,
        Token::Sense(Nothing),
        Token::Sense(Sense::Kind),
        Token::Sense(At),
    ];
    let mut tokens: Vec<Token> = tokens
        .iter()
        .copied()
        .filter(|t| !empty.contains(t))
        .collect();
    // What is usual, said before a limit or behind it, binds nobody.
    use Token::{Figure as F, Sense as S};
    if let [F(_), S(About), S(And), rest @ ..] | [S(About), F(_), S(And), rest @ ..] =
        tokens.as_slice()
        && rest.len() > 1
        && !rest.contains(&S(PlusMinus))
    {
        tokens = rest.to_vec();
    }
    let usual = tokens
        .iter()
        .position(|token| *token == Token::Sense(About));
    let limited = |tokens: &[Token]| {
        let limits = |t: &Token| matches!(t, Token::Sense(AtLeast | AtMost | Min | Max));
        tokens.iter().any(limits) && tokens.iter().any(|t| matches!(t, Token::Figure(_)))
    };
    if let Some(at) = usual
        && limited(&tokens[..at])
        && matches!(tokens[at + 1..], [Token::Figure(_)])
    {
        tokens.truncate(at);
    }
    if let [limit @ .., S(And), F(_), S(About)] = tokens.as_slice()
        && limited(limit)
    {
        tokens.truncate(tokens.len() - 3);
    }
    // Counted from a figure or not: "a sensitivity of less than 2 µV" is of nothing. The word for a
    // limit may stand between a share and what it is a share of.
    let of = |index: usize| match &tokens[..index] {
        [.., F(_)] => false,
        [.., F(share), S(Min | Max | OrMore | OrLess)] => !share.is_share(),
        _ => true,
    };
    let idle: Vec<bool> = (0..tokens.len())
        .map(|index| tokens[index] == Token::Sense(Of) && of(index))
        .collect();
    let mut idle = idle.into_iter();
    tokens.retain(|_| !idle.next().unwrap_or_default());
    // Beside a limit, about says only that nobody is strict.
    let limits = |t: &Token| {
        matches!(
            t,
            Token::Sense(
                AtLeast
                    | AtMost
                    | OrLess
                    | OrMore
                    | PlusMinus
                    | Between
                    | To
                    | Minus
                    | Plus
                    | Min
                    | Max
            )
        )
    };
    // So far to both sides, nominally, is how far something goes.
    let range = matches!(
        tokens.as_slice(),
        [S(PlusMinus), F(_), S(About)] | [S(About), S(PlusMinus), F(_)]
    );
    if tokens.iter().any(limits) && !range {
        tokens.retain(|token| *token != Token::Sense(About));
    }
    // A level is stated at the load that stands behind it, as in `0.63 V/8 Ω`.
    if let [F(level), S(And), F(load), ..] = tokens.as_slice()
        && (level.is_level() || level.is_power())
        && load.is_resistance()
    {
        tokens.drain(1..3);
    }
    // So many decibels down are counted downwards, however that is said.
    if let [S(Down), F(figure), ..] = tokens.as_slice()
        && figure.is_decibels()
        && !figure.is_negative()
    {
        tokens.remove(0);
    }
    let down = tokens.iter().position(|token| *token == Token::Sense(Down));
    if let Some(at) = down
        && at > 0
        && matches!(tokens[at - 1], Token::Figure(figure) if figure.is_decibels() && !figure.is_negative())
    {
        tokens.remove(at);
        // The level that they are counted from may stand behind.
        if matches!(&tokens[at..], [F(level)] if !level.is_decibels()) {
            tokens.truncate(at);
        }
    }
    tokens
}

/// What a cell states: one thing, or several that are joined and each a limit with its unit.
pub(super) fn understood<'a>(tokens: &[Token<'a>]) -> Option<Vec<Said<'a>>> {
    let mut tokens = meaning(tokens);
    while tokens.last() == Some(&Token::Sense(And)) {
        tokens.pop();
    }
    // A comma between words and a range only parts them.
    use Token::{Figure as F, Sense as S};
    if let [S(And), range @ ..] = tokens.as_slice()
        && matches!(range, [F(_), S(To | Minus), F(_)])
    {
        tokens = range.to_vec();
    }
    if let Some(said) = said(&tokens) {
        return Some(vec![said]);
    }
    let parts = tokens.split(|token| *token == Token::Sense(And));
    let parts: Vec<&[Token]> = parts.filter(|part| !part.is_empty()).collect();
    let parts: Option<Vec<Said>> = parts.into_iter().map(said).collect();
    let parts = parts.filter(|parts| parts.len() > 1)?;
    use Bound::{Around, AtLeast as Least, AtMost as Most, Between as Range};
    match parts
        .iter()
        .map(|said| said.bound)
        .collect::<Vec<_>>()
        .as_slice()
    {
        [Some(Least(low)), Some(Most(high))] | [Some(Most(high)), Some(Least(low))]
            if same_unit(low, high) && parts.iter().all(|said| said.extreme.is_none()) =>
        {
            Some(vec![Said {
                extreme: None,
                bound: Some(Range(*low, *high)),
            }])
        }
        bounds => {
            let own = |bound: &Option<Bound>| match bound {
                Some(Least(one) | Most(one) | Around(one, _) | Range(_, one)) => one.unit.is_some(),
                _ => false,
            };
            bounds.iter().all(own).then_some(parts)
        }
    }
}

fn same_unit(one: &Figure, other: &Figure) -> bool {
    let unit = |figure: &Figure| match figure.unit? {
        Spelled::Scale(scale) => Some(scale.unit),
        Spelled::Volts(_) => Some(Unit::VoltDc),
        Spelled::Prefix(_) => None,
    };
    match (unit(one), unit(other)) {
        (Some(one), Some(other)) => one == other,
        _ => true,
    }
}

pub(super) fn said<'a>(tokens: &[Token<'a>]) -> Option<Said<'a>> {
    use Token::Sense as S;
    let extreme = |sense: Sense| match sense {
        Max | Peak => Some(Extreme::Peak),
        Min | Dip => Some(Extreme::Dip),
        _ => None,
    };
    match tokens {
        [S(sense)] if extreme(*sense).is_some() => Some(Said {
            extreme: extreme(*sense),
            bound: None,
        }),
        [S(sense @ (Peak | Dip)), S(And), rest @ ..] | [S(sense @ (Peak | Dip)), rest @ ..] => {
            Some(Said {
                extreme: extreme(*sense),
                bound: Some(limit(rest)?),
            })
        }
        [S(sense @ (Max | Min)), S(And), rest @ ..]
            if matches!(rest, [S(AtLeast | AtMost), ..]) =>
        {
            Some(Said {
                extreme: extreme(*sense),
                bound: Some(limit(rest)?),
            })
        }
        tokens => Some(Said {
            extreme: None,
            bound: Some(limit(tokens)?),
        }),
    }
}

/// The ways to write a limit.
pub(super) fn limit<'a>(tokens: &[Token<'a>]) -> Option<Bound<'a>> {
    use Token::{Figure as F, Sense as S};
    Some(match tokens {
        [F(one)] | [S(About), F(one)] | [F(one), S(About)] => Bound::Figure(*one),
        [S(AtLeast | Min), F(low)] | [F(low), S(OrMore | Min)] => Bound::AtLeast(*low),
        [S(AtMost | Max), F(high)] | [F(high), S(OrLess | Max)] => Bound::AtMost(*high),
        // So far above and so far below is no range.
        [F(above), S(Minus), F(_)] if above.number.starts_with('+') => {
            Bound::Off(two_sides(tokens)?)
        }
        [F(low), S(To | Minus), F(high)]
        | [S(Between), F(low), S(To | And | Minus), F(high)]
        | [S(Within), F(low), S(To | And), F(high)]
        | [S(AtLeast | Min), F(low), S(AtMost | Max), F(high)]
        | [S(AtMost | Max), F(high), S(AtLeast | Min), F(low)]
        | [F(low), S(Min), F(high), S(Max)]
        | [F(high), S(Max), F(low), S(Min)]
        | [F(low), S(Min), S(And), F(high), S(Max)]
        | [F(high), S(Max), S(And), F(low), S(Min)]
        | [S(Min), F(low), S(And), S(Max), F(high)]
        | [S(Max), F(high), S(And), S(Min), F(low)] => Bound::Between(*low, *high),
        [F(nominal), Token::Range(low, high)] => Bound::Inside(*nominal, *low, *high),
        [S(Better), F(worst)] | [F(worst), S(Better)] => Bound::Better(*worst),
        [S(Within), F(most)] | [S(Within), F(most), S(Of)] if most.is_time() => {
            Bound::AtMost(*most)
        }
        [S(AtMost | Max), S(PlusMinus), F(both)]
        | [S(PlusMinus), F(both), S(Max | OrLess)]
        | [S(PlusMinus), S(AtMost | Max), F(both)] => Bound::Magnitude(*both),
        [F(low), F(high)] if low.is_negative() && high.is_negative() => Bound::Between(*low, *high),
        // A bare number behind so many of a unit is the number of a step or a paragraph.
        [S(Within), F(both), S(Of), F(nominal)]
        | [S(Within), S(PlusMinus), F(both), S(Of), F(nominal)]
        | [S(PlusMinus), F(both), S(Of), F(nominal)]
            if both.unit.is_some() && nominal.unit.is_none() && !both.is_share() =>
        {
            return None;
        }
        [F(nominal), S(PlusMinus | Within), F(both)]
        | [F(nominal), S(And), S(PlusMinus), F(both)]
        | [S(Within), F(nominal), S(PlusMinus), F(both)]
        | [S(PlusMinus), F(nominal), S(PlusMinus), F(both)]
        | [S(Within), F(both), S(Of), F(nominal)]
        | [S(Within), S(PlusMinus), F(both), S(Of), F(nominal)]
        | [S(PlusMinus), F(both), S(Of), F(nominal)]
        | [F(nominal), S(Within), S(PlusMinus), F(both)] => Bound::Around(
            *nominal,
            Sides {
                below: *both,
                above: *both,
            },
        ),
        [S(PlusMinus), F(both)] | [S(Within), S(PlusMinus), F(both)] => Bound::Spread(*both),
        tokens if is_off(tokens) => Bound::Off(two_sides(tokens)?),
        [F(nominal), rest @ ..] => Bound::Around(*nominal, two_sides(rest)?),
        _ => return None,
    })
}

/// Whether nothing is stated but how many decibels a level may be off to either side, as in
/// `+1 dB, -3 dB`; bare figures may be decibels by their heading.
fn is_off(tokens: &[Token]) -> bool {
    let ratio = |token: &Token| matches!(token, Token::Figure(figure) if figure.is_ratio());
    let figures = tokens
        .iter()
        .filter(|token| matches!(token, Token::Figure(_)));
    let bare = |token: &Token| !matches!(token, Token::Figure(figure) if figure.unit.is_some());
    let signed = |token: &Token| match token {
        Token::Figure(figure) => figure.number.starts_with(['+', '-']),
        token => matches!(token, Token::Sense(Plus | Minus)),
    };
    figures.clone().count() == 2
        && (tokens.iter().any(ratio) || tokens.iter().all(bare))
        && tokens.first().is_some_and(signed)
}

/// A tolerance that differs: `+2/-10 mA`, `-0.2 +0.5 V`, `plus 1 minus 1.5`.
pub(super) fn two_sides<'a>(tokens: &[Token<'a>]) -> Option<Sides<'a>> {
    use Token::{Figure as F, Sense as S};
    let (above, below) = match tokens {
        [S(Plus), F(above), S(Minus), F(below)]
        | [S(Plus), F(above), S(And), S(Minus), F(below)]
        | [S(Minus), F(below), S(Plus), F(above)]
        | [S(Minus), F(below), S(And), S(Plus), F(above)] => (above, below),
        [S(Plus), F(above), S(And), F(below)] if below.is_negative() => (above, below),
        [S(Minus), F(below), S(And), F(above)] if above.number.starts_with('+') => (above, below),
        [F(above), S(Minus), F(below)] | [F(above), S(And), S(Minus), F(below)]
            if above.number.starts_with('+') =>
        {
            (above, below)
        }
        [F(below), S(Plus), F(above)] if below.is_negative() => (above, below),
        // As in `455 kHz, -20/+20 Hz`.
        [S(And), F(below), S(And), F(above)]
            if below.is_negative() && above.number.starts_with('+') =>
        {
            (above, below)
        }
        [F(one), S(And), F(other)] if one.is_negative() != other.is_negative() => {
            match one.is_negative() {
                true => (other, one),
                false => (one, other),
            }
        }
        _ => return None,
    };
    Some(Sides {
        below: unsigned(below),
        above: unsigned(above),
    })
}

fn unsigned<'a>(figure: &Figure<'a>) -> Figure<'a> {
    Figure {
        number: figure.number.trim_start_matches(['+', '-', ' ']),
        ..*figure
    }
}
