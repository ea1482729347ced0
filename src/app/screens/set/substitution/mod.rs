//! The substitution check: one transistor in place of another, rating by rating.

mod pin_outs;
mod reader;

pub use self::reader::typed;

use crate::app::screens::set::substitution::reader::{
    KEPT_AS, KINDS, LINES, Line, SIDES, is_named, read,
};
use crate::app::screens::work::put_back::step_in_hand;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::open_step::WayBack;
use crate::app::shell::route::Route;
use crate::app::ui::field_text;
use crate::app::words::set::substitution as words;
use crate::app::words::shared;
use crate::quantity::{Prefix, Unit};
use crate::radio::components::substitution::{Comparison, Rating, Seat, Standing, Substitution};
use crate::store::{Typed, TypedInputs};
use leptos::prelude::*;

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

    fn check(self) -> Option<Substitution> {
        let sign = self.bench.sign();
        self.typed.with(|typed| read(typed, sign)).0
    }

    fn compared(self) -> Option<Result<Comparison, String>> {
        let check = self.check()?;
        Some(check.compare().map_err(|fault| fault.to_string()))
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
            {move || desk.check().map(|check| pin_outs::pin_outs(&check))}
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
