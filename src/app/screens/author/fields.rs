//! The parts that the forms for writing are made of.

use crate::app::screens::author::pen::Pen;
use crate::app::ui::{capitalised, field_text};
use crate::app::words::{author as words, shared};
use crate::procedure::{Draft, DraftStep, Field, Gravity, Id, Place, Remark, Sets, edit};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// A step in hand, or all cells of a table at once.
#[derive(Clone, Copy)]
pub struct Sheet {
    /// Its draft.
    pub pen: Pen,
    id: StoredValue<Id>,
    of: Of,
}

/// What a sheet is of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    Step,
    Cells,
}

impl Sheet {
    /// The step with this id.
    pub fn new(pen: Pen, id: Id) -> Self {
        Sheet {
            pen,
            id: StoredValue::new(id),
            of: Of::Step,
        }
    }

    /// All cells of the table with this id.
    pub fn of_cells(pen: Pen, table: Id) -> Self {
        Sheet {
            of: Of::Cells,
            ..Sheet::new(pen, table)
        }
    }

    /// The steps of a draft that it is of.
    fn ids(self, draft: &Draft) -> Vec<Id> {
        let id = self.id.get_value();
        match self.of {
            Of::Step => vec![id],
            Of::Cells => {
                let table = draft.tables.iter().find(|table| table.id == id);
                let cells = table.into_iter().flat_map(|table| table.cells.concat());
                cells.flatten().collect()
            }
        }
    }

    /// Its steps.
    fn steps(self, draft: &Draft) -> Vec<&DraftStep> {
        let ids = self.ids(draft).into_iter();
        ids.filter_map(|id| draft.step(&id)).collect()
    }

    /// The step's id; of cells, that of the first.
    pub fn id(self) -> Id {
        let own = self.id.get_value();
        match self.of {
            Of::Step => own,
            Of::Cells => {
                let first = |draft: &Draft| self.ids(draft).into_iter().next();
                self.pen.draft.with(first).unwrap_or(own)
            }
        }
    }

    /// Something of the step, or of the first of the cells.
    pub fn with<T: Default>(self, part: impl Fn(&DraftStep) -> T) -> T {
        let of_first = |draft: &Draft| self.steps(draft).first().map(|step| part(step));
        self.pen.draft.with(of_first).unwrap_or_default()
    }

    /// Whether something holds of the step, or of any of the cells.
    pub fn any(self, holds: impl Fn(&DraftStep) -> bool) -> bool {
        self.pen
            .draft
            .with(|draft| self.steps(draft).into_iter().any(&holds))
    }

    /// Whether the cells differ in something.
    pub fn differs<T: PartialEq>(self, part: impl Fn(&DraftStep) -> T) -> bool {
        self.pen.draft.with(|draft| {
            let steps = self.steps(draft);
            steps.windows(2).any(|pair| part(pair[0]) != part(pair[1]))
        })
    }

    /// Whether something of the set-up is typed here: in a table, what its headings don't set.
    pub fn states(self, what: &Sets) -> bool {
        self.of == Of::Step
            || self.pen.draft.with(|draft| {
                let id = self.id.get_value();
                let table = draft.tables.iter().find(|table| table.id == id);
                table.is_some_and(|table| edit::is_left_to_all(table, what))
            })
    }

    fn act(self, draft: &mut Draft, act: impl Fn(&mut DraftStep)) {
        let ids = self.ids(draft);
        let steps = draft.steps_mut().filter(|step| ids.contains(&step.id));
        steps.for_each(act);
    }

    /// Types a text of the step.
    pub fn write(self, key: &str, act: impl Fn(&mut DraftStep)) {
        let place = format!("{}/{key}", self.id.get_value());
        self.pen.write(place, |draft| self.act(draft, &act));
    }

    /// Changes the step.
    pub fn change(self, what: &str, act: impl Fn(&mut DraftStep)) {
        self.pen.change(what, |draft| self.act(draft, &act));
    }

    /// The step's number, from 1.
    pub fn number(self) -> usize {
        let draft = self.pen.draft;
        let id = self.id();
        draft.with(|draft| draft.number_of(&id)).unwrap_or(0)
    }

    /// What is said of a field of the step.
    pub fn said(self, field: Field) -> Signal<Vec<Remark>> {
        Signal::derive(move || {
            let mut said = self.pen.said_of(&Place::Step(self.number()));
            said.retain(|remark| remark.field == field);
            said
        })
    }

    /// A text of the step as a field shows and changes it.
    pub fn text(self, key: &'static str, part: fn(&mut DraftStep) -> &mut String) -> Text {
        Text {
            get: Signal::derive(move || self.with(|step| part(&mut step.clone()).clone())),
            set: Callback::new(move |text: String| {
                self.write(key, |step| *part(step) = text.clone())
            }),
        }
    }
}

/// A text as a field shows and changes it.
#[derive(Clone, Copy)]
pub struct Text {
    /// What it is.
    pub get: Signal<String>,
    /// Takes what is typed.
    pub set: Callback<String>,
}

/// The id of the element that a link to a field leads to.
pub fn anchor(field: Field) -> String {
    format!("author-{}", field.key())
}

/// Moves the focus to an element as soon as it is on the page.
pub fn focus_soon(id: impl Into<String>) {
    let id = id.into();
    request_animation_frame(move || {
        let element = document().get_element_by_id(&id);
        if let Some(element) = element.and_then(|e| e.dyn_into::<web_sys::HtmlElement>().ok()) {
            element.scroll_into_view();
            crate::app::platform::device::focus_in_place(&element);
        }
    });
}

/// Nothing to say.
pub fn silent() -> Signal<Vec<Remark>> {
    Signal::derive(Vec::new)
}

/// What is said of a field, below it.
#[component]
pub fn Said(
    /// The element's id, for the field to refer to.
    id: String,
    /// What is said.
    remarks: Signal<Vec<Remark>>,
) -> impl IntoView {
    view! {
        <div class="said" id=id>
            {move || remarks.get().into_iter().map(|remark| {
                let fault = remark.gravity == Gravity::Fault;
                view! {
                    <p class:said-fault=fault>
                        <strong>{words::gravity(fault)}</strong>" "
                        {shared::sentence(capitalised(&remark.sentence))}
                    </p>
                }
            }).collect_view()}
        </div>
    }
}

/// A text with its label.
#[component]
pub fn TextField(
    /// The id of the field.
    #[prop(into)]
    id: String,
    /// Its name.
    #[prop(into)]
    label: String,
    /// How it is typed.
    #[prop(optional, into)]
    hint: String,
    /// The text.
    text: Text,
    /// How many lines it shows; one line takes no more than one.
    #[prop(default = 1)]
    rows: u32,
    /// Whether it has a line of the form for itself; more than one line always has.
    #[prop(optional)]
    wide: bool,
    /// What is said of it.
    #[prop(optional)]
    said: Option<Signal<Vec<Remark>>>,
) -> impl IntoView {
    let Text { get, set } = text;
    let said = said.unwrap_or_else(silent);
    let about = format!("{id}-said");
    let wrong = move || {
        said.with(|all| all.iter().any(|r| r.gravity == Gravity::Fault))
            .to_string()
    };
    let field = match rows {
        1 => view! {
            <input id=id.clone() type="text" autocomplete="off" aria-describedby=about.clone()
                aria-invalid=wrong prop:value=move || field_text(get.get())
                on:input=move |event| set.run(event_target_value(&event))/>
        }
        .into_any(),
        _ => view! {
            <textarea id=id.clone() rows=rows aria-describedby=about.clone() aria-invalid=wrong
                prop:value=move || field_text(get.get())
                on:input=move |event| set.run(event_target_value(&event))></textarea>
        }
        .into_any(),
    };
    view! {
        <div class="field" class:field-long={wide || rows > 1}>
            <label for=id>{label}</label>
            {(!hint.is_empty()).then(|| view! { <span class="hint">{hint}</span> })}
            {field}
            <Said id=about remarks=said/>
        </div>
    }
}

/// One of a few, each a key of its own.
#[component]
pub fn Chips(
    /// The id of the first key.
    #[prop(into)]
    id: String,
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// The values and their names.
    choices: Vec<(String, String)>,
    /// The value chosen.
    chosen: Signal<String>,
    /// Takes the value of a key.
    pick: Callback<String>,
) -> impl IntoView {
    let keys = choices
        .into_iter()
        .enumerate()
        .map(|(index, (value, name))| {
            let here = value.clone();
            let id = if index == 0 {
                id.clone()
            } else {
                format!("{id}-{index}")
            };
            view! {
                <button type="button" id=id class="chip-key"
                    aria-pressed=move || chosen.with(|c| *c == here).to_string()
                    on:click=move |_| pick.run(value.clone())>{name}</button>
            }
        })
        .collect_view();
    view! {
        <div class="field field-long">
            <span class="chips-label" aria-hidden="true">{label.clone()}</span>
            <div class="chip-keys" role="group" aria-label=label>{keys}</div>
        </div>
    }
}

/// One of a few, by their places.
pub fn one_of<T: Copy + PartialEq + Send + Sync + 'static>(
    (id, label): (&'static str, &'static str),
    all: &'static [T],
    name: impl Fn(T) -> String,
    now: Signal<T>,
    set: Callback<T>,
) -> impl IntoView {
    let choices = all.iter().enumerate();
    let choices = choices.map(|(place, value)| (place.to_string(), name(*value)));
    let place = move || all.iter().position(|value| *value == now.get());
    let chosen = move || place().map_or(String::new(), |place| place.to_string());
    let pick = Callback::new(move |place: String| {
        if let Some(value) = place.parse().ok().and_then(|place: usize| all.get(place)) {
            set.run(*value);
        }
    });
    view! { <Chips id label choices=choices.collect() chosen=Signal::derive(chosen) pick/> }
}

/// One of the values that a part of a step can have, each a key with its name.
pub struct OneOf<T: 'static> {
    /// The id of the first key.
    pub id: &'static str,
    /// What is chosen.
    pub label: &'static str,
    /// The values, in the order in which they are offered.
    pub all: &'static [T],
    /// What a value is called.
    pub name: fn(T) -> &'static str,
    /// The value of a step.
    pub get: fn(&DraftStep) -> T,
    /// Takes a value.
    pub set: fn(&mut DraftStep, T),
}

impl<T: Copy + Default + PartialEq + Send + Sync + 'static> OneOf<T> {
    /// The keys.
    pub fn keys(self, sheet: Sheet) -> impl IntoView {
        let OneOf {
            id, all, get, set, ..
        } = self;
        let (name, label) = (self.name, self.label);
        let pick = move |value: T| {
            sheet.change(&words::picked(label, name(value)), |step| set(step, value));
        };
        one_of(
            (id, label),
            all,
            move |value| capitalised(name(value)),
            Signal::derive(move || sheet.with(get)),
            Callback::new(pick),
        )
    }
}

/// A thing that is on or off.
#[component]
pub fn Toggle(
    /// Its name.
    #[prop(into)]
    label: String,
    /// Whether it is on.
    on: Signal<bool>,
    /// Turns it over.
    flip: Callback<()>,
) -> impl IntoView {
    view! {
        <button type="button" class="chip-key" aria-pressed=move || on.get().to_string()
            on:click=move |_| flip.run(())>{label}</button>
    }
}
