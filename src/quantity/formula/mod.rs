//! A formula as it is typed: + − × ÷ √ ln sin cos of numbers and of up to five quantities.

use crate::quantity::formula::error::MOST_CHARACTERS;
mod error;

pub use self::error::FormulaError;

use super::{DecimalSign, excerpt, read_number};
use std::iter::Peekable;
use std::str::Chars;

/// The names of the quantities of a formula.
pub const NAMES: [char; 5] = ['a', 'b', 'c', 'd', 'e'];

/// A formula that was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Formula {
    text: String,
    root: Node,
}

#[derive(Clone, Debug, PartialEq)]
enum Node {
    Number(f64),
    /// A quantity, by its place among the names.
    Quantity(usize),
    Unary(Unary, Box<Node>),
    Binary(Binary, Box<Node>, Box<Node>),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unary {
    Minus,
    Root,
    Logarithm,
    Sine,
    Cosine,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Binary {
    Plus,
    Minus,
    Times,
    Over,
}

/// What a formula can be worked out in.
pub trait Worked: Clone {
    /// A number without uncertainty.
    fn number(value: f64) -> Self;
    /// −x.
    fn minus(self) -> Self;
    /// x + y.
    fn plus(self, other: Self) -> Self;
    /// x·y.
    fn times(self, other: Self) -> Self;
    /// x/y.
    fn over(self, other: Self) -> Self;
    /// √x.
    fn root(self) -> Self;
    /// The natural logarithm.
    fn logarithm(self) -> Self;
    /// The sine of an angle in radians.
    fn sine(self) -> Self;
    /// The cosine of an angle in radians.
    fn cosine(self) -> Self;
}

impl Worked for f64 {
    fn number(value: f64) -> Self {
        value
    }
    fn minus(self) -> Self {
        -self
    }
    fn plus(self, other: Self) -> Self {
        self + other
    }
    fn times(self, other: Self) -> Self {
        self * other
    }
    fn over(self, other: Self) -> Self {
        self / other
    }
    fn root(self) -> Self {
        self.sqrt()
    }
    fn logarithm(self) -> Self {
        self.ln()
    }
    fn sine(self) -> Self {
        self.sin()
    }
    fn cosine(self) -> Self {
        self.cos()
    }
}

impl Formula {
    /// Reads a formula, with numbers in the decimal sign in use.
    pub fn read(text: &str, sign: DecimalSign) -> Result<Formula, FormulaError> {
        if text.chars().count() > MOST_CHARACTERS {
            return Err(FormulaError::TooLong);
        }
        let mut parser = Parser {
            rest: text.chars().peekable(),
            sign,
        };
        let root = parser.sum()?;
        match parser.next_sign() {
            None => Ok(Formula {
                text: text.trim().to_owned(),
                root,
            }),
            Some(_) => Err(parser.unexpected()),
        }
    }

    /// The formula as it was typed.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// How many quantities it needs: up to the last one it names.
    pub fn quantities(&self) -> usize {
        self.root.quantities()
    }

    /// Works it out. A quantity that isn't given is not a number.
    pub fn work_out<T: Worked>(&self, given: &[T]) -> T {
        self.root.work_out(given)
    }
}

impl Node {
    fn quantities(&self) -> usize {
        match self {
            Node::Number(_) => 0,
            Node::Quantity(at) => at + 1,
            Node::Unary(_, of) => of.quantities(),
            Node::Binary(_, a, b) => a.quantities().max(b.quantities()),
        }
    }

    fn work_out<T: Worked>(&self, given: &[T]) -> T {
        match self {
            Node::Number(value) => T::number(*value),
            Node::Quantity(at) => match given.get(*at) {
                Some(value) => value.clone(),
                None => T::number(f64::NAN),
            },
            Node::Unary(function, of) => {
                let of = of.work_out(given);
                match function {
                    Unary::Minus => of.minus(),
                    Unary::Root => of.root(),
                    Unary::Logarithm => of.logarithm(),
                    Unary::Sine => of.sine(),
                    Unary::Cosine => of.cosine(),
                }
            }
            Node::Binary(operation, a, b) => {
                let (a, b) = (a.work_out(given), b.work_out(given));
                match operation {
                    Binary::Plus => a.plus(b),
                    Binary::Minus => a.plus(b.minus()),
                    Binary::Times => a.times(b),
                    Binary::Over => a.over(b),
                }
            }
        }
    }
}

/// A parser by descent: sums of products of factors. A function takes the factor behind it.
struct Parser<'a> {
    rest: Peekable<Chars<'a>>,
    sign: DecimalSign,
}

impl Parser<'_> {
    fn next_sign(&mut self) -> Option<char> {
        while self.rest.next_if(|sign| sign.is_whitespace()).is_some() {}
        self.rest.peek().copied()
    }

    fn unexpected(&mut self) -> FormulaError {
        FormulaError::Unexpected(excerpt(&self.rest.clone().collect::<String>()))
    }

    fn sum(&mut self) -> Result<Node, FormulaError> {
        let mut sum = self.product()?;
        while let Some(operation) = self.operation(|sign| match sign {
            '+' => Some(Binary::Plus),
            '-' | '−' | '–' => Some(Binary::Minus),
            _ => None,
        }) {
            sum = Node::Binary(operation, Box::new(sum), Box::new(self.product()?));
        }
        Ok(sum)
    }

    fn product(&mut self) -> Result<Node, FormulaError> {
        let mut product = self.factor()?;
        while let Some(operation) = self.operation(|sign| match sign {
            '×' | '*' | '·' => Some(Binary::Times),
            '÷' | '/' | ':' => Some(Binary::Over),
            _ => None,
        }) {
            product = Node::Binary(operation, Box::new(product), Box::new(self.factor()?));
        }
        Ok(product)
    }

    fn operation(&mut self, of: impl Fn(char) -> Option<Binary>) -> Option<Binary> {
        let operation = of(self.next_sign()?)?;
        self.rest.next();
        Some(operation)
    }

    fn factor(&mut self) -> Result<Node, FormulaError> {
        let sign = self.next_sign().ok_or(FormulaError::EndsEarly)?;
        match sign {
            '-' | '−' | '–' => self.function(Unary::Minus),
            '√' => self.function(Unary::Root),
            '(' => {
                self.rest.next();
                let inside = self.sum()?;
                match self.next_sign() {
                    Some(')') => {
                        self.rest.next();
                        Ok(inside)
                    }
                    Some(_) => Err(self.unexpected()),
                    None => Err(FormulaError::Unclosed),
                }
            }
            'π' => {
                self.rest.next();
                Ok(Node::Number(std::f64::consts::PI))
            }
            digit if digit.is_ascii_digit() || matches!(digit, '.' | ',') => self.number(),
            letter if letter.is_alphabetic() => self.word(),
            _ => Err(self.unexpected()),
        }
    }

    fn function(&mut self, function: Unary) -> Result<Node, FormulaError> {
        self.rest.next();
        Ok(Node::Unary(function, Box::new(self.factor()?)))
    }

    fn run(&mut self, belongs: impl Fn(char) -> bool) -> String {
        let mut run = String::new();
        while let Some(sign) = self.rest.next_if(|sign| belongs(*sign)) {
            run.push(sign);
        }
        run
    }

    fn number(&mut self) -> Result<Node, FormulaError> {
        let digits = self.run(|sign| sign.is_ascii_digit() || matches!(sign, '.' | ','));
        match read_number(&digits, self.sign) {
            Ok(number) => Ok(Node::Number(number.to_f64())),
            Err(_) => Err(FormulaError::Number(excerpt(&digits))),
        }
    }

    fn word(&mut self) -> Result<Node, FormulaError> {
        let word = self.run(char::is_alphabetic).to_lowercase();
        let function = match word.as_str() {
            "sqrt" => Unary::Root,
            "ln" => Unary::Logarithm,
            "sin" => Unary::Sine,
            "cos" => Unary::Cosine,
            "pi" => return Ok(Node::Number(std::f64::consts::PI)),
            _ => return self.quantity(&word),
        };
        Ok(Node::Unary(function, Box::new(self.factor()?)))
    }

    fn quantity(&self, word: &str) -> Result<Node, FormulaError> {
        let at = NAMES.iter().position(|name| word == name.to_string());
        match at {
            Some(at) => Ok(Node::Quantity(at)),
            None => Err(FormulaError::UnknownWord(excerpt(word))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worked(text: &str) -> Result<f64, FormulaError> {
        let formula = Formula::read(text, DecimalSign::Point)?;
        Ok(formula.work_out(&[2.0, 3.0, 5.0, 7.0, 11.0]))
    }

    #[test]
    fn products_go_before_sums_and_functions_before_products() {
        for (text, expected) in [
            ("a + b × c", 17.0),
            ("a - b - c", -6.0),
            ("a ÷ b ÷ c", 2.0 / 15.0),
            ("(a + b) * c", 25.0),
            ("-a × b", -6.0),
            ("a × −b", -6.0),
            ("√(a × 8)", 4.0),
            ("sqrt 9 + a", 5.0),
            ("2.5 · a", 5.0),
            ("ln(a/a)", 0.0),
            ("a × cos(0 × b) + sin(0)", 2.0),
            ("2 × π − 2*pi", 0.0),
            ("E - D", 4.0),
        ] {
            assert_eq!(worked(text).unwrap(), expected, "{text}");
        }
        let comma = Formula::read("2,5 × a", DecimalSign::Comma).unwrap();
        assert_eq!(comma.work_out(&[2.0]), 5.0);
    }

    #[test]
    fn what_is_no_formula_is_answered_by_what_is_wrong_in_it() {
        for (text, error) in [
            ("", FormulaError::EndsEarly),
            ("a +", FormulaError::EndsEarly),
            ("(a", FormulaError::Unclosed),
            ("a b", FormulaError::Unexpected("b".to_owned())),
            ("a) + b", FormulaError::Unexpected(") + b".to_owned())),
            ("tan a", FormulaError::UnknownWord("tan".to_owned())),
            ("f", FormulaError::UnknownWord("f".to_owned())),
            ("1.2.3", FormulaError::Number("1.2.3".to_owned())),
            ("× a", FormulaError::Unexpected("× a".to_owned())),
        ] {
            assert_eq!(worked(text).unwrap_err(), error, "{text}");
        }
        assert_eq!(worked(&"(".repeat(10_000)), Err(FormulaError::TooLong));
        assert_eq!(worked(&"-".repeat(200)), Err(FormulaError::EndsEarly));
    }

    #[test]
    fn a_formula_knows_how_many_quantities_it_needs() {
        let needs = |text| {
            Formula::read(text, DecimalSign::Point)
                .unwrap()
                .quantities()
        };
        assert_eq!((needs("2"), needs("a"), needs("a × e")), (0, 1, 5));
    }
}
