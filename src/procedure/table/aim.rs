//! What a target and its tolerance say, in the spellings that tables use.

use crate::metrology::{Margin, Tolerance};
use crate::procedure::draft::{read_margin, read_with_unit};
use crate::quantity::{DecimalSign, Prefix, Quantity, Scale, Unit, read, read_number};
use bigdecimal::BigDecimal;
use num_traits::Zero;

/// What a step aims at, as far as it was understood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Aim {
    /// A largest or smallest reading.
    pub extreme: Option<Extreme>,
    /// Where the reading must lie.
    pub tolerance: Option<Tolerance>,
    /// The figure aimed at, where its tolerance is missing or not understood.
    pub nominal: Option<Quantity>,
    /// What was not understood.
    pub misread: Option<Misread>,
}

/// The largest or the smallest reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Extreme {
    Peak,
    Dip,
}

/// Why the target or its tolerance was not understood, in a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Misread {
    Target(String),
    Tolerance(String),
}

impl Aim {
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
}

/// How a bound is written, its figures still as text.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Shape<'a> {
    AtLeast(&'a str),
    AtMost(&'a str),
    Between(&'a str, &'a str),
    Around(&'a str, Sides<'a>),
    Figure(&'a str),
}

/// The tolerance to either side, still as text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Sides<'a> {
    below: &'a str,
    above: &'a str,
}

const PEAKS: &[&str] = &["peak", "maximum", "max", "maximise", "maximize", "highest"];
const DIPS: &[&str] = &[
    "dip", "null", "minimum", "min", "minimise", "minimize", "lowest",
];
const AT_LEAST: &[&str] = &[
    ">=",
    "≥",
    ">",
    "at least",
    "not less than",
    "over",
    "above",
    "from",
];
const AT_MOST: &[&str] = &[
    "<=",
    "≤",
    "<",
    "at most",
    "not more than",
    "up to",
    "below",
    "under",
];
const LIMITS_BELOW: &[&str] = &["minimum", "min", "or more"];
const LIMITS_ABOVE: &[&str] = &["maximum", "max", "or less"];
const PLUS_MINUS: &[&str] = &["±", "+/-", "+-"];

/// Reads the cells of target and tolerance; `due` is the unit that the table states.
pub(super) fn read_aim(
    target: &str,
    tolerance: &str,
    due: Option<Scale>,
    sign: DecimalSign,
) -> Aim {
    let (target, tolerance) = (plain(target), plain(tolerance));
    let (extreme, bound) = match extreme(&target) {
        Some((extreme, rest)) => (Some(extreme), rest),
        None => (None, target.as_str()),
    };
    let aim = match (bound.is_empty(), tolerance.is_empty()) {
        (true, true) => Aim::default(),
        // A table may state it all in the one column or the other.
        (true, false) => in_tolerance_column(read_bound(&tolerance, "", due, sign)),
        (false, _) => read_bound(bound, &tolerance, due, sign),
    };
    Aim { extreme, ..aim }
}

/// What was read of the column of tolerances alone; a figure there is no target.
fn in_tolerance_column(aim: Aim) -> Aim {
    let why = match aim.misread {
        None => return aim,
        Some(Misread::Target(why)) => why,
        Some(Misread::Tolerance(_)) => "there is no target that it belongs to".to_owned(),
    };
    Aim {
        misread: Some(Misread::Tolerance(why)),
        ..Aim::default()
    }
}

/// One kind of space and of minus.
fn plain(text: &str) -> String {
    let text = text.replace('\u{2212}', "-");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `peak`, `max.`, `dip`, and what follows; `max 4 W` is no peak but a limit.
fn extreme(text: &str) -> Option<(Extreme, &str)> {
    let find =
        |words| after_word(text, words).map(|rest| rest.trim_start_matches([',', ';', ':', ' ']));
    let is_limit = |rest: &str| {
        let word = text[..text.len() - rest.len()].to_lowercase();
        let limits = word.starts_with("max") || word.starts_with("min");
        limits && rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'))
    };
    let found = find(PEAKS).map(|rest| (Extreme::Peak, rest));
    found
        .or_else(|| find(DIPS).map(|rest| (Extreme::Dip, rest)))
        .filter(|(_, rest)| !is_limit(rest))
}

/// What follows one of the words at the beginning of a text.
fn after_word<'a>(text: &'a str, words: &[&str]) -> Option<&'a str> {
    words.iter().find_map(|word| {
        let head = text.get(..word.len())?;
        let rest = &text[word.len()..];
        let runs_on = word.ends_with(char::is_alphabetic) && rest.starts_with(char::is_alphabetic);
        (head.to_lowercase() == *word && !runs_on)
            .then(|| rest.trim_start_matches('.').trim_start())
    })
}

/// What stands before one of the words at the end of a text.
fn before_word<'a>(text: &'a str, words: &[&str]) -> Option<&'a str> {
    let text = text.trim_end_matches('.');
    words.iter().find_map(|word| {
        let at = text.len().checked_sub(word.len())?;
        let tail = text.get(at..)?;
        let head = text[..at].strip_suffix(' ')?;
        (tail.to_lowercase() == *word).then(|| head.trim_end_matches([',', ' ']))
    })
}

/// The shape of a target with the cell of its tolerance; none where each states limits.
fn shape<'a>(text: &'a str, tolerance: &'a str) -> Option<Shape<'a>> {
    match stated(text) {
        shape if tolerance.is_empty() => Some(shape),
        Shape::Figure(one) if after_word(tolerance, LIMITS_BELOW) == Some("") => {
            Some(Shape::AtLeast(one))
        }
        Shape::Figure(one) if after_word(tolerance, LIMITS_ABOVE) == Some("") => {
            Some(Shape::AtMost(one))
        }
        Shape::Figure(nominal) => Some(Shape::Around(nominal, sides(tolerance))),
        _ => None,
    }
}

/// A bound as it stands in one cell.
fn stated(text: &str) -> Shape<'_> {
    if let Some(low) = after_word(text, AT_LEAST).or(after_word(text, LIMITS_BELOW)) {
        return Shape::AtLeast(low);
    }
    if let Some(high) = after_word(text, AT_MOST).or(after_word(text, LIMITS_ABOVE)) {
        return Shape::AtMost(high);
    }
    if let Some(low) = before_word(text, LIMITS_BELOW) {
        return Shape::AtLeast(low);
    }
    if let Some(high) = before_word(text, LIMITS_ABOVE) {
        return Shape::AtMost(high);
    }
    if let Some((nominal, both)) = PLUS_MINUS.iter().find_map(|sign| text.split_once(sign)) {
        let (below, above) = (both.trim(), both.trim());
        return Shape::Around(nominal.trim(), Sides { below, above });
    }
    if let Some(at) = text.find(" +").filter(|&at| at > 0) {
        return Shape::Around(text[..at].trim(), sides(text[at..].trim()));
    }
    match range(text) {
        Some((low, high)) => Shape::Between(low.trim(), high.trim()),
        None => Shape::Figure(text),
    }
}

/// The two ends of a range: `4…5 W`, `4 to 5 W`, `4 W - 5 W`, `4-5 W`.
fn range(text: &str) -> Option<(&str, &str)> {
    for sign in ["…", "...", "..", " to "] {
        if let Some(ends) = text.split_once(sign) {
            return Some(ends);
        }
    }
    // A dash is a range only between two figures; at the beginning it is a minus.
    text.char_indices().skip(1).find_map(|(at, c)| {
        let (low, high) = (&text[..at], text[at + c.len_utf8()..].trim_start());
        let figures = low.contains(|c: char| c.is_ascii_digit())
            && high.starts_with(|c: char| c.is_ascii_digit() || c == '-');
        let whole = low.ends_with(|c: char| c.is_ascii_digit() || c == ' ');
        (matches!(c, '-' | '–') && figures && whole).then_some((low, high))
    })
}

/// A tolerance on its own: `20 Hz`, `±5 %`, `+2/-10 mA`, `-0.2 +0.5 V`.
fn sides(text: &str) -> Sides<'_> {
    let text = PLUS_MINUS
        .iter()
        .find_map(|sign| text.strip_prefix(sign))
        .unwrap_or(text)
        .trim();
    let two = |first: char, second: char| {
        let rest = text.strip_prefix(first)?;
        let (one, other) = rest.split_once(second)?;
        Some((one.trim_end_matches([' ', '/', ',']), other.trim()))
    };
    if let Some((above, below)) = two('+', '-') {
        return Sides { below, above };
    }
    if let Some((below, above)) = two('-', '+') {
        return Sides { below, above };
    }
    Sides {
        below: text,
        above: text,
    }
}

fn read_bound(text: &str, tolerance: &str, due: Option<Scale>, sign: DecimalSign) -> Aim {
    let Some(shape) = shape(text, tolerance) else {
        let why = "the target brings its limits itself: one of the two is too many";
        return Aim {
            misread: Some(Misread::Tolerance(why.to_owned())),
            ..read_bound(text, "", due, sign)
        };
    };
    let misread = |misread| Aim {
        misread: Some(misread),
        ..Aim::default()
    };
    let Some(scale) = scale_of(&shape, due) else {
        return misread(Misread::Target(no_unit(text, sign)));
    };
    let figure = |text: &str| read(text, scale, sign).map_err(|error| error.to_string());
    let read = match shape {
        Shape::AtLeast(low) => figure(low).map(Tolerance::AtLeast),
        Shape::AtMost(high) => figure(high).map(Tolerance::AtMost),
        Shape::Between(low, high) => figure(low).and_then(|low| {
            let high = figure(high)?;
            Ok(Tolerance::Between { low, high })
        }),
        Shape::Figure(nominal) => match figure(nominal) {
            Ok(nominal) => return without_tolerance(nominal, NO_TOLERANCE.to_owned()),
            Err(why) => Err(why),
        },
        Shape::Around(nominal, sides) => match figure(nominal) {
            Ok(nominal) => match around(&nominal, sides, sign) {
                Ok(tolerance) => Ok(tolerance),
                Err(why) => return without_tolerance(nominal, why),
            },
            Err(why) => Err(why),
        },
    };
    let judges = |tolerance: Tolerance| match tolerance.fault(scale.unit) {
        None => Ok(tolerance),
        Some(fault) => Err(fault.to_string()),
    };
    match read.and_then(judges) {
        Ok(tolerance) => Aim {
            tolerance: Some(tolerance),
            ..Aim::default()
        },
        Err(why) => misread(Misread::Target(why)),
    }
}

const NO_TOLERANCE: &str = "it has no tolerance: give it one, such as ± 20 Hz, 5 % or 10 ppm";

fn without_tolerance(nominal: Quantity, why: String) -> Aim {
    Aim {
        nominal: Some(nominal),
        misread: Some(Misread::Tolerance(why)),
        ..Aim::default()
    }
}

fn around(nominal: &Quantity, sides: Sides, sign: DecimalSign) -> Result<Tolerance, String> {
    let side = |text, other| margin(&with_suffix(text, other, sign), nominal, sign);
    Ok(Tolerance::Around {
        nominal: nominal.clone(),
        below: side(sides.below, sides.above)?,
        above: side(sides.above, sides.below)?,
    })
}

/// The unit and prefix of bare figures: those that a figure beside them brings, or the due
/// ones.
fn scale_of(shape: &Shape, due: Option<Scale>) -> Option<Scale> {
    let pieces = match shape {
        Shape::AtLeast(one) | Shape::AtMost(one) | Shape::Figure(one) => [*one, ""],
        Shape::Between(low, high) => [*high, *low],
        Shape::Around(nominal, sides) => [*nominal, sides.above],
    };
    let is_share = |text: &str| text.ends_with('%') || text.ends_with("ppm");
    let share_of_it = matches!(shape, Shape::Around(..));
    let brought = pieces
        .iter()
        .enumerate()
        .filter(|(index, text)| !(share_of_it && *index == 1 && is_share(text)))
        .find_map(|(_, text)| match due {
            Some(due) => with_unit(text, due.unit),
            None => read_with_unit(text, DecimalSign::Comma).filter(|_| !is_lone_prefix(text)),
        });
    brought.map(|quantity| quantity.scale).or(due)
}

/// A quantity that spells its unit, where that is the one that is due.
pub(super) fn with_unit(text: &str, unit: Unit) -> Option<Quantity> {
    let read = |sign| read(text, Scale::plain(unit), sign).ok();
    let spelled = text.contains(|c: char| c.is_alphabetic() || matches!(c, '%' | ':' | '°'));
    (spelled && !is_lone_prefix(text))
        .then(|| read(DecimalSign::Comma))
        .flatten()
}

/// Whether all that follows the digits is one letter for a prefix: nobody knows 50m of what.
fn is_lone_prefix(text: &str) -> bool {
    let suffix = text.trim_start_matches(|c: char| !c.is_alphabetic());
    let prefixes = [
        Prefix::Pico,
        Prefix::Nano,
        Prefix::Micro,
        Prefix::Milli,
        Prefix::Kilo,
    ];
    let big = [Prefix::Mega, Prefix::Giga];
    let all = || prefixes.iter().chain(&big);
    all().any(|prefix| prefix.symbol() == suffix) || matches!(suffix, "u" | "K" | "\u{3bc}")
}

fn no_unit(text: &str, sign: DecimalSign) -> String {
    match read_number(text, sign) {
        Ok(_) => format!(
            "{text} of what? Write it with its unit, such as {text} MHz, or give the table a column of units"
        ),
        Err(_) => "it is no target that is known here: write it like 9.0015 MHz, 4…5 W, > 4 W, \
                   max or min"
            .to_owned(),
    }
}

/// A bare figure with the unit of the other one, as in `+2/-10 mA`.
fn with_suffix(text: &str, other: &str, sign: DecimalSign) -> String {
    let digits = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '-' | '+');
    match read_number(text, sign) {
        Ok(_) => format!("{text} {}", other.trim_start_matches(digits))
            .trim()
            .to_owned(),
        Err(_) => text.to_owned(),
    }
}

/// The tolerance to one side. A bare one counts in the target's own unit and prefix where
/// that can be meant.
fn margin(text: &str, nominal: &Quantity, sign: DecimalSign) -> Result<Margin, String> {
    let several = nominal.unit().of_difference().prefixes().len() > 1;
    let Some(number) = read_number(text, sign).ok().filter(|_| several) else {
        let why = |error: String| error.trim_start_matches("its tolerance: ").to_owned();
        return read_margin(text, nominal.scale, sign).map_err(why);
    };
    let margin = Quantity::new(number, nominal.scale);
    // Common practice, no source: no bench states a frequency to less than one in a hundred.
    let (share, times) = match nominal.unit() {
        Unit::Hertz => ("a hundredth", 100),
        _ => ("half", 2),
    };
    let least = margin.base().abs() * BigDecimal::from(times);
    match nominal.base().is_zero() || least <= nominal.base().abs() {
        true => Ok(Margin::Absolute(margin)),
        false => Err(format!(
            "{text} without a unit would be {}, more than {share} of the target: write the unit, such as {text} {}",
            margin.typeset(sign),
            Scale::plain(nominal.unit()).symbol(),
        )),
    }
}
