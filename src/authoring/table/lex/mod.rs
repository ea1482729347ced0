//! The text of a limit as figures and what is said of them.

mod brackets;
mod tokens;
mod units;
mod words;

pub(super) use self::tokens::{Figure, Lexed, Spelled, Token, plain};
pub(super) use self::units::{infix, lone_unit, tail_unit};
pub(super) use self::words::{begins, has_word};

use self::brackets::{is_aside, limits};
use self::units::{is_joined, number, unit_behind, unit_with};
use crate::authoring::table::lex::words::{
    ends_as_limit, is_quantity, is_s_point, names_a_tolerance, names_quantity, sense_of, starts,
};
use crate::authoring::table::phrases::{NUMBERED, RATINGS, Sense, TURNED_UNITS};
use crate::quantity::{Scale, Unit};

/// The longest text that can state a limit, in bytes; anything longer is prose.
const LONGEST: usize = 200;

impl Figure<'_> {}

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

    /// Whether a word behind decibels says from which frequency they are counted.
    fn is_counted_from_a_frequency(&self, word: &str, rest: &str) -> bool {
        let hertz = |token: &Token| {
            matches!(token, Token::Figure(figure) if matches!(figure.unit,
                Some(Spelled::Scale(scale)) if scale.unit == Unit::Hertz))
        };
        matches!(word, "relative" | "referenced" | "ref")
            && self.last_figure().is_some_and(|figure| figure.is_ratio())
            && self.has_bound()
            && lex(rest).tokens.last().is_some_and(hertz)
    }

    /// Whether a figure follows that is read in another unit than the one before.
    fn is_of_another(&self, rest: &str) -> bool {
        let unit = |figure: Option<Figure>| match figure?.unit? {
            Spelled::Scale(scale) => Some(scale.unit),
            Spelled::Volts(_) => Some(Unit::VoltDc),
            Spelled::Prefix(_) => None,
        };
        let next = match lex(rest).tokens.first() {
            Some(Token::Figure(figure)) => unit(Some(*figure)),
            _ => None,
        };
        let other = |one: Unit| next.is_some_and(|next| next != one && next == Unit::Hertz);
        unit(self.last_figure()).is_some_and(other)
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
        // Behind a slash stands what it is counted by, and with a figure before that a load.
        let behind = next.strip_prefix('/').unwrap_or_default().trim_start();
        let load = behind.starts_with(|c: char| c.is_ascii_digit());
        let turns =
            TURNED_UNITS.iter().any(|word| turned(word)) && !next.starts_with("/-") && !load;
        if unit.is_some() && turns {
            self.push(Token::Lost);
        }
        true
    }

    fn sense(&mut self) -> bool {
        let Some((length, sense)) = sense_of(self.rest) else {
            return false;
        };
        let (word, rest) = self.rest.split_at(length);
        // Part of a longer word, as in `all-red`.
        if word.ends_with(char::is_alphabetic) && is_joined(rest) {
            return false;
        }
        let behind = self.last_figure();
        let word = word.to_lowercase();
        // Said behind a limit, these tell what it is counted from.
        let counted = matches!(word.as_str(), "above" | "below") && !rest.trim().is_empty();
        let alone = (sense == Sense::Between || (counted && !self.is_in_decibels()))
            && !rest.contains(|c: char| c.is_ascii_digit());
        let is_condition = self.has_stated()
            && (alone
                || sense == Sense::At
                || self.is_counted_from_a_frequency(&word, rest)
                || (word == "to" && self.has_bound() && self.is_of_another(rest))
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
            "peak" if behind.is_some_and(|figure| figure.is_frequency()) => Sense::Kind,
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
        let (word, said) = self.rest.split_at(first);
        // With none of something is how it is read.
        let without = said
            .strip_prefix(" no ")
            .filter(|_| word.eq_ignore_ascii_case("with"));
        let behind = lex(without.unwrap_or(said));
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
        // A share that says of nothing what it is may limit what was stated, or something else.
        let share = match behind.tokens.as_slice() {
            [.., before, Token::Figure(figure)] => joint(before) && figure.is_share(),
            _ => false,
        };
        let case =
            |token: &Token| matches!(token, Token::Figure(figure) if Some(figure.unit) == unit);
        let offset = match behind.tokens.as_slice() {
            [Token::Sense(PlusMinus), Token::Figure(figure), rest @ ..] => {
                Some(figure.unit) != unit && self.has_bound() && !rest.iter().any(turns)
            }
            _ => false,
        };
        // So is one that another sentence begins with.
        let mut sentences = self.rest.split(". ").skip(1);
        let again = sentences.any(|sentence| lex(sentence).tokens.first().is_some_and(case));
        let signed = self.rest.contains(['<', '>', '≤', '≥', '±']);
        // What goes over into another figure of the same unit has no one limit.
        let turns_into = behind.tokens.windows(3).any(|three| {
            matches!(three, [before, Token::Sense(Sense::To), after] if case(after) && !case(before))
        });
        let lost = again || share || turns_into || others.any(case);
        // So far off to either side is where it holds.
        if lost || (!offset && (signed || behind.tokens.iter().any(turns))) {
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
        // What is counted so is another line.
        if NUMBERED.contains(&word.to_lowercase().as_str())
            && rest
                .trim_start_matches([' ', '.'])
                .starts_with(|c: char| c.is_ascii_digit())
        {
            self.push(Token::Lost);
            return;
        }
        let share = self.figure_of_kind().is_some_and(|it| it.is_share());
        let rated = RATINGS.contains(&word.to_lowercase().as_str());
        self.push(match self.figure_of_kind() {
            // What it is a share of stands elsewhere.
            Some(_) if share && rated => Token::Lost,
            // What a share is a share of is what is read.
            Some(_) if share && self.seen.tokens.iter().any(limits) => Token::Word,
            Some(_) if share && ends_as_limit(rest) => Token::Word,
            // Nor is the name of what is read, behind its limit.
            Some(_) if names => Token::Word,
            Some(_) => Token::Lost,
            None if names_a_tolerance(word, rest) => Token::Lost,
            None => Token::Word,
        });
    }
}

/// Whether a text begins with a figure of time.
pub(in crate::authoring::table::lex) fn is_duration(text: &str) -> bool {
    let seconds = |unit| matches!(unit, Spelled::Scale(scale) if scale.unit == Unit::Second);
    let first = lex(text).tokens.into_iter().next();
    matches!(first, Some(Token::Figure(figure)) if figure.unit.is_some_and(seconds))
}
