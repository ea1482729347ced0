//! The reading of a step: where, with what, what is turned, and where it must lie.

use crate::app::screens::author::controls::fields::{OneOf, Sheet, anchor};
use crate::app::screens::author::step_sheet::names::{
    ADJUSTER, INSTRUMENT, TEST_POINT, name_picker,
};
use crate::app::screens::author::step_sheet::target::target;
use crate::app::ui::fields::form::TextField;
use crate::app::ui::fields::picker::{Choice, Picker};
use crate::app::words::author as words;
use crate::authoring::{Draft, likely_scales};
use crate::metrology::instrument::Loss;
use crate::procedure::{Direction, Field, Id};
use crate::quantity::{Prefix, Scale, Unit};
use crate::radio::conversion;
use leptos::prelude::*;

/// The part; nothing for a step that reads nothing.
pub fn part(sheet: Sheet) -> impl IntoView {
    let kind = Memo::new(move |_| sheet.with(|step| step.kind));
    let reads = Memo::new(move |_| sheet.with(|step| step.reads()));
    move || {
        let kind = kind.get();
        reads.get().then(|| {
            view! {
                <fieldset>
                    <legend>{words::READING}</legend>
                    <div class="fields">
                        {kind.turns().then(|| name_picker(sheet, ADJUSTER))}
                        {name_picker(sheet, TEST_POINT)}
                        {name_picker(sheet, INSTRUMENT)}
                        {unit(sheet)}
                        {way(sheet)}
                    </div>
                </fieldset>
                {target(sheet, kind)}
            }
        })
    }
}

/// All scales for a reading of a step with an instrument: the likely ones, and the others for
/// who looks for them.
pub fn scales(draft: &Draft, step: &Id, instrument: &str) -> Vec<Choice> {
    let likely = likely_scales(draft, step, instrument);
    let choice = |scale: Scale, seldom: bool| Choice {
        note: scale.spoken(),
        seldom,
        ..Choice::named(scale.symbol())
    };
    // The one without prefix first, for that is what a unit's name means.
    let plain = Unit::ALL.iter().map(|&unit| Scale::plain(unit));
    let prefixed = Unit::ALL.iter().flat_map(|&unit| {
        let scale = move |&prefix: &Prefix| Scale::new(prefix, unit);
        unit.prefixes().iter().map(scale)
    });
    let mut all: Vec<Choice> = likely.iter().map(|&scale| choice(scale, false)).collect();
    for scale in plain.chain(prefixed) {
        if all.iter().all(|known| known.key != scale.symbol()) {
            all.push(choice(scale, true));
        }
    }
    all
}

pub(super) fn unit(sheet: Sheet) -> impl IntoView {
    let pick = Callback::new(move |symbol: String| {
        if let Ok(scale) = symbol.parse::<Scale>() {
            sheet.change(&words::picked(words::UNIT, &symbol), |step| {
                step.scale = scale
            });
        }
    });
    let symbol = move || {
        let scale = sheet.with(|step| Some(step.scale));
        scale.map_or(String::new(), Scale::symbol)
    };
    view! {
        <Picker id="author-unit" label=words::UNIT shown=Signal::derive(symbol)
            choices=Signal::derive(move || {
                let with = sheet.with(|step| step.with.clone());
                sheet.pen.draft.with(|draft| scales(draft, &sheet.id(), &with))
            }) pick/>
    }
}

/// The impedance of the level and what stands in its path; nothing for what is no level.
pub fn way(sheet: Sheet) -> impl IntoView {
    let passes = Memo::new(move |_| sheet.any(|step| Loss::changes(step.scale.unit)));
    let is_level = Memo::new(move |_| sheet.any(|step| conversion::is_level(step.scale.unit)));
    let is_stated = Memo::new(move |_| sheet.with(|step| !step.path.trim().is_empty()));
    move || {
        passes.get().then(|| {
            view! {
                {move || is_level.get().then(|| view! {
                    <TextField id=anchor(Field::Impedance) label=words::IMPEDANCE hint=words::IMPEDANCE_HINT
                        text=sheet.text("impedance", |step| &mut step.into) said=sheet.said(Field::Impedance)/>
                })}
                <TextField id=anchor(Field::Path) label=words::PATH hint=words::PATH_HINT
                    text=sheet.text("path", |step| &mut step.path) said=sheet.said(Field::Path)/>
                {move || is_stated.get().then(|| direction(sheet))}
            }
        })
    }
}

/// Which way the signal goes through what stands in its path.
fn direction(sheet: Sheet) -> impl IntoView {
    let keys = OneOf {
        id: "author-direction",
        label: words::DIRECTION,
        all: &Direction::ALL,
        name: Direction::name,
        get: |step| step.direction,
        set: |step, direction| step.direction = direction,
    };
    keys.keys(sheet)
}
