//! The kit: the instruments on the shelf, what their makers promise, and what is known to be off.

use super::bench::{Bench, use_bench};
use super::device;
use super::parts::field_text;
use super::route::Route;
use super::words::{kit as words, shared};
use crate::metrology::date::Date;
use crate::metrology::instrument::{Accuracy, Correction, Instrument, Range};
use crate::procedure::Id;
use crate::quantity::{DecimalSign, Quantity, Scale, Unit, read, read_number};
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

/// All instruments.
pub fn list() -> impl IntoView {
    let bench = use_bench();
    move || {
        let kit = bench.kit();
        let none = kit.is_empty();
        let cards = kit.into_iter().map(|instrument| card(bench, &instrument));
        view! {
            <section class="page">
                <div class="title-row">
                    <h1>{words::TITLE}</h1>
                    <a class="button main" href=Route::Instrument(None).address()>{words::ADD}</a>
                </div>
                <p class="lead">{words::LEAD}</p>
                <ul class="cards">{cards.collect_view()}</ul>
                {none.then(|| view! { <p>{words::NONE}</p> })}
            </section>
        }
    }
}

fn card(bench: Bench, instrument: &Instrument) -> impl IntoView + use<> {
    let sign = bench.sign();
    let today: Option<Date> = device::iso_date().parse().ok();
    let overdue = today.is_some_and(|today| instrument.is_overdue(today));
    let due = instrument
        .due
        .map(|due| words::calibration(&device::day(due), overdue));
    let ranges = instrument.ranges.len();
    let ppm = instrument
        .corrections
        .iter()
        .find_map(|c| ppm_words(c, sign));
    view! {
        <li>
            <a class="card" href=Route::Instrument(Some(instrument.name.clone())).address()>
                <strong>{instrument.name.clone()}</strong>
                <span>{instrument.role.clone()}</span>
                <span class="hint">{words::ranges(ranges)}</span>
                <span class=if overdue { "card-state" } else { "hint" }>{due}</span>
                <span class="hint">{ppm}</span>
            </a>
        </li>
    }
}

/// A time base's error in words.
fn ppm_words(correction: &Correction, sign: DecimalSign) -> Option<String> {
    let ppm = correction.ppm()?;
    let number = crate::quantity::Number::from_decimal(ppm.round(4).normalized());
    let text = Quantity::new(number, Scale::plain(Unit::PartsPerMillion)).typeset(sign);
    Some(words::time_base(&text))
}

/// An instrument as typed, not yet read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
struct Typed {
    role: String,
    name: String,
    asset: String,
    calibrated: String,
    due: String,
    ranges: Vec<TypedRange>,
    reference: String,
    shown: String,
    /// Corrections that this form has no field for are kept as they are.
    others: Vec<Correction>,
}

/// A range as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct TypedRange {
    unit: UnitSymbol,
    full_scale: String,
    resolution: String,
    percent_of_reading: String,
    percent_of_range: String,
    counts: String,
    ppm: String,
    absolute: String,
}

/// A unit by its symbol, so that it can be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct UnitSymbol(Unit);

impl Serialize for UnitSymbol {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Scale::plain(self.0).serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for UnitSymbol {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Scale::deserialize(deserializer).map(|scale| UnitSymbol(scale.unit))
    }
}

impl TypedRange {
    fn blank(unit: Unit) -> Self {
        TypedRange {
            unit: UnitSymbol(unit),
            full_scale: String::new(),
            resolution: String::new(),
            percent_of_reading: String::new(),
            percent_of_range: String::new(),
            counts: String::new(),
            ppm: String::new(),
            absolute: String::new(),
        }
    }

    fn of(range: &Range, sign: DecimalSign) -> Self {
        let number = |n: &Option<crate::quantity::Number>| {
            n.as_ref()
                .map_or(String::new(), |n| plain(&n.to_string(), sign))
        };
        let accuracy = &range.accuracy;
        TypedRange {
            unit: UnitSymbol(range.full_scale.unit()),
            full_scale: plain(&range.full_scale.to_string(), sign),
            resolution: plain(&range.resolution.to_string(), sign),
            percent_of_reading: number(&accuracy.percent_of_reading),
            percent_of_range: number(&accuracy.percent_of_range),
            counts: accuracy.counts.map_or(String::new(), |c| c.to_string()),
            ppm: number(&accuracy.ppm),
            absolute: accuracy
                .absolute
                .as_ref()
                .map_or(String::new(), |q| plain(&q.to_string(), sign)),
        }
    }

    /// The range, or what can't be read of it.
    fn read(&self, sign: DecimalSign) -> Result<Range, String> {
        let scale = Scale::plain(self.unit.0);
        let difference = Scale::plain(self.unit.0.of_difference());
        let field = |name: &str, text: &str, scale| {
            read(text, scale, sign).map_err(|error| shared::of_field(name, error))
        };
        let number = |name: &str, text: &str| match text.trim().is_empty() {
            true => Ok(None),
            false => read_number(text, sign)
                .map(Some)
                .map_err(|error| shared::of_field(name, error)),
        };
        let counts = match self.counts.trim() {
            "" => None,
            text => Some(
                text.parse::<u32>()
                    .map_err(|_| words::COUNTS_UNREADABLE.to_owned())?,
            ),
        };
        let absolute = match self.absolute.trim().is_empty() {
            true => None,
            false => Some(field(words::AMOUNT, &self.absolute, difference)?),
        };
        Ok(Range {
            full_scale: field(words::FULL_SCALE, &self.full_scale, scale)?,
            resolution: field(words::RESOLUTION, &self.resolution, difference)?,
            accuracy: Accuracy {
                percent_of_reading: number(words::PERCENT_OF_READING, &self.percent_of_reading)?,
                percent_of_range: number(words::PERCENT_OF_RANGE, &self.percent_of_range)?,
                counts,
                ppm: number(words::PPM, &self.ppm)?,
                absolute,
            },
        })
    }
}

/// A document's number as it is typed here.
fn plain(text: &str, sign: DecimalSign) -> String {
    text.replace('.', sign.symbol())
}

impl Typed {
    fn of(instrument: &Instrument, sign: DecimalSign) -> Self {
        let (time_bases, others): (Vec<_>, Vec<_>) = instrument
            .corrections
            .iter()
            .cloned()
            .partition(|c| matches!(c, Correction::TimeBase { .. }));
        let (reference, shown) = match time_bases.first() {
            Some(Correction::TimeBase { reference, reading }) => (
                plain(&reference.to_string(), sign),
                plain(&reading.to_string(), sign),
            ),
            _ => (String::new(), String::new()),
        };
        let day = |date: Option<Date>| date.map_or(String::new(), |d| d.to_string());
        Typed {
            role: instrument.role.clone(),
            name: instrument.name.clone(),
            asset: instrument.asset.clone(),
            calibrated: day(instrument.calibrated),
            due: day(instrument.due),
            ranges: instrument
                .ranges
                .iter()
                .map(|range| TypedRange::of(range, sign))
                .collect(),
            reference,
            shown,
            others,
        }
    }

    /// The instrument, or the first thing that can't be read.
    fn read(&self, sign: DecimalSign) -> Result<Instrument, String> {
        if self.name.trim().is_empty() {
            return Err(words::NAME_MISSING.to_owned());
        }
        let day = |name: &str, text: &str| match text.is_empty() {
            true => Ok(None),
            false => text
                .parse::<Date>()
                .map(Some)
                .map_err(|error| shared::of_field(name, error)),
        };
        let ranges = self
            .ranges
            .iter()
            .enumerate()
            .map(|(index, range)| {
                let place = |error: String| words::of_range(index + 1, &error);
                range.read(sign).map_err(place)
            })
            .collect::<Result<_, _>>()?;
        let mut corrections = self.others.clone();
        corrections.extend(self.time_base(sign)?);
        Ok(Instrument {
            role: self.role.trim().to_owned(),
            name: self.name.trim().to_owned(),
            asset: self.asset.trim().to_owned(),
            calibrated: day(words::CALIBRATED, &self.calibrated)?,
            due: day(words::DUE, &self.due)?,
            ranges,
            corrections,
        })
    }

    fn time_base(&self, sign: DecimalSign) -> Result<Option<Correction>, String> {
        if self.reference.trim().is_empty() && self.shown.trim().is_empty() {
            return Ok(None);
        }
        let megahertz = Scale::new(crate::quantity::Prefix::Mega, Unit::Hertz);
        let field = |name: &str, text: &str| {
            read(text, megahertz, sign).map_err(|error| shared::of_field(name, error))
        };
        let correction = Correction::TimeBase {
            reference: field(words::REFERENCE, &self.reference)?,
            reading: field(words::SHOWN, &self.shown)?,
        };
        match correction.ppm() {
            Some(ppm) if ppm.abs() <= 1000 => Ok(Some(correction)),
            _ => Err(words::TIME_BASE_ODD.to_owned()),
        }
    }
}

/// One instrument, to be changed or added.
pub fn one(name: Option<String>) -> impl IntoView {
    let bench = use_bench();
    let sign = bench.preferences.with_untracked(|p| p.decimal_sign);
    let kit = untrack(|| bench.kit());
    let known = name
        .as_ref()
        .and_then(|name| kit.into_iter().find(|i| i.name == *name));
    let place = StoredValue::new(draft_place(name.as_deref().unwrap_or("")));
    let kept = place.with_value(|(job, step)| bench.draft(job, step));
    let start = match serde_json::from_str::<Typed>(&kept) {
        Ok(typed) => typed,
        Err(_) => known
            .as_ref()
            .map_or_else(Typed::default, |i| Typed::of(i, sign)),
    };
    let typed = RwSignal::new(start);
    Effect::new(move |_| {
        if let Ok(text) = typed.with(serde_json::to_string) {
            place.with_value(|(job, step)| bench.keep_draft(job, step, &text));
        }
    });
    let old_name = StoredValue::new(known.map(|i| i.name));
    let forget = move || place.with_value(|(job, step)| bench.keep_draft(job, step, ""));
    let put = move |new: Option<Instrument>| {
        let name = new.as_ref().map(|new| new.name.clone());
        if save(bench, old_name.get_value(), new) {
            forget();
            let said = match (name, old_name.get_value()) {
                (Some(name), _) => words::on_the_shelf(&name),
                (None, old) => words::off_the_shelf(&old.unwrap_or_default()),
            };
            bench.go_and_say_when_kept(&Route::Kit, said);
        }
    };
    let keep = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match typed.with_untracked(|typed| typed.read(sign)) {
            Ok(instrument) => put(Some(instrument)),
            Err(sentence) => bench.refuse(sentence),
        }
    };
    let remove = move |_| put(None);
    let leave = move |_| {
        forget();
        bench.go(&Route::Kit);
    };
    view! {
        <section class="page">
            <p class="crumbs"><a href=Route::Kit.address()>{words::ALL_INSTRUMENTS}</a></p>
            <h1>{name.unwrap_or_else(|| words::ADD.to_owned())}</h1>
            <form on:submit=keep>
                {plate(typed)}
                {ranges(typed)}
                {time_base(typed, sign)}
                <div class="row">
                    <button type="submit" class="main large">{shared::KEEP}</button>
                    <button type="button" class="plain" on:click=leave>{words::LEAVE}</button>
                    {old_name.with_value(Option::is_some).then(|| view! {
                        <button type="button" class="plain" on:click=remove>{words::REMOVE}</button>
                    })}
                </div>
            </form>
        </section>
    }
}

/// A form that is not kept yet stands in the store like a step's draft.
fn draft_place(name: &str) -> (Id, Id) {
    let id = |text: String| text.parse::<Id>().unwrap_or_else(|_| device::fresh_id());
    let short: String = name.trim().chars().take(50).collect();
    (
        id("kit".to_owned()),
        id(format!("instrument-{short}").trim().to_owned()),
    )
}

/// Puts an instrument in the place of the old one; none takes that away.
fn save(bench: Bench, old: Option<String>, new: Option<Instrument>) -> bool {
    let mut kit = untrack(|| bench.kit());
    let renamed = new.as_ref().map(|i| &i.name) != old.as_ref();
    let clash = new
        .as_ref()
        .is_some_and(|new| renamed && kit.iter().any(|other| other.name == new.name));
    if clash {
        bench.refuse(words::NAME_TAKEN);
        return false;
    }
    let place = kit
        .iter()
        .position(|other| Some(&other.name) == old.as_ref());
    match (place, new) {
        (Some(index), Some(new)) => kit[index] = new,
        (Some(index), None) => {
            kit.remove(index);
        }
        (None, Some(new)) => kit.push(new),
        (None, None) => {}
    }
    bench.with_store(|store| store.save_kit(&kit)).is_some()
}

fn text_field(
    typed: RwSignal<Typed>,
    id: &'static str,
    label: &'static str,
    hint: &'static str,
    kind: &'static str,
    part: fn(&mut Typed) -> &mut String,
) -> impl IntoView {
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <span class="hint">{hint}</span>
            <input id=id type=kind autocomplete="off"
                prop:value=move || field_text(typed.with(|t| part(&mut t.clone()).clone()))
                on:input=move |e| typed.update(|t| *part(t) = event_target_value(&e))/>
        </div>
    }
}

fn plate(typed: RwSignal<Typed>) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{words::THE_INSTRUMENT}</legend>
            <div class="fields">
                {text_field(typed, "kit-name", words::NAME, words::NAME_HINT, "text", |t| &mut t.name)}
                {text_field(typed, "kit-role", words::ROLE, words::ROLE_HINT, "text", |t| &mut t.role)}
                {text_field(typed, "kit-asset", words::ASSET, "", "text", |t| &mut t.asset)}
                {text_field(typed, "kit-calibrated", words::CALIBRATED, "", "date", |t| &mut t.calibrated)}
                {text_field(typed, "kit-due", words::NEXT_DUE, "", "date", |t| &mut t.due)}
            </div>
        </fieldset>
    }
}

fn ranges(typed: RwSignal<Typed>) -> impl IntoView {
    let count = Memo::new(move |_| typed.with(|t| t.ranges.len()));
    let add = move |_| {
        typed.update(|t| {
            let unit = t.ranges.last().map_or(Unit::VoltDc, |range| range.unit.0);
            t.ranges.push(TypedRange::blank(unit));
        })
    };
    view! {
        <fieldset>
            <legend>{words::RANGES}</legend>
            <p class="hint">{words::RANGES_HINT}</p>
            <For each=move || 0..count.get() key=|index| *index let:index>{range(typed, index)}</For>
            <button type="button" on:click=add>{words::ADD_RANGE}</button>
        </fieldset>
    }
}

/// A field of a range: its name, a hint and its text.
type RangeField = (
    &'static str,
    &'static str,
    fn(&mut TypedRange) -> &mut String,
);

const RANGE_FIELDS: &[RangeField] = &[
    (words::FULL_SCALE, words::FULL_SCALE_HINT, |r| {
        &mut r.full_scale
    }),
    (words::RESOLUTION, words::RESOLUTION_HINT, |r| {
        &mut r.resolution
    }),
    (words::WITHIN_PERCENT_OF_READING, "", |r| {
        &mut r.percent_of_reading
    }),
    (words::WITHIN_PERCENT_OF_RANGE, "", |r| {
        &mut r.percent_of_range
    }),
    (words::WITHIN_COUNTS, "", |r| &mut r.counts),
    (words::WITHIN_PPM, "", |r| &mut r.ppm),
    (words::WITHIN_AMOUNT, words::AMOUNT_HINT, |r| {
        &mut r.absolute
    }),
];

fn range(typed: RwSignal<Typed>, index: usize) -> impl IntoView {
    let with = move |part: fn(&mut TypedRange) -> &mut String| {
        typed.with(|t| {
            let mut range = t.ranges.get(index).cloned()?;
            Some(part(&mut range).clone())
        })
    };
    let fields = RANGE_FIELDS
        .iter()
        .enumerate()
        .map(|(number, &(label, hint, part))| {
            let id = format!("range-{index}-{number}");
            let take = move |text: String| {
                typed.update(|t| {
                    if let Some(range) = t.ranges.get_mut(index) {
                        *part(range) = text;
                    }
                })
            };
            view! {
                <div class="field">
                    <label for=id.clone()>{label}</label>
                    <span class="hint">{hint}</span>
                    <input id=id type="text" autocomplete="off" prop:value=move || field_text(with(part).unwrap_or_default())
                        on:input=move |e| take(event_target_value(&e))/>
                </div>
            }
        })
        .collect_view();
    let unit_id = format!("range-{index}-unit");
    let current = move || typed.with(|t| t.ranges.get(index).map(|r| r.unit.0));
    let choose = move |symbol: String| {
        if let Ok(scale) = symbol.parse::<Scale>() {
            typed.update(|t| {
                if let Some(range) = t.ranges.get_mut(index) {
                    range.unit = UnitSymbol(scale.unit);
                }
            });
        }
    };
    let units = Unit::ALL
        .iter()
        .map(|&unit| {
            view! { <option value=unit.symbol() selected=move || current() == Some(unit)>{unit.symbol()}</option> }
        })
        .collect_view();
    let remove = move |_| {
        typed.update(|t| {
            if index < t.ranges.len() {
                t.ranges.remove(index);
            }
        })
    };
    view! {
        <div class="range">
            <div class="fields">
                <div class="field">
                    <label for=unit_id.clone()>{words::UNIT}</label>
                    <span class="hint">{words::UNIT_HINT}</span>
                    <select id=unit_id on:change=move |e| choose(event_target_value(&e))>{units}</select>
                </div>
                {fields}
            </div>
            <button type="button" class="plain" on:click=remove>{words::remove_range(index + 1)}</button>
        </div>
    }
}

fn time_base(typed: RwSignal<Typed>, sign: DecimalSign) -> impl IntoView {
    let said = move || {
        typed.with(|t| match t.time_base(sign) {
            Ok(Some(correction)) => ppm_words(&correction, sign).unwrap_or_default(),
            _ => String::new(),
        })
    };
    view! {
        <fieldset>
            <legend>{words::TIME_BASE}</legend>
            <p class="hint">{words::TIME_BASE_HINT}</p>
            <div class="fields">
                {text_field(typed, "kit-reference", words::REFERENCE, words::MEGAHERTZ_HINT, "text", |t| &mut t.reference)}
                {text_field(typed, "kit-shown", words::SHOWN, words::MEGAHERTZ_HINT, "text", |t| &mut t.shown)}
            </div>
            <p role="status">{said}</p>
        </fieldset>
    }
}
