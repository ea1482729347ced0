//! The browser's local storage.

use super::keys::PREFIX;
use super::{Storage, StorageError};
use gloo_storage::{LocalStorage, Storage as _};
use js_sys::JsString;
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// The local storage of this page's origin.
#[derive(Clone, Copy, Default)]
pub struct BrowserStorage;

impl BrowserStorage {
    /// The raw storage. Asked for anew each time, since a browser may take it away at any moment.
    fn raw(self) -> Result<web_sys::Storage, StorageError> {
        let window = web_sys::window().ok_or(StorageError::Denied)?;
        match window.local_storage() {
            // Only now, since gloo throws where there is none.
            Ok(Some(_)) => Ok(LocalStorage::raw()),
            _ => Err(StorageError::Denied),
        }
    }
}

#[wasm_bindgen]
extern "C" {
    /// The storage with the form of `getItem` that leaves the text on the browser's side.
    #[wasm_bindgen(extends = web_sys::Storage, js_name = Storage)]
    type Texts;

    #[wasm_bindgen(method, catch, js_name = getItem)]
    fn get_item(this: &Texts, key: &str) -> Result<Option<JsString>, JsValue>;

    #[wasm_bindgen(method, catch, js_name = setItem)]
    fn set_item(this: &Texts, key: &str, text: &JsString) -> Result<(), JsValue>;
}

/// A text that this page has written, as the browser has it: a long one is soon compared there and
/// made longer, and would have to be copied to be looked at here.
struct Own {
    number: u64,
    key: String,
    text: JsString,
}

thread_local! {
    /// The one that was put last.
    static OWN: RefCell<Option<Own>> = const { RefCell::new(None) };
}

/// Writes a text and remembers it.
fn put(raw: &web_sys::Storage, key: &str, text: JsString) -> Result<u64, StorageError> {
    raw.unchecked_ref::<Texts>()
        .set_item(key, &text)
        .map_err(why)?;
    let number = OWN.with_borrow_mut(|own| {
        let number = own.as_ref().map_or(0, |own| own.number) + 1;
        let key = key.to_owned();
        *own = Some(Own { number, key, text });
        number
    });
    Ok(number)
}

/// The text of a number, if that is what is under the key.
fn own(raw: &web_sys::Storage, key: &str, number: u64) -> Result<Option<JsString>, StorageError> {
    let own = OWN.with_borrow(|own| {
        let own = own
            .as_ref()
            .filter(|own| own.number == number && own.key == key);
        own.map(|own| own.text.clone())
    });
    let Some(own) = own else {
        return Ok(None);
    };
    let there = raw.unchecked_ref::<Texts>().get_item(key).map_err(why)?;
    Ok((there.as_ref() == Some(&own)).then_some(own))
}

impl Storage for BrowserStorage {
    fn get(&self, key: &str) -> Result<Option<String>, StorageError> {
        self.raw()?.get_item(key).map_err(why)
    }

    fn size(&self, key: &str) -> Result<Option<usize>, StorageError> {
        let raw = self.raw()?;
        let texts: &Texts = raw.unchecked_ref();
        let text = texts.get_item(key).map_err(why)?;
        Ok(text.map(|text| text.length() as usize))
    }

    fn set(&self, key: &str, value: &str) -> Result<(), StorageError> {
        self.raw()?.set_item(key, value).map_err(why)
    }

    fn put(&self, key: &str, value: &str) -> Result<u64, StorageError> {
        put(&self.raw()?, key, value.into())
    }

    fn is(&self, key: &str, number: u64) -> Result<bool, StorageError> {
        own(&self.raw()?, key, number).map(|own| own.is_some())
    }

    fn put_end(
        &self,
        key: &str,
        number: u64,
        cut: usize,
        end: &str,
    ) -> Result<Option<u64>, StorageError> {
        let raw = self.raw()?;
        let Some(own) = own(&raw, key, number)? else {
            return Ok(None);
        };
        let kept = own.slice(0, own.length().saturating_sub(cut as u32));
        put(&raw, key, kept.concat(&end.into())).map(Some)
    }

    fn remove(&self, key: &str) -> Result<(), StorageError> {
        self.raw()?.remove_item(key).map_err(why)
    }

    fn keys(&self) -> Result<Vec<String>, StorageError> {
        let raw = self.raw()?;
        let count = raw.length().map_err(why)?;
        let mut keys = Vec::new();
        for index in 0..count {
            keys.extend(raw.key(index).map_err(why)?);
        }
        Ok(keys)
    }
}

/// A full storage throws `QuotaExceededError` (HTML Standard, web storage); everything else
/// means that the page may not use it.
fn why(error: JsValue) -> StorageError {
    match error.dyn_ref::<web_sys::DomException>() {
        Some(error) if error.name() == "QuotaExceededError" => StorageError::Full,
        _ => StorageError::Denied,
    }
}

/// Asks the browser not to clear this origin's storage by itself. It may say no; nothing
/// depends on the answer.
pub fn ask_to_persist() {
    if let Some(window) = web_sys::window() {
        let _ = window.navigator().storage().persist();
    }
}

/// Calls back with the key whenever another page of this app has written to the storage,
/// for as long as this page lives.
pub fn on_change_elsewhere(call: impl Fn(String) + 'static) {
    let Some(window) = web_sys::window() else {
        return;
    };
    let heard =
        Closure::<dyn Fn(web_sys::StorageEvent)>::new(move |event: web_sys::StorageEvent| {
            // All was emptied where none is named. Others are of the page itself.
            let key = event.key();
            if key.as_deref().is_none_or(|key| key.starts_with(PREFIX)) {
                call(key.unwrap_or_default());
            }
        });
    let function = heard.as_ref().unchecked_ref();
    if window
        .add_event_listener_with_callback("storage", function)
        .is_ok()
    {
        heard.forget();
    }
}
