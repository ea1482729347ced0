//! The substitution check: one transistor in place of another, rating by rating.

use crate::app::screens::work::put_back::step_in_hand;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::WayBack;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::words::set::substitution as words;
use crate::app::words::shared;
use crate::quantity::{self, DecimalSign, Prefix, Quantity, ReadError, Scale, Unit};
use crate::radio::components::substitution::{
    Comparison, Device, Gain, Kind, Pins, Rating, Seat, Seen, Standing, Substitution,
};
use crate::store::{Typed, TypedInputs};
use leptos::prelude::*;
use std::fmt::Display;

/// The name under which what is typed is kept, beside the calculations.
const KEPT_AS: &str = "substitution";

/// The fields of what is printed on the two.
const NAMES: [&str; 2] = ["old-name", "new-name"];

/// At which case temperature a rating counts as long as none is typed, in °C.
const USUAL_CASE: &str = "25";

const KINDS: [(Kind, &str, &str); 4] = [
    (Kind::Npn, "npn", words::NPN),
    (Kind::Pnp, "pnp", words::PNP),
    (Kind::NChannel, "n", words::N_CHANNEL),
    (Kind::PChannel, "p", words::P_CHANNEL),
];

const SIDES: [(Seen, &str, &str); 3] = [
    (Seen::Front, "front", words::PRINTED_SIDE),
    (Seen::Back, "back", words::BACK_SIDE),
    (Seen::Below, "below", words::FROM_BELOW),
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
fn read(typed: &TypedInputs, sign: DecimalSign) -> (Option<Substitution>, Vec<(String, String)>) {
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

fn is_named(typed: &TypedInputs) -> bool {
    let named = |key: &str| {
        typed
            .get(key)
            .is_some_and(|name| !name.text.trim().is_empty())
    };
    NAMES.iter().all(|key| named(key))
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
            <p class="crumbs"><a href=Route::Sums.address()>{shared::ALL_SUMS}</a><WayBack/></p>
            <h1>{shared::SUBSTITUTION_CHECK}</h1>
            <p>{words::LEAD}</p>
            <div class="swap">
                <div class="swap-row swap-head" aria-hidden="true">
                    <span></span><span>{words::COMES_OUT}</span><span>{words::GOES_IN}</span><span>{words::NEW_ONE_IS}</span>
                </div>
                {pair(desk, "name", words::NAME, "", None)}
                {choice(desk, "kind", words::KIND, KINDS.iter().map(|(_, key, name)| (*key, *name)).collect(), words::KIND_OPEN)}
                {LINES.iter().map(|line| pair(desk, line.key, line.label, symbol(line), line.rating)).collect_view()}
                {pair(desk, "pins", words::LEGS, words::LEGS_HINT, None)}
                {choice(desk, "seen", words::SEEN, SIDES[1..].iter().map(|(_, key, name)| (*key, *name)).collect(), SIDES[0].2)}
                <div class="swap-row">
                    <label for="case">{words::CASE}<span class="hint">{words::CASE_HINT}</span></label>
                    {input(desk, "case".to_owned(), words::CASE_SPOKEN.to_owned())}
                </div>
            </div>
            {move || outcome(desk)}
            <div class="row">
                {move || keep(desk)}
                <button type="button" class="plain" disabled=move || desk.typed.with(TypedInputs::is_empty)
                    on:click=clear>{shared::CLEAR}</button>
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
                prop:value=move || field_text(value())
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
    let field = |side: &str, device: &str| {
        let name = words::field(label, device, hint);
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
        let word = match standing {
            Standing::Missing { .. } => words::UNKNOWN.to_owned(),
            known => known.words(desk.bench.sign()),
        };
        Some(view! {
            <span class="swap-word" class:swap-weak=matches!(standing, Standing::Weaker { .. })>
                {word}{weakest.then_some(words::WEAKEST)}
            </span>
        })
    };
    view! {
        <div class="swap-row">
            <span>{label}<span class="hint">{hint}</span></span>
            {field("old", words::OF_THE_OLD)}
            {field("new", words::OF_THE_NEW)}
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
    let select = |side: &str, device: &str| {
        let key = format!("{side}-{key}");
        let name = words::field(label, device, "");
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
            {select("old", words::OF_THE_OLD)}
            {select("new", words::OF_THE_NEW)}
        </div>
    }
}

fn outcome(desk: Desk) -> impl IntoView {
    let compared = desk.compared()?;
    Some(match compared {
        Ok(compared) if !compared.says_something() => {
            view! { <p class="hint" role="status">{words::NOTHING_KNOWN}</p> }.into_any()
        }
        Ok(compared) => {
            let finding = compared.finding();
            view! {
                <div class="preview" role="status">
                    {match finding {
                        Some(finding) => view! { <p><strong>{finding}</strong></p> }.into_any(),
                        None => view! { <p>{words::NO_RATING_KNOWN}</p> }.into_any(),
                    }}
                    {match compared.seat {
                        Seat::Unknown => view! { <p>{compared.seat.to_string()}</p> }.into_any(),
                        seat => view! { <p><strong>{seat.to_string()}</strong></p> }.into_any(),
                    }}
                    <p class="hint">{words::RATINGS_ARE_LIMITS}</p>
                </div>
            }
            .into_any()
        }
        Err(fault) => view! { <p class="error" role="alert">{fault}</p> }.into_any(),
    })
}

/// The way on to a change that keeps the check, where a job is in hand.
fn keep(desk: Desk) -> Option<impl IntoView> {
    let bench = desk.bench;
    let says = desk
        .compared()?
        .is_ok_and(|compared| compared.says_something());
    let open = bench.is_open();
    let job = bench
        .job
        .with(|job| job.as_ref().map(|job| job.id.clone()))?;
    let route = Route::Changes { job, check: true };
    let here = says && open && step_in_hand(bench).is_some();
    here.then(|| match desk.typed.with(is_named) {
        true => view! { <a class="button main" href=route.address()>{words::KEEP_WITH_CHANGE}</a> }
            .into_any(),
        false => view! { <p class="hint">{words::NAME_BOTH}</p> }.into_any(),
    })
}
