//! Bringing in a file: what it holds, what differs, and a choice each.

use super::bench::Bench;
use super::carry::keep;
use super::device;
use super::files::{Files, key_of};
use super::route::Route;
use super::words::{bring_in as words, carry, data, shared};
use crate::exchange::{self, Choice, DocumentError, Faulty, File, Item, Outcome, Picture, Subject};
use crate::procedure::Difference;
use crate::store;
use js_sys::{Array, Reflect};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};

/// How many lines of a comparison are shown.
const MOST_LINES: usize = 30;

/// The file that is being looked into, if one is.
#[derive(Clone, Copy)]
pub struct Incoming {
    bench: Bench,
    files: Files,
    shown: RwSignal<Option<Preview>>,
}

/// What a file holds.
#[derive(Clone)]
struct Preview {
    name: String,
    offers: Vec<Offer>,
    faulty: Vec<Faulty>,
    pictures: Vec<Picture>,
    /// Whether the pictures are wanted.
    with_pictures: RwSignal<bool>,
}

impl Preview {
    /// The pictures that are to be kept.
    fn wanted_pictures(&self) -> &[Picture] {
        match self.with_pictures.get() {
            true => &self.pictures,
            false => &[],
        }
    }

    fn is_nothing_wanted(&self) -> bool {
        self.wanted_pictures().is_empty() && self.offers.iter().all(|offer| !offer.wanted.get())
    }
}

/// A thing in a file with the user's choice.
#[derive(Clone)]
struct Offer {
    item: Item,
    wanted: RwSignal<bool>,
}

impl Incoming {
    /// Waits for files that are opened with the app or shared to it.
    pub fn open(bench: Bench, files: Files) -> Self {
        let incoming = Incoming {
            bench,
            files,
            shown: RwSignal::new(None),
        };
        incoming.take_up();
        device::on_window("halfturn-incoming", move |_| incoming.take_up());
        incoming
    }

    /// Takes up what `incoming.js` has laid down; of several files the last one is shown.
    fn take_up(self) {
        let list = Reflect::get(&window(), &"halfturnIncoming".into()).ok();
        let Some(list) = list.and_then(|list| list.dyn_into::<Array>().ok()) else {
            return;
        };
        while list.length() > 0 {
            let entry = list.shift();
            let part = |name: &str| Reflect::get(&entry, &name.into()).unwrap_or_default();
            if let Ok(file) = part("file").dyn_into::<web_sys::File>() {
                self.bench.go(&Route::Data);
                self.look_into(file, part("handle"));
            }
        }
    }

    /// Reads a file and shows what it holds. Saving its job or procedure later goes back into
    /// the file, where the browser said how.
    fn look_into(self, file: web_sys::File, handle: JsValue) {
        let bench = self.bench;
        self.shown.set(None);
        bench.notice.set(None);
        // Before it is read, since a huge file can freeze the page.
        if file.size() > exchange::MAX_BYTES as f64 {
            bench.refuse(DocumentError::TooLarge(file.size() as usize).to_string());
            return;
        }
        let name = file.name();
        device::read_file(file, move |text| match read(&text) {
            Ok(file) => {
                if !handle.is_undefined() {
                    self.files.remember(key_of(&file.document), handle);
                }
                self.show(name, file);
            }
            Err(error) => bench.refuse(data::not_taken(&name, error)),
        });
    }

    fn show(self, name: String, file: File) {
        let here = untrack(|| self.bench.here());
        let items = exchange::preview(file.document, &here).into_iter();
        let offers = items
            .map(|item| Offer {
                wanted: RwSignal::new(item.outcome.choice() == Choice::Offered),
                item,
            })
            .collect();
        self.shown.set(Some(Preview {
            name,
            offers,
            faulty: file.faulty,
            pictures: file.pictures,
            with_pictures: RwSignal::new(true),
        }));
    }
}

/// A file of ours, or what was saved when the app had stopped.
fn read(text: &str) -> Result<File, DocumentError> {
    exchange::open(text).or_else(|error| match error {
        DocumentError::NotOurs => store::rescue(text).ok_or(error),
        _ => Err(error),
    })
}

/// The part of a screen that brings in a file.
pub fn section() -> impl IntoView {
    let incoming: Incoming = expect_context();
    let picked = move |event: leptos::ev::Event| {
        let input: web_sys::HtmlInputElement = match event.target().map(JsCast::dyn_into) {
            Some(Ok(input)) => input,
            _ => return,
        };
        let file = input.files().and_then(|files| files.get(0));
        if let Some(file) = file {
            incoming.look_into(file, JsValue::UNDEFINED);
        }
        // So that the same file can be picked again.
        input.set_value("");
    };
    view! {
        <h2>{shared::BRING_IN_FILE}</h2>
        <p>{words::LEAD}</p>
        <label class="button file-button" for="file">{data::CHOOSE_FILE}</label>
        <input id="file" class="file-input" type="file" accept=".json,.txt,application/json,text/plain" on:change=picked/>
        {move || incoming.shown.get().map(|preview| shown(incoming, preview))}
    }
}

fn shown(incoming: Incoming, preview: Preview) -> impl IntoView {
    let all = StoredValue::new(preview.clone());
    let none = move || all.with_value(Preview::is_nothing_wanted);
    let pictures = pictures(incoming.bench, &preview);
    let faulty = (!preview.faulty.is_empty()).then(|| {
        view! {
            <h4>{words::FAULTY}</h4>
            <ul class="plain-list faulty">{preview.faulty.iter().map(fault).collect_view()}</ul>
        }
    });
    let take = move |_| spawn_local(take_in(incoming, all.get_value()));
    view! {
        <div class="preview">
            <h3>{data::WHAT_IT_HOLDS}</h3>
            <p class="hint">{preview.name}</p>
            <ul class="offers">{preview.offers.into_iter().map(offer).collect_view()}{pictures}</ul>
            {faulty}
            <div class="row row-end">
                <button type="button" class="plain" on:click=move |_| incoming.shown.set(None)>{data::LEAVE_IT}</button>
                <button type="button" class="main" on:click=take disabled=none>{data::TAKE_IT}</button>
            </div>
        </div>
    }
}

/// The pictures of a file as one thing to take or to leave.
fn pictures(bench: Bench, preview: &Preview) -> Option<impl IntoView + use<>> {
    let all = &preview.pictures;
    let bytes = all.iter().map(|picture| picture.data().len()).sum();
    let title = carry::pictures_in_file(all.len(), &carry::size(bytes, bench.sign()));
    let wanted = preview.with_pictures;
    (!all.is_empty()).then(|| {
        view! {
            <li>
                <label class="offer">
                    <input type="checkbox" prop:checked=wanted
                        on:change=move |e| wanted.set(event_target_checked(&e))/>
                    <span><strong>{title}</strong><span class="hint">{carry::PICTURES_HINT}</span></span>
                </label>
            </li>
        }
    })
}

fn fault(faulty: &Faulty) -> impl IntoView + use<> {
    view! {
        <li>
            <strong>{words::faulty(faulty.part, faulty.name.as_deref())}</strong>
            <span class="hint">{shared::sentence(&faulty.why)}</span>
        </li>
    }
}

fn offer(offer: Offer) -> impl IntoView {
    let Offer { item, wanted } = offer;
    let fixed = item.outcome.choice() != Choice::Offered;
    view! {
        <li>
            <label class="offer">
                <input type="checkbox" disabled=fixed prop:checked=wanted
                    on:change=move |e| wanted.set(event_target_checked(&e))/>
                <span><strong>{title(&item.subject)}</strong><span class="hint">{item.outcome.sentence()}</span></span>
            </label>
            {differences(&item)}
        </li>
    }
}

fn title(subject: &Subject) -> String {
    match subject {
        Subject::Procedure(procedure) => data::procedure(&procedure.title, procedure.revision),
        Subject::Job(job) => {
            let header = job.progress().header;
            data::job(&header.number, &header.set.title())
        }
        Subject::Channels(table) => data::channel_table(&table.name),
        Subject::Instrument(instrument) => data::instrument(&instrument.name),
        Subject::Preferences(_) => data::SETTINGS.to_owned(),
    }
}

fn differences(item: &Item) -> Option<impl IntoView + use<>> {
    let heading = match item.outcome {
        Outcome::Merges { .. } => words::ADDED,
        _ => words::DIFFERENCES,
    };
    let all = &item.differences;
    let more = all.len().saturating_sub(MOST_LINES);
    let more = (more > 0).then(|| view! { <li class="hint">{words::and_more(more)}</li> });
    let line = |difference: &Difference| view! { <li>{difference.line()}</li> };
    (!all.is_empty()).then(|| {
        let lines = all.iter().take(MOST_LINES).map(line).collect_view();
        view! {
            <details class="differences">
                <summary>{heading}</summary>
                <ul>{lines}{more}</ul>
            </details>
        }
    })
}

async fn take_in(incoming: Incoming, preview: Preview) {
    let bench = incoming.bench;
    // Pictures first, so that nothing is ever shown without its own.
    let pictures = untrack(|| preview.wanted_pictures());
    if !keep(bench, pictures).await {
        return;
    }
    let offers = preview.offers.iter();
    let wanted = offers.filter(|offer| offer.wanted.get_untracked());
    let mut count = usize::from(!pictures.is_empty());
    for offer in wanted {
        if take(bench, &offer.item.subject).is_none() {
            return;
        }
        count += 1;
    }
    incoming.shown.set(None);
    bench.changes.update(|count| *count += 1);
    bench.say(data::taken_in(count));
}

/// Takes one thing in; where that fails, it is told.
fn take(bench: Bench, subject: &Subject) -> Option<()> {
    bench.with_store(|store| match subject {
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
    })?;
    match subject {
        Subject::Preferences(preferences) => bench.preferences.set(preferences.clone()),
        // The job in hand may be the one that was merged.
        Subject::Job(job)
            if bench
                .job
                .with_untracked(|shown| shown.as_ref().is_some_and(|shown| shown.id == job.id)) =>
        {
            bench.job.set(Some(job.clone()));
        }
        _ => {}
    }
    Some(())
}
