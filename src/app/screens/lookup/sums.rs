//! The calculations: all of them, and one screen that serves each.

use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::{OpenStep, WayBack};
use crate::app::shell::route::Route;
use crate::app::ui::{SumPicture, capitalised, field_text, paint};
use crate::app::words::lookup::sums as words;
use crate::app::words::shared;
use crate::quantity::formula::NAMES;
use crate::quantity::sum::{Answer, Entry, Input, Kind, Outcome, Output, Role, Sum, Value};
use crate::quantity::{DecimalSign, Family, Number, ReadError, Scale};
use crate::store::TypedInputs;
use crate::{metrology, radio};
use leptos::prelude::*;

/// Every calculation, in the order of the catalogue.
fn catalogue() -> impl Iterator<Item = &'static Sum> {
    radio::sums::all().chain(metrology::sums::SUMS)
}

/// All calculations by group, found as one types.
pub fn list() -> impl IntoView {
    let wanted = RwSignal::new(String::new());
    let groups = move || {
        let wanted = wanted.get();
        let found: Vec<&Sum> = catalogue().filter(|sum| fits(sum, &wanted)).collect();
        if found.is_empty() {
            let none = words::none_found(wanted.trim());
            return view! { <p role="status">{none}</p> }.into_any();
        }
        let groups = found.chunk_by(|a, b| a.group == b.group);
        groups.map(group).collect_view().into_any()
    };
    view! {
        <section class="page">
            <p class="crumbs"><WayBack/></p>
            <div class="title-row">
                <h1>{words::TITLE}</h1>
                <div class="row">
                    <a class="button" href=Route::Audio.address()>{crate::app::words::audio::TITLE}</a>
                    <a class="button" href=Route::Substitution.address()>{shared::SUBSTITUTION_CHECK}</a>
                    <a class="button" href=Route::Channels.address()>{shared::CHANNEL_TABLES}</a>
                    <a class="button" href=Route::Limits.address()>{shared::LIMITS}</a>
                </div>
            </div>
            <div class="field find">
                <label for="find-sum">{words::FIND}</label>
                <input id="find-sum" type="text" autocomplete="off" spellcheck="false"
                    prop:value=move || field_text(wanted.get()) on:input=move |event| wanted.set(event_target_value(&event))/>
            </div>
            {groups}
        </section>
    }
}

fn group(sums: &[&'static Sum]) -> impl IntoView + use<> {
    let title = sums.first().map(|sum| sum.group.title());
    let rows = sums.iter().map(|sum| {
        let route = Route::Sum(sum.id.to_owned());
        view! { <li><a href=route.address()>{sum.title}</a></li> }
    });
    view! {
        <h2>{title}</h2>
        <ul class="index">{rows.collect_view()}</ul>
    }
}

/// Whether every word typed stands somewhere in a sum's texts.
fn fits(sum: &Sum, wanted: &str) -> bool {
    let labels = sum.inputs.iter().map(|input| input.label);
    let texts = [sum.group.title(), sum.title, sum.formula];
    let text: Vec<&str> = texts.into_iter().chain(labels).collect();
    let text = text.join(" ").to_lowercase();
    let wanted = wanted.to_lowercase();
    wanted.split_whitespace().all(|word| text.contains(word))
}

/// One calculation.
pub fn one(id: String) -> impl IntoView {
    let bench = use_bench();
    let Some(sum) = catalogue().find(|sum| sum.id == id) else {
        return view! {
            <section class="page">
                <h1>{words::UNKNOWN}</h1>
                <p>{words::UNKNOWN_LEAD}</p>
                <a class="button" href=Route::Sums.address()>{words::TO_THE_SUMS}</a>
            </section>
        }
        .into_any();
    };
    let typed = RwSignal::new(bench.sum(sum.id));
    let working = Memo::new(move |_| working(sum, &typed.get(), bench.sign()));
    let desk = Desk {
        bench,
        sum,
        typed,
        working,
    };
    let fields = sum.inputs.iter().map(|input| field(desk, input));
    view! {
        <section class="page sum">
            <p class="crumbs"><a href=Route::Sums.address()>{shared::ALL_SUMS}</a><WayBack/></p>
            <p class="section-line">{sum.group.title()}</p>
            <h1>{sum.title}</h1>
            <div class="sum-sheet">
                <div class="sum-inputs">
                    {fields.collect_view()}
                    <button type="button" class="plain" disabled=move || typed.with(TypedInputs::is_empty)
                        on:click=move |_| desk.change(TypedInputs::clear)>{shared::CLEAR}</button>
                </div>
                <div class="sum-results">{move || results(desk)}</div>
            </div>
            <dl class="sum-source">
                <dt>{words::FORMULA}</dt><dd>{sum.formula}</dd>
                <dt>{words::SOURCE}</dt><dd>{capitalised(sum.source)}</dd>
            </dl>
        </section>
    }
    .into_any()
}

/// A calculation with what was typed in it and what comes of that.
#[derive(Clone, Copy)]
struct Desk {
    bench: Bench,
    sum: &'static Sum,
    typed: RwSignal<TypedInputs>,
    working: Memo<Working>,
}

impl Desk {
    fn change(self, change: impl FnOnce(&mut TypedInputs)) {
        self.typed.update(change);
        let typed = self.typed.get_untracked();
        self.bench.keep_sum(self.sum.id, &typed);
    }

    fn text(self, input: &Input) -> String {
        self.typed.with(|typed| text_of(input, typed).to_owned())
    }

    /// Keeps a text and, with it, the scale chosen before.
    fn type_in(self, input: &Input, text: String) {
        self.change(|typed| {
            let scale = typed.get(input.id).and_then(|typed| typed.scale);
            typed.insert(input.id.to_owned(), crate::store::Typed { text, scale });
        });
    }

    fn scale(self, input: &Input) -> Option<Scale> {
        let chosen = self.typed.with(|typed| typed.get(input.id)?.scale);
        chosen.or(input.scale())
    }

    fn choose_scale(self, input: &Input, scale: Scale) {
        self.change(|typed| {
            let text = text_of(input, typed).to_owned();
            let scale = Some(scale);
            typed.insert(input.id.to_owned(), crate::store::Typed { text, scale });
        });
    }

    fn complaint(self, input: &Input) -> Option<String> {
        self.working.with(|working| {
            let index = self.sum.inputs.iter().position(|i| i.id == input.id)?;
            working.complaints.get(index)?.clone()
        })
    }
}

/// What stands in a field: what was typed, or what it starts with.
fn text_of<'a>(input: &Input, typed: &'a TypedInputs) -> &'a str {
    typed
        .get(input.id)
        .map_or(input.start, |typed| typed.text.as_str())
}

/// Everything that follows from what was typed.
#[derive(Clone, Debug, PartialEq)]
struct Working {
    /// Why a field can't be read, in the order of the inputs.
    complaints: Vec<Option<String>>,
    /// The inputs in words.
    inputs: Vec<String>,
    /// What came of it; nothing while a field can't be read.
    answer: Option<Result<Answer, String>>,
}

fn working(sum: &Sum, typed: &TypedInputs, sign: DecimalSign) -> Working {
    let read = |input: &Input| {
        let chosen = typed.get(input.id).and_then(|typed| typed.scale);
        input.read(text_of(input, typed), chosen, sign)
    };
    let entries: Vec<Result<Option<Entry>, ReadError>> = sum.inputs.iter().map(read).collect();
    let both = || sum.inputs.iter().zip(&entries);
    let complaints = both()
        .map(|(input, entry)| Some(complaint(input, entry.as_ref().err()?)))
        .collect();
    let inputs = both()
        .filter_map(|(input, entry)| {
            let entry = entry.as_ref().ok()?.as_ref()?;
            Some(words::named(input.label, &in_words(input, entry, sign)))
        })
        .collect();
    let entries: Result<Vec<_>, ReadError> = entries.into_iter().collect();
    let answer = entries.ok().map(|entries| {
        let answer = sum.answer(&entries);
        answer.map_err(|fault| fault.to_string())
    });
    Working {
        complaints,
        inputs,
        answer,
    }
}

/// Why a text is not what a field takes. The reader speaks of steps, which are elsewhere.
fn complaint(input: &Input, error: &ReadError) -> String {
    match (error, input.kind) {
        (ReadError::WrongUnit { typed, .. }, Kind::Amount(scales)) => {
            let fitting: Vec<String> = scales.iter().map(|scale| scale.symbol()).collect();
            words::wrong_unit_of(typed.symbol(), &fitting)
        }
        (ReadError::WrongUnit { typed, due }, _) => words::wrong_unit(typed.symbol(), due.symbol()),
        (ReadError::UnknownUnit(text), Kind::Plain | Kind::Plains) => words::no_unit(text),
        (other, _) => shared::sentence(other),
    }
}

fn in_words(input: &Input, entry: &Entry, sign: DecimalSign) -> String {
    let list = |texts: Vec<String>| texts.join("; ");
    match (entry, input.kind) {
        (Entry::Amount(quantity), _) => quantity.typeset(sign),
        (Entry::Plain(number), _) => number.typeset(sign),
        (Entry::Amounts(all), _) => list(all.iter().map(|one| one.typeset(sign)).collect()),
        (Entry::Plains(all), _) => list(all.iter().map(|one| one.typeset(sign)).collect()),
        (Entry::Formula(formula), _) => formula.text().to_owned(),
        (Entry::Pairs(pairs), _) => {
            let pair = |(a, b, number): &(usize, usize, Number)| {
                let [a, b] = [a, b].map(|at| NAMES.get(*at).copied().unwrap_or_default());
                words::named(&format!("{a}{b}"), &number.typeset(sign))
            };
            list(pairs.iter().map(pair).collect())
        }
        (Entry::Choice(index), Kind::Choice(choices)) => {
            choices.get(*index).copied().unwrap_or_default().to_owned()
        }
        (Entry::Choice(_), _) => String::new(),
    }
}

// The fields

fn field(desk: Desk, input: &'static Input) -> AnyView {
    match input.kind {
        Kind::Choice(choices) => choice(desk, input, choices).into_any(),
        Kind::Amount(scales) => line(desk, input, scales).into_any(),
        Kind::Plain | Kind::Formula => line(desk, input, &[]).into_any(),
        Kind::Amounts(_) | Kind::Plains | Kind::Pairs => several(desk, input).into_any(),
    }
}

fn field_id(input: &Input) -> String {
    format!("sum-{}", input.id)
}

fn label(input: &Input) -> impl IntoView + use<> {
    let optional = (input.role == Role::Optional).then_some(words::OPTIONAL);
    view! {
        <label for=field_id(input)>{input.label}<span class="hint">{optional}</span></label>
    }
}

fn error_line(desk: Desk, input: &'static Input) -> impl IntoView {
    view! {
        <p class="error" id=format!("{}-error", field_id(input)) role="alert">
            {move || desk.complaint(input)}
        </p>
    }
}

/// A field for one number, with its unit beside it.
fn line(desk: Desk, input: &'static Input, scales: &'static [Scale]) -> impl IntoView {
    view! {
        <div class="field">
            {label(input)}
            <div class="sum-line">
                <input
                    id=field_id(input)
                    type="text"
                    inputmode=keyboard(scales)
                    autocomplete="off"
                    spellcheck="false"
                    aria-invalid=move || desk.complaint(input).is_some().to_string()
                    aria-describedby=format!("{}-error", field_id(input))
                    prop:value=move || field_text(desk.text(input))
                    on:input=move |event| desk.type_in(input, event_target_value(&event))
                />
                {units(desk, input, scales)}
            </div>
            {error_line(desk, input)}
        </div>
    }
}

/// Number keys only where no minus is ever wanted: some devices' number keys have none.
fn keyboard(scales: &[Scale]) -> &'static str {
    let signed = |scale: &Scale| scale.unit.family() == Family::Level;
    match scales.is_empty() || scales.iter().any(signed) {
        true => "text",
        false => "decimal",
    }
}

/// The unit of a bare number: fixed, a few buttons, or a list where there are many.
fn units(desk: Desk, input: &'static Input, scales: &'static [Scale]) -> AnyView {
    const MOST_BUTTONS: usize = 3;
    let group = words::unit_of(input.label);
    match scales {
        [] => ().into_any(),
        [only] => view! { <span class="unit">{only.symbol()}</span> }.into_any(),
        few if few.len() <= MOST_BUTTONS => {
            let keys = few.iter().map(|&scale| {
                let pressed = move || (desk.scale(input) == Some(scale)).to_string();
                view! {
                    <button type="button" aria-pressed=pressed aria-label=named(scale)
                        on:click=move |_| desk.choose_scale(input, scale)>{scale.symbol()}</button>
                }
            });
            let keys = keys.collect_view();
            view! { <div class="scale-keys" role="group" aria-label=group>{keys}</div> }.into_any()
        }
        many => {
            let options = many.iter().map(|&scale| {
                let chosen = move || desk.scale(input) == Some(scale);
                view! { <option value=scale.symbol() selected=chosen>{scale.symbol()}</option> }
            });
            let options = options.collect_view();
            let choose = move |event| {
                if let Ok(scale) = event_target_value(&event).parse() {
                    desk.choose_scale(input, scale);
                }
            };
            view! { <select aria-label=group on:change=choose>{options}</select> }.into_any()
        }
    }
}

/// A unit as it is printed and as it is said.
fn named(scale: Scale) -> String {
    match (scale.symbol(), scale.spoken()) {
        (symbol, spoken) if symbol == spoken => symbol,
        (symbol, spoken) => words::unit(&symbol, &spoken),
    }
}

/// A field for several numbers.
fn several(desk: Desk, input: &'static Input) -> impl IntoView {
    let hint = match (input.kind, input.scale()) {
        (Kind::Pairs, _) => words::PAIRS.to_owned(),
        (_, Some(scale)) => words::several_in(&scale.symbol()),
        (_, None) => words::ONE_TO_A_LINE.to_owned(),
    };
    view! {
        <div class="field">
            {label(input)}
            <span class="hint">{hint}</span>
            <textarea
                id=field_id(input)
                rows="3"
                autocomplete="off"
                spellcheck="false"
                aria-invalid=move || desk.complaint(input).is_some().to_string()
                aria-describedby=format!("{}-error", field_id(input))
                prop:value=move || field_text(desk.text(input))
                on:input=move |event| desk.type_in(input, event_target_value(&event))
            ></textarea>
            {error_line(desk, input)}
        </div>
    }
}

/// A choice as buttons; those that name a colour show it.
fn choice(desk: Desk, input: &'static Input, choices: &'static [&'static str]) -> impl IntoView {
    let buttons = choices.iter().map(|&choice| {
        let pressed = move || (desk.text(input) == choice).to_string();
        let swatch = paint(choice).map(|colour| {
            view! { <span class="swatch" aria-hidden="true" style:background=colour></span> }
        });
        view! {
            <button type="button" aria-pressed=pressed
                on:click=move |_| desk.type_in(input, choice.to_owned())>{swatch}{choice}</button>
        }
    });
    view! {
        <div class="field" role="group" aria-label=input.label>
            <span class="choice-label">{input.label}</span>
            <div class="choice-keys">{buttons.collect_view()}</div>
        </div>
    }
}

// The results

fn results(desk: Desk) -> AnyView {
    match desk.working.get().answer {
        None => view! { <p class="soft">{words::UNREADABLE}</p> }.into_any(),
        Some(Err(fault)) => view! { <p class="error" role="alert">{fault}</p> }.into_any(),
        Some(Ok(Answer::StillNeeded(labels))) => {
            view! { <p class="soft">{words::still_needed(&labels)}</p> }.into_any()
        }
        Some(Ok(Answer::Worked { outcome, digits })) => worked(desk, outcome, digits).into_any(),
    }
}

fn worked(desk: Desk, outcome: Outcome, digits: usize) -> impl IntoView {
    let sign = desk.bench.sign();
    let step = OpenStep::find(desk.bench);
    let rows = outcome.outputs.iter().enumerate().map(|(index, output)| {
        let is_words = matches!(output.value, Value::Words(_));
        view! {
            <div class="result" class:result-main={index == 0} class:result-words=is_words>
                <dt>{output.label}</dt>
                <dd>{capitalised(&output.typeset(digits, sign))}</dd>
                {send(desk, output, digits, step.as_ref())}
            </div>
        }
    });
    view! {
        <dl class="results" aria-live="polite">{rows.collect_view()}</dl>
        {outcome.picture.map(|picture| view! { <SumPicture picture sign/> })}
    }
}

/// A button that enters a result in the open step, where the step reads this unit.
fn send(
    desk: Desk,
    output: &Output,
    digits: usize,
    step: Option<&OpenStep>,
) -> Option<impl IntoView + use<>> {
    let step = step?.clone();
    let reading = step.reading(output.quantity(digits))?;
    let sign = desk.bench.sign();
    let shown = words::named(output.label, &output.typeset(digits, sign));
    let said = words::use_this_as_reading(step.number, &shown);
    let text = words::use_as_reading(step.number);
    let take = move |_| {
        let note = desk
            .working
            .with_untracked(|working| words::worked_out(desk.sum.title, &working.inputs, &shown));
        step.take(desk.bench, reading.clone(), note);
    };
    Some(view! {
        <dd class="result-send"><button type="button" aria-label=said on:click=take>{text}</button></dd>
    })
}
