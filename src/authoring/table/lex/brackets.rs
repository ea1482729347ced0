//! A bracket behind a figure or a word.

use crate::authoring::table::lex::tokens::{Figure, Spelled, Token};
use crate::authoring::table::lex::units::unit;
use crate::authoring::table::lex::words::{begins, has_word};
use crate::authoring::table::lex::{Lexer, lex};
use crate::authoring::table::phrases::{BINDING, CASES, COVERS, MEASURES, PLACING, STATES, Sense};

impl<'a> Lexer<'a> {
    /// A bracket behind a figure may state its limits. Else it says the same again or says more;
    /// one that says less loses the whole.
    pub(super) fn bracket(&mut self) {
        let inner = &self.rest[1..];
        let (inner, rest) = inner.split_once([')', ']']).unwrap_or((inner, ""));
        let mut within = lex(inner);
        within
            .tokens
            .retain(|token| *token != Token::Sense(Sense::Nothing));
        use Sense::{About, Max, Min, OrLess, OrMore};
        // What it is a share of stands elsewhere.
        let share = self.last_figure().is_some_and(|figure| figure.is_share());
        let share_of = share && begins(inner, &["of"]);
        let asks = begins(inner, MEASURES) || begins(inner, &["set", "turn"]);
        match within.tokens.as_slice() {
            _ if asks || share_of => self.push(Token::Lost),
            _ if begins(inner, COVERS) && self.has_stated() => self.seen.more = true,
            [token @ Token::Sense(Max | Min | About | OrMore | OrLess)] => self.push(*token),
            // A tolerance behind one in another unit says the same again.
            tokens if is_tolerance(tokens) && self.has_tolerance_besides(tokens) => {
                self.seen.more = true;
            }
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
                // A largest or smallest reading stays one.
                let extreme = self.extreme().filter(|_| tokens.iter().any(limits));
                self.seen.tokens.extend(extreme.map(Token::Sense));
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

    /// Whether a tolerance was stated, and in another unit than pieces have.
    fn has_tolerance_besides(&self, tokens: &[Token]) -> bool {
        let own = tokens.iter().find_map(|token| match token {
            Token::Figure(figure) => figure.unit,
            _ => None,
        });
        let stated = self.seen.tokens.contains(&Token::Sense(Sense::PlusMinus));
        let unit = self.last_figure().and_then(|figure| figure.unit);
        stated && own.is_some() && unit.is_some() && own != unit
    }

    /// Whether a limit was stated in another unit than a figure has.
    pub(super) fn is_limit_of_another(&self, figure: Figure) -> bool {
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
    pub(super) fn says_again(&self, tokens: &[Token], inner: &str) -> bool {
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
    pub(super) fn is_state(&self) -> bool {
        let before = self.text[..self.text.len() - self.rest.len()].trim();
        STATES.contains(&before.to_lowercase().as_str())
    }

    /// The largest or smallest reading, where nothing but the word for it stands before.
    fn extreme(&self) -> Option<Sense> {
        let before = self.text[..self.text.len() - self.rest.len()].trim();
        match before.to_lowercase().as_str() {
            "maximum" | "peak" => Some(Sense::Peak),
            "minimum" => Some(Sense::Dip),
            _ => None,
        }
    }

    /// Whether nothing but words stand before a bracket, which says them in figures with the sign of
    /// a limit: `Clean signal (> 20 dB)`.
    pub(super) fn is_said_by(&self, inner: &str, behind: &str) -> bool {
        let worded = !self.seen.tokens.is_empty()
            && self.seen.tokens.iter().all(|token| *token == Token::Word);
        worded && inner.starts_with(['<', '>', '≤', '≥']) && behind.trim().is_empty()
    }

    /// Whether a limit was stated, and a bracket says what one figure it is for, as in
    /// `(25 kHz channel)`.
    pub(super) fn is_for_one_case(&self, tokens: &[Token], inner: &str) -> bool {
        let lower = inner.to_lowercase();
        let named = CASES.iter().any(|word| has_word(&lower, word));
        let figures = tokens
            .iter()
            .filter(|token| matches!(token, Token::Figure(_)));
        let stated = self.has_stated() && self.seen.tokens.iter().any(limits);
        named && stated && figures.count() == 1 && !tokens.iter().any(limits)
    }

    /// Whether nothing but a figure was stated, and pieces have another one of its unit.
    pub(super) fn is_lone_figure_like(&self, tokens: &[Token]) -> bool {
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
}

/// Whether a piece states a limit, or takes one back.
pub(super) fn limits(token: &Token) -> bool {
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
pub(super) fn is_aside(inner: &str) -> bool {
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
