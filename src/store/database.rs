//! The browser's database (IndexedDB), for what local storage is too small or too late for:
//! the bytes of pictures, and the journal of what was just entered.
//!
//! Every write is strict: it counts as done only when the browser says that it is on the disk
//! (Indexed Database API 3.0, `durability`), so it outlives a killed browser and a flat battery.
//! A browser that doesn't know the word takes it for its usual way.

use super::{Due, Entry};
use idb::{DatabaseEvent, Event, Factory, KeyPath, ObjectStoreParams, Query};
use std::cell::RefCell;
use std::fmt;
use wasm_bindgen::prelude::*;

const NAME: &str = "halfturn";
const VERSION: u32 = 1;
const PICTURES: &str = "pictures";
const JOURNAL: &str = "journal";
const SIZE: &str = "size";
const KIND: &str = "kind";
const BYTES: &str = "bytes";

/// The database of this page's origin. Opened when it is first needed, and again when the
/// browser has closed it, as some do with a page that rested in the background.
#[derive(Clone, Copy, Default)]
pub struct Database;

thread_local! {
    static OPEN: RefCell<Option<web_sys::IdbDatabase>> = const { RefCell::new(None) };
}

/// Why the database did not do what was asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DatabaseError {
    /// The browser has none, or does not let this page use it, as in some private windows.
    Denied(String),
    /// There is no room left.
    Full,
    /// It was begun and not carried out; what the browser said.
    Failed(String),
}

impl fmt::Display for DatabaseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DatabaseError::Denied(why) => write!(
                f,
                "The browser does not let this page use its database ({why}): allow site data for it, or leave private browsing, and load it again"
            ),
            DatabaseError::Full => write!(
                f,
                "This device has no room left for the app, so this was not saved: save a backup, then remove what is no longer needed under Files"
            ),
            DatabaseError::Failed(why) => write!(
                f,
                "The browser's database did not do what was asked ({why}): load the page again"
            ),
        }
    }
}

impl std::error::Error for DatabaseError {}

/// Bytes with their media type, such as `image/jpeg`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bytes {
    /// The media type.
    pub kind: String,
    /// The bytes.
    pub bytes: Vec<u8>,
}

impl Database {
    /// Keeps a picture under its key. When this returns, it is on the disk.
    pub async fn put_picture(&self, key: &str, picture: &Bytes) -> Result<(), DatabaseError> {
        let value = js_sys::Object::new();
        let bytes = js_sys::Uint8Array::from(picture.bytes.as_slice());
        let size = JsValue::from(bytes.length());
        for (name, part) in [
            (BYTES, bytes.into()),
            (KIND, JsValue::from(picture.kind.as_str())),
            (SIZE, size),
        ] {
            js_sys::Reflect::set(&value, &name.into(), &part).map_err(said)?;
        }
        self.write(PICTURES, |store| {
            store.put(&value, Some(&key.into())).map(drop)
        })
        .await
    }

    /// The picture under a key.
    pub async fn picture(&self, key: &str) -> Result<Option<Bytes>, DatabaseError> {
        let store = self.read(PICTURES).await?;
        let found = store.get(Query::Key(key.into()))?.await?;
        found.map(|value| read_bytes(&value)).transpose()
    }

    /// The keys of all pictures with their sizes in bytes, without reading the pictures.
    pub async fn picture_sizes(&self) -> Result<Vec<(String, usize)>, DatabaseError> {
        let index = self.read(PICTURES).await?.index(SIZE)?;
        let mut sizes = Vec::new();
        let Some(cursor) = index.open_key_cursor(None, None)?.await? else {
            return Ok(sizes);
        };
        let mut cursor = cursor.into_managed();
        while let (Some(key), Some(size)) = (cursor.primary_key()?, cursor.key()?) {
            let size = size.as_f64().unwrap_or_default() as usize;
            sizes.extend(key.as_string().map(|key| (key, size)));
            cursor.next(None).await?;
        }
        Ok(sizes)
    }

    /// Takes a picture away.
    pub async fn remove_picture(&self, key: &str) -> Result<(), DatabaseError> {
        self.write(PICTURES, |store| {
            store.delete(Query::Key(key.into())).map(drop)
        })
        .await
    }

    /// Writes into the journal what is due, all of it or nothing. When this returns, it is on
    /// the disk.
    pub async fn write_journal(&self, due: &Due) -> Result<(), DatabaseError> {
        self.write(JOURNAL, |store| {
            for (key, text) in &due.entries {
                let text = text.as_ref().map_or(JsValue::NULL, JsValue::from);
                store.put(&text, Some(&key.into()))?;
            }
            for key in &due.outdated {
                store.delete(Query::Key(key.into()))?;
            }
            Ok(())
        })
        .await
    }

    /// All keys and texts of the journal, in the order of the keys.
    pub async fn journal(&self) -> Result<Vec<Entry>, DatabaseError> {
        let store = self.read(JOURNAL).await?;
        // Asked for together, since a transaction ends when nothing is asked of it.
        let (keys, texts) = (store.get_all_keys(None, None)?, store.get_all(None, None)?);
        let (keys, texts) = (keys.await?, texts.await?);
        let both = keys.into_iter().zip(texts);
        Ok(both
            .filter_map(|(key, text)| Some((key.as_string()?, text.as_string())))
            .collect())
    }

    /// Writes in one transaction, and waits until that is on the disk.
    async fn write(
        &self,
        name: &str,
        act: impl FnOnce(&idb::ObjectStore) -> Result<(), idb::Error>,
    ) -> Result<(), DatabaseError> {
        let raw = self.transaction(name, "readwrite").await?;
        let transaction = idb::Transaction::from(raw.clone());
        act(&transaction.object_store(name)?)?;
        match transaction.commit()?.await {
            Ok(idb::TransactionResult::Committed) => Ok(()),
            Ok(idb::TransactionResult::Aborted) | Err(_) => Err(why_aborted(&raw)),
        }
    }

    async fn read(&self, name: &str) -> Result<idb::ObjectStore, DatabaseError> {
        let raw = self.transaction(name, "readonly").await?;
        Ok(idb::Transaction::from(raw).object_store(name)?)
    }

    async fn transaction(
        &self,
        name: &str,
        mode: &str,
    ) -> Result<web_sys::IdbTransaction, DatabaseError> {
        let before = OPEN.with_borrow(Option::clone);
        if let Some(open) = before
            && let Ok(transaction) = begin(&open, name, mode)
        {
            return Ok(transaction);
        }
        let open = open().await?;
        OPEN.set(Some(open.clone()));
        begin(&open, name, mode).map_err(said)
    }
}

/// Opens the database, and makes what is to be in it.
async fn open() -> Result<web_sys::IdbDatabase, DatabaseError> {
    let denied = |error: idb::Error| DatabaseError::Denied(error.to_string());
    let factory = Factory::new().map_err(denied)?;
    let mut request = factory.open(NAME, Some(VERSION)).map_err(denied)?;
    // Where this fails, what was to be made is missing, and the first use of it says so.
    request.on_upgrade_needed(|event| drop(event.database().and_then(|new| furnish(&new))));
    let mut database = request.await.map_err(denied)?;
    // A later version of the app in another tab may need another form of it.
    database.on_version_change(|event| {
        if let Ok(database) = Event::target(&event).and_then(idb::Database::try_from) {
            database.close();
        }
    });
    database.forget_callbacks();
    Ok(database.into())
}

fn furnish(database: &idb::Database) -> Result<(), idb::Error> {
    database.create_object_store(JOURNAL, ObjectStoreParams::new())?;
    let pictures = database.create_object_store(PICTURES, ObjectStoreParams::new())?;
    pictures.create_index(SIZE, KeyPath::new_single(SIZE), None)?;
    Ok(())
}

#[wasm_bindgen]
extern "C" {
    /// The database with the form of `transaction` that takes options.
    #[wasm_bindgen(extends = web_sys::IdbDatabase, js_name = IDBDatabase)]
    type DatabaseWithOptions;

    #[wasm_bindgen(method, catch, js_name = transaction)]
    fn transaction_with_options(
        this: &DatabaseWithOptions,
        name: &str,
        mode: &str,
        options: &JsValue,
    ) -> Result<web_sys::IdbTransaction, JsValue>;
}

fn begin(
    database: &web_sys::IdbDatabase,
    name: &str,
    mode: &str,
) -> Result<web_sys::IdbTransaction, JsValue> {
    let options = js_sys::Object::new();
    js_sys::Reflect::set(&options, &"durability".into(), &"strict".into())?;
    let database: &DatabaseWithOptions = database.unchecked_ref();
    database.transaction_with_options(name, mode, &options)
}

fn read_bytes(value: &JsValue) -> Result<Bytes, DatabaseError> {
    let part = |name: &str| js_sys::Reflect::get(value, &name.into()).map_err(said);
    let bytes = part(BYTES)?.dyn_into::<js_sys::Uint8Array>();
    match (part(KIND)?.as_string(), bytes) {
        (Some(kind), Ok(bytes)) => Ok(Bytes {
            kind,
            bytes: bytes.to_vec(),
        }),
        _ => Err(DatabaseError::Failed("it is not a picture".to_owned())),
    }
}

fn why_aborted(transaction: &web_sys::IdbTransaction) -> DatabaseError {
    match transaction.error() {
        Some(error) if error.name() == "QuotaExceededError" => DatabaseError::Full,
        Some(error) => DatabaseError::Failed(error.message()),
        None => DatabaseError::Failed("it was broken off".to_owned()),
    }
}

fn said(error: JsValue) -> DatabaseError {
    let message = error.dyn_ref::<js_sys::Error>().map(js_sys::Error::message);
    DatabaseError::Failed(message.map_or_else(|| format!("{error:?}"), String::from))
}

impl From<idb::Error> for DatabaseError {
    fn from(error: idb::Error) -> Self {
        DatabaseError::Failed(error.to_string())
    }
}
