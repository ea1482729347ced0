//! Data: backup, bringing files in, storage used, settings.

use super::at_risk;
use super::bench::{Bench, use_bench};
use super::carry::keep;
use super::device;
use super::room;
use super::route::Route;
use super::speech::Speech;
use super::words::{carry, data as words, shared};
use crate::exchange::{self, Choice, Document, DocumentError, Item, Picture, Subject};
use crate::job::Preferences;
use crate::quantity::DecimalSign;
use crate::store::{Aside, Contents};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast;

/// The screen.
pub fn screen() -> impl IntoView {
    let bench = use_bench();
    let arrived = Arrived {
        offers: RwSignal::new(Vec::new()),
        pictures: RwSignal::new(Vec::new()),
        with_pictures: RwSignal::new(true),
    };
    let contents = Memo::new(move |_| bench.contents());
    view! {
        <section class="page">
            <h1>{words::TITLE}</h1>
            {backup(bench, contents)}
            {room::section(bench, contents)}
            {bring_in(bench, arrived)}
            <h2>{shared::CHECK_A_SHEET}</h2>
            <p>{words::CHECK_LEAD}</p>
            <a class="button" href=Route::Verify.address()>{shared::CHECK_A_SHEET}</a>
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
            words::used(contents.jobs.len(), contents.procedures.len(), kilobytes)
        })
    };
    view! {
        <h2>{words::BACKUP}</h2>
        <p>{words::BACKUP_LEAD}</p>
        <p class="hint">{used}</p>
        {at_risk::line(bench)}
        {move || bench.safekeeping.trouble.get().map(|why| view! { <p class="hint">{words::unsure(&why)}</p> })}
        <button type="button" class="main" on:click=save>{words::SAVE_BACKUP}</button>
    }
}

/// An item of a file with the user's choice.
#[derive(Clone, Debug)]
struct Offer {
    item: Item,
    wanted: RwSignal<bool>,
}

/// What a file holds.
#[derive(Clone, Copy)]
struct Arrived {
    offers: RwSignal<Vec<Offer>>,
    pictures: RwSignal<Vec<Picture>>,
    /// Whether the pictures are wanted.
    with_pictures: RwSignal<bool>,
}

impl Arrived {
    fn is_empty(self) -> bool {
        self.offers.with(Vec::is_empty) && self.pictures.with(Vec::is_empty)
    }

    fn is_wanted(self) -> bool {
        let pictures = self.with_pictures.get() && !self.pictures.with(Vec::is_empty);
        pictures || self.offers.with(|all| all.iter().any(|o| o.wanted.get()))
    }

    fn clear(self) {
        self.offers.set(Vec::new());
        self.pictures.set(Vec::new());
    }
}

fn bring_in(bench: Bench, arrived: Arrived) -> impl IntoView {
    let picked = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = match event.target().map(JsCast::dyn_into) {
            Some(Ok(input)) => input,
            _ => return,
        };
        let file = input.files().and_then(|files| files.get(0));
        // So that the same file can be picked again.
        let clear = move || input.set_value("");
        if let Some(file) = file {
            look_into(bench, arrived, file);
        }
        clear();
    };
    let take = move |_| {
        spawn_local(take_in(bench, arrived));
    };
    view! {
        <h2>{shared::BRING_IN_FILE}</h2>
        <p>{words::BRING_IN_LEAD}</p>
        <label class="button file-button" for="file">{words::CHOOSE_FILE}</label>
        <input id="file" class="file-input" type="file" accept=".json,application/json" on:change=picked/>
        <Show when=move || !arrived.is_empty()>
            <div class="preview">
                <h3>{words::WHAT_IT_HOLDS}</h3>
                <ul class="offers">
                    {move || arrived.offers.get().into_iter().map(offer).collect_view()}
                    {pictures(bench, arrived)}
                </ul>
                <div class="row row-end">
                    <button type="button" class="plain" on:click=move |_| arrived.clear()>{words::LEAVE_IT}</button>
                    <button type="button" class="main" on:click=take
                        disabled=move || !arrived.is_wanted()>{words::TAKE_IT}</button>
                </div>
            </div>
        </Show>
    }
}

/// The pictures of a file as one thing to take or to leave.
fn pictures(bench: Bench, arrived: Arrived) -> impl IntoView {
    move || {
        let title = arrived.pictures.with(|pictures| {
            let bytes = pictures.iter().map(|picture| picture.data().len()).sum();
            let size = carry::size(bytes, bench.sign());
            (!pictures.is_empty()).then(|| carry::pictures_in_file(pictures.len(), &size))
        })?;
        let wanted = arrived.with_pictures;
        Some(view! {
            <li>
                <label class="offer">
                    <input type="checkbox" prop:checked=wanted
                        on:change=move |e| wanted.set(event_target_checked(&e))/>
                    <span><strong>{title}</strong><span class="hint">{carry::PICTURES_HINT}</span></span>
                </label>
            </li>
        })
    }
}

fn look_into(bench: Bench, arrived: Arrived, file: web_sys::File) {
    arrived.clear();
    bench.notice.set(None);
    // Before it is read, since a huge file can freeze the page.
    if file.size() > exchange::MAX_BYTES as f64 {
        bench.refuse(DocumentError::TooLarge(file.size() as usize).to_string());
        return;
    }
    let name = file.name();
    device::read_file(file, move |text| match exchange::open(&text) {
        Ok(file) => {
            let items = exchange::preview(file.document, &bench.here());
            let all = items
                .into_iter()
                .map(|item| Offer {
                    wanted: RwSignal::new(item.outcome.choice() == Choice::Offered),
                    item,
                })
                .collect();
            arrived.offers.set(all);
            arrived.with_pictures.set(true);
            arrived.pictures.set(file.pictures);
        }
        Err(error) => bench.refuse(words::not_taken(&name, error)),
    });
}

fn offer(offer: Offer) -> impl IntoView {
    let Offer { item, wanted } = offer;
    let title = match &item.subject {
        Subject::Procedure(procedure) => words::procedure(&procedure.title, procedure.revision),
        Subject::Job(job) => {
            let header = job.progress().header;
            words::job(&header.number, &header.set.title())
        }
        Subject::Channels(table) => words::channel_table(&table.name),
        Subject::Instrument(instrument) => words::instrument(&instrument.name),
        Subject::Preferences(_) => words::SETTINGS.to_owned(),
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

async fn take_in(bench: Bench, arrived: Arrived) {
    // Pictures first, so that nothing is ever shown without its own.
    let pictures = match arrived.with_pictures.get_untracked() {
        true => arrived.pictures.get_untracked(),
        false => Vec::new(),
    };
    if !keep(bench, &pictures).await {
        return;
    }
    let wanted: Vec<Item> = arrived
        .offers
        .get_untracked()
        .into_iter()
        .filter(|offer| offer.wanted.get_untracked())
        .map(|offer| offer.item)
        .collect();
    let count = wanted.len() + usize::from(!pictures.is_empty());
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
    arrived.clear();
    bench.changes.update(|count| *count += 1);
    bench.say(words::taken_in(count));
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
        <h2>{words::SETTINGS}</h2>
        <fieldset>
            <legend>{words::DECIMAL_SIGN}</legend>
            <div class="row">
                {sign(DecimalSign::Point, words::POINT)}
                {sign(DecimalSign::Comma, words::COMMA)}
            </div>
        </fieldset>
        <div class="field">
            <label for="technician-name">{words::TECHNICIAN}</label>
            <span class="hint">{words::TECHNICIAN_HINT}</span>
            <input id="technician-name" type="text" autocomplete="name"
                prop:value=move || bench.preferences.with(|p| p.technician.clone())
                on:change=move |e| { let name = event_target_value(&e); change(&|p| p.technician = name.clone()) }/>
        </div>
        <fieldset>
            <legend>{words::ON_THE_REPORT}</legend>
            <label class="option">
                <input type="checkbox" prop:checked=move || bench.preferences.with(|p| p.show_time)
                    on:change=move |e| { let show = event_target_checked(&e); change(&|p| p.show_time = show) }/>
                <span>{words::WORKING_TIME}</span>
            </label>
            <div class="field">
                <label for="currency">{words::CURRENCY}</label>
                <span class="hint">{words::CURRENCY_HINT}</span>
                <input id="currency" type="text" autocomplete="off" maxlength="8"
                    prop:value=move || bench.preferences.with(|p| p.currency.clone())
                    on:change=move |e| { let name = event_target_value(&e); change(&|p| p.currency = name.trim().to_owned()) }/>
            </div>
        </fieldset>
        <label class="option">
            <input type="checkbox" prop:checked=move || bench.preferences.with(|p| p.tone)
                on:change=move |e| { let on = event_target_checked(&e); change(&|p| p.tone = on) }/>
            <span>{words::TONE}</span>
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
            true => words::HAS_VOICE,
            false => words::HAS_NO_VOICE,
        };
        view! { <p class="hint">{text}</p> }
    }
}

/// The keys of a step.
fn keys() -> impl IntoView {
    let rows = words::KEYS_DO
        .iter()
        .map(|(key, does)| view! { <tr><th scope="row">{*key}</th><td>{*does}</td></tr> })
        .collect_view();
    view! {
        <h2>{words::KEYS}</h2>
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
                    if bench.remove_job(&id).is_some() {
                        bench.job.set(None);
                        bench.say(words::removed(&gone));
                    }
                });
                view! {
                    <li class="removable">
                        <span>{title}</span>
                        <span class="row">
                            <button type="button" on:click=save>{words::SAVE}</button>
                            <Show when=move || armed.get() fallback=move || view! {
                                <button type="button" class="plain" on:click=move |_| armed.set(true)>{words::REMOVE_ASKS}</button>
                            }>
                                <button type="button" on:click=move |_| remove.with_value(|remove| remove())>{words::REMOVE}</button>
                                <button type="button" class="plain" on:click=move |_| armed.set(false)>{words::KEEP_IT}</button>
                            </Show>
                        </span>
                    </li>
                }
            })
            .collect_view();
        Some(view! {
            <h2>{words::JOBS_HERE}</h2>
            <ul class="plain-list">{rows}</ul>
        })
    }
}

fn asides(bench: Bench, contents: Memo<Contents>) -> impl IntoView {
    move || {
        let asides = contents.with(|contents| contents.asides.clone());
        (!asides.is_empty()).then(|| {
            view! {
                <h2>{words::SET_ASIDE}</h2>
                <p>{words::SET_ASIDE_LEAD}</p>
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
            bench.refuse(shared::NOT_SAVED);
        }
    };
    view! {
        <li class="removable">
            <span><strong>{key}</strong><span class="hint">{why}</span></span>
            <button type="button" on:click=save>{words::SAVE}</button>
        </li>
    }
}
