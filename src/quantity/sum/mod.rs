//! A calculation as data: what goes in, what comes out, and where the formula is from.
//!
//! One screen shows every sum; the rooms above only fill in the data.

use super::formula::{self, Formula};
use super::{
    DecimalSign, Family, Fault, Number, Phrase, Prefix, Quantity, ReadError, Scale, Unit, read,
    read_number,
};
use bigdecimal::BigDecimal;
use num_traits::Zero;
use std::str::FromStr;

/// A calculation.
#[derive(Debug)]
pub struct Sum {
    /// A stable name, such as `level`.
    pub id: &'static str,
    /// Where the catalogue lists it.
    pub group: Group,
    /// Its title.
    pub title: &'static str,
    /// What it needs.
    pub inputs: &'static [Input],
    /// The formula in words and signs.
    pub formula: &'static str,
    /// Where the formula is published.
    pub source: &'static str,
    /// The formula itself; called when every input that it can't do without is there.
    pub compute: fn(&Given) -> Result<Outcome, Fault>,
}

/// A part of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Power, voltage and decibels.
    Levels,
    /// Standing waves and reflection.
    Match,
    /// AM, SSB and FM.
    Modulation,
    /// Sensitivity and unwanted responses.
    Receiver,
    /// Frequency errors and mixing.
    Frequency,
    /// Currents, heat and resonance.
    Stages,
    /// What a capacitor still holds.
    BeforeTheIron,
    /// Preferred values and the colour code.
    Parts,
    /// Uncertainty and decisions.
    Proof,
}

impl Group {
    /// The heading.
    pub const fn title(self) -> &'static str {
        match self {
            Group::Levels => "Levels",
            Group::Match => "Match",
            Group::Modulation => "Modulation and SSB",
            Group::Receiver => "Receiver",
            Group::Frequency => "Frequency",
            Group::Stages => "Stages",
            Group::BeforeTheIron => "Before the iron",
            Group::Parts => "Preferred values",
            Group::Proof => "What a reading proves",
        }
    }
}

/// One input of a sum.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// A stable name, unique in its sum.
    pub id: &'static str,
    /// The field's label.
    pub label: &'static str,
    /// What may be typed or chosen.
    pub kind: Kind,
    /// What it counts for.
    pub role: Role,
    /// What the field holds before anything is typed; may be empty.
    pub start: &'static str,
}

/// What an input takes.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A quantity in one of these scales; the first is the usual one.
    Amount(&'static [Scale]),
    /// A number without a unit.
    Plain,
    /// Several quantities in one scale, one to a line or with semicolons between them.
    Amounts(Scale),
    /// Several numbers without a unit, one to a line or with semicolons between them.
    Plains,
    /// A formula of quantities a to e.
    Formula,
    /// Numbers that belong to two quantities each, such as `ab 0.5`.
    Pairs,
    /// One of these.
    Choice(&'static [&'static str]),
}

/// What an input counts for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Needed, and its digits limit those of the result.
    Measured,
    /// Needed, and taken as exact, such as a nominal impedance.
    Nominal,
    /// May be left out.
    Optional,
}

impl Input {
    /// A quantity that was measured.
    pub const fn measured(
        id: &'static str,
        label: &'static str,
        scales: &'static [Scale],
    ) -> Input {
        Input {
            id,
            label,
            kind: Kind::Amount(scales),
            role: Role::Measured,
            start: "",
        }
    }

    /// A quantity that is taken as exact and starts with a usual value.
    pub const fn nominal(
        id: &'static str,
        label: &'static str,
        scales: &'static [Scale],
        start: &'static str,
    ) -> Input {
        Input {
            id,
            label,
            kind: Kind::Amount(scales),
            role: Role::Nominal,
            start,
        }
    }

    /// A choice that starts with its first entry.
    pub const fn choice(
        id: &'static str,
        label: &'static str,
        choices: &'static [&'static str],
    ) -> Input {
        Input {
            id,
            label,
            kind: Kind::Choice(choices),
            role: Role::Nominal,
            start: choices[0],
        }
    }

    /// A number without a unit.
    pub const fn plain(id: &'static str, label: &'static str, start: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Plain,
            role: Role::Nominal,
            start,
        }
    }

    /// Several quantities.
    pub const fn list(id: &'static str, label: &'static str, scale: Scale) -> Input {
        Input {
            id,
            label,
            kind: Kind::Amounts(scale),
            role: Role::Measured,
            start: "",
        }
    }

    /// Several numbers without a unit.
    pub const fn plains(id: &'static str, label: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Plains,
            role: Role::Measured,
            start: "",
        }
    }

    /// A formula.
    pub const fn formula(id: &'static str, label: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Formula,
            role: Role::Nominal,
            start: "",
        }
    }

    /// Numbers that belong to two quantities each.
    pub const fn pairs(id: &'static str, label: &'static str) -> Input {
        Input {
            id,
            label,
            kind: Kind::Pairs,
            role: Role::Optional,
            start: "",
        }
    }

    /// The same, but it may be left out.
    pub const fn optional(self) -> Input {
        Input {
            role: Role::Optional,
            ..self
        }
    }

    /// The scale in which a bare number is read unless another is chosen.
    pub fn scale(&self) -> Option<Scale> {
        match self.kind {
            Kind::Amount(scales) => scales.first().copied(),
            Kind::Amounts(scale) => Some(scale),
            Kind::Plain | Kind::Plains | Kind::Formula | Kind::Pairs | Kind::Choice(_) => None,
        }
    }

    /// Reads what was typed; `None` when nothing was.
    ///
    /// A bare number is in the chosen scale, or else in the usual one.
    pub fn read(
        &self,
        text: &str,
        chosen: Option<Scale>,
        sign: DecimalSign,
    ) -> Result<Option<Entry>, ReadError> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        match self.kind {
            Kind::Amount(scales) => read_any(text, chosen, scales, sign).map(Entry::Amount),
            Kind::Plain => read_number(text, sign).map(Entry::Plain),
            Kind::Amounts(scale) => parts(text)
                .map(|part| read(part, scale, sign))
                .collect::<Result<_, _>>()
                .map(Entry::Amounts),
            Kind::Plains => parts(text)
                .map(|part| read_number(part, sign))
                .collect::<Result<_, _>>()
                .map(Entry::Plains),
            Kind::Formula => Formula::read(text, sign)
                .map(Entry::Formula)
                .map_err(ReadError::Formula),
            Kind::Pairs => parts(text)
                .map(|part| read_pair(part, sign))
                .collect::<Result<_, _>>()
                .map(Entry::Pairs),
            Kind::Choice(choices) => choices
                .iter()
                .position(|choice| *choice == text)
                .map(Entry::Choice)
                .ok_or_else(|| ReadError::UnknownUnit(super::excerpt(text))),
        }
        .map(Some)
    }
}

/// Reads in the chosen scale or the first one that fits.
fn read_any(
    text: &str,
    chosen: Option<Scale>,
    scales: &[Scale],
    sign: DecimalSign,
) -> Result<Quantity, ReadError> {
    let usual = chosen.or(scales.first().copied());
    let usual = usual.unwrap_or(Scale::plain(Unit::Ratio));
    let first = read(text, usual, sign);
    let is_other_unit = matches!(first, Err(ReadError::WrongUnit { .. }));
    let fitting = || {
        scales
            .iter()
            .find_map(|&scale| read(text, scale, sign).ok())
    };
    match is_other_unit.then(fitting).flatten() {
        Some(other) => Ok(other),
        None => first,
    }
}

/// Reads two different quantities and their number.
fn read_pair(text: &str, sign: DecimalSign) -> Result<(usize, usize, Number), ReadError> {
    let wrong = || ReadError::Pair(super::excerpt(text));
    let end = text.find(|c: char| !(c.is_alphabetic() || c.is_whitespace() || c == ','));
    let (letters, number) = text.split_at(end.ok_or_else(wrong)?);
    let letters = letters.chars().filter(|c| c.is_alphabetic());
    let places = letters.map(|letter| {
        let mut names = formula::NAMES.iter();
        names.position(|name| letter.eq_ignore_ascii_case(name))
    });
    match places.collect::<Vec<_>>()[..] {
        [Some(a), Some(b)] if a != b => Ok((a, b, read_number(number, sign)?)),
        _ => Err(wrong()),
    }
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split(['\n', ';'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
}

/// What was entered for one input.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// A quantity.
    Amount(Quantity),
    /// A number without a unit.
    Plain(Number),
    /// Several quantities.
    Amounts(Vec<Quantity>),
    /// Several numbers without a unit.
    Plains(Vec<Number>),
    /// A formula.
    Formula(Formula),
    /// The places of two quantities each, and a number.
    Pairs(Vec<(usize, usize, Number)>),
    /// The position of the choice.
    Choice(usize),
}

impl Entry {
    /// How many digits of a result this supports; `None` when it sets no bound.
    fn digits(&self) -> Option<u64> {
        match self {
            Entry::Amount(quantity) => digits(quantity),
            Entry::Amounts(quantities) => quantities.iter().filter_map(digits).min(),
            Entry::Plain(_)
            | Entry::Plains(_)
            | Entry::Formula(_)
            | Entry::Pairs(_)
            | Entry::Choice(_) => None,
        }
    }
}

/// Significant digits of a quantity; on a logarithmic scale one more than its decimals.
fn digits(quantity: &Quantity) -> Option<u64> {
    if quantity.unit().family() == Family::Level {
        return u64::try_from(quantity.number.decimals() + 1).ok();
    }
    let decimal = quantity.number.decimal();
    (!decimal.is_zero()).then(|| decimal.digits())
}

/// The entries of a sum, found by the ids of its inputs.
#[derive(Debug)]
pub struct Given<'a> {
    inputs: &'a [Input],
    entries: &'a [Option<Entry>],
}

impl<'a> Given<'a> {
    fn entry(&self, id: &str) -> Option<&'a Entry> {
        let index = self.inputs.iter().position(|input| input.id == id)?;
        self.entries.get(index)?.as_ref()
    }

    fn missing(&self, id: &str) -> Fault {
        Fault::Missing {
            what: "value",
            name: id.to_owned(),
        }
    }

    /// The quantity of an input.
    pub fn quantity(&self, id: &str) -> Result<&'a Quantity, Fault> {
        match self.entry(id) {
            Some(Entry::Amount(quantity)) => Ok(quantity),
            _ => Err(self.missing(id)),
        }
    }

    /// The size of an input in its unit without prefix, or its bare number.
    pub fn value(&self, id: &str) -> Result<f64, Fault> {
        match self.entry(id) {
            Some(Entry::Amount(quantity)) => Ok(quantity.base_f64()),
            Some(Entry::Plain(number)) => Ok(number.to_f64()),
            _ => Err(self.missing(id)),
        }
    }

    /// The exact number of an input without a unit.
    pub fn number(&self, id: &str) -> Result<&'a Number, Fault> {
        match self.entry(id) {
            Some(Entry::Plain(number)) => Ok(number),
            _ => Err(self.missing(id)),
        }
    }

    /// The exact numbers of a list without a unit; none when it was left out.
    pub fn numbers(&self, id: &str) -> &'a [Number] {
        match self.entry(id) {
            Some(Entry::Plains(numbers)) => numbers,
            _ => &[],
        }
    }

    /// The formula of an input.
    pub fn formula(&self, id: &str) -> Result<&'a Formula, Fault> {
        match self.entry(id) {
            Some(Entry::Formula(formula)) => Ok(formula),
            _ => Err(self.missing(id)),
        }
    }

    /// Numbers that belong to two quantities each; none when they were left out.
    pub fn pairs(&self, id: &str) -> &'a [(usize, usize, Number)] {
        match self.entry(id) {
            Some(Entry::Pairs(pairs)) => pairs,
            _ => &[],
        }
    }

    /// The size of an input that may be left out.
    pub fn maybe(&self, id: &str) -> Option<f64> {
        self.value(id).ok()
    }

    /// An input in percent, as a share of 1.
    pub fn share(&self, id: &str) -> Result<f64, Fault> {
        Ok(self.value(id)? / 100.0)
    }

    /// The position of a choice, which its input has.
    pub fn choice(&self, id: &str) -> Result<usize, Fault> {
        let input = self.inputs.iter().find(|input| input.id == id);
        match (self.entry(id), input.map(|input| input.kind)) {
            (Some(&Entry::Choice(index)), Some(Kind::Choice(choices))) if index < choices.len() => {
                Ok(index)
            }
            _ => Err(self.missing(id)),
        }
    }

    /// The quantities of a list; none when it was left out.
    pub fn quantities(&self, id: &str) -> &'a [Quantity] {
        match self.entry(id) {
            Some(Entry::Amounts(quantities)) => quantities,
            _ => &[],
        }
    }

    /// The sizes of a list, in the unit without prefix.
    pub fn values(&self, id: &str) -> Vec<f64> {
        let sizes = self.quantities(id).iter();
        sizes.map(Quantity::base_f64).collect()
    }
}

/// What a formula gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The results, the main one first.
    pub outputs: Vec<Output>,
    /// What a person would rather look at.
    pub picture: Option<Picture>,
}

impl Outcome {
    /// Results without a picture.
    pub fn new(outputs: impl Into<Vec<Output>>) -> Self {
        Outcome {
            outputs: outputs.into(),
            picture: None,
        }
    }

    /// The same with a picture.
    pub fn with(self, picture: Picture) -> Self {
        Outcome {
            picture: Some(picture),
            ..self
        }
    }
}

/// One result.
#[derive(Clone, Debug, PartialEq)]
pub struct Output {
    /// Its label.
    pub label: &'static str,
    /// Its value.
    pub value: Value,
    /// More digits than these would promise too much, whatever the inputs support.
    most: Option<usize>,
}

/// The value of a result.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A size in a unit without prefix.
    Amount(f64, Unit),
    /// A number without a unit.
    Plain(f64),
    /// A quantity that is exact already.
    Exact(Quantity),
    /// Words.
    Words(String),
    /// Words with numbers in them.
    Phrase(Phrase),
}

impl Output {
    /// A size in a unit.
    pub fn amount(label: &'static str, value: f64, unit: Unit) -> Self {
        Output {
            label,
            value: Value::Amount(value, unit),
            most: None,
        }
    }

    /// A number without a unit.
    pub fn plain(label: &'static str, value: f64) -> Self {
        Output {
            label,
            value: Value::Plain(value),
            most: None,
        }
    }

    /// A share of 1, in percent.
    pub fn percent(label: &'static str, share: f64) -> Self {
        Output::amount(label, share * 100.0, Unit::Percent)
    }

    /// An exact quantity.
    pub fn exact(label: &'static str, quantity: Quantity) -> Self {
        Output {
            label,
            value: Value::Exact(quantity),
            most: None,
        }
    }

    /// Words.
    pub fn words(label: &'static str, words: impl Into<String>) -> Self {
        Output {
            label,
            value: Value::Words(words.into()),
            most: None,
        }
    }

    /// Words with numbers in them.
    pub fn phrase(label: &'static str, phrase: Phrase) -> Self {
        Output {
            label,
            value: Value::Phrase(phrase),
            most: None,
        }
    }

    /// The same, with so many significant digits at most.
    pub fn at_most(self, digits: usize) -> Self {
        Output {
            most: Some(digits),
            ..self
        }
    }

    /// The result as a reading, rounded to so many digits; `None` for words and bare numbers.
    pub fn quantity(&self, digits: usize) -> Option<Quantity> {
        match &self.value {
            Value::Amount(value, unit) => rounded(*value, *unit, self.digits(digits)),
            Value::Exact(quantity) => Some(quantity.clone()),
            Value::Plain(_) | Value::Words(_) | Value::Phrase(_) => None,
        }
    }

    fn digits(&self, supported: usize) -> usize {
        self.most.map_or(supported, |most| most.min(supported))
    }

    /// The result as a page shows it.
    pub fn typeset(&self, digits: usize, sign: DecimalSign) -> String {
        match &self.value {
            Value::Words(words) => words.clone(),
            Value::Phrase(phrase) => phrase.typeset(sign),
            Value::Plain(value) => match significant(*value, self.digits(digits)) {
                Some(decimal) => plain_number(decimal).typeset(sign),
                None => "∞".to_owned(),
            },
            Value::Amount(..) | Value::Exact(_) => match self.quantity(digits) {
                Some(quantity) => quantity.typeset(sign),
                None => "∞".to_owned(),
            },
        }
    }
}

/// A size rounded to significant digits, in the scale that a person would say; on a logarithmic
/// scale with one decimal fewer than the digits.
fn rounded(value: f64, unit: Unit, digits: usize) -> Option<Quantity> {
    if unit.family() == Family::Level {
        let decimals = u8::try_from(digits.saturating_sub(1)).unwrap_or(u8::MAX);
        return Some(Quantity::new(
            Number::from_f64(value, decimals)?,
            Scale::plain(unit),
        ));
    }
    let base = significant(value, digits)?;
    let prefix = Prefix::natural(&base, unit);
    let number = plain_number(prefix.remove(&base));
    Some(Quantity::new(number, Scale::new(prefix, unit)))
}

/// A number rounded to significant digits; `None` when it is not finite.
fn significant(value: f64, digits: usize) -> Option<BigDecimal> {
    if value == 0.0 {
        return Some(BigDecimal::zero());
    }
    let text = format!("{value:.*e}", digits.max(1) - 1);
    BigDecimal::from_str(&text).ok()
}

fn plain_number(decimal: BigDecimal) -> Number {
    Number::from_decimal(decimal).without_exponent()
}

/// What a person would rather look at than a figure. Plain data for the screen to draw.
#[derive(Clone, Debug, PartialEq)]
pub enum Picture {
    /// Levels in dBm along a chain, the source first.
    LevelChain(Vec<f64>),
    /// An amplitude-modulated envelope.
    Envelope {
        /// The depth, 1 for full modulation.
        depth: f64,
    },
    /// Lines of a spectrum, in dB relative to the largest, with their names.
    Spectrum(Vec<(&'static str, f64)>),
    /// Names and shares of an uncertainty budget.
    ErrorBudget(Vec<(String, f64)>),
    /// A line with a wave that comes back in part.
    ReflectionLine {
        /// Magnitude of the reflection coefficient.
        reflection: f64,
    },
    /// A voltage that dies away.
    Discharge {
        /// Volts at the start.
        start: f64,
        /// Volts aimed at.
        safe: f64,
        /// Seconds until then.
        seconds: f64,
    },
    /// A value with its uncertainty between limits.
    Tolerance {
        /// Lower limit.
        low: Option<f64>,
        /// Upper limit.
        high: Option<f64>,
        /// The value.
        value: f64,
        /// Its expanded uncertainty.
        expanded: f64,
        /// Width of the guard band.
        guard: f64,
    },
    /// Temperatures in °C from the junction outward.
    HeatPath(Vec<(&'static str, f64)>),
    /// The bands of a resistor, by the names of their colours.
    Bands(Vec<&'static str>),
}

/// What a sum says so far.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Labels of the inputs that are still needed.
    StillNeeded(Vec<&'static str>),
    /// The results.
    Worked {
        /// Results and picture.
        outcome: Outcome,
        /// How many digits the inputs support.
        digits: usize,
    },
}

impl Sum {
    /// Works the sum out, or names what is still needed.
    ///
    /// `entries` are in the order of the inputs. Results have as many digits as the measured
    /// input with the fewest, and at least three.
    pub fn answer(&self, entries: &[Option<Entry>]) -> Result<Answer, Fault> {
        let entry = |index: usize| entries.get(index).and_then(Option::as_ref);
        let is_missing = |(index, input): &(usize, &Input)| {
            input.role != Role::Optional && entry(*index).is_none()
        };
        let needed: Vec<_> = self
            .inputs
            .iter()
            .enumerate()
            .filter(is_missing)
            .map(|(_, input)| input.label)
            .collect();
        if !needed.is_empty() {
            return Ok(Answer::StillNeeded(needed));
        }
        let given = Given {
            inputs: self.inputs,
            entries,
        };
        Ok(Answer::Worked {
            outcome: (self.compute)(&given)?,
            digits: self.digits(entries),
        })
    }

    fn digits(&self, entries: &[Option<Entry>]) -> usize {
        const LEAST: u64 = 3;
        const MOST: u64 = 12;
        let measured = self
            .inputs
            .iter()
            .zip(entries)
            .filter(|(input, _)| input.role != Role::Nominal);
        let fewest = measured
            .filter_map(|(_, entry)| entry.as_ref()?.digits())
            .min();
        fewest.unwrap_or(LEAST).clamp(LEAST, MOST) as usize
    }
}
