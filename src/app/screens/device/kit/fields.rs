//! The fields of the form for an instrument.

use crate::app::screens::device::kit::ppm_words;
use crate::app::screens::device::kit::typed::{
    self as parts, Misread, Origin, Typed, TypedFurther, TypedRange, UnitSymbol, further_field,
    range_field,
};
use crate::app::ui::field_text;
use crate::app::words::device::kit as words;
use crate::quantity::{DecimalSign, Scale, Unit};
use leptos::prelude::*;

/// What of the form could not be read when it was sent.
#[derive(Clone, Copy)]
pub struct Wrong(pub RwSignal<Option<Misread>>);

/// One field: its name, a hint, the text that it holds, and below it why that can't be read.
fn field(
    id: String,
    label: &'static str,
    hint: &'static str,
    kind: &'static str,
    text: impl Fn() -> String + Send + 'static,
    take: impl Fn(String) + 'static,
) -> impl IntoView {
    let Wrong(wrong) = expect_context();
    let here = StoredValue::new(id.clone());
    let said = Memo::new(move |_| {
        let here = here.get_value();
        let of_this = |it: &Option<Misread>| it.as_ref().filter(|it| it.field == here).cloned();
        wrong.with(of_this).map(|it| it.said)
    });
    let about = format!("{id}-error");
    let type_in = move |event| {
        if said.with_untracked(Option::is_some) {
            wrong.set(None);
        }
        take(event_target_value(&event));
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <span class="hint">{hint}</span>
            <input id=id type=kind autocomplete="off" aria-describedby=about.clone()
                aria-invalid=move || said.with(Option::is_some).to_string()
                prop:value=move || field_text(text()) on:input=type_in/>
            <p id=about class="error" role="alert">{said}</p>
        </div>
    }
}

/// A text of the instrument as a whole.
fn text_field(
    typed: RwSignal<Typed>,
    id: &str,
    label: &'static str,
    hint: &'static str,
    kind: &'static str,
    part: fn(&mut Typed) -> &mut String,
) -> impl IntoView {
    let text = move || typed.with(|typed| part(&mut typed.clone()).clone());
    let take = move |text| typed.update(|typed| *part(typed) = text);
    field(id.to_owned(), label, hint, kind, text, take)
}

/// Something that an instrument has several of.
type List<T> = fn(&mut Typed) -> &mut Vec<T>;

/// One of several.
struct One<T: 'static> {
    typed: RwSignal<Typed>,
    list: List<T>,
    index: usize,
}

impl<T> Clone for One<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for One<T> {}

impl<T: 'static> One<T> {
    /// What is found in it; nothing where it was taken away.
    fn get<V>(self, find: impl FnOnce(&mut T) -> V) -> Option<V> {
        let mut typed = self.typed.get();
        (self.list)(&mut typed).get_mut(self.index).map(find)
    }

    fn change(self, change: impl FnOnce(&mut T)) {
        self.typed.update(|typed| {
            if let Some(one) = (self.list)(typed).get_mut(self.index) {
                change(one);
            }
        });
    }

    fn take_away(self) {
        self.typed.update(|typed| {
            let list = (self.list)(typed);
            if self.index < list.len() {
                list.remove(self.index);
            }
        });
    }

    fn text_field(
        self,
        id: String,
        label: &'static str,
        hint: &'static str,
        part: fn(&mut T) -> &mut String,
    ) -> impl IntoView + use<T> {
        let text = move || self.get(|one| part(one).clone()).unwrap_or_default();
        let take = move |text| self.change(|one| *part(one) = text);
        field(id, label, hint, "text", text, take)
    }

    /// The unit of the readings that it goes with.
    fn unit_field(self, id: String, part: fn(&mut T) -> &mut UnitSymbol) -> impl IntoView + use<T> {
        let current = Memo::new(move |_| self.get(|one| part(one).0));
        let options = Unit::ALL.iter().map(|&unit| {
            view! { <option value=unit.symbol() selected=move || current.get() == Some(unit)>{unit.symbol()}</option> }
        });
        let choose = move |event| {
            if let Ok(scale) = event_target_value(&event).parse::<Scale>() {
                self.change(|one| *part(one) = UnitSymbol(scale.unit));
            }
        };
        view! {
            <div class="field">
                <label for=id.clone()>{words::UNIT}</label>
                <span class="hint">{words::UNIT_HINT}</span>
                <select id=id on:change=choose>{options.collect_view()}</select>
            </div>
        }
    }
}

/// What a list in the form is made of, and what is said of it.
struct Several<T: 'static> {
    list: List<T>,
    title: &'static str,
    hint: &'static str,
    add: &'static str,
    take_away: fn(usize) -> String,
    /// A new one, for readings in this unit.
    blank: fn(Unit) -> T,
    /// That unit, where no range says another.
    unit: Unit,
    fields: fn(One<T>) -> AnyView,
}

fn several<T: 'static>(typed: RwSignal<Typed>, it: Several<T>) -> impl IntoView {
    let list = it.list;
    let count = Memo::new(move |_| list(&mut typed.get()).len());
    let add = move |_| {
        typed.update(|typed| {
            let unit = typed.ranges.last().map_or(it.unit, |range| range.unit.0);
            list(typed).push((it.blank)(unit));
        })
    };
    let row = move |index: usize| {
        let one = One { typed, list, index };
        view! {
            <div class="range">
                <div class="fields">{(it.fields)(one)}</div>
                <button type="button" class="plain" on:click=move |_| one.take_away()>
                    {(it.take_away)(index + 1)}
                </button>
            </div>
        }
    };
    view! {
        <fieldset>
            <legend>{it.title}</legend>
            <p class="hint">{it.hint}</p>
            <For each=move || 0..count.get() key=|index| *index let:index>{row(index)}</For>
            <button type="button" on:click=add>{it.add}</button>
        </fieldset>
    }
}

/// Its name, and when it was calibrated.
pub fn plate(typed: RwSignal<Typed>) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{words::THE_INSTRUMENT}</legend>
            <div class="fields">
                {text_field(typed, parts::NAME, words::NAME, words::NAME_HINT, "text", |t| &mut t.name)}
                {text_field(typed, "kit-role", words::ROLE, words::ROLE_HINT, "text", |t| &mut t.role)}
                {text_field(typed, "kit-asset", words::ASSET, "", "text", |t| &mut t.asset)}
                {text_field(typed, parts::CALIBRATED, words::CALIBRATED, "", "date", |t| &mut t.calibrated)}
                {text_field(typed, parts::DUE, words::NEXT_DUE, "", "date", |t| &mut t.due)}
            </div>
        </fieldset>
    }
}

/// Its ranges, as the maker prints them.
pub fn ranges(typed: RwSignal<Typed>) -> impl IntoView {
    several(
        typed,
        Several {
            list: |typed| &mut typed.ranges,
            title: words::RANGES,
            hint: words::RANGES_HINT,
            add: words::ADD_RANGE,
            take_away: words::remove_range,
            blank: TypedRange::blank,
            unit: Unit::VoltDc,
            fields: |one| range(one).into_any(),
        },
    )
}

/// A field of a range: its part of the id, its name, a hint and its text.
type RangeField = (
    &'static str,
    &'static str,
    &'static str,
    fn(&mut TypedRange) -> &mut String,
);

const RANGE_FIELDS: &[RangeField] = &[
    (
        parts::FULL_SCALE,
        words::FULL_SCALE,
        words::FULL_SCALE_HINT,
        |r| &mut r.full_scale,
    ),
    (
        parts::RESOLUTION,
        words::RESOLUTION,
        words::RESOLUTION_HINT,
        |r| &mut r.resolution,
    ),
    (
        parts::OF_READING,
        words::WITHIN_PERCENT_OF_READING,
        "",
        |r| &mut r.percent_of_reading,
    ),
    (parts::OF_RANGE, words::WITHIN_PERCENT_OF_RANGE, "", |r| {
        &mut r.percent_of_range
    }),
    (parts::COUNTS, words::WITHIN_COUNTS, "", |r| &mut r.counts),
    (parts::PPM, words::WITHIN_PPM, "", |r| &mut r.ppm),
    (
        parts::ABSOLUTE,
        words::WITHIN_AMOUNT,
        words::AMOUNT_HINT,
        |r| &mut r.absolute,
    ),
];

fn range(one: One<TypedRange>) -> impl IntoView {
    let id = |part: &str| range_field(one.index, part);
    let fields = RANGE_FIELDS.iter();
    let fields =
        fields.map(|&(name, label, hint, part)| one.text_field(id(name), label, hint, part));
    view! {
        {one.unit_field(id("unit"), |range| &mut range.unit)}
        {fields.collect_view()}
    }
}

/// What no data sheet states.
pub fn further(typed: RwSignal<Typed>) -> impl IntoView {
    several(
        typed,
        Several {
            list: |typed| &mut typed.further,
            title: words::FURTHER,
            hint: words::FURTHER_HINT,
            add: words::ADD_FURTHER,
            take_away: words::remove_further,
            blank: TypedFurther::blank,
            unit: Unit::Watt,
            fields: |one| one_further(one).into_any(),
        },
    )
}

fn one_further(one: One<TypedFurther>) -> impl IntoView {
    let id = |part: &str| further_field(one.index, part);
    let from = Memo::new(move |_| one.get(|further| further.from));
    let choices = Origin::ALL.into_iter().enumerate().map(|(place, origin)| {
        view! { <option value=place selected=move || from.get() == Some(origin)>{origin.words()}</option> }
    });
    let choose = move |event| {
        let place = event_target_value(&event).parse::<usize>();
        if let Some(&origin) = place.ok().and_then(|place| Origin::ALL.get(place)) {
            one.change(|further| further.from = origin);
        }
    };
    let is_certificate = Memo::new(move |_| from.get() == Some(Origin::Certificate));
    let coverage_id = id(parts::COVERAGE);
    let coverage = move || {
        one.text_field(
            coverage_id.clone(),
            words::COVERAGE,
            words::COVERAGE_HINT,
            |further| &mut further.coverage,
        )
    };
    view! {
        <div class="field">
            <label for=id("from")>{words::FROM}</label>
            <span class="hint">{words::FROM_HINT}</span>
            <select id=id("from") on:change=choose>{choices.collect_view()}</select>
        </div>
        {one.unit_field(id("unit"), |further| &mut further.unit)}
        {one.text_field(id(parts::WITHIN), words::WITHIN, words::WITHIN_HINT, |further| &mut further.within)}
        {move || is_certificate.get().then(&coverage)}
    }
}

/// What a pad, a coupler or a probe takes away.
pub fn loss(typed: RwSignal<Typed>) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{words::LOSS}</legend>
            <p class="hint">{words::LOSS_HINT}</p>
            <div class="fields">
                {text_field(typed, parts::LOSS, words::LOSS_BY, words::LOSS_BY_HINT, "text", |t| &mut t.loss)}
                {text_field(typed, parts::LOSS_WITHIN, words::LOSS_WITHIN, words::LOSS_WITHIN_HINT, "text", |t| &mut t.loss_within)}
            </div>
        </fieldset>
    }
}

/// What is known of a counter's time base.
pub fn time_base(typed: RwSignal<Typed>, sign: DecimalSign) -> impl IntoView {
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
                {text_field(typed, parts::REFERENCE, words::REFERENCE, words::MEGAHERTZ_HINT, "text", |t| &mut t.reference)}
                {text_field(typed, parts::SHOWN, words::SHOWN, words::MEGAHERTZ_HINT, "text", |t| &mut t.shown)}
            </div>
            <p role="status">{said}</p>
        </fieldset>
    }
}
