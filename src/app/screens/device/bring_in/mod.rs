//! Bringing in a file: what it holds, what differs, and a choice each.

use crate::app::platform::device;
use crate::app::platform::timeline::Stage;
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::carry::keep;
use crate::app::shell::files::{Files, key_of};
use crate::app::shell::route::Route;
use crate::app::shell::slices::{Stopped, Turn};
use crate::app::ui::find::{AT_ONCE, more};
use crate::app::words::device::{bring_in as words, data};
use crate::app::words::frame;
use crate::app::words::shared;
use crate::app::words::shell::{carry, slices as long};
use crate::authoring::Difference;
use crate::exchange::{
    self, Choice, Document, DocumentError, Faulty, File, Here, Item, Outcome, Picture, PictureType,
    Reading, Subject, Unread,
};
use crate::job::{Correction, Job, stops_brought};
use crate::procedure::{Id, Procedure};
use crate::store::{Rescue, StorageError, TakenIn};
use js_sys::{Array, Reflect};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::collections::HashMap;
use std::sync::Arc;
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
    offers: Arc<Vec<Offer>>,
    faulty: Arc<Vec<Faulty>>,
    pictures: Arc<Vec<Picture>>,
    /// What it was compared with.
    here: Arc<Here>,
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
    wanted: ArcRwSignal<bool>,
}

impl Offer {
    fn can_be_taken(&self) -> bool {
        matches!(self.item.outcome.choice(), Choice::Offered | Choice::Asked)
    }
}

impl Incoming {
    /// Waits for files that are opened with the app or shared to it.
    pub fn open(bench: Bench, files: Files) -> Self {
        let incoming = Incoming {
            bench,
            files,
            shown: RwSignal::new(None),
        };
        device::on_window("halfturn-incoming", move |_| incoming.take_up());
        // The next one's turn comes when the one before it is decided.
        Effect::new(move |_| {
            if incoming.is_free() {
                untrack(|| incoming.take_up());
            }
        });
        incoming
    }

    /// Whether no file is looked into and no other long work goes on.
    fn is_free(self) -> bool {
        let is_shown = self.shown.with(Option::is_some);
        !self.bench.slices.is_busy() && !is_shown
    }

    /// Takes up the next of what `incoming.js` has laid down, so that each is seen.
    fn take_up(self) {
        let list = Reflect::get(&window(), &"halfturnIncoming".into()).ok();
        let Some(list) = list.and_then(|list| list.dyn_into::<Array>().ok()) else {
            return;
        };
        let is_due = move |list: &Array| list.length() > 0 && untrack(|| self.is_free());
        if !is_due(&list) {
            return;
        }
        self.bench.go(&Route::Data);
        spawn_local(async move {
            // Going there takes away what was told before; what is told here has to stay.
            device::breathe().await;
            while is_due(&list) {
                let entry = list.shift();
                let part = |name: &str| Reflect::get(&entry, &name.into()).unwrap_or_default();
                match part("file").dyn_into::<web_sys::File>() {
                    Ok(file) => self.look_into(file, part("handle")),
                    Err(_) => self.bench.refuse(words::NOTHING_SHARED),
                }
            }
        });
    }

    /// Reads a file and shows what it holds. Saving its job or procedure later goes back into
    /// the file, where the browser said how.
    fn look_into(self, file: web_sys::File, handle: JsValue) {
        let bench = self.bench;
        // Before it is read, since a huge file would fill the memory.
        if file.size() > exchange::MAX_BYTES as f64 {
            bench.refuse(DocumentError::TooLarge(file.size() as usize).to_string());
            return;
        }
        let Some(turn) = bench.slices.begin() else {
            return bench.refuse(long::BUSY);
        };
        self.shown.set(None);
        spawn_local(async move {
            if self.read_and_show(&turn, file, handle).await == Err(Stopped) {
                bench.say(long::NOTHING_CHANGED);
            }
        });
    }

    async fn read_and_show(
        self,
        turn: &Turn,
        file: web_sys::File,
        handle: JsValue,
    ) -> Result<(), Stopped> {
        let name = file.name();
        let file = match read(turn, &file).await? {
            Ok(file) => file,
            Err(error) => {
                self.bench.refuse(data::not_taken(&name, error));
                return Ok(());
            }
        };
        if !handle.is_undefined() {
            self.files.remember(key_of(&file.document), handle);
        }
        let here = Arc::new(untrack(|| self.bench.here()));
        let mut faulty = file.faulty;
        if let Document::Backup(backup) = &file.document {
            faulty.extend(backup.unread.iter().map(Unread::faulty));
        }
        let items = self.compare(turn, file.document, &here).await?;
        let offers = items.into_iter().map(|item| Offer {
            wanted: ArcRwSignal::new(item.outcome.is_ticked()),
            item,
        });
        self.shown.set(Some(Preview {
            name,
            offers: Arc::new(offers.collect()),
            faulty: Arc::new(faulty),
            pictures: Arc::new(file.pictures),
            here,
            with_pictures: RwSignal::new(true),
        }));
        Ok(())
    }

    /// Compares what a file holds with what is here.
    async fn compare(
        self,
        turn: &Turn,
        document: Document,
        here: &Here,
    ) -> Result<Vec<Item>, Stopped> {
        let bench = self.bench;
        let known = bench.read_store(|store| store.procedures_by_digest());
        let known = known.unwrap_or_default();
        let all = match &document {
            Document::Backup(backup) => backup.things(),
            _ => 1,
        };
        let mut items = Vec::new();
        let take = |item| {
            items.push(item);
            items.len()
        };
        let work = exchange::items(document, here, |id| stored(bench, id, &known));
        turn.run(Stage::Comparing, all, work, take).await?;
        Ok(items)
    }
}

/// A job that is here, if it can be read. The procedures here are known, so that none is read
/// again for each of its jobs.
fn stored(bench: Bench, id: &Id, known: &HashMap<String, Arc<Procedure>>) -> Option<Job> {
    let job = bench.store.with_value(|store| store.backup_job(id, known));
    let job = job.ok()??.ok()?;
    Some(Job {
        id: job.id,
        procedure: known.get(&job.procedure)?.clone(),
        log: job.log,
    })
}

/// A file of ours, or what was saved when the app had stopped.
async fn read(turn: &Turn, file: &web_sys::File) -> Result<Result<File, DocumentError>, Stopped> {
    let size = file.size() as usize;
    let goes_on = |done| turn.goes_on(Stage::Loading, done, size);
    let text = device::read_in_pieces(file, goes_on).await.ok_or(Stopped)?;
    let mut reading = Reading::of(&text);
    let walk = reading.by_ref();
    turn.run(Stage::Reading, size, walk, |done| done).await?;
    let error = match reading.end() {
        Ok(file) => return Ok(Ok(file)),
        Err(error) => error,
    };
    let rescue = match error {
        DocumentError::NotOurs => Rescue::of(&text),
        _ => None,
    };
    let Some(mut rescue) = rescue else {
        return Ok(Err(error));
    };
    let (all, entries) = (rescue.entries(), rescue.by_ref());
    turn.run(Stage::Reading, all, entries, |done| done).await?;
    Ok(Ok(rescue.end()))
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
            incoming.bench.notice.set(None);
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
    let most_faults = RwSignal::new(AT_ONCE);
    let (faulty, faults) = (preview.faulty.len(), preview.faulty.clone());
    let faults = move || {
        let shown = faults.iter().take(most_faults.get());
        shown.map(fault).collect_view()
    };
    let faulty = (faulty > 0).then(|| {
        view! {
            <h4>{words::FAULTY}</h4>
            <ul class="plain-list faulty">{faults}</ul>
            {move || more(most_faults, faulty)}
        }
    });
    let take = move |_| take_in(incoming, all.get_value());
    let is_off = move || none() || incoming.bench.slices.is_busy();
    let most = RwSignal::new(AT_ONCE);
    let count = preview.offers.len();
    let whole = (count > AT_ONCE).then(|| whole(preview.offers.clone()));
    let offers = preview.offers.clone();
    let rows = move || {
        let shown = offers.iter().take(most.get()).cloned();
        shown.map(offer).collect_view()
    };
    view! {
        <div class="preview">
            <h3>{data::WHAT_IT_HOLDS}</h3>
            <p class="hint">{preview.name}</p>
            {whole}
            <ul class="offers">{rows}{pictures}</ul>
            {move || more(most, count)}
            {faulty}
            <div class="row row-end">
                <button type="button" class="plain" on:click=move |_| incoming.shown.set(None)>{data::LEAVE_IT}</button>
                <button type="button" class="main" on:click=take disabled=is_off>{data::TAKE_IT}</button>
            </div>
        </div>
    }
}

/// What many things in a file come to, and the ways to tick all of them or none.
fn whole(offers: Arc<Vec<Offer>>) -> impl IntoView {
    let of = |choice: Choice| {
        let alike = offers.iter().filter(|o| o.item.outcome.choice() == choice);
        alike.count()
    };
    let is_new = offers.iter().filter(|o| o.item.outcome == Outcome::New);
    let counts = words::Counts {
        all: offers.len(),
        new: is_new.count(),
        offered: of(Choice::Offered),
        asked: of(Choice::Asked),
        needless: of(Choice::Needless),
        refused: of(Choice::Refused),
    };
    let tick = move |wanted: bool| {
        // What takes back entries is ticked one by one.
        let all = |offer: &&Offer| !wanted || offer.item.outcome.choice() == Choice::Offered;
        let offers = offers.iter().filter(all);
        offers.for_each(|offer| offer.wanted.set(wanted));
    };
    let none = tick.clone();
    view! {
        <p>{words::counted(counts)}</p>
        <div class="row">
            <button type="button" on:click=move |_| tick(true)>{words::TICK_ALL}</button>
            <button type="button" class="plain" on:click=move |_| none(false)>{words::TICK_NONE}</button>
        </div>
    }
}

/// The pictures of a file as one thing to take or to leave.
fn pictures(bench: Bench, preview: &Preview) -> Option<impl IntoView + use<>> {
    let all = &preview.pictures;
    let bytes = all.iter().map(|picture| picture.data().len()).sum();
    let is_pdf = |picture: &&Picture| picture.kind() == PictureType::Pdf;
    let papers = all.iter().filter(is_pdf).count();
    let size = carry::size(bytes, bench.sign());
    let title = carry::pictures_in_file(all.len() - papers, papers, &size);
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
    let fixed = !offer.can_be_taken();
    let Offer { item, wanted } = offer;
    let ticked = wanted.clone();
    view! {
        <li>
            <label class="offer">
                <input type="checkbox" disabled=fixed prop:checked=move || ticked.get()
                    on:change=move |e| wanted.set(event_target_checked(&e))/>
                <span><strong>{title(&item.subject)}</strong><span class="hint">{item.outcome.sentence()}</span></span>
            </label>
            {stops(&item)}
            {differences(&item)}
        </li>
    }
}

/// The stops of a job in hand that come confirmed, which may have been at another bench.
fn stops(item: &Item) -> Option<impl IntoView + use<>> {
    let bench = use_bench();
    let Subject::Job(job) = &item.subject else {
        return None;
    };
    if job.log.is_signed_off() {
        return None;
    }
    let here = bench.store.with_value(|store| store.job(&job.id));
    let here = here.ok().flatten().map(|job| job.progress());
    let brought = stops_brought(here.as_ref(), &job.progress());
    (!brought.is_empty()).then(|| view! { <p class="hint">{words::stops_brought(&brought)}</p> })
}

fn title(subject: &Subject) -> String {
    match subject {
        Subject::Procedure(procedure) => data::procedure(&procedure.title, procedure.revision),
        Subject::Job(job) => {
            let header = job.log.header().cloned().unwrap_or_default();
            data::job(&header.number, &header.set.title())
        }
        Subject::Corrections { job, .. } => {
            let header = job.log.header().cloned().unwrap_or_default();
            data::corrections(&header.number, &header.set.title())
        }
        Subject::Channels(table) => data::channel_table(&table.name),
        Subject::Instrument(instrument) => data::instrument(&instrument.name),
        Subject::Preferences(_) => frame::SETTINGS.to_owned(),
    }
}

fn differences(item: &Item) -> Option<impl IntoView + use<>> {
    let heading = match (&item.outcome, &item.subject) {
        (Outcome::Merges { .. }, _) => words::ADDED,
        (Outcome::Corrects(_) | Outcome::Finished(_), _) => words::HERE_AND_THERE,
        // There is nothing here that it could differ from.
        (Outcome::New, Subject::Job(_)) => words::ODD,
        _ => words::DIFFERENCES,
    };
    let all = &item.differences;
    let more = all.len().saturating_sub(MOST_LINES);
    let more = (more > 0).then(|| view! { <li class="hint">{words::and_more(more)}</li> });
    let line = |difference: &Difference| view! { <li>{difference.line()}</li> };
    // What is damaged is said unasked.
    let is_open = matches!(&item.subject, Subject::Job(job) if job.log.damaged().next().is_some());
    (!all.is_empty()).then(|| {
        let lines = all.iter().take(MOST_LINES).map(line).collect_view();
        view! {
            <details class="differences" open=is_open>
                <summary>{heading}</summary>
                <ul>{lines}{more}</ul>
            </details>
        }
    })
}

/// Takes in what is ticked.
fn take_in(incoming: Incoming, preview: Preview) {
    let bench = incoming.bench;
    // A job is joined with whatever became of it; all else would be taken for what it was.
    if untrack(|| bench.here()) != *preview.here {
        incoming.shown.set(None);
        return bench.refuse(words::CHANGED_MEANWHILE);
    }
    match bench.slices.begin() {
        Some(turn) => spawn_local(async move {
            take_in_slices(incoming, &turn, preview).await;
            // Before the lists are read anew, which takes about a frame with years of jobs.
            device::breathe().await;
            bench.changes.update(|count| *count += 1);
        }),
        None => bench.refuse(long::BUSY),
    }
}

/// Takes one thing in after the other, each of them wholly, so that it can end anywhere. What
/// ends it early is told.
async fn take_in_slices(incoming: Incoming, turn: &Turn, preview: Preview) {
    let bench = incoming.bench;
    // Pictures first, so that nothing is ever shown without its own.
    let pictures = untrack(|| preview.wanted_pictures());
    if !keep(bench, pictures).await {
        return;
    }
    let offers = preview.offers.iter();
    let wanted: Vec<&Offer> = offers.filter(|o| o.wanted.get_untracked()).collect();
    let mut taken = 0;
    let mut jobs = Vec::new();
    let mut trouble = None;
    let work = wanted.iter().map_while(|offer| {
        let outcome = take(bench, &offer.item);
        outcome.map_err(|error| trouble = Some(error)).ok()
    });
    let count = |job: Option<TakenIn>| {
        jobs.extend(job);
        taken += 1;
        taken
    };
    let ended = turn.run(Stage::Taking, wanted.len(), work, count).await;
    bench.note_taken_in(&jobs);
    let all = wanted.len();
    match (ended, trouble) {
        (_, Some(error)) => return bench.refuse(words::taken_until_refused(taken, all, error)),
        (Err(Stopped), None) => bench.say_when_kept(long::taken_until_stopped(taken, all)),
        (Ok(()), None) => {
            bench.say_when_kept(data::taken_in(taken + usize::from(!pictures.is_empty())))
        }
    }
    incoming.shown.set(None);
}

/// Takes one thing in, and gives the job that came with it.
fn take(bench: Bench, item: &Item) -> Result<Option<TakenIn>, String> {
    let taken = |job: &Job, joined| Some(TakenIn::of(job, &item.outcome, joined));
    if let Subject::Corrections { job, corrections } = &item.subject {
        return correct(bench, job, corrections).map(|()| None);
    }
    let taken = bench.store.with_value(|store| match &item.subject {
        Subject::Procedure(procedure) => store.save_procedure(procedure).map(|_| None),
        Subject::Job(job) => store.bring_job(job).map(|joined| taken(job, joined)),
        Subject::Corrections { .. } => Ok(None),
        Subject::Channels(table) => {
            let mut tables = store.channel_tables();
            tables.retain(|other| other.name != table.name);
            tables.push(table.clone());
            store.save_channel_tables(&tables).map(|()| None)
        }
        Subject::Instrument(instrument) => {
            let mut kit = store.kit();
            kit.retain(|other| other.name != instrument.name);
            kit.push(instrument.clone());
            store.save_kit(&kit).map(|()| None)
        }
        Subject::Preferences(preferences) => store.save_preferences(preferences).map(|()| None),
    });
    let taken = taken.map_err(|error: StorageError| error.to_string())?;
    if let Subject::Preferences(preferences) = &item.subject {
        bench.preferences.set(preferences.clone());
    }
    if let Some(TakenIn { job, .. }) = &taken {
        show_if_in_hand(bench, job);
    }
    Ok(taken)
}

/// Writes what a file has instead of entries here behind the job as it is now.
fn correct(bench: Bench, job: &Job, corrections: &[Correction]) -> Result<(), String> {
    let stored = bench.store.with_value(|store| store.job(&job.id));
    let stored = stored.map_err(|error| error.to_string())?;
    let mut job = stored.unwrap_or_else(|| job.clone());
    let corrected = job.correct(corrections, device::stamp);
    corrected.map_err(|refusal| refusal.to_string())?;
    let saved = bench.store.with_value(|store| store.save_job(&job));
    show_if_in_hand(bench, &saved.map_err(|error| error.to_string())?);
    Ok(())
}

/// The job in hand may be the one that was merged.
fn show_if_in_hand(bench: Bench, job: &Job) {
    let is_it = |shown: &Option<Job>| shown.as_ref().is_some_and(|shown| shown.id == job.id);
    if bench.job.with_untracked(is_it) {
        bench.job.set(Some(job.clone()));
    }
}
