//! Two devices as they are typed.

use crate::app::shell::bench::Bench;
use crate::app::words::set::substitution as words;
use crate::app::words::shared;
use crate::quantity;
use crate::quantity::{DecimalSign, Prefix, Quantity, ReadError, Scale, Unit};
use crate::radio::components::substitution::{
    Device, Gain, Kind, Pins, Rating, Seen, Substitution,
};
use crate::store::TypedInputs;
use leptos::prelude::*;
use std::fmt::Display;

/// The name under which what is typed is kept, beside the calculations.
pub(super) const KEPT_AS: &str = "substitution";

/// The fields of what is printed on the two.
const NAMES: [&str; 2] = ["old-name", "new-name"];

/// At which case temperature a rating counts as long as none is typed, in °C.
const USUAL_CASE: &str = "25";

pub(super) const KINDS: [(Kind, &str, &str); 4] = [
    (Kind::Npn, "npn", words::NPN),
    (Kind::Pnp, "pnp", words::PNP),
    (Kind::NChannel, "n", words::N_CHANNEL),
    (Kind::PChannel, "p", words::P_CHANNEL),
];

pub(super) const SIDES: [(Seen, &str, &str); 3] = [
    (Seen::Front, "front", words::PRINTED_SIDE),
    (Seen::Back, "back", words::BACK_SIDE),
    (Seen::Below, "below", words::FROM_BELOW),
];

/// A line of the form: a rating of both devices.
pub(super) struct Line {
    pub(super) key: &'static str,
    pub(super) label: &'static str,
    /// What the number is taken in; nothing for a bare number.
    pub(super) scale: Option<(Prefix, Unit)>,
    pub(super) rating: Option<Rating>,
}

pub(super) const fn line(
    key: &'static str,
    label: &'static str,
    scale: Option<(Prefix, Unit)>,
    rating: Option<Rating>,
) -> Line {
    Line {
        key,
        label,
        scale,
        rating,
    }
}

pub(super) const LINES: &[Line] = &[
    line(
        "breakdown",
        words::BREAKDOWN,
        Some((Prefix::None, Unit::VoltDc)),
        Some(Rating::Breakdown),
    ),
    line(
        "current",
        words::CURRENT,
        Some((Prefix::None, Unit::Ampere)),
        Some(Rating::Current),
    ),
    line(
        "dissipation",
        words::DISSIPATION,
        Some((Prefix::None, Unit::Watt)),
        Some(Rating::Dissipation),
    ),
    line(
        "junction",
        words::JUNCTION,
        Some((Prefix::None, Unit::Celsius)),
        None,
    ),
    line(
        "path",
        words::PATH,
        Some((Prefix::None, Unit::CelsiusPerWatt)),
        None,
    ),
    line("gain", words::GAIN, None, Some(Rating::Gain)),
    line(
        "transition",
        words::TRANSITION,
        Some((Prefix::Mega, Unit::Hertz)),
        Some(Rating::Transition),
    ),
];

/// What is typed, read as far as it goes.
struct Reader<'a> {
    pub(super) typed: &'a TypedInputs,
    pub(super) sign: DecimalSign,
    pub(super) complaints: Vec<(String, String)>,
}

impl Reader<'_> {
    pub(super) fn text(&self, key: &str) -> String {
        let typed = self.typed.get(key);
        typed.map_or(String::new(), |typed| typed.text.trim().to_owned())
    }

    fn read<T, E: Display>(
        &mut self,
        key: &str,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        let text = self.text(key);
        if text.is_empty() {
            return None;
        }
        match read(&text) {
            Ok(value) => Some(value),
            Err(error) => {
                self.complaints
                    .push((key.to_owned(), shared::sentence(error)));
                None
            }
        }
    }

    fn quantity(&mut self, side: &str, key: &str) -> Option<Quantity> {
        let line = LINES.iter().find(|line| line.key == key)?;
        let (prefix, unit) = line.scale?;
        self.amount(&format!("{side}-{key}"), Scale::new(prefix, unit))
    }

    fn amount(&mut self, key: &str, scale: Scale) -> Option<Quantity> {
        let sign = self.sign;
        self.read(key, |text| {
            quantity::read(text, scale, sign).map_err(|error| match error {
                // The reader speaks of steps, which are elsewhere.
                ReadError::WrongUnit { typed, due } => {
                    words::wrong_unit(typed.symbol(), due.symbol())
                }
                other => other.to_string(),
            })
        })
    }

    fn device(&mut self, side: &str, unnamed: &str) -> Device {
        let name = self.text(&format!("{side}-name"));
        let sign = self.sign;
        let kind = self.text(&format!("{side}-kind"));
        let seen = self.text(&format!("{side}-seen"));
        let seen = SIDES.iter().find(|(_, key, _)| *key == seen);
        let seen = seen.map_or(Seen::Front, |(seen, ..)| *seen);
        Device {
            name: match name.is_empty() {
                true => unnamed.to_owned(),
                false => name,
            },
            kind: KINDS
                .iter()
                .find(|(_, key, _)| *key == kind)
                .map(|(kind, ..)| *kind),
            breakdown: self.quantity(side, "breakdown"),
            current: self.quantity(side, "current"),
            dissipation: self.quantity(side, "dissipation"),
            junction: self.quantity(side, "junction"),
            junction_to_case: self.quantity(side, "path"),
            gain: self
                .read(&format!("{side}-gain"), |text| {
                    quantity::read_number(text, sign)
                })
                .map(|least| Gain { least, most: None }),
            transition: self.quantity(side, "transition"),
            pins: self
                .read(&format!("{side}-pins"), |text| text.to_uppercase().parse())
                .map(|order| Pins { order, seen }),
        }
    }
}

/// What was typed, with the reason for each field that can't be read.
pub(super) fn read(
    typed: &TypedInputs,
    sign: DecimalSign,
) -> (Option<Substitution>, Vec<(String, String)>) {
    let mut reader = Reader {
        typed,
        sign,
        complaints: Vec::new(),
    };
    let old = reader.device("old", words::OLD);
    let new = reader.device("new", words::NEW);
    let celsius = Scale::plain(Unit::Celsius);
    let case = reader.amount("case", celsius);
    let complaints = reader.complaints;
    let case = case.or_else(|| quantity::read(USUAL_CASE, celsius, sign).ok());
    let read = case.filter(|_| complaints.is_empty());
    (read.map(|case| Substitution { old, new, case }), complaints)
}

/// The check as it stands on the screen, where all of it can be read, both devices are named and
/// something is known of both: what is kept with a change must say something of something.
pub fn typed(bench: Bench) -> Option<Substitution> {
    let sign = untrack(|| bench.sign());
    fit_to_keep(&bench.sum(KEPT_AS), sign)
}

fn fit_to_keep(typed: &TypedInputs, sign: DecimalSign) -> Option<Substitution> {
    let check = read(typed, sign).0?;
    let says = check
        .compare()
        .is_ok_and(|compared| compared.says_something());
    (says && is_named(typed)).then_some(check)
}

pub(super) fn is_named(typed: &TypedInputs) -> bool {
    let named = |key: &str| {
        typed
            .get(key)
            .is_some_and(|name| !name.text.trim().is_empty())
    };
    NAMES.iter().all(|key| named(key))
}
