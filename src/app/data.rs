//! Data: backup, bringing files in, storage used, settings.

use super::bench::{Bench, use_bench};
use super::device;
use super::route::Route;
use super::speech::Speech;
use crate::exchange::{self, Choice, Document, DocumentError, Item, Subject};
use crate::job::Preferences;
use crate::quantity::DecimalSign;
use crate::store::{Aside, Contents};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let items = RwSignal::new(Vec::<Offer>::new());
    let contents = Memo::new(move |_| bench.contents());
    view! {
        <section class="page">
            <h1>"Data"</h1>
            {backup(bench, contents)}
            {bring_in(bench, items)}
            <h2>"Check a sheet"</h2>
            <p>"Whether a printed or saved sheet was made from a file that you have."</p>
            <a class="button" href=Route::Verify.address()>"Check a sheet"</a>
            {settings(bench)}
            {remove(bench)}
            {asides(bench, contents)}
        </section>
    }
}

fn backup(bench: Bench, contents: Memo<Contents>) -> impl IntoView {
    let save = move |_| {
        if let Some(backup) = bench.with_store(|store| store.backup()) {
            bench.save_as_file(&Document::Backup(backup));
        }
    };
    let used = move || {
        contents.with(|contents| {
            let kilobytes = contents.size.div_ceil(1024);
            format!(
                "Jobs: {}. Procedures: {}. Together {kilobytes} KiB of the 5 MiB that browsers usually give.",
                contents.jobs.len(),
                contents.procedures.len()
            )
        })
    };
    view! {
        <h2>"Backup"</h2>
        <p>"Everything is kept in this browser on this device only. A backup is one file with all of it: keep it somewhere else."</p>
        <p class="hint">{used}</p>
        <button type="button" class="main" on:click=save>"Save a backup"</button>
    }
}

/// An item of a file with the user's choice.
#[derive(Clone, Debug)]
struct Offer {
    item: Item,
    wanted: RwSignal<bool>,
}

fn bring_in(bench: Bench, offers: RwSignal<Vec<Offer>>) -> impl IntoView {
    let picked = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = match event.target().map(JsCast::dyn_into) {
            Some(Ok(input)) => input,
            _ => return,
        };
        let file = input.files().and_then(|files| files.get(0));
        // So that the same file can be picked again.
        let clear = move || input.set_value("");
        if let Some(file) = file {
            look_into(bench, offers, file);
        }
        clear();
    };
    let take = move |_| take_in(bench, offers);
    view! {
        <h2>"Bring in a file"</h2>
        <p>"A procedure, a job or a backup saved from here. You see what it will do before anything changes."</p>
        <label class="button file-button" for="file">"Choose a file"</label>
        <input id="file" class="file-input" type="file" accept=".json,application/json" on:change=picked/>
        <Show when=move || !offers.with(Vec::is_empty)>
            <div class="preview">
                <h3>"What the file holds"</h3>
                <ul class="offers">{move || offers.get().into_iter().map(offer).collect_view()}</ul>
                <div class="row row-end">
                    <button type="button" class="plain" on:click=move |_| offers.set(Vec::new())>"Leave it"</button>
                    <button type="button" class="main" on:click=take
                        disabled=move || !offers.with(|all| all.iter().any(|o| o.wanted.get()))>"Take what is ticked"</button>
                </div>
            </div>
        </Show>
    }
}

fn look_into(bench: Bench, offers: RwSignal<Vec<Offer>>, file: web_sys::File) {
    offers.set(Vec::new());
    bench.notice.set(None);
    // Before it is read, since a huge file can freeze the page.
    if file.size() > exchange::MAX_BYTES as f64 {
        bench.refuse(DocumentError::TooLarge(file.size() as usize).to_string());
        return;
    }
    let name = file.name();
    device::read_file(file, move |text| match exchange::read(&text) {
        Ok(document) => {
            let items = exchange::preview(document, &bench.here());
            let all = items
                .into_iter()
                .map(|item| Offer {
                    wanted: RwSignal::new(item.outcome.choice() == Choice::Offered),
                    item,
                })
                .collect();
            offers.set(all);
        }
        Err(error) => bench.refuse(format!("{name}: {error}. Nothing was changed")),
    });
}

fn offer(offer: Offer) -> impl IntoView {
    let Offer { item, wanted } = offer;
    let title = match &item.subject {
        Subject::Procedure(procedure) => {
            format!(
                "Procedure: {}, revision {}",
                procedure.title, procedure.revision
            )
        }
        Subject::Job(job) => {
            let header = job.progress().header;
            format!("Job: {} {}", header.number, header.set.title())
        }
        Subject::Channels(table) => format!("Channel table: {}", table.name),
        Subject::Instrument(instrument) => format!("Instrument: {}", instrument.name),
        Subject::Preferences(_) => "Settings".to_owned(),
    };
    let fixed = item.outcome.choice() != Choice::Offered;
    view! {
        <li>
            <label class="offer">
                <input type="checkbox" disabled=fixed prop:checked=wanted
                    on:change=move |e| wanted.set(event_target_checked(&e))/>
                <span><strong>{title}</strong><span class="hint">{item.outcome.sentence()}</span></span>
            </label>
        </li>
    }
}

fn take_in(bench: Bench, offers: RwSignal<Vec<Offer>>) {
    let wanted: Vec<Item> = offers
        .get_untracked()
        .into_iter()
        .filter(|offer| offer.wanted.get_untracked())
        .map(|offer| offer.item)
        .collect();
    let count = wanted.len();
    for item in wanted {
        let taken = bench.with_store(|store| match &item.subject {
            Subject::Procedure(procedure) => store.save_procedure(procedure).map(drop),
            Subject::Job(job) => store.save_job(job).map(drop),
            Subject::Channels(table) => {
                let mut tables = store.channel_tables();
                tables.retain(|other| other.name != table.name);
                tables.push(table.clone());
                store.save_channel_tables(&tables)
            }
            Subject::Instrument(instrument) => {
                let mut kit = store.kit();
                kit.retain(|other| other.name != instrument.name);
                kit.push(instrument.clone());
                store.save_kit(&kit)
            }
            Subject::Preferences(preferences) => store.save_preferences(preferences),
        });
        if taken.is_none() {
            return;
        }
        match item.subject {
            Subject::Preferences(preferences) => bench.preferences.set(preferences),
            // The job in hand may be the one that was merged.
            Subject::Job(job)
                if bench
                    .job
                    .with_untracked(|j| j.as_ref().is_some_and(|j| j.id == job.id)) =>
            {
                bench.job.set(Some(job));
            }
            _ => {}
        }
    }
    offers.set(Vec::new());
    bench.say(match count {
        1 => "One item was taken in.".to_owned(),
        n => format!("{n} items were taken in."),
    });
}

fn settings(bench: Bench) -> impl IntoView {
    let change = move |change: &dyn Fn(&mut Preferences)| {
        let mut preferences = bench.preferences.get_untracked();
        change(&mut preferences);
        if bench
            .with_store(|store| store.save_preferences(&preferences))
            .is_some()
        {
            bench.preferences.set(preferences);
        }
    };
    let sign = move |sign: DecimalSign, label: &'static str| {
        let chosen = move || bench.sign() == sign;
        view! {
            <label class="option">
                <input type="radio" name="decimal-sign" prop:checked=chosen
                    on:change=move |_| change(&|p| p.decimal_sign = sign)/>
                <span>{label}</span>
            </label>
        }
    };
    view! {
        <h2>"Settings"</h2>
        <fieldset>
            <legend>"Decimal sign"</legend>
            <div class="row">
                {sign(DecimalSign::Point, "Point: 16.4925")}
                {sign(DecimalSign::Comma, "Comma: 16,4925")}
            </div>
        </fieldset>
        <div class="field">
            <label for="technician-name">"Technician"</label>
            <span class="hint">"offered at intake and at sign-off"</span>
            <input id="technician-name" type="text" autocomplete="name"
                prop:value=move || bench.preferences.with(|p| p.technician.clone())
                on:change=move |e| { let name = event_target_value(&e); change(&|p| p.technician = name.clone()) }/>
        </div>
        <fieldset>
            <legend>"On the report"</legend>
            <label class="option">
                <input type="checkbox" prop:checked=move || bench.preferences.with(|p| p.show_time)
                    on:change=move |e| { let show = event_target_checked(&e); change(&|p| p.show_time = show) }/>
                <span>"How long the work took"</span>
            </label>
            <div class="field">
                <label for="currency">"Currency"</label>
                <span class="hint">"with one, parts are listed with their prices and a total"</span>
                <input id="currency" type="text" autocomplete="off" maxlength="8"
                    prop:value=move || bench.preferences.with(|p| p.currency.clone())
                    on:change=move |e| { let name = event_target_value(&e); change(&|p| p.currency = name.trim().to_owned()) }/>
            </div>
        </fieldset>
        <label class="option">
            <input type="checkbox" prop:checked=move || bench.preferences.with(|p| p.tone)
                on:change=move |e| { let on = event_target_checked(&e); change(&|p| p.tone = on) }/>
            <span>"A quiet tone when a reading is taken: one long high one inside, three short low ones outside"</span>
        </label>
        {voice()}
        {keys()}
    }
}

/// Whether steps can be read aloud here.
fn voice() -> impl IntoView {
    let speech = expect_context::<Speech>();
    move || {
        let text = match speech.has_voice.get() {
            true => "Steps can be read aloud with a voice that is on this device.",
            false => {
                "Steps can’t be read aloud here: this browser has no voice on the device itself, and others would send the text away."
            }
        };
        view! { <p class="hint">{text}</p> }
    }
}

const KEYS: [(&str, &str); 5] = [
    (
        "Page Down, Page Up",
        "next step, step before; page-turner pedals send these",
    ),
    (
        "Digits, point, minus",
        "go to the reading, wherever the focus is",
    ),
    (
        "Enter",
        "takes the reading, or presses the button that has the focus",
    ),
    ("Tab", "goes on to the next button or field"),
    ("F2", "reads the step aloud, or stops"),
];

/// The keys of a step.
fn keys() -> impl IntoView {
    let rows = KEYS
        .iter()
        .map(|(key, does)| view! { <tr><th scope="row">{*key}</th><td>{*does}</td></tr> })
        .collect_view();
    view! {
        <h2>"Keys at a step"</h2>
        <table class="budget"><tbody>{rows}</tbody></table>
    }
}

fn remove(bench: Bench) -> impl IntoView {
    move || {
        let lines = bench.lines();
        if lines.is_empty() {
            return None;
        }
        let rows = lines
            .into_iter()
            .map(|line| {
                let title = line.title();
                let armed = RwSignal::new(false);
                let id = line.id.clone();
                let save = move |_| {
                    if let Some(job) = bench.stored_job(&line.id) {
                        bench.save_as_file(&Document::Job(job));
                    }
                };
                let gone = title.clone();
                let remove = StoredValue::new(move || {
                    if bench.with_store(|store| store.remove_job(&id)).is_some() {
                        bench.job.set(None);
                        bench.say(format!("{gone} is no longer on this device."));
                    }
                });
                view! {
                    <li class="removable">
                        <span>{title}</span>
                        <span class="row">
                            <button type="button" on:click=save>"Save"</button>
                            <Show when=move || armed.get() fallback=move || view! {
                                <button type="button" class="plain" on:click=move |_| armed.set(true)>"Remove…"</button>
                            }>
                                <button type="button" on:click=move |_| remove.with_value(|remove| remove())>"Remove it for good"</button>
                                <button type="button" class="plain" on:click=move |_| armed.set(false)>"Keep it"</button>
                            </Show>
                        </span>
                    </li>
                }
            })
            .collect_view();
        Some(view! {
            <h2>"Jobs on this device"</h2>
            <ul class="plain-list">{rows}</ul>
        })
    }
}

fn asides(bench: Bench, contents: Memo<Contents>) -> impl IntoView {
    move || {
        let asides = contents.with(|contents| contents.asides.clone());
        (!asides.is_empty()).then(|| {
            view! {
                <h2>"Set aside"</h2>
                <p>"These entries in the storage can't be read. They stay as they are; save them before you ask for help."</p>
                <ul class="plain-list">{asides.into_iter().map(|a| aside(bench, a)).collect_view()}</ul>
            }
        })
    }
}

fn aside(bench: Bench, aside: Aside) -> impl IntoView {
    let Aside { key, why, text } = aside;
    let name = format!("{}.txt", key.replace(':', "-"));
    let save = move |_| {
        if device::save_file(&name, &text).is_err() {
            bench.refuse(
                "The browser did not save the file: allow downloads for this page and try again",
            );
        }
    };
    view! {
        <li class="removable">
            <span><strong>{key}</strong><span class="hint">{why}</span></span>
            <button type="button" on:click=save>"Save"</button>
        </li>
    }
}
