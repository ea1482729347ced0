//! The substitution check: one transistor in place of another, rating by rating.

use super::bench::{Bench, use_bench};
use super::open_step::WayBack;
use super::put_back::step_in_hand;
use super::route::Route;
use crate::quantity::{self, DecimalSign, Prefix, Quantity, ReadError, Scale, Unit};
use crate::radio::substitution::{
    Comparison, Device, Gain, Kind, Pins, Rating, Seen, Standing, Substitution,
};
use crate::store::{Typed, TypedInputs};
use leptos::prelude::*;
use std::fmt::Display;

/// The name under which what is typed is kept, beside the calculations.
const KEPT_AS: &str = "substitution";

/// At which case temperature a rating counts as long as none is typed, in °C.
const USUAL_CASE: &str = "25";

const KINDS: [(Kind, &str, &str); 4] = [
    (Kind::Npn, "npn", "NPN"),
    (Kind::Pnp, "pnp", "PNP"),
    (Kind::NChannel, "n", "N channel"),
    (Kind::PChannel, "p", "P channel"),
];

const SIDES: [(Seen, &str, &str); 3] = [
    (Seen::Front, "front", "printed side"),
    (Seen::Back, "back", "back"),
    (Seen::Below, "below", "below, printed side up"),
];

/// A line of the form: a rating of both devices.
struct Line {
    key: &'static str,
    label: &'static str,
    /// What the number is taken in; nothing for a bare number.
    scale: Option<(Prefix, Unit)>,
    rating: Option<Rating>,
}

const fn line(
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

const LINES: &[Line] = &[
    line(
        "breakdown",
        "Breakdown voltage",
        Some((Prefix::None, Unit::VoltDc)),
        Some(Rating::Breakdown),
    ),
    line(
        "current",
        "Highest current",
        Some((Prefix::None, Unit::Ampere)),
        Some(Rating::Current),
    ),
    line(
        "dissipation",
        "Dissipation at a case of 25 °C",
        Some((Prefix::None, Unit::Watt)),
        Some(Rating::Dissipation),
    ),
    line(
        "junction",
        "Highest junction temperature",
        Some((Prefix::None, Unit::Celsius)),
        None,
    ),
    line(
        "path",
        "Junction to case",
        Some((Prefix::None, Unit::CelsiusPerWatt)),
        None,
    ),
    line("gain", "Least current gain", None, Some(Rating::Gain)),
    line(
        "transition",
        "Transition frequency",
        Some((Prefix::Mega, Unit::Hertz)),
        Some(Rating::Transition),
    ),
];

/// What is typed, read as far as it goes.
struct Reader<'a> {
    typed: &'a TypedInputs,
    sign: DecimalSign,
    complaints: Vec<(String, String)>,
}

impl Reader<'_> {
    fn text(&self, key: &str) -> String {
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
                let sentence = error.to_string();
                let sentence = sentence.trim_end_matches('.');
                self.complaints
                    .push((key.to_owned(), format!("{sentence}.")));
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
                    let (typed, due) = (typed.symbol(), due.symbol());
                    format!("{typed} does not belong here: use {due}")
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
fn read(typed: &TypedInputs, sign: DecimalSign) -> (Option<Substitution>, Vec<(String, String)>) {
    let mut reader = Reader {
        typed,
        sign,
        complaints: Vec::new(),
    };
    let old = reader.device("old", "the old one");
    let new = reader.device("new", "the new one");
    let celsius = Scale::plain(Unit::Celsius);
    let case = reader.amount("case", celsius);
    let complaints = reader.complaints;
    let case = case.or_else(|| quantity::read(USUAL_CASE, celsius, sign).ok());
    let read = case.filter(|_| complaints.is_empty());
    (read.map(|case| Substitution { old, new, case }), complaints)
}

/// The check as it stands on the screen, where all of it can be read.
pub fn typed(bench: Bench) -> Option<Substitution> {
    let sign = untrack(|| bench.sign());
    read(&bench.sum(KEPT_AS), sign).0
}

/// What comes of a check, in a few sentences.
pub fn verdict(check: &Substitution, sign: DecimalSign) -> String {
    let compared = match check.compare() {
        Ok(compared) => compared,
        Err(fault) => return fault.to_string(),
    };
    let known = compared
        .ratings
        .iter()
        .filter(|(_, standing)| !matches!(standing, Standing::Missing { .. }))
        .map(|(rating, standing)| format!("{rating} {}", standing.words(sign)));
    let known: Vec<String> = known.collect();
    let ratings = match known.is_empty() {
        true => "no rating is known of both".to_owned(),
        false => known.join(", "),
    };
    format!(
        "“{}” for “{}” at a case of {}: {ratings}. {} {}",
        check.new.name,
        check.old.name,
        check.case.typeset(sign),
        weak_one(&compared),
        compared.seat
    )
}

/// The rating that falls short the most.
fn weak_one(compared: &Comparison) -> String {
    match compared.weakest {
        Some(rating) => format!("The weak one is its {rating}."),
        None => "No known rating falls short.".to_owned(),
    }
}

/// What is typed, with what comes of it.
#[derive(Clone, Copy)]
struct Desk {
    bench: Bench,
    typed: RwSignal<TypedInputs>,
}

impl Desk {
    fn text(self, key: &str) -> String {
        let text = |typed: &TypedInputs| typed.get(key).map(|typed| typed.text.clone());
        self.typed.with(text).unwrap_or_default()
    }

    fn type_in(self, key: String, text: String) {
        self.typed.update(|typed| match text.is_empty() {
            true => drop(typed.remove(&key)),
            false => drop(typed.insert(key, Typed { text, scale: None })),
        });
        let typed = self.typed.get_untracked();
        self.bench.keep_sum(KEPT_AS, &typed);
    }

    fn complaint(self, key: &str) -> Option<String> {
        let sign = self.bench.sign();
        let (_, complaints) = self.typed.with(|typed| read(typed, sign));
        let found = complaints.into_iter().find(|(of, _)| of == key);
        found.map(|(_, sentence)| sentence)
    }

    fn compared(self) -> Option<Result<Comparison, String>> {
        let sign = self.bench.sign();
        let (check, _) = self.typed.with(|typed| read(typed, sign));
        check.map(|check| check.compare().map_err(|fault| fault.to_string()))
    }
}

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let desk = Desk {
        bench,
        typed: RwSignal::new(bench.sum(KEPT_AS)),
    };
    let clear = move |_| {
        desk.typed.set(TypedInputs::new());
        bench.keep_sum(KEPT_AS, &TypedInputs::new());
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Sums.address()>"All sums"</a><WayBack/></p>
            <h1>"Substitution check"</h1>
            <p>"A transistor in place of another, by what their data sheets say. Fill in what you know of both; the rest is left open."</p>
            <div class="swap">
                <div class="swap-row swap-head" aria-hidden="true">
                    <span></span><span>"Comes out"</span><span>"Goes in"</span><span>"The new one is"</span>
                </div>
                {pair(desk, "name", "Printed on it", "", None)}
                {choice(desk, "kind", "Kind", KINDS.iter().map(|(_, key, name)| (*key, *name)).collect(), "not said")}
                {LINES.iter().map(|line| pair(desk, line.key, line.label, symbol(line), line.rating)).collect_view()}
                {pair(desk, "pins", "Legs, left to right", "such as ECB", None)}
                {choice(desk, "seen", "Seen", SIDES[1..].iter().map(|(_, key, name)| (*key, *name)).collect(), SIDES[0].2)}
                <div class="swap-row">
                    <label for="case">"Case temperature in the set"<span class="hint">"°C, 25 unless you say"</span></label>
                    {input(desk, "case".to_owned(), "Case temperature in the set, °C".to_owned())}
                </div>
            </div>
            {move || outcome(desk)}
            <div class="row">
                {move || keep(desk)}
                <button type="button" class="plain" disabled=move || desk.typed.with(TypedInputs::is_empty)
                    on:click=clear>"Clear what was typed"</button>
            </div>
        </section>
    }
}

fn symbol(line: &Line) -> &'static str {
    match line.scale {
        Some((Prefix::Mega, Unit::Hertz)) => "MHz",
        Some((_, unit)) => unit.symbol(),
        None => "",
    }
}

fn input(desk: Desk, key: String, name: String) -> impl IntoView {
    let value = {
        let key = key.clone();
        move || desk.text(&key)
    };
    let wrong = {
        let key = key.clone();
        move || desk.complaint(&key)
    };
    let invalid = wrong.clone();
    let id = key.clone();
    view! {
        <div class="swap-input">
            <input id=id type="text" autocomplete="off" spellcheck="false" aria-label=name
                aria-invalid=move || invalid().is_some().to_string()
                prop:value=value
                on:input=move |event| desk.type_in(key.clone(), event_target_value(&event))/>
            <p class="error" role="alert">{wrong}</p>
        </div>
    }
}

/// A line with a field for each of the two devices.
fn pair(
    desk: Desk,
    key: &'static str,
    label: &'static str,
    hint: &'static str,
    rating: Option<Rating>,
) -> impl IntoView {
    let field = |side: &str, words: &str| {
        let name = format!("{label}, {words}");
        let name = match hint.is_empty() {
            true => name,
            false => format!("{name}, {hint}"),
        };
        input(desk, format!("{side}-{key}"), name)
    };
    let standing = move || {
        let rating = rating?;
        let compared = desk.compared()?.ok()?;
        let (_, standing) = compared
            .ratings
            .iter()
            .find(|(other, _)| *other == rating)?;
        let weakest = compared.weakest == Some(rating);
        let words = match standing {
            Standing::Missing { .. } => "not known of both".to_owned(),
            known => known.words(desk.bench.sign()),
        };
        Some(view! {
            <span class="swap-word" class:swap-weak=matches!(standing, Standing::Weaker { .. })>
                {words}{weakest.then_some(", the weak one")}
            </span>
        })
    };
    view! {
        <div class="swap-row">
            <span>{label}<span class="hint">{hint}</span></span>
            {field("old", "of the one that comes out")}
            {field("new", "of the one that goes in")}
            <div role="status">{standing}</div>
        </div>
    }
}

fn choice(
    desk: Desk,
    key: &'static str,
    label: &'static str,
    options: Vec<(&'static str, &'static str)>,
    otherwise: &'static str,
) -> impl IntoView {
    let select = |side: &str, words: &str| {
        let key = format!("{side}-{key}");
        let name = format!("{label}, {words}");
        let entries = options
            .iter()
            .map(|&(value, text)| {
                let key = key.clone();
                let selected = move || desk.text(&key) == value;
                view! { <option value=value prop:selected=selected>{text}</option> }
            })
            .collect_view();
        let plain = {
            let key = key.clone();
            move || desk.text(&key).is_empty()
        };
        view! {
            <div class="swap-input">
                <select aria-label=name on:change=move |event| desk.type_in(key.clone(), event_target_value(&event))>
                    <option value="" prop:selected=plain>{otherwise}</option>
                    {entries}
                </select>
            </div>
        }
    };
    view! {
        <div class="swap-row">
            <span>{label}</span>
            {select("old", "of the one that comes out")}
            {select("new", "of the one that goes in")}
        </div>
    }
}

fn outcome(desk: Desk) -> impl IntoView {
    let compared = desk.compared()?;
    Some(match compared {
        Ok(compared) => view! {
            <div class="preview" role="status">
                <p><strong>{weak_one(&compared)}</strong></p>
                <p><strong>{compared.seat.to_string()}</strong></p>
                <p class="hint">"Ratings are limits, not what the circuit needs: a weaker one may still do where the set never comes near it. Look the figures up for the very make in hand."</p>
            </div>
        }
        .into_any(),
        Err(fault) => view! { <p class="error" role="alert">{fault}</p> }.into_any(),
    })
}

/// The way on to a change that keeps the check, where a job is in hand.
fn keep(desk: Desk) -> Option<impl IntoView> {
    let bench = desk.bench;
    desk.compared()?.ok()?;
    let open = bench
        .progress
        .with(|p| p.as_ref().is_some_and(|p| p.signed_off.is_none()));
    let job = bench
        .job
        .with(|job| job.as_ref().map(|job| job.id.clone()))?;
    let route = Route::Changes { job, check: true };
    let here = open && step_in_hand(bench).is_some();
    here.then(|| view! { <a class="button main" href=route.address()>"Keep with the change"</a> })
}
