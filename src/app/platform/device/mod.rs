//! What the app asks of the device: time, fresh ids, files, an awake screen, the address.

mod file;
mod wake;

pub use self::file::{DOCUMENT, Parts, read_file, read_in_pieces, save_file_as};
pub use self::wake::stay_awake;

use crate::app::platform::device::wake::method;
use crate::job::Stamp;
use crate::metrology::date::Date;
use crate::procedure::Id;
use js_sys::{Function, Promise, Reflect};
use leptos::prelude::{document, request_animation_frame, set_timeout, window};
use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::MessageChannel;

/// Milliseconds since 1970 UTC by the device's clock.
pub fn now() -> i64 {
    js_sys::Date::now() as i64
}

/// A fresh id: 80 random bits in letters that can't be mistaken for each other.
pub fn fresh_id() -> Id {
    const LETTERS: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
    let mut bytes = [0u8; 16];
    let filled = window()
        .crypto()
        .and_then(|crypto| crypto.get_random_values_with_u8_array(&mut bytes));
    if filled.is_err() {
        // Every browser that runs WebAssembly has it; a poor id beats none all the same.
        bytes.fill_with(|| (js_sys::Math::random() * 256.0) as u8);
    }
    let text: String = bytes
        .iter()
        .map(|byte| char::from(LETTERS[usize::from(byte % 32)]))
        .collect();
    text.parse()
        .unwrap_or_else(|_| unreachable!("the letters make a sound id"))
}

/// The stamp of an event that happens now.
pub fn stamp() -> Stamp {
    Stamp {
        id: fresh_id(),
        at: now(),
    }
}

thread_local! {
    // Kept, since a browser takes longer to make one than to write a whole list of dates.
    static DATE_AND_TIME: Option<Function> =
        in_its_language(&[("dateStyle", "medium"), ("timeStyle", "short")]);
    static DAY: Option<Function> = in_its_language(&[("dateStyle", "medium")]);
}

/// Date and time as the device's language writes them.
pub fn date_and_time(at: i64) -> String {
    let date = js_sys::Date::new(&JsValue::from_f64(at as f64));
    DATE_AND_TIME.with(|format| written(format.as_ref(), &date).unwrap_or_default())
}

/// The day of a moment as the device's language writes it.
pub fn date(at: i64) -> String {
    let date = js_sys::Date::new(&JsValue::from_f64(at as f64));
    DAY.with(|format| written(format.as_ref(), &date).unwrap_or_default())
}

/// A day as the device's language writes it; as documents do where the browser can't.
pub fn day(day: Date) -> String {
    let text = day.to_string();
    // Without a time zone the text stands for midnight here.
    let date = js_sys::Date::new(&JsValue::from_str(&format!("{text}T00:00:00")));
    DAY.with(|format| written(format.as_ref(), &date).unwrap_or(text))
}

/// What writes dates in the device's language; nothing where the browser can't.
fn in_its_language(styles: &[(&str, &str)]) -> Option<Function> {
    let options = js_sys::Object::new();
    for (key, value) in styles {
        let _ = Reflect::set(&options, &(*key).into(), &(*value).into());
    }
    let intl = Reflect::get(&window(), &"Intl".into()).ok()?;
    let maker = method(&intl, "DateTimeFormat")?;
    // Called without `new`, it makes one just the same (ECMA-402, 11.1.1).
    let format = maker.call2(&intl, &JsValue::UNDEFINED, &options).ok()?;
    method(&format, "format")
}

fn written(format: Option<&Function>, date: &js_sys::Date) -> Option<String> {
    format?.call1(&JsValue::UNDEFINED, date).ok()?.as_string()
}

/// Does something once the browser has shown what the screen has come to by now: two frames at
/// 60 Hz later. To ask for the frame itself costs as much as most of what is put off.
pub fn after_paint(act: impl FnOnce() + 'static) {
    set_timeout(act, Duration::from_millis(34));
}

/// How long a first picture is waited for, in milliseconds: a page that is hidden paints none.
const NO_PICTURE: u64 = 1000;

/// Does something once the first picture is there, which after a start comes later than any frame
/// after it.
pub fn after_first_paint(act: impl FnOnce() + 'static) {
    let waiting = Rc::new(Cell::new(Some(act)));
    let due = move || {
        if let Some(act) = waiting.take() {
            act();
        }
    };
    let last = due.clone();
    set_timeout(last, Duration::from_millis(NO_PICTURE));
    request_animation_frame(move || set_timeout(due, Duration::ZERO));
}

/// The date as in ISO 8601, for numbers and file names.
pub fn iso_date() -> String {
    let date = js_sys::Date::new_0();
    format!(
        "{:04}-{:02}-{:02}",
        date.get_full_year(),
        date.get_month() + 1,
        date.get_date()
    )
}

/// Milliseconds since the page began to load, for how long something takes.
pub fn clock() -> f64 {
    window().performance().map_or(0.0, |clock| clock.now())
}

/// Marks a moment in the page's timeline (User Timing, W3C).
pub fn mark_time(name: &str) {
    if let Some(timeline) = window().performance() {
        let _ = timeline.mark(name);
    }
}

/// Marks in the page's timeline how long something took since the moment of the same name.
pub fn mark_span(name: &str) {
    if let Some(timeline) = window().performance() {
        let _ = timeline.measure_with_start_mark(name, name);
        timeline.clear_marks_with_mark_name(name);
    }
}

/// Lets the browser paint, and hear what the user does, before work goes on. A message, for
/// timers and frames of a hidden page hardly come.
pub async fn breathe() {
    let Ok(channel) = MessageChannel::new() else {
        return;
    };
    let come = Promise::new(&mut |resolve, _| {
        channel.port1().set_onmessage(Some(&resolve));
        let _ = channel.port2().post_message(&JsValue::NULL);
    });
    let _ = JsFuture::from(come).await;
    channel.port1().close();
}

/// Waits for so many milliseconds.
pub async fn rest(milliseconds: u32) {
    let over = Promise::new(&mut |resolve, _| {
        let wait = std::time::Duration::from_millis(milliseconds.into());
        leptos::prelude::set_timeout(move || drop(resolve.call0(&JsValue::NULL)), wait);
    });
    let _ = JsFuture::from(over).await;
}

/// Changes the address, which shows another screen.
pub fn go(address: &str) {
    let _ = window().location().set_hash(address);
}

/// Whether the page is in front.
pub fn is_seen() -> bool {
    let document = window().document();
    document.is_some_and(|d| d.visibility_state() == web_sys::VisibilityState::Visible)
}

/// The part of the address behind the `#`, the sign included.
pub fn hash() -> String {
    window().location().hash().unwrap_or_default()
}

/// Moves the focus without moving the page.
pub fn focus_in_place(element: &web_sys::HtmlElement) {
    let options = web_sys::FocusOptions::new();
    options.set_prevent_scroll(true);
    let _ = element.focus_with_options(&options);
}

/// Moves the focus to the first element that the selector finds; the page stays.
pub fn focus_on(selector: &str) {
    let found = document().query_selector(selector).ok().flatten();
    if let Some(element) = found.and_then(|it| it.dyn_into::<web_sys::HtmlElement>().ok()) {
        focus_in_place(&element);
    }
}

/// The heading of the screen, ready to take the focus.
pub fn first_heading() -> Option<web_sys::HtmlElement> {
    let screen = document().get_element_by_id("screen")?;
    let heading = screen.query_selector("h1").ok()??;
    let _ = heading.set_attribute("tabindex", "-1");
    heading.dyn_into().ok()
}

/// Whether keys lead nowhere, as after what had the focus is gone or out of use.
pub fn nothing_has_focus() -> bool {
    let is_idle = |element: web_sys::Element| {
        let is_off = element.matches(":disabled").unwrap_or(false);
        // A browser takes the focus away from what it no longer shows only somewhat later.
        let is_put_away = matches!(element.closest("dialog:not([open])"), Ok(Some(_)));
        element.tag_name() == "BODY" || is_off || is_put_away
    };
    document().active_element().is_none_or(is_idle)
}

/// Moves the page no further than it takes to see the first element that the selector finds.
pub fn into_view(selector: &str) {
    if let Ok(Some(element)) = document().query_selector(selector) {
        let options = js_sys::Object::new();
        let _ = Reflect::set(&options, &"block".into(), &"nearest".into());
        if let Some(scroll) = method(&element, "scrollIntoView") {
            let _ = scroll.call1(&element, &options);
        }
    }
}

/// Scrolls the room that a cell is in, so that it is in the middle of what the headings, which stay
/// in their place, leave of that; the page stays.
pub fn into_middle(selector: &str) {
    let Ok(Some(element)) = document().query_selector(selector) else {
        return;
    };
    let Ok(Some(room)) = element.closest(".wide") else {
        return;
    };
    let (of, within) = (
        element.get_bounding_client_rect(),
        room.get_bounding_client_rect(),
    );
    // The first cell of all is the corner between the headings.
    let corner = room.query_selector("td").ok().flatten();
    let (left, top) = corner.map_or((within.left(), within.top()), |corner| {
        let corner = corner.get_bounding_client_rect();
        (corner.right(), corner.bottom())
    });
    // What is larger than that begins where it begins.
    let way = |start: f64, length: f64, from: f64, to: f64| {
        let aside = ((to - from - length) / 2.0).max(0.0);
        start - from - aside
    };
    let across = way(of.left(), of.width(), left, within.right());
    let down = way(of.top(), of.height(), top, within.bottom());
    room.set_scroll_left(room.scroll_left() + across as i32);
    room.set_scroll_top(room.scroll_top() + down as i32);
}

/// How wide and high the window is inside, in CSS pixels.
pub fn window_size() -> (f64, f64) {
    let side = |side: Result<JsValue, JsValue>| side.ok().and_then(|it| it.as_f64());
    let width = side(window().inner_width()).unwrap_or(1000.0);
    let height = side(window().inner_height()).unwrap_or(700.0);
    (width, height)
}

/// Whether something has room beside a step.
pub fn is_wide() -> bool {
    window_size().0 >= WIDE
}

/// From this width on a step has room for something beside it; `style/papers.css` has the same.
const WIDE: f64 = 1100.0;

/// How many pixels of the screen a CSS pixel has on each side.
pub fn pixel_ratio() -> f64 {
    window().device_pixel_ratio().max(1.0)
}

/// Shows the page from its top.
pub fn to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}

/// Calls back on every event of this name on the window, for as long as the page lives.
pub fn on_window(name: &str, call: impl Fn(web_sys::Event) + 'static) {
    let heard = Closure::<dyn Fn(web_sys::Event)>::new(call);
    let added = window().add_event_listener_with_callback(name, heard.as_ref().unchecked_ref());
    if added.is_ok() {
        heard.forget();
    }
}

/// The same before anything on the page hears of it.
pub fn before_window(name: &str, call: impl Fn(web_sys::Event) + 'static) {
    let heard = Closure::<dyn Fn(web_sys::Event)>::new(call);
    let listener = heard.as_ref().unchecked_ref();
    let added = window().add_event_listener_with_callback_and_bool(name, listener, true);
    if added.is_ok() {
        heard.forget();
    }
}

/// The question that is open, if one is.
pub fn question() -> Option<web_sys::Element> {
    document().query_selector("dialog[open]").ok()?
}

/// Whether the browser has this part of `navigator`.
pub fn can(name: &str) -> bool {
    Reflect::get(&window().navigator(), &name.into()).is_ok_and(|part| part.is_object())
}

/// What `offline.js` has said so far under this name, such as `update`.
pub fn mark(name: &str) -> Option<String> {
    let root = window().document()?.document_element()?;
    root.get_attribute(&format!("data-{name}"))
}

/// Sets such a mark on the root element, for whoever watches from outside.
pub fn set_mark(name: &str, value: &str) {
    let root = window().document().and_then(|d| d.document_element());
    if let Some(root) = root {
        let _ = root.set_attribute(&format!("data-{name}"), value);
    }
}

/// Tells `offline.js` that the new version is wanted now.
pub fn take_update() {
    tell_window("halfturn-take-update");
}

/// Tells the page's own scripts, by an event of this name.
pub fn tell_window(name: &str) {
    if let Ok(event) = web_sys::CustomEvent::new(name) {
        let _ = window().dispatch_event(&event);
    }
}
