//! Ways out for a file besides the downloads: into a file of one's choice (File System Access,
//! WICG), and to another app (Web Share, W3C). Few browsers have both, so what is missing is
//! said in a sentence.

use crate::app::platform::device::{DOCUMENT, Parts};
use crate::app::shell::bench::{Bench, use_bench};
use crate::app::shell::carry;
use crate::app::shell::carry::Outgoing;
use crate::app::words::shell::{carry as carry_words, files as words};
use crate::exchange::Document;
use js_sys::{Array, Function, Object, Promise, Reflect};
use leptos::prelude::*;
use std::cell::RefCell;
use std::collections::HashMap;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};

thread_local! {
    /// What the browser knows the chosen files by. Such things stay in their page.
    static HANDLES: RefCell<HashMap<String, JsValue>> = RefCell::default();
}

/// The names of the files that were chosen since the page was loaded, each by what it is for,
/// so that saving goes straight back into it.
#[derive(Clone, Copy)]
pub struct Files(RwSignal<HashMap<String, String>>);

impl Files {
    /// None yet.
    pub fn open() -> Self {
        Files(RwSignal::new(HashMap::new()))
    }

    /// Keeps what the browser knows a file by, which may be nothing.
    pub fn remember(self, key: String, handle: JsValue) {
        let name = Reflect::get(&handle, &"name".into()).ok();
        if let Some(name) = name.and_then(|name| name.as_string()) {
            HANDLES.with_borrow_mut(|all| all.insert(key.clone(), handle));
            self.0.update(|all| drop(all.insert(key, name)));
        }
    }

    /// The name of the file that was chosen for this.
    fn name(self, key: &str) -> Option<String> {
        self.0.with(|all| all.get(key).cloned())
    }
}

fn handle_of(key: &str) -> Option<JsValue> {
    HANDLES.with_borrow(|all| all.get(key).cloned())
}

/// What a document is for: a later state of the same thing goes into the same file.
pub fn key_of(document: &Document) -> String {
    match document {
        Document::Procedure(procedure) => format!("procedure:{}", procedure.id),
        Document::Job(job) => format!("job:{}", job.id),
        Document::Backup(backup) if backup.preferences.is_some() => BACKUP.to_owned(),
        Document::Backup(_) => SEVERAL.to_owned(),
    }
}

/// The key of a backup.
pub const BACKUP: &str = "backup";
/// The key of a file with things that were picked.
pub const SEVERAL: &str = "several";

/// The buttons for these ways, beside the one that puts a document into the downloads, and a
/// sentence on what this browser lacks.
pub fn ways_out(
    key: String,
    outgoing: impl Fn() -> Option<Outgoing> + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let bench = use_bench();
    let files: Files = expect_context();
    let (chooses, shares) = (can_choose(), can_share());
    let key = StoredValue::new(key);
    let to_choice = move |known: Option<JsValue>| {
        if let Some(outgoing) = outgoing() {
            spawn_local(save_to_choice(bench, files, outgoing, known));
        }
    };
    let share = move |_| {
        if let Some(outgoing) = outgoing() {
            spawn_local(share(bench, outgoing));
        }
    };
    let back = move || {
        let label = words::save_back(&key.with_value(|key| files.name(key))?);
        let known = move || key.with_value(|key| handle_of(key));
        Some(view! {
            <button type="button" on:click=move |_| to_choice(known())>{label}</button>
        })
    };
    let choose = chooses.then(|| {
        view! {
            {back}
            <button type="button" on:click=move |_| to_choice(None)>{words::CHOOSE}</button>
        }
    });
    let share =
        shares.then(|| view! { <button type="button" on:click=share>{words::SHARE}</button> });
    let lacks = match (chooses, shares) {
        (true, true) => None,
        (true, false) => Some(words::NO_SHARE),
        (false, true) => Some(words::NO_CHOICE),
        (false, false) => Some(words::NO_WAYS),
    };
    view! {
        <div class="row ways-out">{choose}{share}</div>
        {lacks.map(|lacks| view! { <p class="hint">{lacks}</p> })}
    }
}

async fn save_to_choice(bench: Bench, files: Files, outgoing: Outgoing, known: Option<JsValue>) {
    let suggested = outgoing.file_name();
    // Asked for first, while the browser still counts the tap as the user's wish.
    let handle = match &known {
        Some(handle) => handle.clone(),
        None => match pick(&suggested).await {
            Ok(handle) => handle,
            Err(error) => return not_done(bench, &error, || words::not_saved_to(&suggested)),
        },
    };
    let name = Reflect::get(&handle, &"name".into()).ok();
    let name = name.and_then(|name| name.as_string()).unwrap_or(suggested);
    let Some(written) = carry::in_one_file(bench, outgoing).await else {
        return;
    };
    match write(&handle, &written.first).await {
        Ok(()) => {
            files.remember(key_of(&written.document), handle);
            let said = words::saved_to(&name, written.left_out);
            let unread = carry::unread(&written.document);
            bench.say(said + &carry_words::unread(unread));
        }
        Err(error) => not_done(bench, &error, || words::not_saved_to(&name)),
    }
}

async fn share(bench: Bench, outgoing: Outgoing) {
    let name = outgoing.file_name();
    let Some(written) = carry::in_one_file(bench, outgoing).await else {
        return;
    };
    let left_out = written.left_out;
    let shared = match shareable(&name, &written.first) {
        Some(data) => call(&window().navigator(), "share", &[data]).await,
        None => Err(JsValue::NULL),
    };
    match shared {
        Err(error) => not_done(bench, &error, || words::NOT_SHARED.to_owned()),
        Ok(_) if left_out > 0 => bench.say(words::shared_without(left_out)),
        Ok(_) => {}
    }
}

/// Says what was not done, but for what the user called off.
fn not_done(bench: Bench, error: &JsValue, what: impl FnOnce() -> String) {
    let error = error.dyn_ref::<web_sys::DomException>();
    if error.is_none_or(|error| error.name() != "AbortError") {
        bench.refuse(what());
    }
}

fn can_choose() -> bool {
    Reflect::has(&window(), &"showSaveFilePicker".into()).unwrap_or(false)
}

fn can_share() -> bool {
    shareable("a.json", &Parts::of("{}")).is_some()
}

/// Lets the user choose a file to write into.
async fn pick(suggested: &str) -> Result<JsValue, JsValue> {
    let extensions = Array::of1(&".json".into());
    let accept = object(&[("application/json", extensions.into())]);
    let options = object(&[
        ("suggestedName", suggested.into()),
        ("types", Array::of1(&object(&[("accept", accept)])).into()),
    ]);
    call(&window(), "showSaveFilePicker", &[options]).await
}

/// Writes a text into a file in place of what was in it. A browser changes the file only when
/// all is written.
async fn write(handle: &JsValue, text: &Parts) -> Result<(), JsValue> {
    let content = text.blob(DOCUMENT)?;
    let stream = call(handle, "createWritable", &[]).await?;
    call(&stream, "write", &[content.into()]).await?;
    call(&stream, "close", &[]).await.map(drop)
}

/// The text as a file that this browser lets through to other apps, if it lets any through.
/// Some only know plain texts.
fn shareable(name: &str, text: &Parts) -> Option<JsValue> {
    let navigator = JsValue::from(window().navigator());
    let can = Reflect::get(&navigator, &"canShare".into()).ok()?;
    let can: Function = can.dyn_into().ok()?;
    let kinds = [
        (name.to_owned(), DOCUMENT),
        (format!("{name}.txt"), "text/plain"),
    ];
    kinds.into_iter().find_map(|(name, kind)| {
        let parts = Array::of1(&text.blob(kind).ok()?.into());
        let options = object(&[("type", kind.into())]);
        let class: Function = Reflect::get(&window(), &"File".into())
            .ok()?
            .dyn_into()
            .ok()?;
        let arguments = Array::of3(&parts, &name.into(), &options);
        let file = Reflect::construct(&class, &arguments).ok()?;
        let data = object(&[("files", Array::of1(&file).into())]);
        let is_let = can.call1(&navigator, &data).ok()?.is_truthy();
        is_let.then_some(data)
    })
}

fn object(entries: &[(&str, JsValue)]) -> JsValue {
    let object = Object::new();
    for (key, value) in entries {
        // Setting a key of a plain object does not fail.
        let _ = Reflect::set(&object, &(*key).into(), value);
    }
    object.into()
}

/// Calls a method that gives a promise, and waits for it.
async fn call(on: &JsValue, method: &str, arguments: &[JsValue]) -> Result<JsValue, JsValue> {
    let method: Function = Reflect::get(on, &method.into())?.dyn_into()?;
    let promise = method.apply(on, &arguments.iter().collect::<Array>())?;
    JsFuture::from(Promise::resolve(&promise)).await
}
