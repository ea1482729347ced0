//! Where a reading has to lie.

use crate::app::screens::author::controls::fields::{Sheet, anchor};
use crate::app::screens::author::step_sheet::basis::basis;
use crate::app::screens::author::step_sheet::names::name_of;
use crate::app::ui::fields::form::{Chips, Text, TextField, silent};
use crate::app::ui::fields::picker::{Adds, Choice, Picker};
use crate::app::words::author as words;
use crate::app::words::spelling::spelt;
use crate::authoring::draft::DraftTarget;
use crate::authoring::{Kind, TargetKind, edit};
use crate::procedure::{Field, goes_by_power};
use crate::quantity::{Scale, Unit};
use crate::radio::limits;
use leptos::prelude::*;

/// Whether the target of a step of a kind may be stated in a way. What is set needs one, and a
/// stop a figure of its own.
fn is_open_to(kind: Kind, way: TargetKind) -> bool {
    use TargetKind::{Around, AtLeast, AtMost, Between};
    match kind {
        Kind::Set => way != TargetKind::None,
        Kind::Stop => matches!(way, Around | AtLeast | AtMost | Between),
        _ => true,
    }
}

pub(super) fn target(sheet: Sheet, kind: Kind) -> impl IntoView {
    let ways: Vec<_> = TargetKind::ALL
        .iter()
        .filter(|way| is_open_to(kind, **way))
        .map(|way| (way.name().to_owned(), way.name().to_owned()))
        .collect();
    let way = Memo::new(move |_| sheet.with(|step| step.target.kind));
    let scale = Memo::new(move |_| sheet.with(|step| Some(step.scale)));
    let pick = Callback::new(move |name: String| {
        if let Some(way) = TargetKind::ALL.into_iter().find(|way| way.name() == name) {
            sheet.change(&words::picked(words::TARGET, &name), |step| {
                step.target.kind = way
            });
        }
    });
    view! {
        <fieldset>
            <legend>{words::TARGET}</legend>
            <div class="fields">
                <Chips id="author-target-kind" label=words::TARGET_KIND choices=ways
                    chosen=Signal::derive(move || way.get().name().to_owned()) pick/>
                {move || figures(sheet, way.get(), scale.get())}
                {basis(sheet)}
            </div>
        </fieldset>
    }
}

/// A field of a target: its key, its name, how it is typed, and where what is said of it stands.
struct Figure {
    pub(super) key: &'static str,
    pub(super) label: &'static str,
    pub(super) hint: String,
    pub(super) part: fn(&mut DraftTarget) -> &mut String,
    pub(super) field: Option<Field>,
}

fn figures(sheet: Sheet, way: TargetKind, scale: Option<Scale>) -> impl IntoView {
    let hint = scale.map_or(String::new(), |scale| words::in_unless(&scale.symbol()));
    let value = move |label, hint| Figure {
        key: "value",
        label,
        hint,
        part: |target| &mut target.value,
        field: Some(Field::Target),
    };
    let mut wanted = Vec::new();
    match way {
        TargetKind::Around => wanted.push(value(words::FIGURE, hint)),
        TargetKind::AtLeast => wanted.push(value(words::LOWEST, hint)),
        TargetKind::AtMost => wanted.push(value(words::HIGHEST, hint)),
        TargetKind::Between => {
            wanted.push(value(words::LOWER, hint.clone()));
            wanted.push(Figure {
                key: "high",
                label: words::UPPER,
                hint,
                part: |target| &mut target.high,
                field: None,
            });
        }
        TargetKind::Relative => wanted.push(value(words::OFFSET, words::OFFSET_HINT.to_owned())),
        _ => {}
    }
    if way.has_margin() {
        wanted.push(Figure {
            key: "margin",
            label: words::TOLERANCE,
            hint: words::TOLERANCE_HINT.to_owned(),
            part: |target| &mut target.margin,
            field: Some(Field::Margin),
        });
        wanted.push(Figure {
            key: "below",
            label: words::BELOW,
            hint: words::BELOW_HINT.to_owned(),
            part: |target| &mut target.below,
            field: None,
        });
    }
    let fields = wanted.into_iter().map(|figure| figure_field(sheet, figure));
    view! {
        {(way == TargetKind::Relative).then(|| other_step(sheet, words::OTHER_STEP, |_| true))}
        {(way == TargetKind::Oscillator).then(|| oscillator(sheet))}
        {(way == TargetKind::Limit).then(|| limit(sheet))}
        {fields.collect_view()}
    }
}

fn figure_field(sheet: Sheet, figure: Figure) -> impl IntoView {
    let Figure {
        key,
        label,
        hint,
        part,
        field,
    } = figure;
    let text = Text {
        get: Signal::derive(move || sheet.with(|step| part(&mut step.target.clone()).clone())),
        set: Callback::new(move |typed: String| {
            sheet.write(key, |step| *part(&mut step.target) = typed.clone())
        }),
    };
    let id = field.map_or(format!("author-{key}"), anchor);
    let said = field.map_or_else(silent, |field| sheet.said(field));
    view! { <TextField id label hint text said/> }
}

/// The step from whose reading, in a unit that it takes, the target is worked out.
fn other_step(sheet: Sheet, label: &'static str, takes: fn(Unit) -> bool) -> impl IntoView {
    let draft = sheet.pen.draft;
    let choices = move || {
        let before = sheet.number().saturating_sub(1);
        draft.with(|draft| {
            let steps = draft.steps().take(before).enumerate();
            let reading = steps.filter(|(_, step)| step.reads() && takes(step.scale.unit));
            let choice = |(index, step): (usize, &crate::authoring::DraftStep)| Choice {
                key: step.id.to_string(),
                name: name_of(index + 1, &draft.title_of(step)),
                note: step.scale.symbol(),
                ..Choice::default()
            };
            reading.map(choice).collect()
        })
    };
    let shown = move || {
        let other = sheet.with(|step| step.target.other.clone());
        other.map_or(String::new(), |other| step_name(sheet, &other))
    };
    let pick = Callback::new(move |key: String| {
        let other = key.parse().ok();
        sheet.change(label, |step| step.target.other = other.clone());
    });
    view! {
        <Picker id="author-other" label shown=Signal::derive(shown)
            choices=Signal::derive(choices) pick/>
    }
}

/// A step by number and title, or by its id where it is gone.
pub fn step_name(sheet: Sheet, id: &crate::procedure::Id) -> String {
    sheet
        .pen
        .draft
        .with(|draft| match draft.number_of(id).zip(draft.step(id)) {
            Some((number, step)) => name_of(number, &draft.title_of(step)),
            None => id.to_string(),
        })
}

fn oscillator(sheet: Sheet) -> impl IntoView {
    let draft = sheet.pen.draft;
    let names = move || {
        let names = draft.with(|draft| draft.plan.as_ref().map(|plan| plan.oscillators()));
        names
            .unwrap_or_default()
            .into_iter()
            .map(Choice::named)
            .collect()
    };
    let set = move |name: &str| {
        sheet.change(&words::picked(words::OSCILLATOR, name), |step| {
            step.target.oscillator = name.to_owned();
        });
    };
    let add = Adds::new(move |name: String| {
        let id = sheet.id();
        let mode = sheet.with(|step| step.mode.clone());
        if mode.trim().is_empty() {
            return Err(words::MODE_FIRST.to_owned());
        }
        sheet
            .pen
            .change(words::picked(words::OSCILLATOR, &name), |draft| {
                edit::add_oscillator(draft, &mode, &name);
                let steps = draft.steps_mut().filter(|step| step.id == id);
                steps.for_each(|step| step.target.oscillator = name.clone());
            });
        Ok(())
    });
    view! {
        <Picker id="author-oscillator" label=words::OSCILLATOR
            shown=Signal::derive(move || sheet.with(|step| step.target.oscillator.clone()))
            choices=Signal::derive(names) pick=Callback::new(move |name: String| set(&name)) add
            said=sheet.said(Field::Target)/>
    }
}

fn limit(sheet: Sheet) -> impl IntoView {
    let all: Vec<Choice> = limits::built_in()
        .into_iter()
        .flat_map(|set| {
            let (id, title) = (set.id, set.title);
            set.limits.into_iter().map(move |limit| Choice {
                key: format!("{id}\n{}", limit.id),
                name: spelt(&limit.what),
                note: format!("{title}, {}", limit.clause),
                ..Choice::default()
            })
        })
        .collect();
    let choices = StoredValue::new(all);
    let shown = move || {
        let key = sheet.with(|step| match step.target.limit.is_empty() {
            true => String::new(),
            false => format!("{}\n{}", step.target.set, step.target.limit),
        });
        let named =
            choices.with_value(|all| all.iter().find(|c| c.key == key).map(|c| c.name.clone()));
        named.unwrap_or(key)
    };
    let pick = Callback::new(move |key: String| {
        if let Some((set, limit)) = key.split_once('\n') {
            sheet.change(words::LIMIT, |step| {
                step.target.set = set.to_owned();
                step.target.limit = limit.to_owned();
            });
        }
    });
    let goes_by_power =
        Memo::new(move |_| sheet.with(|step| goes_by_power(&step.target.set, &step.target.limit)));
    view! {
        <Picker id=anchor(Field::Target) label=words::LIMIT shown=Signal::derive(shown)
            choices=Signal::derive(move || choices.get_value()) pick said=sheet.said(Field::Target)/>
        {move || goes_by_power.get().then(|| other_step(sheet, words::POWER_STEP, Unit::is_power))}
    }
}
