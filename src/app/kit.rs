//! The kit: the instruments on the shelf, what their makers promise, and what is known to be off.

use super::bench::{Bench, use_bench};
use super::device;
use super::open_step::WayBack;
use super::parts::field_text;
use super::route::Route;
use super::words::{kit as words, shared};
use crate::job::Deed;
use crate::metrology::date::Date;
use crate::metrology::instrument::{
    Accuracy, Correction, Further, Instrument, Range, Share, Source,
};
use crate::procedure::Id;
use crate::quantity::{DecimalSign, Family, Number, Quantity, Scale, Unit, read, read_number};
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
    #[serde(default)]
    further: Vec<TypedFurther>,
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

/// What else a reading is uncertain by, as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct TypedFurther {
    from: From,
    unit: UnitSymbol,
    within: String,
    coverage: String,
}

/// Where it comes from, without its figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
enum From {
    Certificate,
    Load,
    Tap,
    Leads,
    Mismatch,
}

impl From {
    const ALL: [From; 5] = [
        From::Certificate,
        From::Load,
        From::Tap,
        From::Leads,
        From::Mismatch,
    ];

    const fn words(self) -> &'static str {
        match self {
            From::Certificate => words::FROM_CERTIFICATE,
            From::Load => words::FROM_LOAD,
            From::Tap => words::FROM_TAP,
            From::Leads => words::FROM_LEADS,
            From::Mismatch => words::FROM_MISMATCH,
        }
    }
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

impl TypedFurther {
    fn blank(unit: Unit) -> Self {
        TypedFurther {
            from: From::Load,
            unit: UnitSymbol(unit),
            within: String::new(),
            coverage: String::new(),
        }
    }

    fn of(further: &Further, sign: DecimalSign) -> Self {
        let (from, coverage) = match &further.from {
            Source::Certificate { coverage } => {
                (From::Certificate, plain(&coverage.to_string(), sign))
            }
            Source::Load => (From::Load, String::new()),
            Source::Tap => (From::Tap, String::new()),
            Source::Leads => (From::Leads, String::new()),
            Source::Mismatch => (From::Mismatch, String::new()),
        };
        let within = match &further.within {
            Share::Percent(percent) => format!("{percent} %"),
            Share::Amount(amount) => amount.to_string(),
        };
        TypedFurther {
            from,
            unit: UnitSymbol(further.of.unit),
            within: plain(&within, sign),
            coverage,
        }
    }

    /// What it says, or what can't be read of it.
    fn read(&self, sign: DecimalSign) -> Result<Further, String> {
        let from = match self.from {
            From::Certificate => Source::Certificate {
                coverage: self.read_coverage(sign)?,
            },
            From::Load => Source::Load,
            From::Tap => Source::Tap,
            From::Leads => Source::Leads,
            From::Mismatch => Source::Mismatch,
        };
        let unit = self.unit.0;
        let unreadable = || words::within_unreadable(unit.of_difference().symbol());
        let within = match self.within.trim().strip_suffix('%') {
            Some(_) if unit.family() == Family::Level => {
                return Err(words::PERCENT_OF_A_LEVEL.to_owned());
            }
            Some(percent) => {
                let percent = read_number(percent, sign).map_err(|_| unreadable())?;
                Share::Percent(percent)
            }
            None => {
                let scale = Scale::plain(unit.of_difference());
                Share::Amount(read(&self.within, scale, sign).map_err(|_| unreadable())?)
            }
        };
        let size = match &within {
            Share::Percent(percent) => percent,
            Share::Amount(amount) => &amount.number,
        };
        if !is_above_zero(size) {
            return Err(unreadable());
        }
        Ok(Further {
            from,
            of: Scale::plain(unit),
            within,
        })
    }

    /// The coverage factor, which is not guessed where the certificate's is not typed.
    fn read_coverage(&self, sign: DecimalSign) -> Result<Number, String> {
        let coverage = read_number(&self.coverage, sign).ok();
        let coverage = coverage.filter(is_above_zero);
        coverage.ok_or_else(|| words::COVERAGE_UNREADABLE.to_owned())
    }
}

fn is_above_zero(number: &Number) -> bool {
    !number.is_negative() && number.to_f64() != 0.0
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
            further: instrument
                .further
                .iter()
                .map(|further| TypedFurther::of(further, sign))
                .collect(),
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
        let further = self
            .further
            .iter()
            .enumerate()
            .map(|(index, further)| {
                let place = |error: String| words::of_further(index + 1, &error);
                further.read(sign).map_err(place)
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
            further,
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
    let known = name.as_ref().and_then(|name| of_kit(bench, name));
    let old_name = known.as_ref().map(|known| known.name.clone());
    let end = move |new: Option<Instrument>, old: Option<String>| {
        let said = match new {
            Some(new) => words::on_the_shelf(&new.name),
            None => words::off_the_shelf(&old.unwrap_or_default()),
        };
        bench.go_and_say_when_kept(&Route::Kit, said);
    };
    let way_back = view! { <a href=Route::Kit.address()>{words::ALL_INSTRUMENTS}</a> };
    form(Form {
        title: name.clone().unwrap_or_else(|| words::ADD.to_owned()),
        draft: draft_place(name.as_deref().unwrap_or_default()),
        start: known.map_or_else(Typed::default, |known| Typed::of(&known, bench.sign_now())),
        old_name,
        way_back: way_back.into_any(),
        leave_to: Route::Kit,
        end: Callback::new(move |(new, old)| end(new, old)),
    })
}

/// The instrument that a step is read with, to be described from there and put to use at once.
pub fn for_step(job: Id, step: Id) -> Option<impl IntoView> {
    let bench = use_bench();
    let gauge = bench.job.with_untracked(|job| {
        let step = job.as_ref()?.procedure.step(&step)?;
        step.work.gauge().cloned()
    })?;
    let used = bench.progress.with_untracked(|progress| {
        let used = &progress.as_ref()?.header.instruments;
        used.iter().find(|used| used.role == gauge.with).cloned()
    });
    let name = used.as_ref().map(|used| used.name.clone());
    let on_shelf = name.as_ref().and_then(|name| of_kit(bench, name));
    let old_name = on_shelf.as_ref().map(|known| known.name.clone());
    let known = on_shelf.or_else(|| used.and_then(|used| used.record));
    let start = match known {
        Some(known) => Typed::of(&known, bench.sign_now()),
        None => Typed {
            role: gauge.with.to_string(),
            name: name.unwrap_or_default(),
            ranges: vec![TypedRange::blank(gauge.scale.unit)],
            ..Typed::default()
        },
    };
    let back = Route::Step {
        job,
        step: Some(step),
    };
    let (role, to_step) = (gauge.with.clone(), back.clone());
    let end = move |new: Option<Instrument>| {
        let Some(new) = new else {
            return bench.go(&to_step);
        };
        let name = new.name.clone();
        if bench.use_instrument(&role, new) {
            let said = words::in_use(&name, role.as_str());
            bench.go_and_say_when_kept(&to_step, said);
        }
    };
    Some(form(Form {
        title: words::with_which(gauge.with.as_str()),
        draft: draft_for_role(&gauge.with),
        start,
        old_name,
        way_back: WayBack().into_any(),
        leave_to: back,
        end: Callback::new(move |(new, _)| end(new)),
    }))
}

impl Bench {
    /// Takes an instrument of the kit into a role of the job in hand.
    pub fn use_instrument(self, role: &Id, instrument: Instrument) -> bool {
        let header = self.progress.with_untracked(|progress| {
            let mut header = progress.as_ref()?.header.clone();
            header.use_instrument(role.clone(), instrument.name.clone(), Some(instrument));
            Some(header)
        });
        header.is_some_and(|header| self.record(Deed::Amended(header)))
    }
}

fn of_kit(bench: Bench, name: &str) -> Option<Instrument> {
    let kit = untrack(|| bench.kit());
    kit.into_iter().find(|one| one.name == name)
}

/// What a form for an instrument begins and ends with.
struct Form {
    title: String,
    /// Where what is typed and not kept yet stands in the store, like a step's draft.
    draft: (Id, Id),
    start: Typed,
    /// The name that the instrument has in the kit, if it is there.
    old_name: Option<String>,
    way_back: AnyView,
    leave_to: Route,
    /// Called with the instrument, or none that was taken off the shelf, and its old name.
    end: Callback<(Option<Instrument>, Option<String>)>,
}

fn form(form: Form) -> impl IntoView {
    let bench = use_bench();
    let sign = bench.sign_now();
    let Form { end, leave_to, .. } = form;
    let place = StoredValue::new(form.draft);
    let kept = place.with_value(|(job, step)| bench.draft(job, step));
    // What was typed over another state of the instrument than the one here is old: it was kept
    // since, and only the draft's end was lost when the browser was.
    let draft = serde_json::from_str::<(Typed, Typed)>(&kept).ok();
    let typed = draft.filter(|(over, _)| *over == form.start);
    let typed = RwSignal::new(typed.map_or_else(|| form.start.clone(), |(_, typed)| typed));
    let over = StoredValue::new(form.start);
    Effect::new(move |_| {
        let text =
            typed.with(|typed| over.with_value(|over| serde_json::to_string(&(over, typed))));
        if let Ok(text) = text {
            place.with_value(|(job, step)| bench.keep_draft(job, step, &text));
        }
    });
    let old_name = StoredValue::new(form.old_name);
    let forget = move || place.with_value(|(job, step)| bench.keep_draft(job, step, ""));
    let put = move |new: Option<Instrument>| {
        if save(bench, old_name.get_value(), new.clone()) {
            forget();
            end.run((new, old_name.get_value()));
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
        bench.go(&leave_to);
    };
    view! {
        <section class="page">
            <p class="crumbs">{form.way_back}</p>
            <h1>{form.title}</h1>
            <form on:submit=keep>
                {plate(typed)}
                {ranges(typed)}
                {all_further(typed)}
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

fn draft_for_role(role: &Id) -> (Id, Id) {
    let place = "kit-role".parse::<Id>();
    (place.unwrap_or_else(|_| device::fresh_id()), role.clone())
}

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
    let current = move || typed.with(|t| t.ranges.get(index).map(|r| r.unit.0));
    let choose = move |unit: Unit| {
        typed.update(|t| {
            if let Some(range) = t.ranges.get_mut(index) {
                range.unit = UnitSymbol(unit);
            }
        });
    };
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
                {unit_field(format!("range-{index}-unit"), current, choose)}
                {fields}
            </div>
            <button type="button" class="plain" on:click=remove>{words::remove_range(index + 1)}</button>
        </div>
    }
}

/// The unit of the readings that something goes with.
fn unit_field(
    id: String,
    current: impl Fn() -> Option<Unit> + Copy + Send + Sync + 'static,
    choose: impl Fn(Unit) + 'static,
) -> impl IntoView {
    let units = Unit::ALL
        .iter()
        .map(|&unit| {
            view! { <option value=unit.symbol() selected=move || current() == Some(unit)>{unit.symbol()}</option> }
        })
        .collect_view();
    let choose = move |event| {
        if let Ok(scale) = event_target_value(&event).parse::<Scale>() {
            choose(scale.unit);
        }
    };
    view! {
        <div class="field">
            <label for=id.clone()>{words::UNIT}</label>
            <span class="hint">{words::UNIT_HINT}</span>
            <select id=id on:change=choose>{units}</select>
        </div>
    }
}

fn all_further(typed: RwSignal<Typed>) -> impl IntoView {
    let count = Memo::new(move |_| typed.with(|t| t.further.len()));
    let add = move |_| {
        typed.update(|t| {
            let unit = t.ranges.last().map_or(Unit::Watt, |range| range.unit.0);
            t.further.push(TypedFurther::blank(unit));
        })
    };
    view! {
        <fieldset>
            <legend>{words::FURTHER}</legend>
            <p class="hint">{words::FURTHER_HINT}</p>
            <For each=move || 0..count.get() key=|index| *index let:index>{one_further(typed, index)}</For>
            <button type="button" on:click=add>{words::ADD_FURTHER}</button>
        </fieldset>
    }
}

fn one_further(typed: RwSignal<Typed>, index: usize) -> impl IntoView {
    let change = move |change: &dyn Fn(&mut TypedFurther)| {
        typed.update(|t| {
            if let Some(further) = t.further.get_mut(index) {
                change(further);
            }
        })
    };
    let from = move || typed.with(|t| t.further.get(index).map(|f| f.from));
    let unit = move || typed.with(|t| t.further.get(index).map(|f| f.unit.0));
    let choices = From::ALL.into_iter().enumerate().map(|(place, one)| {
        view! { <option value=place selected=move || from() == Some(one)>{one.words()}</option> }
    });
    let choose = move |event| {
        let place = event_target_value(&event).parse::<usize>();
        if let Some(&one) = place.ok().and_then(|place| From::ALL.get(place)) {
            change(&|further| further.from = one);
        }
    };
    let text = move |part: fn(&TypedFurther) -> &String| {
        field_text(typed.with(|t| {
            t.further
                .get(index)
                .map(|f| part(f).clone())
                .unwrap_or_default()
        }))
    };
    let is_certificate = Memo::new(move |_| from() == Some(From::Certificate));
    let [from_id, within_id] = ["from", "within"].map(|part| format!("further-{index}-{part}"));
    let coverage = move || {
        let id = format!("further-{index}-k");
        view! {
            <div class="field">
                <label for=id.clone()>{words::COVERAGE}</label>
                <span class="hint">{words::COVERAGE_HINT}</span>
                <input id=id type="text" autocomplete="off" prop:value=move || text(|f| &f.coverage)
                    on:input=move |e| change(&|further| further.coverage = event_target_value(&e))/>
            </div>
        }
    };
    let remove = move |_| {
        typed.update(|t| {
            if index < t.further.len() {
                t.further.remove(index);
            }
        })
    };
    view! {
        <div class="range">
            <div class="fields">
                <div class="field">
                    <label for=from_id.clone()>{words::FROM}</label>
                    <span class="hint">{words::FROM_HINT}</span>
                    <select id=from_id on:change=choose>{choices.collect_view()}</select>
                </div>
                {unit_field(format!("further-{index}-unit"), unit, move |unit| {
                    change(&|further| further.unit = UnitSymbol(unit))
                })}
                <div class="field">
                    <label for=within_id.clone()>{words::WITHIN}</label>
                    <span class="hint">{words::WITHIN_HINT}</span>
                    <input id=within_id type="text" autocomplete="off" prop:value=move || text(|f| &f.within)
                        on:input=move |e| change(&|further| further.within = event_target_value(&e))/>
                </div>
                {move || is_certificate.get().then(coverage)}
            </div>
            <button type="button" class="plain" on:click=remove>{words::remove_further(index + 1)}</button>
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
