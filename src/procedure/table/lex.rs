//! The text of a limit as figures and what is said of them.

use super::phrases::{
    self, BELOW, BINDING, CASES, COVERS, MEASURES, PLACING, QUANTITY_NOUNS, SENSES, STATES, Sense,
    TURNED_UNITS, UNITS, VOLTS,
};
use crate::quantity::{Family, Prefix, Scale, Unit};

/// The longest text that can state a limit, in bytes; anything longer is prose.
const LONGEST: usize = 200;

/// A figure as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Figure<'a> {
    pub number: &'a str,
    pub unit: Option<Spelled>,
}

/// A unit as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spelled {
    Scale(Scale),
    /// Volts of a kind that isn't said.
    Volts(Prefix),
    /// A prefix alone, as in `100K`.
    Prefix(Prefix),
}

/// A piece of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Token<'a> {
    Figure(Figure<'a>),
    Sense(Sense),
    /// A range in brackets behind a figure, which says where that may lie.
    Range(Figure<'a>, Figure<'a>),
    /// A word that names what is read.
    Word,
    /// Something that may mean anything.
    Lost,
}

/// A text taken apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Lexed<'a> {
    /// What states the limit.
    pub tokens: Vec<Token<'a>>,
    /// Whether the text says more than that, such as where it is read.
    pub more: bool,
}

impl Figure<'_> {
    pub fn is_negative(&self) -> bool {
        self.number.starts_with('-')
    }

    /// Whether it can be the level of a signal.
    pub fn is_level(&self) -> bool {
        match self.unit {
            Some(Spelled::Volts(_)) => true,
            Some(Spelled::Scale(scale)) => {
                scale.unit.family() == Family::Voltage
                    || (scale.unit.of_difference() == Unit::Decibel && scale.unit != Unit::Decibel)
            }
            _ => false,
        }
    }

    pub fn is_share(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Percent)
    }

    pub fn is_time(&self) -> bool {
        matches!(self.unit, Some(Spelled::Scale(scale)) if scale.unit == Unit::Second)
    }

    /// Whether it compares two levels.
    pub fn is_ratio(&self) -> bool {
        let ratio = |unit| matches!(unit, Unit::Decibel | Unit::DecibelCarrier);
        matches!(self.unit, Some(Spelled::Scale(scale)) if ratio(scale.unit))
    }

    pub fn is_decibels(&self) -> bool {
        let level = |scale: Scale| scale.unit.of_difference() == Unit::Decibel;
        matches!(self.unit, Some(Spelled::Scale(scale)) if level(scale))
    }
}

/// One kind of space, of minus and of micro; brackets and lines stay.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\u{2212}' | '–' => plain.push('-'),
            '\u{3bc}' => plain.push('µ'),
            '\u{2126}' => plain.push('Ω'),
            '\u{2103}' => plain.push_str("°C"),
            '\n' | '\r' => plain.push('\n'),
            c if c.is_whitespace() => plain.push(' '),
            c => plain.push(c),
        }
    }
    // A long dash is often typed as two short ones.
    plain.replace("--", "-")
}

/// Takes a text apart that [`plain`] has made.
pub(super) fn lex(text: &str) -> Lexed<'_> {
    let mut lexer = Lexer {
        text,
        rest: text,
        seen: Lexed::default(),
        spaced: true,
        on_meter: false,
    };
    match text.len() > LONGEST {
        true => lexer.push(Token::Lost),
        false => while lexer.step() {},
    }
    // Beside other words it may be a switch.
    if lexer.seen.more && lexer.on_meter {
        lexer.push(Token::Lost);
    }
    lexer.seen
}

struct Lexer<'a> {
    text: &'a str,
    rest: &'a str,
    seen: Lexed<'a>,
    /// Whether a space stands before the rest.
    spaced: bool,
    /// Whether a figure is one of an S meter's, such as `S9`.
    on_meter: bool,
}

impl<'a> Lexer<'a> {
    fn push(&mut self, token: Token<'a>) {
        self.seen.tokens.push(token);
    }

    fn last_figure(&self) -> Option<Figure<'a>> {
        match self.seen.tokens.last() {
            Some(Token::Figure(figure)) => Some(*figure),
            _ => None,
        }
    }

    fn is_in_decibels(&self) -> bool {
        self.last_figure()
            .is_some_and(|figure| figure.is_decibels())
    }

    /// The figure that stands before, or before what it is a figure of.
    fn figure_of_kind(&self) -> Option<Figure<'a>> {
        let mut behind = self.seen.tokens.iter().rev();
        let last = behind.find(|token| **token != Token::Sense(Sense::Kind));
        match last {
            Some(Token::Figure(figure)) => Some(*figure),
            _ => None,
        }
    }

    /// Whether what stands before is a limit, all of it.
    fn has_stated(&self) -> bool {
        use Sense::{About, Better, Down, Max, Min, OrLess, OrMore};
        let ends = [About, Better, Down, Max, Min, OrLess, OrMore, Sense::Kind];
        let mut behind = self.seen.tokens.iter().rev();
        let last =
            behind.find(|token| !matches!(token, Token::Sense(sense) if ends.contains(sense)));
        matches!(last, Some(Token::Figure(_) | Token::Range(..)))
    }

    /// Whether a word or a sign says on which side of a figure the limit is.
    fn has_bound(&self) -> bool {
        use Sense::{AtLeast, AtMost, Max, Min, OrLess, OrMore, PlusMinus};
        let bounds = [AtLeast, AtMost, Max, Min, OrLess, OrMore, PlusMinus];
        let mut tokens = self.seen.tokens.iter();
        tokens.any(|token| matches!(token, Token::Sense(sense) if bounds.contains(sense)))
    }

    /// Takes one piece off; none at the end.
    fn step(&mut self) -> bool {
        let rest = self.rest.trim_start_matches(' ');
        self.spaced = rest.len() < self.rest.len() || self.seen.tokens.is_empty();
        self.rest = rest;
        let Some(first) = rest.chars().next() else {
            return false;
        };
        match first {
            '(' | '[' => self.bracket(),
            ',' | ';' | '—' if self.adds_words(first) => {
                self.seen.more = true;
                self.rest = "";
            }
            _ if self.figure() || self.sense() => {}
            '.' | ':' | ')' | ']' | '\'' | '?' | '!' => self.rest = &rest[1..],
            c if c.is_alphanumeric() => self.word(),
            c => {
                self.rest = &rest[c.len_utf8()..];
                self.push(Token::Lost);
            }
        }
        true
    }

    /// Whether a limit was stated and nothing follows but what must not be, or what goes beside it
    /// behind a dash, in a few words.
    fn adds_words(&mut self, joint: char) -> bool {
        let behind = self.rest[joint.len_utf8()..].trim_start();
        let absent = begins(behind, &["no", "without"]);
        let words = behind.split_whitespace().count() <= 4;
        (absent || (joint == '—' && is_aside(behind)))
            && words
            && self.has_stated()
            && !behind.contains(|c: char| c.is_ascii_digit())
    }

    /// A bracket behind a figure may state its limits. Else it says the same again or says more;
    /// one that says less loses the whole.
    fn bracket(&mut self) {
        let inner = &self.rest[1..];
        let (inner, rest) = inner.split_once([')', ']']).unwrap_or((inner, ""));
        let mut within = lex(inner);
        within
            .tokens
            .retain(|token| *token != Token::Sense(Sense::Nothing));
        use Sense::{About, Max, Min, OrLess, OrMore};
        let asks = begins(inner, MEASURES) || begins(inner, &["set", "turn"]);
        match within.tokens.as_slice() {
            _ if asks => self.push(Token::Lost),
            _ if begins(inner, COVERS) && self.has_stated() => self.seen.more = true,
            [token @ Token::Sense(Max | Min | About | OrMore | OrLess)] => self.push(*token),
            tokens if self.last_figure().is_some() && is_tolerance(tokens) => {
                self.seen.tokens.extend_from_slice(tokens);
                // The unit of both may stand behind.
                let bare = tokens
                    .iter()
                    .all(|token| !matches!(token, Token::Figure(figure) if figure.unit.is_some()));
                if bare
                    && let Some((unit, behind)) = unit(rest)
                    && let Some(Token::Figure(figure)) = self.seen.tokens.last_mut()
                {
                    figure.unit = Some(unit);
                    self.rest = behind;
                    return;
                }
            }
            tokens
                if (self.is_state() || self.is_said_by(inner, rest))
                    && !tokens.contains(&Token::Lost) =>
            {
                self.seen.more = true;
                self.seen.tokens.clear();
                self.seen.tokens.extend_from_slice(tokens);
            }
            tokens => match range_of(tokens).filter(|_| self.last_figure().is_some()) {
                // A range behind a tolerance says the same again.
                Some(_) if self.seen.tokens.contains(&Token::Sense(Sense::PlusMinus)) => {
                    self.seen.more = true;
                }
                // One of another unit behind a limit tells where that holds.
                Some((_, high)) if self.is_limit_of_another(high) => self.seen.more = true,
                Some((low, high)) => self.push(Token::Range(low, high)),
                None if self.says_again(tokens, inner) => self.seen.more = true,
                None if rest.trim().is_empty() && self.is_for_one_case(tokens, inner) => {
                    self.seen.more = true;
                }
                None if tokens.iter().any(limits) && !is_aside(inner) => self.push(Token::Lost),
                // Another figure for another case.
                None if self.is_lone_figure_like(tokens) => {
                    self.push(Token::Lost);
                }
                None => self.seen.more = true,
            },
        }
        self.rest = rest;
    }

    /// Whether a limit was stated in another unit than a figure has.
    fn is_limit_of_another(&self, figure: Figure) -> bool {
        let quantity = |figure: Figure| match figure.unit {
            Some(Spelled::Scale(scale)) => Some(scale.unit),
            _ => None,
        };
        let last = self.last_figure().and_then(quantity);
        let differs = quantity(figure)
            .zip(last)
            .is_some_and(|(one, other)| one != other);
        differs && self.seen.tokens.iter().any(limits)
    }

    /// Whether a limit was stated, and a bracket says it in another unit or tells of another
    /// quantity.
    fn says_again(&self, tokens: &[Token], inner: &str) -> bool {
        let unit = self.seen.tokens.iter().rev().find_map(|token| match token {
            Token::Figure(figure) => figure.unit,
            _ => None,
        });
        // The lower end of a range has its unit from the upper one.
        let lower = |index: usize| {
            matches!(
                tokens.get(index + 1),
                Some(Token::Sense(Sense::To | Sense::Minus))
            )
        };
        let mut figures = tokens
            .iter()
            .enumerate()
            .filter_map(|(index, token)| match token {
                Token::Figure(figure) if figure.unit.is_none() && lower(index) => None,
                Token::Figure(figure) => Some(figure.unit),
                _ => None,
            });
        let excepts = ["except", "unless", "or"]
            .iter()
            .any(|word| has_word(&inner.to_lowercase(), word));
        let any = tokens.iter().any(|token| matches!(token, Token::Figure(_)));
        let other = figures.all(|it| it.is_some() && it != unit);
        any && other && unit.is_some() && !excepts && self.seen.tokens.iter().any(limits)
    }

    /// Whether nothing but a state stands before, such as `Low`, which a bracket then says in
    /// figures.
    fn is_state(&self) -> bool {
        let before = self.text[..self.text.len() - self.rest.len()].trim();
        STATES.contains(&before.to_lowercase().as_str())
    }

    /// Whether nothing but words stand before a bracket, which says them in figures with the sign of
    /// a limit: `Clean signal (> 20 dB)`.
    fn is_said_by(&self, inner: &str, behind: &str) -> bool {
        let worded = !self.seen.tokens.is_empty()
            && self.seen.tokens.iter().all(|token| *token == Token::Word);
        worded && inner.starts_with(['<', '>', '≤', '≥']) && behind.trim().is_empty()
    }

    /// Whether a limit was stated, and a bracket says what one figure it is for, as in
    /// `(25 kHz channel)`.
    fn is_for_one_case(&self, tokens: &[Token], inner: &str) -> bool {
        let lower = inner.to_lowercase();
        let named = CASES.iter().any(|word| has_word(&lower, word));
        let figures = tokens
            .iter()
            .filter(|token| matches!(token, Token::Figure(_)));
        let stated = self.has_stated() && self.seen.tokens.iter().any(limits);
        named && stated && figures.count() == 1 && !tokens.iter().any(limits)
    }

    /// Whether nothing but a figure was stated, and pieces have another one of its unit.
    fn is_lone_figure_like(&self, tokens: &[Token]) -> bool {
        let Some(figure) = self.last_figure() else {
            return false;
        };
        let limited = self.seen.tokens.iter().any(limits);
        let figures = tokens.iter().filter_map(|token| match token {
            Token::Figure(other) => Some(other.unit),
            _ => None,
        });
        let same = figures.clone().any(|unit| unit == figure.unit);
        let usual = tokens.contains(&Token::Sense(Sense::About));
        (same && figure.unit.is_some() && !usual) || (!limited && (same || figures.count() > 1))
    }

    fn figure(&mut self) -> bool {
        let before = self.last_figure();
        // Behind a figure a dash is a range or a tolerance, but for one that belongs to a second
        // negative figure.
        let signed = match before {
            None => true,
            Some(figure) => figure.is_negative() && self.spaced && !self.rest.starts_with("- "),
        };
        let Some(length) = number(self.rest, signed) else {
            return false;
        };
        // So much less than what a word names.
        let takes_off = self.rest.starts_with("- ") || self.rest.starts_with("+ ");
        if takes_off && self.seen.tokens.last() == Some(&Token::Word) {
            self.push(Token::Lost);
        }
        let (number, rest) = self.rest.split_at(length);
        // A 50-ohm part is a kind of part.
        if is_joined(rest) && self.seen.tokens.last() == Some(&Token::Word) {
            self.push(Token::Lost);
        }
        let unit = infix(number).map_or_else(|| unit_behind(rest), |sign| unit_with(sign, rest));
        self.rest = unit.map_or(rest, |(_, rest)| rest);
        let unit = unit.map(|(unit, _)| unit);
        self.push(Token::Figure(Figure { number, unit }));
        let next = self.rest.trim_start_matches(' ');
        let turned = |word: &str| starts(next, word).is_some();
        if unit.is_some() && TURNED_UNITS.iter().any(|word| turned(word)) && !next.starts_with("/-")
        {
            self.push(Token::Lost);
        }
        true
    }

    fn sense(&mut self) -> bool {
        let Some((length, sense)) = sense_of(self.rest) else {
            return false;
        };
        let (word, rest) = self.rest.split_at(length);
        let behind = self.last_figure();
        let word = word.to_lowercase();
        // Said behind a limit, these tell what it is counted from.
        let counted = matches!(word.as_str(), "above" | "below") && !rest.trim().is_empty();
        let alone = (sense == Sense::Between || (counted && !self.is_in_decibels()))
            && !rest.contains(|c: char| c.is_ascii_digit());
        let is_condition = self.has_stated()
            && (alone
                || sense == Sense::At
                || matches!(word.as_str(), "over" | "from" | "through"));
        if is_condition {
            self.condition(length);
            return true;
        }
        // How long something lasts is no reading of it.
        if word == "for" && is_duration(rest) {
            self.push(Token::Lost);
        }
        let sense = match word.as_str() {
            "~" if behind.is_some() && number(rest.trim_start(), true).is_some() => Sense::To,
            "below" | "under" if behind.is_some_and(|figure| figure.is_decibels()) => Sense::Down,
            _ => sense,
        };
        self.rest = rest;
        self.seen.more |= matches!(sense, Sense::About | Sense::Kind | Sense::Down);
        self.push(Token::Sense(sense));
        true
    }

    /// All that follows the first bytes says how it is read, if it doesn't turn what was said.
    fn condition(&mut self, first: usize) {
        let behind = lex(&self.rest[first..]);
        use Sense::{AtLeast, AtMost, Max, Min, OrLess, OrMore, PlusMinus, Turns};
        // A limit in the condition is what is asked for: what stood before is not read at all.
        let limits = [AtLeast, AtMost, Max, Min, OrLess, OrMore, PlusMinus, Turns];
        let turns = |token: &Token| matches!(token, Token::Sense(sense) if limits.contains(sense));
        // Another figure of the unit that was stated is another case.
        let unit = self.seen.tokens.iter().rev().find_map(|token| match token {
            Token::Figure(figure) => Some(figure.unit),
            _ => None,
        });
        let joint = |token: &Token| *token == Token::Sense(Sense::And);
        let mut others = behind.tokens.iter().skip_while(|token| !joint(token));
        let case =
            |token: &Token| matches!(token, Token::Figure(figure) if Some(figure.unit) == unit);
        let offset = match behind.tokens.as_slice() {
            [Token::Sense(PlusMinus), Token::Figure(figure)] => {
                Some(figure.unit) != unit && self.has_bound()
            }
            _ => false,
        };
        let signed = self.rest.contains(['<', '>', '≤', '≥', '±']);
        // What goes over into another figure of the same unit has no one limit.
        let turns_into = behind.tokens.windows(3).any(|three| {
            matches!(three, [before, Token::Sense(Sense::To), after] if case(after) && !case(before))
        });
        let turned = signed || turns_into || behind.tokens.iter().any(turns) || others.any(case);
        // So far off to either side is where it holds.
        if turned && !offset {
            self.push(Token::Lost);
        }
        self.seen.more = true;
        self.rest = "";
    }

    fn word(&mut self) {
        let end = self
            .rest
            .find(|c: char| !c.is_alphanumeric() && !matches!(c, '-' | '_'));
        let lone = self.seen.tokens.len() == 1 && is_quantity(self.rest);
        let names = lone || (self.has_bound() && names_quantity(self.rest));
        let (word, rest) = self.rest.split_at(end.unwrap_or(self.rest.len()));
        self.rest = if names { "" } else { rest };
        if is_s_point(word) {
            let unit = Some(Spelled::Scale(Scale::plain(Unit::StrengthPoint)));
            let number = &word[1..];
            self.push(Token::Figure(Figure { number, unit }));
            self.on_meter = true;
            return;
        }
        self.seen.more = true;
        self.push(match self.figure_of_kind() {
            // What a share is a share of is what is read.
            Some(figure) if figure.is_share() && self.seen.tokens.iter().any(limits) => Token::Word,
            Some(figure) if figure.is_share() && ends_as_limit(rest) => Token::Word,
            // Nor is the name of what is read, behind its limit.
            Some(_) if names => Token::Word,
            Some(_) => Token::Lost,
            None if names_a_tolerance(word, rest) => Token::Lost,
            None => Token::Word,
        });
    }
}

/// Whether a text is nothing but what a figure of that unit is.
fn is_quantity(text: &str) -> bool {
    let quantities = ["current", "resistance", "voltage"];
    quantities.contains(&text.trim_end_matches(['.', ' ']).to_lowercase().as_str())
}

/// Whether a text is nothing but the name of something that is read, in a few words, with what it
/// is that of: `rejection of spurious responses`.
fn names_quantity(text: &str) -> bool {
    let lower = text.trim_end_matches(['.', ' ']).to_lowercase();
    let joint = |word: &&&str| ["across", "of", "outside"].contains(*word);
    let all: Vec<&str> = lower.split_whitespace().collect();
    let to = all.iter().position(|word| joint(&word));
    let (words, of) = all.split_at(to.unwrap_or(all.len()));
    if of.iter().any(|word| !word.chars().all(char::is_alphabetic)) {
        return false;
    }
    let named = words
        .last()
        .is_some_and(|last| QUANTITY_NOUNS.contains(last));
    let plain = |word: &&str| word.chars().all(char::is_alphabetic) && !BINDING.contains(word);
    named && words.len() <= 3 && words.iter().all(plain)
}

/// Whether nothing follows but the word that makes a limit of the figure before.
fn ends_as_limit(rest: &str) -> bool {
    use Sense::{Max, Min, OrLess, OrMore};
    let rest = rest.trim();
    sense_of(rest).is_some_and(|(length, sense)| {
        length == rest.len() && matches!(sense, Max | Min | OrLess | OrMore)
    })
}

/// Whether a text begins with a figure of time.
fn is_duration(text: &str) -> bool {
    let seconds = |unit| matches!(unit, Spelled::Scale(scale) if scale.unit == Unit::Second);
    let first = lex(text).tokens.into_iter().next();
    matches!(first, Some(Token::Figure(figure)) if figure.unit.is_some_and(seconds))
}

/// Whether it is a reading of an S meter.
fn is_s_point(word: &str) -> bool {
    matches!(word.as_bytes(), [b'S' | b's', digit] if digit.is_ascii_digit())
}

/// Whether the figure behind it is a tolerance and nothing that is read.
fn names_a_tolerance(word: &str, rest: &str) -> bool {
    let rest = rest.trim_start_matches([' ', ':', '.']);
    let is_bare = rest.starts_with(|c: char| c.is_ascii_digit());
    is_bare && phrases::TOLERANCES.contains(&word.to_lowercase().as_str())
}

/// Whether a piece states a limit, or takes one back.
fn limits(token: &Token) -> bool {
    use Sense::{AtLeast, AtMost, Better, Between, Max, Min, Minus, OrLess, OrMore};
    use Sense::{Plus, PlusMinus, To, Turns, Within};
    let limits = [
        AtLeast, AtMost, Better, Between, Minus, Plus, PlusMinus, To, Turns, Within, Max, Min,
        OrLess, OrMore,
    ];
    match token {
        Token::Sense(sense) => limits.contains(sense),
        // A signed figure is a tolerance of what stands before.
        Token::Figure(figure) => figure.number.starts_with(['+', '-']),
        Token::Range(..) => true,
        Token::Word | Token::Lost => false,
    }
}

/// Whether a bracket only tells of the circumstances, as in `(not conducting)`.
fn is_aside(inner: &str) -> bool {
    let lower = inner.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphanumeric());
    // Without a figure these tell of the place, or that it need not be exact.
    let loose = begins(&lower, &["or similar", "or so", "or equivalent"]);
    let binds = |word: &str| {
        BINDING.contains(&word) && !(loose && word == "or") && !PLACING.contains(&word)
    };
    !lower.contains(|c: char| c.is_ascii_digit()) && !words.any(binds)
}

/// Whether pieces in a bracket are how far the figure before may be off: `±10 mA`, `+0, -0.5`.
fn is_tolerance(tokens: &[Token]) -> bool {
    use Sense::{And, Minus, Plus, PlusMinus};
    use Token::{Figure as F, Sense as S};
    match tokens {
        [S(PlusMinus), F(_)] | [S(Plus), F(_), S(Minus), F(_)] => true,
        [F(one), F(other)] | [F(one), S(And), F(other)] => {
            let signs = [one.number.get(..1), other.number.get(..1)];
            signs == [Some("+"), Some("-")] || signs == [Some("-"), Some("+")]
        }
        _ => false,
    }
}

/// The ends of a range in a bracket.
fn range_of<'a>(tokens: &[Token<'a>]) -> Option<(Figure<'a>, Figure<'a>)> {
    use Sense::{And, AtLeast, AtMost, Between, Max, Min, Minus, To};
    use Token::{Figure as F, Sense as S};
    let joined: Vec<Token> = match tokens {
        [S(Between), rest @ ..] => rest.to_vec(),
        tokens => tokens.to_vec(),
    };
    match joined.as_slice() {
        [F(low), S(To | Minus | And), F(high)] if low.unit.is_none() || high.unit.is_some() => {
            let is_list = matches!(joined[1], S(And)) && tokens.len() == joined.len();
            (!is_list).then_some((*low, *high))
        }
        [S(Min | AtLeast), F(low), S(And), S(Max | AtMost), F(high)]
        | [S(Max | AtMost), F(high), S(And), S(Min | AtLeast), F(low)]
        | [F(low), S(Min), S(And), F(high), S(Max)]
        | [F(high), S(Max), S(And), F(low), S(Min)] => Some((*low, *high)),
        _ => None,
    }
}

/// How long the number is that a text begins with.
fn number(text: &str, signed: bool) -> Option<usize> {
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
pub(super) fn infix(number: &str) -> Option<char> {
    number.chars().find(|c| INFIX.contains(c))
}

/// The unit that such a figure has, with what is behind it: its own, or what a prefix belongs to.
fn unit_with(sign: char, rest: &str) -> Option<(Spelled, &str)> {
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
fn unit_behind(rest: &str) -> Option<(Spelled, &str)> {
    unit(if is_joined(rest) { &rest[1..] } else { rest })
}

/// Whether a hyphen joins a word to the number before.
fn is_joined(rest: &str) -> bool {
    let behind = rest.strip_prefix('-');
    behind.is_some_and(|behind| behind.starts_with(char::is_alphabetic))
}

/// How many bytes of a text a phrase in lower case takes up at its beginning, as whole words.
fn starts(text: &str, phrase: &str) -> Option<usize> {
    let mut length = 0;
    let mut chars = text.chars();
    for due in phrase.chars() {
        let c = chars.next()?;
        if c != due && c.to_lowercase().ne(std::iter::once(due)) {
            return None;
        }
        length += c.len_utf8();
    }
    let runs_on =
        phrase.ends_with(char::is_alphanumeric) && chars.next().is_some_and(char::is_alphanumeric);
    (!runs_on).then_some(length)
}

/// Whether a text in lower case has a phrase as whole words.
pub(super) fn has_word(text: &str, phrase: &str) -> bool {
    let starts_word = |at: usize| !text[..at].ends_with(char::is_alphanumeric);
    let mut found = text.match_indices(phrase);
    found.any(|(at, _)| starts_word(at) && starts(&text[at..], phrase).is_some())
}

/// The longest of some phrases that a text begins with.
fn longest<'p, T: Copy + 'p>(
    text: &str,
    phrases: impl Iterator<Item = (&'p [&'p str], T)>,
) -> Option<(usize, T)> {
    let all = phrases.flat_map(|(words, what)| words.iter().map(move |word| (*word, what)));
    all.filter_map(|(word, what)| Some((starts(text, word)?, what)))
        .max_by_key(|(length, _)| *length)
}

fn sense_of(text: &str) -> Option<(usize, Sense)> {
    longest(text, SENSES.iter().map(|(words, sense)| (*words, *sense)))
}

/// Whether a text begins with one of some words.
pub(super) fn begins(text: &str, words: &[&str]) -> bool {
    words.iter().any(|word| starts(text, word).is_some())
}

/// The unit that a text begins with, and what is behind it.
fn unit(text: &str) -> Option<(Spelled, &str)> {
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
pub(super) fn lone_unit(text: &str) -> Option<Spelled> {
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
pub(super) fn tail_unit(text: &str) -> Option<(&str, Spelled)> {
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
