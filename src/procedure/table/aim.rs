//! What a target and its tolerance say, in the spellings that tables use.

use super::hints::Hints;
use super::lex::{Figure, Lexed, Spelled, Token, infix, lex, plain};
use super::phrases::Sense::{self, *};
use super::phrases::{JOINTS, QUALITIES};
use super::why::Why;
use crate::metrology::{Margin, Tolerance};
use crate::quantity::{DecimalSign, Family, Number, Prefix, Quantity, Scale, Unit, read_number};
use bigdecimal::BigDecimal;
use num_traits::Zero;

/// What a step aims at, as far as it was understood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Aim {
    /// A largest or smallest reading.
    pub extreme: Option<Extreme>,
    /// Where the reading must lie.
    pub tolerance: Option<Tolerance>,
    /// The figure stated, where no tolerance is.
    pub nominal: Option<Quantity>,
    /// What was not understood, and in which of the two cells.
    pub unclear: Option<(Cell, Why)>,
    /// Whether the cell says more than the limits do.
    pub more: bool,
    /// Whether it has words and no figure at all.
    pub words: bool,
    /// Whether nothing says of which kind its volts are, though that matters.
    pub volts_unsaid: bool,
    /// Whether it says that its figure binds nobody.
    pub usual: bool,
}

/// The cell of the target or that of its tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cell {
    Target,
    Tolerance,
}

/// The largest or the smallest reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Extreme {
    Peak,
    Dip,
}

/// On which side of a bare figure the limit is that its heading states.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// It is the smallest that passes.
    Lower,
    /// It is the largest that passes.
    Upper,
    /// It is how far a reading may be off to either side.
    Both,
}

/// What is stated beside a target: the unit of bare figures, and whether they are limits.
#[derive(Clone, Copy, Debug)]
pub(super) struct Due {
    pub scale: Option<Scale>,
    pub side: Option<Side>,
    pub sign: DecimalSign,
    /// What the words around say of what is read.
    pub hints: Hints,
    /// Whether the volts in `scale` are of a kind that nothing states.
    pub volts_unsaid: bool,
}

impl Due {
    fn is_in_decibels(&self) -> bool {
        let unit = self.scale.map(|scale| scale.unit);
        unit.is_some_and(|unit| unit.of_difference() == Unit::Decibel)
    }

    /// A text that stands by itself.
    pub fn alone(scale: Option<Scale>, sign: DecimalSign) -> Due {
        Due {
            scale,
            side: None,
            sign,
            hints: Hints::default(),
            volts_unsaid: false,
        }
    }
}

/// How a limit is written, its figures still as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Bound<'a> {
    AtLeast(Figure<'a>),
    AtMost(Figure<'a>),
    Between(Figure<'a>, Figure<'a>),
    Around(Figure<'a>, Sides<'a>),
    /// So far to both sides of nothing that is named.
    Spread(Figure<'a>),
    /// So far to both sides and no farther.
    Magnitude(Figure<'a>),
    /// So far to either side of nothing that is named.
    Off(Sides<'a>),
    /// The worst that passes.
    Better(Figure<'a>),
    /// A figure with the range that it may be in.
    Inside(Figure<'a>, Figure<'a>, Figure<'a>),
    Figure(Figure<'a>),
}

/// The tolerance to either side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Sides<'a> {
    below: Figure<'a>,
    above: Figure<'a>,
}

/// What one part of a cell states.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Said<'a> {
    extreme: Option<Extreme>,
    bound: Option<Bound<'a>>,
}

impl Aim {
    /// Whether its limit is on the side on which the better readings are, as the words have it: a
    /// sensitivity of so much at least, a noise of so little at least.
    pub fn is_turned_round(&self, hints: Hints) -> bool {
        let decibels = |one: &Quantity| one.unit().of_difference() == Unit::Decibel;
        match &self.tolerance {
            Some(Tolerance::AtLeast(least)) => {
                let level = decibels(least) && least.number.is_negative();
                let falls = hints.falls || hints.rejects || hints.better == Some(Side::Lower);
                // So many decibels are how good the signal is, and no level.
                let quality = match least.unit() {
                    Unit::Decibel => !least.number.is_negative(),
                    unit => matches!(unit, Unit::Watt | Unit::Percent),
                };
                (hints.less_is_better && !quality) || (falls && level)
            }
            Some(Tolerance::AtMost(most)) => {
                let counted = matches!(most.unit(), Unit::Decibel | Unit::DecibelCarrier);
                hints.rejects && counted && !most.number.is_negative()
            }
            _ => false,
        }
    }

    /// The unit and prefix in which the reading is taken.
    pub fn scale(&self) -> Option<Scale> {
        let figure = match &self.tolerance {
            None => self.nominal.as_ref(),
            Some(Tolerance::Around { nominal, .. }) => Some(nominal),
            Some(Tolerance::AtLeast(one) | Tolerance::AtMost(one)) => Some(one),
            Some(Tolerance::Between { high, .. }) => Some(high),
        };
        figure.map(|quantity| quantity.scale)
    }

    fn unclear(cell: Cell, why: Why) -> Aim {
        Aim {
            unclear: Some((cell, why)),
            ..Aim::default()
        }
    }

    fn of(tolerance: Tolerance, cell: Cell) -> Aim {
        match tolerance.fault(tolerance.unit()) {
            None => Aim {
                tolerance: Some(tolerance),
                ..Aim::default()
            },
            Some(fault) => Aim::unclear(cell, Why::Limits(fault)),
        }
    }
}

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
    let Lexed { tokens, more } = lex(&target);
    let words = tokens.iter().all(is_prose);
    let volts_unsaid = asks_volts(&tokens, due);
    let Some(said) = understood(&tokens)
        .filter(|said| said.len() < 2 || !names_cases(&target))
        .filter(|_| !is_range_of_words(&tokens) && !are_volts_of_two_kinds(&tokens))
    else {
        let why = match lone_number(&target, &tokens, due) {
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

/// What a column of tolerances states alone; a figure there is no target.
fn of_tolerance_alone(tolerance: &str, due: Due) -> Aim {
    let tokens = lex(tolerance).tokens;
    let said = understood(&tokens);
    let bound = said.as_deref().and_then(|said| match said {
        [
            Said {
                extreme: None,
                bound,
            },
        ] => *bound,
        _ => None,
    });
    let why = match bound {
        Some(
            bound @ (Bound::AtLeast(_) | Bound::AtMost(_) | Bound::Between(..) | Bound::Around(..)),
        ) => {
            let mut aim = resolved(bound, due);
            if let Some((cell, _)) = &mut aim.unclear {
                *cell = Cell::Tolerance;
            }
            return aim;
        }
        Some(Bound::Spread(_) | Bound::Figure(_)) => Why::NoNominal,
        _ => Why::Tolerance,
    };
    Aim::unclear(Cell::Tolerance, why)
}

fn with_tolerance(bound: Bound, tolerance: &str, due: Due) -> Aim {
    if tolerance.is_empty() {
        return resolved(bound, due);
    }
    // What swings to both sides is stated with a sign, and has its tolerance besides.
    let (Bound::Figure(nominal) | Bound::Spread(nominal)) = bound else {
        return two_limits(bound, due);
    };
    if matches!(bound, Bound::Spread(_)) && !due.hints.swings {
        return two_limits(bound, due);
    }
    let tokens = meaning(&lex(tolerance).tokens);
    use Token::{Figure as F, Sense as S};
    let bound = match tokens.as_slice() {
        [S(Min | OrMore)] => Bound::AtLeast(nominal),
        [S(Max | OrLess)] => Bound::AtMost(nominal),
        [S(About)] => Bound::Figure(nominal),
        [F(both)] | [S(PlusMinus), F(both)] => Bound::Around(
            nominal,
            Sides {
                below: *both,
                above: *both,
            },
        ),
        tokens => match two_sides(tokens)
            .map(|sides| Bound::Around(nominal, sides))
            .or_else(|| limits_beside(tokens, nominal))
        {
            Some(bound) => bound,
            None => return without_its_tolerance(nominal, due),
        },
    };
    let bare = Due { side: None, ..due };
    let aim = resolved(bound, bare);
    match holds(&aim, nominal, due) {
        true => aim,
        false => without_its_tolerance(nominal, due),
    }
}

/// A figure beside a tolerance that isn't understood.
fn without_its_tolerance(nominal: Figure, due: Due) -> Aim {
    let aim = resolved(Bound::Figure(nominal), due);
    let unclear = aim
        .unclear
        .clone()
        .or(Some((Cell::Tolerance, Why::Tolerance)));
    Aim { unclear, ..aim }
}

/// Whether a limit in a column of tolerances holds the figure that it stands beside. One that
/// doesn't, or that stands beside nought, may be how far the figure is off.
fn holds(aim: &Aim, nominal: Figure, due: Due) -> bool {
    let (least, limit) = match &aim.tolerance {
        Some(Tolerance::AtLeast(limit)) => (true, limit),
        Some(Tolerance::AtMost(limit)) => (false, limit),
        _ => return true,
    };
    let bare = Due { side: None, ..due };
    match quantity(&nominal, None, bare) {
        Ok(nominal) if nominal.unit() == limit.unit() => match least {
            true => nominal.base() >= limit.base(),
            false => nominal.base() <= limit.base() && !nominal.base().is_zero(),
        },
        _ => true,
    }
}

/// Limits beside a tolerance that is one too many.
fn two_limits(bound: Bound, due: Due) -> Aim {
    let aim = resolved(bound, due);
    let unclear = aim
        .unclear
        .clone()
        .or(Some((Cell::Tolerance, Why::TwoLimits)));
    Aim { unclear, ..aim }
}

/// The limits of a figure that a column of tolerances states as readings.
fn limits_beside<'a>(tokens: &[Token<'a>], nominal: Figure<'a>) -> Option<Bound<'a>> {
    let own = |figure: &Figure| figure.unit.is_some() || nominal.unit.is_none();
    match limit(tokens)? {
        Bound::Between(low, high) => Some(Bound::Inside(nominal, low, high)),
        bound @ (Bound::AtLeast(one) | Bound::AtMost(one)) if own(&one) => Some(bound),
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

/// The level in a text that says how little a receiver needs for how good a signal, either way
/// round: `12 dB SINAD at 0.5 µV`, `0.5 µV for 12 dB SINAD`. The level is what is read there, and
/// less of it is better, so that it is the largest that passes. A text that says at least or at
/// most anywhere says it itself.
fn level_of_sensitivity(text: &str) -> Option<Figure<'_>> {
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
fn meaning<'a>(tokens: &[Token<'a>]) -> Vec<Token<'a>> {
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
    // Counted from a figure or not: "a sensitivity of less than 2 µV" is of nothing.
    let of = |index: usize| index == 0 || !matches!(tokens[index - 1], Token::Figure(_));
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
    if tokens.iter().any(limits) {
        tokens.retain(|token| *token != Token::Sense(About));
    }
    // So many decibels down are counted downwards.
    let down = tokens.iter().position(|token| *token == Token::Sense(Down));
    if let Some(at) = down
        && at > 0
        && matches!(tokens[at - 1], Token::Figure(figure) if figure.is_decibels() && !figure.is_negative())
    {
        tokens.remove(at);
    }
    tokens
}

/// What a cell states: one thing, or several that are joined and each a limit with its unit.
fn understood<'a>(tokens: &[Token<'a>]) -> Option<Vec<Said<'a>>> {
    let mut tokens = meaning(tokens);
    while tokens.last() == Some(&Token::Sense(And)) {
        tokens.pop();
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

fn said<'a>(tokens: &[Token<'a>]) -> Option<Said<'a>> {
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
fn limit<'a>(tokens: &[Token<'a>]) -> Option<Bound<'a>> {
    use Token::{Figure as F, Sense as S};
    Some(match tokens {
        [F(one)] | [S(About), F(one)] | [F(one), S(About)] => Bound::Figure(*one),
        [S(AtLeast | Min), F(low)] | [F(low), S(OrMore | Min)] => Bound::AtLeast(*low),
        [S(AtMost | Max), F(high)] | [F(high), S(OrLess | Max)] => Bound::AtMost(*high),
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
        [S(Within), F(most)] if most.is_time() => Bound::AtMost(*most),
        [S(AtMost | Max), S(PlusMinus), F(both)]
        | [S(PlusMinus), F(both), S(Max | OrLess)]
        | [S(PlusMinus), S(AtMost | Max), F(both)] => Bound::Magnitude(*both),
        [F(low), F(high)] if low.is_negative() && high.is_negative() => Bound::Between(*low, *high),
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
/// `+1 dB, -3 dB`.
fn is_off(tokens: &[Token]) -> bool {
    let ratio = |token: &Token| matches!(token, Token::Figure(figure) if figure.is_ratio());
    let figures = tokens
        .iter()
        .filter(|token| matches!(token, Token::Figure(_)));
    let signed = |token: &Token| match token {
        Token::Figure(figure) => figure.number.starts_with(['+', '-']),
        token => matches!(token, Token::Sense(Plus | Minus)),
    };
    figures.count() == 2 && tokens.iter().any(ratio) && tokens.first().is_some_and(signed)
}

/// A tolerance that differs: `+2/-10 mA`, `-0.2 +0.5 V`, `plus 1 minus 1.5`.
fn two_sides<'a>(tokens: &[Token<'a>]) -> Option<Sides<'a>> {
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

/// The limits with their units.
fn resolved(bound: Bound, due: Due) -> Aim {
    use Tolerance::{AtLeast, AtMost};
    let one = |figure, make: fn(Quantity) -> Tolerance| match quantity(&figure, None, due) {
        Ok(quantity) => Aim::of(make(quantity), Cell::Target),
        Err(why) => Aim::unclear(Cell::Target, why),
    };
    match (bound, due.side) {
        (Bound::AtLeast(low), _) | (Bound::Figure(low), Some(Side::Lower)) => one(low, AtLeast),
        (Bound::AtMost(high), _) | (Bound::Figure(high), Some(Side::Upper)) => one(high, AtMost),
        (Bound::Between(low, high), _) => between(low, high, due),
        (Bound::Around(nominal, sides), _) => around(nominal, sides, due),
        (Bound::Off(sides), _) => off(sides, due),
        (Bound::Inside(nominal, low, high), _) => inside(nominal, low, high, due),
        (Bound::Magnitude(both), _)
        | (Bound::Spread(both), Some(Side::Upper | Side::Both))
        | (Bound::Figure(both), Some(Side::Both)) => magnitude(both, due),
        (Bound::Spread(both), _) if due.hints.offset && !due.hints.swings => magnitude(both, due),
        (Bound::Spread(both), _) => spread(both, due),
        (Bound::Better(worst), _) => match better_side(worst, due) {
            Some(Side::Lower) => one(worst, AtLeast),
            Some(_) => one(worst, AtMost),
            None => Aim::unclear(Cell::Target, Why::Better),
        },
        (Bound::Figure(figure), None) => match quantity(&figure, None, due) {
            // So many parts per million are how far it may be off.
            Ok(off) if off.unit() == Unit::PartsPerMillion && due.hints.off => {
                magnitude(figure, due)
            }
            Ok(nominal) => Aim {
                nominal: Some(nominal),
                ..Aim::default()
            },
            Err(why) => Aim::unclear(Cell::Target, why),
        },
    }
}

/// On which side the better readings are not. A noise of 40 dB may be so far down, and then more of
/// it is better; levels below zero say it by their sign.
fn better_side(worst: Figure, due: Due) -> Option<Side> {
    let decibels = worst.is_decibels() || (worst.unit.is_none() && due.is_in_decibels());
    match (decibels, worst.is_negative(), due.hints.better) {
        (true, true, Some(Side::Lower)) => None,
        (true, false, Some(Side::Upper)) => None,
        // So many decibels below something are the better the more they are.
        (true, true, None) if worst.is_ratio() => Some(Side::Upper),
        (_, _, side) => side,
    }
}

/// The range in which a figure may be, if it is in there itself.
fn inside(nominal: Figure, mut low: Figure, mut high: Figure, due: Due) -> Aim {
    let unit = low.unit.or(high.unit).or(nominal.unit);
    low.unit = low.unit.or(unit);
    high.unit = high.unit.or(unit);
    let aim = between(low, high, due);
    let Some(Tolerance::Between { low, high }) = &aim.tolerance else {
        return aim;
    };
    let is_inside = quantity(&nominal, unit, due).is_ok_and(|nominal| {
        nominal.unit() == high.unit() && (low.base()..=high.base()).contains(&nominal.base())
    });
    // A range with another prefix tells where it is read, and not what may be read.
    let elsewhere = nominal.unit.is_some() && nominal.unit != unit;
    match quantity(&nominal, None, due) {
        _ if is_inside => aim,
        Ok(nominal) if elsewhere && nominal.unit() == high.unit() => Aim {
            nominal: Some(nominal),
            more: true,
            ..Aim::default()
        },
        _ => Aim::unclear(Cell::Target, Why::NominalOutside),
    }
}

/// So far to either side at most. A deviation is read as how far it goes.
fn magnitude(both: Figure, due: Due) -> Aim {
    match quantity(&both, None, due) {
        Ok(most) if due.hints.swings && most.unit() == Unit::Hertz => {
            Aim::of(Tolerance::AtMost(most), Cell::Target)
        }
        Ok(high) => {
            let low = Quantity::new(Number::from_decimal(-high.number.decimal()), high.scale);
            ordered(low, high)
        }
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

/// So far below and so far above nought.
fn off(sides: Sides, due: Due) -> Aim {
    let ends = quantity(&sides.below, sides.above.unit, due)
        .and_then(|below| Ok((below, quantity(&sides.above, sides.below.unit, due)?)));
    match ends {
        Ok((below, high)) => {
            let low = Quantity::new(Number::from_decimal(-below.number.decimal()), below.scale);
            Aim::of(Tolerance::Between { low, high }, Cell::Target)
        }
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

fn between(low: Figure, high: Figure, due: Due) -> Aim {
    let ends =
        quantity(&low, high.unit, due).and_then(|one| Ok((one, quantity(&high, low.unit, due)?)));
    match ends {
        // From nought or above down to below it there is one range only.
        Ok((low, high)) if !low.number.is_negative() && high.number.is_negative() => {
            ordered(high, low)
        }
        Ok((low, high)) => ordered(low, high),
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

/// A range of negative figures is often printed with the smaller figure first.
pub(super) fn ordered(low: Quantity, high: Quantity) -> Aim {
    let negative = low.number.is_negative() && high.number.is_negative();
    let (low, high) = match negative && low.base() > high.base() {
        true => (high, low),
        false => (low, high),
    };
    Aim::of(Tolerance::Between { low, high }, Cell::Target)
}

/// So far to both sides of what should be: read as what it is off, where that is a unit for it.
fn spread(both: Figure, due: Due) -> Aim {
    match quantity(&both, None, due) {
        Ok(both) if due.hints.swings && both.unit() == Unit::Hertz => {
            Aim::unclear(Cell::Target, Why::Swing)
        }
        Ok(high)
            if matches!(
                high.unit(),
                Unit::Hertz | Unit::Decibel | Unit::PartsPerMillion
            ) =>
        {
            let low = Quantity::new(Number::from_decimal(-high.number.decimal()), high.scale);
            ordered(low, high)
        }
        Ok(_) => Aim::unclear(Cell::Target, Why::NoTarget),
        Err(why) => Aim::unclear(Cell::Target, why),
    }
}

fn around(nominal: Figure, sides: Sides, due: Due) -> Aim {
    // A bare figure takes the unit of what stands beside it, but no share of itself.
    let is_share = |unit: Spelled| matches!(unit, Spelled::Scale(scale) if matches!(scale.unit, Unit::Percent | Unit::PartsPerMillion));
    let beside = sides
        .above
        .unit
        .or(sides.below.unit)
        .filter(|unit| !is_share(*unit));
    let nominal = match quantity(&nominal, beside.filter(|_| due.scale.is_none()), due) {
        Ok(nominal) => nominal,
        Err(why) => return Aim::unclear(Cell::Target, why),
    };
    let side = |one: Figure, other: Figure| margin(&one, other.unit, &nominal, due);
    let both =
        side(sides.below, sides.above).and_then(|b| Ok((b, side(sides.above, sides.below)?)));
    match both {
        Ok((below, above)) => Aim::of(
            Tolerance::Around {
                nominal,
                below,
                above,
            },
            Cell::Tolerance,
        ),
        Err(why) => Aim {
            nominal: Some(nominal),
            ..Aim::unclear(Cell::Tolerance, why)
        },
    }
}

/// A figure with its unit: its own, else that of the figure beside it, else the one due.
fn quantity(figure: &Figure, beside: Option<Spelled>, due: Due) -> Result<Quantity, Why> {
    let number = read_digits(figure.number, due.sign)?;
    let scale = figure
        .unit
        .or(beside)
        .map_or(due.scale, |unit| scale_in(unit, due));
    match scale {
        Some(scale) => Ok(Quantity::new(number, scale)),
        None if figure.unit.is_some() => Err(Why::NoTarget),
        None => Err(Why::NoUnit(figure.number.to_owned())),
    }
}

fn read_digits(text: &str, sign: DecimalSign) -> Result<Number, Why> {
    let mut text = text.replace(' ', "");
    if let Some(prefix) = infix(&text) {
        text = text.replace(prefix, ".");
        return read_number(&text, DecimalSign::Point)
            .map_err(|error| Why::Figure(error.to_string()));
    }
    if let Some((over, below)) = text.split_once('/') {
        let parts = over.parse::<u32>().ok().zip(below.parse::<u32>().ok());
        let (over, below) = parts.ok_or(Why::NoTarget)?;
        let sixteenths = 10_000 * over * (16 / below) / 16;
        let fraction = format!("{sixteenths:04}");
        let text = format!("0.{}", fraction.trim_end_matches('0'));
        return read_number(&text, DecimalSign::Point)
            .map_err(|error| Why::Figure(error.to_string()));
    }
    if sign == DecimalSign::Point && is_grouped_by_commas(&text) {
        text = text.replace(',', "");
    }
    read_number(&text, sign).map_err(|error| Why::Figure(error.to_string()))
}

/// Whether commas stand between groups of three, as in `60,000`.
fn is_grouped_by_commas(text: &str) -> bool {
    let whole = text
        .trim_start_matches(['+', '-'])
        .split('.')
        .next()
        .unwrap_or("");
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or("");
    (1..=3).contains(&first.len()) && first != "0" && groups.all(|group| group.len() == 3)
}

/// A printed unit as one that readings have, where the words around may tell of volts and of what
/// a lone prefix belongs to. Nobody means kilovolts by a lone k.
fn scale_in(unit: Spelled, due: Due) -> Option<Scale> {
    let volts = due
        .scale
        .filter(|scale| scale.unit.family() == Family::Voltage);
    match unit {
        Spelled::Volts(prefix) if volts.is_none_or(|scale| scale.unit == Unit::VoltDc) => {
            match due.hints.volts {
                Some(kind) => Some(Scale::new(prefix, kind)),
                None if prefix == Prefix::Micro || due.hints.alternates => {
                    Some(Scale::new(prefix, Unit::VoltRms))
                }
                None => scale_of(unit, due.scale),
            }
        }
        Spelled::Prefix(prefix) => {
            let due_unit = due
                .scale
                .filter(|_| volts.is_none())
                .map(|scale| scale.unit);
            let unit = due.hints.unit.or(due_unit)?;
            let scale = Scale::new(prefix, unit);
            unit.prefixes().contains(&prefix).then_some(scale)
        }
        unit => scale_of(unit, due.scale),
    }
}

/// A printed unit as one that readings have. Volts are of the kind that is due; where none is,
/// microvolts are no direct voltage.
pub(super) fn scale_of(unit: Spelled, due: Option<Scale>) -> Option<Scale> {
    let due_unit = due.map(|scale| scale.unit);
    let scale = match unit {
        Spelled::Scale(scale) => match due_unit {
            Some(unit) if unit.is_kind_of() == Some(scale.unit) => Scale::new(scale.prefix, unit),
            _ => scale,
        },
        Spelled::Prefix(prefix) => Scale::new(prefix, due_unit?),
        Spelled::Volts(prefix) => match due_unit.filter(|unit| unit.family() == Family::Voltage) {
            Some(unit) => Scale::new(prefix, unit),
            None if prefix == Prefix::Micro => Scale::new(prefix, Unit::VoltRms),
            None => Scale::new(prefix, Unit::VoltDc),
        },
    };
    scale
        .unit
        .prefixes()
        .contains(&scale.prefix)
        .then_some(scale)
}

/// The tolerance to one side. A bare one counts in the target's own unit and prefix where that
/// can be meant.
fn margin(
    figure: &Figure,
    beside: Option<Spelled>,
    nominal: &Quantity,
    due: Due,
) -> Result<Margin, Why> {
    let number = read_digits(figure.number, due.sign)?;
    let unit = nominal.unit();
    let difference = unit.of_difference();
    let Some(spelled) = figure.unit.or(beside) else {
        return bare_margin(number, nominal, due);
    };
    let scale = scale_of(spelled, Some(nominal.scale)).ok_or(Why::Tolerance)?;
    Ok(match scale.unit {
        Unit::Percent if unit != Unit::Percent => Margin::Percent(number),
        Unit::PartsPerMillion if unit != Unit::PartsPerMillion => Margin::Ppm(number),
        // Levels differ by decibels, whatever is printed behind them.
        of if of == unit && difference == Unit::Decibel => {
            Margin::Absolute(Quantity::new(number, Scale::plain(difference)))
        }
        _ => Margin::Absolute(Quantity::new(number, scale)),
    })
}

fn bare_margin(number: Number, nominal: &Quantity, due: Due) -> Result<Margin, Why> {
    let difference = nominal.unit().of_difference();
    if difference.prefixes().len() == 1 {
        return Ok(Margin::Absolute(Quantity::new(
            number,
            Scale::plain(difference),
        )));
    }
    let text = number.typeset(due.sign);
    let margin = Quantity::new(number, nominal.scale);
    // Common practice, no source: no bench states a frequency to less than one in a hundred.
    let (share, times) = match nominal.unit() {
        Unit::Hertz if !due.hints.swings => ("a hundredth", 100),
        _ => ("half", 2),
    };
    let least = margin.base().abs() * BigDecimal::from(times);
    match nominal.base().is_zero() || least <= nominal.base().abs() {
        true => Ok(Margin::Absolute(margin)),
        false => Err(Why::BareTolerance(format!(
            "{text} without a unit would be {}, more than {share} of the target: write the unit, such as {text} {}",
            margin.typeset(due.sign),
            Scale::plain(nominal.unit()).symbol(),
        ))),
    }
}
