//! Keeping the screen on.

use js_sys::{Function, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// Keeps the screen awake until the returned guard is dropped; without effect in browsers
/// that can't (Screen Wake Lock, W3C). Browsers let go whenever the page is hidden, so it is
/// asked for again by whoever notices that the page is back.
pub fn stay_awake() -> AwakeGuard {
    let lock = std::rc::Rc::new(std::cell::RefCell::new(Hold::Wanted));
    let held = lock.clone();
    spawn_local(async move {
        if let Some(sentinel) = request_wake_lock().await {
            let mut hold = held.borrow_mut();
            match *hold {
                Hold::Wanted => *hold = Hold::Held(sentinel),
                _ => release(&sentinel),
            }
        }
    });
    AwakeGuard(lock)
}

/// Lets the screen sleep again when dropped.
pub struct AwakeGuard(pub(super) std::rc::Rc<std::cell::RefCell<Hold>>);

pub(super) enum Hold {
    Wanted,
    Held(JsValue),
    Given,
}

impl Drop for AwakeGuard {
    fn drop(&mut self) {
        let hold = self.0.replace(Hold::Given);
        if let Hold::Held(sentinel) = hold {
            release(&sentinel);
        }
    }
}

pub(super) fn method(object: &JsValue, name: &str) -> Option<Function> {
    Reflect::get(object, &name.into()).ok()?.dyn_into().ok()
}

async fn request_wake_lock() -> Option<JsValue> {
    let navigator = JsValue::from(window().navigator());
    let wake_lock = Reflect::get(&navigator, &"wakeLock".into()).ok()?;
    let request = method(&wake_lock, "request")?;
    let promise: Promise = request
        .call1(&wake_lock, &"screen".into())
        .ok()?
        .dyn_into()
        .ok()?;
    JsFuture::from(promise).await.ok()
}

fn release(sentinel: &JsValue) {
    if let Some(release) = method(sentinel, "release") {
        let _ = release.call0(sentinel);
    }
}
