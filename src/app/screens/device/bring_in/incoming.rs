//! A file on its way in: read, compared, and what of it is wanted.

use crate::app::platform::device;
use crate::app::platform::timeline::Stage;
use crate::app::shell::bench::Bench;
use crate::app::shell::files::{Files, key_of};
use crate::app::shell::route::Route;
use crate::app::shell::route::parts::Part;
use crate::app::shell::slices::{Stopped, Turn};
use crate::app::words::device::{bring_in as words, data};
use crate::app::words::frame;
use crate::app::words::shell::slices as long;
use crate::exchange;
use crate::exchange::{
    Choice, Document, DocumentError, Faulty, File, Here, Item, Picture, Reading, Unread,
};
use crate::job::Job;
use crate::procedure::{Id, Procedure};
use crate::store::Rescue;
use js_sys::{Array, Reflect};
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::collections::HashMap;
use std::sync::Arc;
use wasm_bindgen::JsCast;
use wasm_bindgen::JsValue;
use wasm_split_helpers::{SplitLoaderError, wasm_split};

/// The file that is being looked into, if one is.
#[derive(Clone, Copy)]
pub struct Incoming {
    pub(super) bench: Bench,
    pub(super) files: Files,
    pub(super) shown: RwSignal<Option<Preview>>,
}

/// What a file holds.
#[derive(Clone)]
pub(super) struct Preview {
    pub(super) name: String,
    pub(super) offers: Arc<Vec<Offer>>,
    pub(super) faulty: Arc<Vec<Faulty>>,
    pub(super) pictures: Arc<Vec<Picture>>,
    /// What it was compared with.
    pub(super) here: Arc<Here>,
    /// Whether the pictures are wanted.
    pub(super) with_pictures: RwSignal<bool>,
}

impl Preview {
    /// The pictures that are to be kept.
    pub(super) fn wanted_pictures(&self) -> &[Picture] {
        match self.with_pictures.get() {
            true => &self.pictures,
            false => &[],
        }
    }

    pub(super) fn is_nothing_wanted(&self) -> bool {
        self.wanted_pictures().is_empty() && self.offers.iter().all(|offer| !offer.wanted.get())
    }
}

/// A thing in a file with the user's choice.
#[derive(Clone)]
pub(super) struct Offer {
    pub(super) item: Item,
    pub(super) wanted: ArcRwSignal<bool>,
}

impl Offer {
    pub(super) fn can_be_taken(&self) -> bool {
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
        spawn_local(async move {
            if !self.bench.has(Part::Desk).await {
                return self.bench.refuse(frame::PART_MISSING);
            }
            self.bench.go(&Route::Data);
            // Going there takes away what was told before; what is told here has to stay.
            device::breathe().await;
            while is_due(&list) {
                let entry = list.shift();
                let part = |name: &str| Reflect::get(&entry, &name.into()).unwrap_or_default();
                match part("file").dyn_into::<web_sys::File>() {
                    Ok(file) => self.look_into(file, part("handle")).await,
                    Err(_) => self.bench.refuse(words::NOTHING_SHARED),
                }
            }
        });
    }

    /// Reads a file and shows what it holds. Saving its job or procedure later goes back into
    /// the file, where the browser said how.
    /// It has begun once this ends.
    pub(super) async fn look_into(self, file: web_sys::File, handle: JsValue) {
        if look_into(self, file, handle).await.is_err() {
            self.bench.refuse(frame::PART_MISSING);
        }
    }

    fn begin(self, file: web_sys::File, handle: JsValue) {
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

/// Reading files is in the part that shows what they hold.
#[wasm_split(desk, fallible)]
fn look_into(
    incoming: Incoming,
    file: web_sys::File,
    handle: JsValue,
) -> Result<(), SplitLoaderError> {
    incoming.begin(file, handle);
    Ok(())
}

/// A job that is here, if it can be read. The procedures here are known, so that none is read
/// again for each of its jobs.
pub(super) fn stored(
    bench: Bench,
    id: &Id,
    known: &HashMap<String, Arc<Procedure>>,
) -> Option<Job> {
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
