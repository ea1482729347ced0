//! What the columns of a pasted table mean: by their headings, by cells that leave no doubt, or
//! by what the user says. Nothing is guessed by order.

use super::aim::{Side, scale_of};
use super::hints::only;
use super::lex::{Spelled, Token, begins, has_word, lex, lone_unit, plain, tail_unit};
use super::meaning::Meaning;
use super::meaning::Meaning::*;
use super::phrases::{
    BELOW, BOXED, CHANNELS, DITTO, ELECTRODES, HEADS, MODES, NOTHING, PINS, PLACES, QUANTITIES,
    QUANTITY_NOUNS, READINGS, SIGNALS, STEPS, TAILS, TOLERANCES, TURNS, VERIFIED,
};
use crate::procedure::Signal;
use crate::quantity::{Prefix, Scale};

/// A column of a pasted table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Column {
    /// The heading, as pasted; its number where it has none.
    pub heading: String,
    /// What its cells are; none where nobody knows yet.
    pub meaning: Option<Meaning>,
    /// The unit that the heading states, as in `Target (MHz)`.
    pub scale: Option<Scale>,
    /// Whether its bare figures are limits, as in `Distortion (<%)`.
    pub side: Option<Side>,
    /// The words of the heading without unit and limit.
    pub(super) name: String,
    /// The unit as the heading prints it, which may leave open of which kind it is.
    pub(super) printed: Option<Spelled>,
    /// How far every figure may be off, as in `Value (±10 %)`.
    pub(super) margin: String,
    /// The set-up that the heading states, as in `TX SSB`.
    pub(super) set: HeadedSet,
    /// Whether any cell says something.
    pub(super) used: bool,
}

/// The set-up that a heading states.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct HeadedSet {
    pub signal: Option<Signal>,
    pub mode: String,
    pub channel: String,
    /// The pin or electrode.
    pub point: String,
}

impl Column {
    /// The column that a heading stands above.
    pub(super) fn headed(heading: &str) -> Column {
        let lower = plain(heading).to_lowercase().replace(['\n', '_'], " ");
        let plainly = |text: &str| {
            let text = match text.contains(char::is_alphabetic) {
                true => text.replace('-', " "),
                false => text.to_owned(),
            };
            text.split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
                .trim_matches(['.', ':', ' '])
                .to_owned()
        };
        let column = |name: &str, unit: Option<Spelled>, side: Option<Side>| Column {
            heading: heading.to_owned(),
            scale: unit.and_then(stated),
            printed: unit,
            side,
            name: plainly(name),
            ..Column::default()
        };
        let exactly = column(&lower, None, None);
        let mut parted = match exactly.known() {
            Some(meaning) => Column {
                meaning: Some(meaning),
                ..exactly
            },
            None => {
                let whole = plain(heading);
                let (words, margin) = without_margin(&whole);
                let mut parted = match unit_of(&words) {
                    Some((name, unit, side)) => column(&name.to_lowercase(), Some(unit), side),
                    None => column(&words.to_lowercase(), None, None),
                };
                parted.margin = margin;
                parted.understand();
                parted
            }
        };
        let aims = matches!(parted.meaning, Some(Target | Low | High | Nominal));
        if parted.printed.is_none() && aims {
            parted.scale = only(QUANTITIES, &parted.name).map(Scale::plain);
        }
        parted
    }

    /// A column without a heading.
    pub(super) fn unheaded(index: usize) -> Column {
        Column {
            heading: format!("Column {}", index + 1),
            ..Column::default()
        }
    }

    /// Takes it for one of several readings under a common heading, of which this is the own one.
    pub(super) fn is_one_of_several(&mut self, own: &str) {
        if matches!(self.meaning, None | Some(Target | Tolerance)) {
            self.meaning = Some(Reading);
            self.set = set_of(&own.to_lowercase()).unwrap_or_default();
            let off = TOLERANCES.iter().any(|word| has_word(&self.name, word));
            self.side = self.side.or(off.then_some(Side::Both));
        }
    }

    fn known(&self) -> Option<Meaning> {
        let named = |meaning: &Meaning| meaning.headings().contains(&self.name.as_str());
        Meaning::ALL.into_iter().find(named)
    }

    /// Finds out what the column is from the words of its heading.
    fn understand(&mut self) {
        if let Some(set) = set_of(&self.name) {
            self.set = set;
            self.meaning = Some(Reading);
            return;
        }
        self.meaning = self.known();
        if self.meaning.is_some() {
            return;
        }
        if self.name.is_empty() {
            self.meaning = self.scale.map(|_| Target);
            return;
        }
        // What to do in some case is told, whatever else the words would be a heading of.
        if self.name.starts_with("if ") {
            self.meaning = Some(Note);
            return;
        }
        let name = self.name.clone();
        for (words, meaning) in [
            (Low.headings(), Low),
            (High.headings(), High),
            (Left.headings(), Left),
            (Nominal.headings(), Nominal),
        ] {
            for word in words {
                let rest = name
                    .strip_suffix(&format!(" {word}"))
                    .or(name.strip_prefix(&format!("{word} ")));
                if let Some(rest) = rest
                    && (meaning != Left || name.ends_with(word))
                {
                    self.meaning = Some(meaning);
                    self.name = rest.to_owned();
                    return;
                }
            }
        }
        let tail = |words: &&[&str]| words.iter().any(|word| name.ends_with(&format!(" {word}")));
        let found = TAILS.iter().find(|(words, _)| tail(words));
        let by_side = self.side.map(|side| match side {
            Side::Lower => Low,
            Side::Upper => High,
            Side::Both => Target,
        });
        let first = name.split_whitespace().next();
        let by_head = first.is_some_and(|first| HEADS.contains(&first));
        self.meaning = found
            .map(|(_, meaning)| *meaning)
            .or(by_head.then_some(Target))
            .or(by_side);
    }

    /// What its heading states of its figures: their unit, and how far they may be off.
    pub fn figures(&self) -> String {
        let unit = match (self.scale, self.printed) {
            (Some(scale), _) => scale.symbol(),
            (None, Some(Spelled::Volts(prefix))) => format!("{}V", prefix.symbol()),
            (None, _) => String::new(),
        };
        let sign = match self.side {
            Some(Side::Upper) => "≤ ",
            Some(Side::Lower) => "≥ ",
            Some(Side::Both) => "± ",
            None => "",
        };
        let margin = match self.margin.as_str() {
            "" => String::new(),
            margin => format!(" ± {margin}"),
        };
        format!("{sign}{unit}{margin}").trim().to_owned()
    }

    /// Whether there is anything to be said of it.
    pub fn is_shown(&self) -> bool {
        self.used || self.meaning.is_some_and(|meaning| meaning != Left)
    }

    /// Whether someone has to say what it is.
    pub fn is_asked(&self) -> bool {
        self.meaning.is_none() && self.used
    }
}

/// Whether a heading in lower case says that something is expected, and what.
pub(super) fn is_head(name: &str) -> bool {
    let mut words = name.split_whitespace();
    let first = words.next().unwrap_or_default();
    let last = words.next_back().unwrap_or_default();
    HEADS.contains(&first) && QUANTITY_NOUNS.contains(&last)
}

/// The unit that a heading states; of microvolts it leaves open what they are.
fn stated(unit: Spelled) -> Option<Scale> {
    match unit {
        Spelled::Volts(Prefix::Micro) => None,
        unit => scale_of(unit, None),
    }
}

/// A heading without the tolerance that it states for all below it, as in `Value (V ±10 %)`.
fn without_margin(heading: &str) -> (String, String) {
    let whole = || (heading.to_owned(), String::new());
    let Some((at, sign)) = ["±", "+/-"]
        .iter()
        .find_map(|sign| Some((heading.find(sign)?, *sign)))
    else {
        return whole();
    };
    let behind = &heading[at + sign.len()..];
    let end = behind.find([')', ']']).unwrap_or(behind.len());
    let (margin, rest) = behind.split_at(end);
    let is_figure = margin
        .trim_start()
        .starts_with(|c: char| c.is_ascii_digit());
    // A sign before a unit says what the figures are.
    match is_figure {
        true => (
            format!("{}{rest}", &heading[..at]),
            margin.trim().to_owned(),
        ),
        false => whole(),
    }
}

/// The unit in a heading, with what is left of the heading and the side of a sign before it.
fn unit_of(heading: &str) -> Option<(String, Spelled, Option<Side>)> {
    let signed = |text: &str| {
        let text = text.trim();
        let upper = text
            .strip_prefix(['<', '≤'])
            .map(|rest| (rest, Side::Upper));
        let lower = || {
            text.strip_prefix(['>', '≥'])
                .map(|rest| (rest, Side::Lower))
        };
        let both = || {
            let rest = text.strip_prefix('±').or(text.strip_prefix("+/-"));
            rest.map(|rest| (rest, Side::Both))
        };
        let (rest, side) = match upper.or_else(lower).or_else(both) {
            Some((rest, side)) => (rest, Some(side)),
            None => (text, None),
        };
        lone_unit(rest).map(|unit| (unit, side))
    };
    // Decibels are counted from what stands behind them.
    for word in BELOW {
        if let Some((before, _)) = heading.split_once(&format!(" {word} "))
            && before.to_lowercase().ends_with("db")
            && let Some((name, unit, side)) = unit_of(before)
        {
            return Some((name, unit, side));
        }
    }
    if heading.len() > 1
        && let Some((unit, side)) = signed(heading)
    {
        return Some((String::new(), unit, side));
    }
    if let Some((before, rest)) = heading.split_once(['(', '['])
        && let Some((within, behind)) = rest.split_once([')', ']']).or(Some((rest, "")))
        && let Some((words, unit, side)) = signed(within)
            .map(|(unit, side)| ("", unit, side))
            .or_else(|| {
                let (words, unit) = within.rsplit_once(" in ")?;
                signed(unit).map(|(unit, side)| (words, unit, side))
            })
    {
        let (before, own) = without_sign(before);
        return Some((format!("{before} {words} {behind}"), unit, side.or(own)));
    }
    // What is said in brackets behind a unit tells it from another column.
    if let Some((before, rest)) = heading.split_once(" (")
        && let Some((within, "")) = rest.split_once(')')
        && let Some((name, unit)) = tail_unit(before)
    {
        // With the unit alone before them nothing else is named.
        let within = if name.is_empty() { "" } else { within };
        return Some((format!("{name} {within}"), unit, None));
    }
    // Where it is measured may stand behind the unit.
    for word in PLACES {
        if let Some((before, _)) = heading.split_once(&format!(" {word} "))
            && let Some(("", unit)) = tail_unit(before)
        {
            return Some((String::new(), unit, None));
        }
    }
    for sign in [", ", " in ", " / ", "/"] {
        if let Some((before, behind)) = heading.rsplit_once(sign)
            && let Some((unit, side)) = signed(behind)
        {
            return Some((before.to_owned(), unit, side));
        }
    }
    if let Some((before, unit)) = tail_unit(heading) {
        return Some((before.to_owned(), unit, None));
    }
    // The unit may stand before the limit, as in `Output dBm max`.
    let (before, limit) = heading.rsplit_once(' ')?;
    let lower = limit.to_lowercase();
    let is_limit =
        Low.headings().contains(&lower.as_str()) || High.headings().contains(&lower.as_str());
    let (before, unit) = tail_unit(before).filter(|_| is_limit)?;
    Some((format!("{before} {limit}"), unit, None))
}

/// A text without the sign of a limit at its end.
fn without_sign(text: &str) -> (&str, Option<Side>) {
    let text = text.trim_end();
    let cut = |signs: [char; 2]| text.strip_suffix(signs);
    let upper = cut(['<', '≤']).map(|rest| (rest, Some(Side::Upper)));
    let lower = cut(['>', '≥']).map(|rest| (rest, Some(Side::Lower)));
    let both = text.strip_suffix('±').map(|rest| (rest, Some(Side::Both)));
    upper.or(lower).or(both).unwrap_or((text, None))
}

/// The set-up that a heading states, where it states nothing else.
fn set_of(name: &str) -> Option<HeadedSet> {
    let mut set = HeadedSet::default();
    // What is read there says nothing of the set-up.
    let mut words = name
        .split([' ', '/', ','])
        .filter(|word| !word.is_empty() && !READINGS.contains(word))
        .peekable();
    words.peek()?;
    // One heading may stand for the electrodes of two kinds of parts.
    let mut parts = name
        .split(['(', ')', '/', ' '])
        .filter(|part| !part.is_empty());
    if ELECTRODES.contains(&name) || parts.all(|part| ELECTRODES.contains(&part)) {
        let first = name.split(['(', '/', ' ']).next().unwrap_or(name);
        let first = if ELECTRODES.contains(&name) {
            name
        } else {
            first
        };
        set.point = first.to_owned();
        return Some(set);
    }
    while let Some(word) = words.next() {
        let signal = SIGNALS
            .iter()
            .find(|(spelled, _)| word.len() > 1 && spelled.contains(&word));
        if let Some((_, signal)) = signal {
            if set.signal.is_some() {
                return None;
            }
            set.signal = Some(*signal);
        } else if MODES.contains(&word) {
            if !set.mode.is_empty() {
                return None;
            }
            set.mode = word.to_uppercase();
        } else if CHANNELS.contains(&word) || PINS.contains(&word) {
            let number = words
                .next()
                .filter(|next| next.starts_with(|c: char| c.is_ascii_digit()))?;
            match CHANNELS.contains(&word) {
                true => set.channel = number.to_owned(),
                false => set.point = format!("{word} {number}"),
            }
        } else {
            return None;
        }
    }
    Some(set)
}

/// Whether a cell says something; a line to write on does not.
pub(super) fn says(cell: &str) -> bool {
    let lower = cell.trim().to_lowercase();
    let blank = !lower.contains(|c: char| c != '_' && !c.is_whitespace())
        || lower.contains("___")
        || is_boxes(&lower);
    !blank && !NOTHING.contains(&lower.as_str())
}

/// Whether a cell has nothing but boxes to tick: `☐ Pass ☐ Fail`.
fn is_boxes(lower: &str) -> bool {
    let boxed =
        lower.contains(['\u{2610}', '\u{25a1}', '\u{2b1c}', '\u{274f}']) || lower.contains("[ ]");
    let mut words = lower.split(|c: char| !c.is_alphanumeric());
    boxed && words.all(|word| word.is_empty() || BOXED.contains(&word))
}

/// Whether a cell only repeats the one above.
pub(super) fn repeats(cell: &str) -> bool {
    // Printed small: a word with a capital may be a word.
    DITTO.contains(&cell.trim())
}

/// Settles what the headings alone leave open: by the cells, or by what was answered.
pub(super) fn settle(columns: &mut [Column], rows: &[&Vec<String>], answers: &[(String, Meaning)]) {
    let cells = |index: usize| {
        let all = rows.iter().filter_map(move |row| row.get(index));
        all.map(String::as_str)
            .filter(|cell| says(cell) && !repeats(cell))
    };
    let electrodes = columns
        .iter()
        .filter(|column| !column.set.point.is_empty())
        .count();
    let titled = columns
        .iter()
        .enumerate()
        .any(|(index, column)| column.meaning == Some(Title) && cells(index).next().is_some());
    for (index, column) in columns.iter_mut().enumerate() {
        column.used = cells(index).next().is_some();
        let figures = || cells(index).filter(|cell| cell.contains(|c: char| c.is_ascii_digit()));
        // With a unit or a set-up in its heading a word or two among the figures are left open by
        // themselves.
        let sets = !column.set.mode.is_empty()
            || column.set.signal.is_some()
            || (!column.set.point.is_empty() && electrodes > 1);
        let least = if column.printed.is_some() || sets {
            2
        } else {
            1
        };
        let figured = || least * figures().count() >= cells(index).count();
        match column.meaning {
            // A set-up heads readings only where figures stand below it.
            Some(Reading) if !figured() => column.meaning = None,
            // What is read stands under a meter too.
            Some(Instrument) if column.used && cells(index).all(starts_with_figure) => {
                column.meaning = None;
            }
            // A letter is an electrode beside others.
            Some(Reading) if column.set.point.len() == 1 && electrodes < 2 => column.meaning = None,
            // What is counted has numbers, or beside a title marks that count.
            Some(Number) if titled && cells(index).all(is_mark) => {}
            Some(Number) if !cells(index).all(counts) => column.meaning = Some(Title),
            // Receiving and transmitting are no modes.
            Some(Mode) if column.used && cells(index).all(is_signal) => {
                column.meaning = Some(Signal);
            }
            // A place to write in has nothing in it.
            Some(Left) if column.used => column.meaning = None,
            _ => {}
        }
    }
    take_sentences_for_steps(columns, &cells);
    number_the_steps(columns, &cells);
    name_the_adjustments(columns, &cells);
    words_beside_values(columns, &cells);
    once_each(columns);
    for (index, column) in columns.iter_mut().enumerate() {
        if column.meaning.is_none() && column.used && cells(index).all(is_test_point) {
            column.meaning = Some(Point);
        }
    }
    answer(columns, answers);
    one_of_values(columns, &cells);
    // What was answered stands, whatever the cells look like.
    answer(columns, answers);
}

/// Takes columns for what was answered of them. Of two that are aimed at, one that nobody was
/// asked about is asked about then.
fn answer(columns: &mut [Column], answers: &[(String, Meaning)]) {
    let said = |column: &Column| {
        let mut answers = answers.iter();
        answers.find_map(|(heading, it)| (*heading == column.heading).then_some(*it))
    };
    let aimed = columns.iter().any(|column| said(column) == Some(Target));
    for column in columns.iter_mut() {
        match said(column) {
            Some(meaning) => column.meaning = Some(meaning),
            None if aimed && column.meaning == Some(Target) => column.meaning = None,
            None => {}
        }
    }
}

fn is_signal(cell: &str) -> bool {
    let lower = cell.to_lowercase();
    let mut words = SIGNALS.iter().flat_map(|(words, _)| words.iter());
    words.any(|word| word.len() > 1 && *word == lower)
}

fn starts_with_figure(cell: &str) -> bool {
    cell.trim_start_matches(['+', '-', '<', '>', '.', ' '])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a cell is a number, or the letter that letters count from.
fn begins_to_count(cell: &str) -> bool {
    let bare = cell.trim_matches(['.', '(', ')']);
    bare.starts_with(|c: char| c.is_ascii_digit()) || matches!(bare, "a" | "A" | "i" | "I")
}

/// Whether a cell is a short number, such as `3`, `3.1` or `3a`, or a letter that counts like one.
fn counts(cell: &str) -> bool {
    let bare = cell.trim_matches(['.', '(', ')']);
    let numbered = bare.starts_with(|c: char| c.is_ascii_digit());
    let roman = !bare.is_empty() && bare.chars().all(|c| "ivxIVX".contains(c));
    let lettered =
        roman || (bare.len() == 1 && bare.starts_with(|c: char| c.is_ascii_alphabetic()));
    let short = cell.chars().count() <= 5;
    short && (numbered || lettered) && bare.chars().all(|c| c.is_ascii_alphanumeric() || c == '.')
}

/// Whether a cell is the mark of a row, such as `RF-012`.
fn is_mark(cell: &str) -> bool {
    let digits = cell.contains(|c: char| c.is_ascii_digit());
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_' | '(' | ')');
    digits && cell.len() <= 12 && cell.chars().all(plain)
}

fn is_test_point(cell: &str) -> bool {
    let digits = cell.strip_prefix("TP").map(str::trim);
    digits.is_some_and(|digits| {
        (1..=4).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit())
    })
}

/// A table with no target has one where a single column holds figures, half of them or more
/// as limits with their units: nothing else looks like that.
fn one_of_values<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let aims = |column: &Column| {
        matches!(
            column.meaning,
            Some(Target | Low | High | Nominal | Reading)
        )
    };
    if columns.iter().any(aims) {
        return;
    }
    let limits = |cell: &str| {
        let cell = plain(cell);
        let tokens = lex(&cell).tokens;
        let with_unit =
            |token: &Token| matches!(token, Token::Figure(figure) if figure.unit.is_some());
        let signs = |token: &Token| matches!(token, Token::Sense(_));
        tokens.iter().any(with_unit) && tokens.iter().any(signs) && !tokens.contains(&Token::Lost)
    };
    let states = |cell: &str| {
        let cell = plain(cell);
        let tokens = lex(&cell).tokens;
        let signs = |token: &Token| matches!(token, Token::Sense(_));
        tokens.iter().any(signs) && !tokens.contains(&Token::Lost)
    };
    let of_values = |(index, column): &(usize, &Column)| {
        let limits = |cell: &str| match column.printed {
            Some(_) => states(cell),
            None => limits(cell),
        };
        let figured = cells(*index).all(|cell| cell.contains(|c: char| c.is_ascii_digit()));
        let most = 2 * cells(*index).filter(|cell| limits(cell)).count() >= cells(*index).count();
        column.is_asked() && figured && most
    };
    let found: Vec<usize> = columns
        .iter()
        .enumerate()
        .filter(of_values)
        .map(|(index, _)| index)
        .collect();
    if let [index] = found.as_slice() {
        columns[*index].meaning = Some(Target);
    }
}

/// A column of steps that holds nothing but numbers numbers them, where another says more.
fn number_the_steps<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let telling = columns
        .iter()
        .filter(|c| matches!(c.meaning, Some(Title | Note)))
        .count();
    let aims = columns
        .iter()
        .any(|c| matches!(c.meaning, Some(Target | Low | High | Reading)));
    if telling < 2 && !aims {
        return;
    }
    let numbers = |(index, column): &(usize, &mut Column)| {
        let from_one = cells(*index).next().is_some_and(begins_to_count);
        let counted = from_one && cells(*index).all(counts);
        let marked = STEPS.contains(&column.name.as_str()) && cells(*index).all(is_mark);
        column.meaning == Some(Title) && column.used && (counted || marked)
    };
    if let Some((_, column)) = columns.iter_mut().enumerate().find(numbers) {
        column.meaning = Some(Number);
    }
}

/// A column of adjustments in which each cell is a sentence that says what to do says just that.
fn take_sentences_for_steps<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let asks = |cell: &str| {
        let words = cell.split_whitespace().count();
        words > 2 && (begins(cell, TURNS) || begins(cell, VERIFIED))
    };
    for (index, column) in columns.iter_mut().enumerate() {
        if column.meaning == Some(Adjuster) && column.used && cells(index).all(asks) {
            column.meaning = Some(Title);
        }
    }
}

/// Where two columns head what is turned and none what is done, the one without names of parts
/// says what is done.
fn name_the_adjustments<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let turned = |column: &Column| column.meaning == Some(Adjuster) && column.used;
    let titled = columns.iter().any(|column| column.meaning == Some(Title));
    let [first, second] = (0..columns.len())
        .filter(|index| turned(&columns[*index]))
        .collect::<Vec<_>>()[..]
    else {
        return;
    };
    let parts = |index: usize| {
        let named = |cell: &&str| cell.contains(|c: char| c.is_ascii_digit());
        cells(index).filter(named).count()
    };
    let words = match parts(first).cmp(&parts(second)) {
        std::cmp::Ordering::Less => first,
        std::cmp::Ordering::Greater => second,
        std::cmp::Ordering::Equal => return,
    };
    if !titled {
        columns[words].meaning = Some(Title);
    }
}

/// Where two columns head what is aimed at, one of names and one of figures, the names are titles.
fn words_beside_values<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let aims = |column: &Column| column.meaning == Some(Target) && column.used;
    let titled = columns.iter().any(|column| column.meaning == Some(Title));
    let [first, second] = (0..columns.len())
        .filter(|index| aims(&columns[*index]))
        .collect::<Vec<_>>()[..]
    else {
        return;
    };
    let stated = |index: usize| cells(index).filter(|cell| starts_with_limit(cell)).count();
    let names = |index: usize, other: usize| 2 * stated(index) < stated(other);
    let found = [(first, second), (second, first)]
        .into_iter()
        .find(|(index, other)| names(*index, *other));
    let of_words = |index: usize| {
        let lettered = |cell: &str| cell.contains(char::is_alphabetic);
        columns[index].printed.is_none() && cells(index).all(lettered)
    };
    if let Some((index, _)) = found.filter(|(index, _)| !titled || of_words(*index)) {
        // Beside a title they tell under which conditions.
        columns[index].meaning = Some(if titled { Condition } else { Title });
    }
}

/// Whether a cell begins with the sign of a limit and states it.
pub(super) fn is_limit(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let figure = |token: &Token| matches!(token, Token::Figure(figure) if figure.unit.is_some());
    cell.starts_with(['<', '>', '≤', '≥', '±']) && tokens.iter().any(figure)
}

/// Whether a cell states a limit or a figure with nothing that names something.
fn starts_with_limit(cell: &str) -> bool {
    let cell = plain(cell);
    let tokens = lex(&cell).tokens;
    let figure = |token: &Token| matches!(token, Token::Figure(_));
    tokens.iter().any(figure) && !tokens.contains(&Token::Lost) && !tokens.contains(&Token::Word)
}

/// A second column of the same meaning says more of the step: another title is a note. Columns
/// of readings that each bring a unit are readings of their own; any other is asked about.
fn once_each(columns: &mut [Column]) {
    let targets = || {
        columns
            .iter()
            .filter(|c| c.meaning == Some(Target) && c.used)
    };
    if targets().count() > 1 && targets().all(|column| column.scale.is_some()) {
        for column in columns.iter_mut().filter(|c| c.meaning == Some(Target)) {
            column.meaning = Some(Reading);
        }
    }
    for index in 0..columns.len() {
        let meaning = columns[index].meaning;
        let many = matches!(
            meaning,
            None | Some(Note | Caution | Condition | Reading | Left | Low | High)
        );
        let same = |c: &&Column| c.meaning == meaning && (c.used || !columns[index].used);
        if !many && columns[..index].iter().any(|c| same(&c)) {
            columns[index].meaning = match meaning {
                Some(Title) => Some(Note),
                _ => None,
            };
        }
    }
}
