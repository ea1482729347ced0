//! What the columns of a pasted table mean: by their headings, by cells that leave no doubt, or
//! by what the user says. Nothing is guessed by order.

mod cells;
mod heading;
mod settle;

pub(super) use self::cells::{is_limit, repeats, says};
pub(super) use self::heading::is_head;
pub(super) use self::settle::settle;

use self::heading::{set_of, stated, unit_of, without_brackets, without_margin};
use crate::authoring::table::aim::Side;
use crate::authoring::table::hints::only;
use crate::authoring::table::lex::{Spelled, has_word, plain};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::meaning::Meaning::*;
use crate::authoring::table::phrases::{HEADS, QUANTITIES, TAILS, TOLERANCES};
use crate::procedure::Signal;
use crate::quantity::Scale;

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
                .trim_matches(['.', ':', ',', ';', ' '])
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
                let whole = without_brackets(&plain(heading));
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
