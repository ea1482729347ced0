//! What a tap leaves behind: the button that was tapped stays under the finger, what took its
//! place takes no tap yet, and the focus stays on the page.

use crate::app::platform::device;
use crate::app::shell::bench::Bench;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement, MouseEvent};

/// Watches every tap from now on.
pub fn follow_taps(bench: Bench) {
    // Before the screen hears of it, so that what it was like before is known.
    device::before_window("click", move |event| {
        let Some(button) = button_of(&event) else {
            return;
        };
        let was = button.get_bounding_client_rect().top();
        let route = bench.route.get_untracked();
        let tap = tap_of(&event);
        request_animation_frame(move || {
            let button = standing_for(button);
            if bench.route.get_untracked() == route && device::question().is_none() {
                hold(&button, was);
            }
            if !button.is_connected() {
                device::after_paint(focus_somewhere);
            }
            if let Some(tap) = tap.filter(|tap| !cover(&button, tap)) {
                // What takes the focus may scroll the page yet.
                device::after_paint(move || {
                    cover(&button, &tap);
                });
            }
        });
    });
    device::before_window("animationend", |event| uncover(&event));
}

fn button_of(event: &Event) -> Option<Element> {
    let target: Element = event.target()?.dyn_into().ok()?;
    target.closest("button").ok()?
}

/// What lies over the place of a button that is there no more. `style/main/reading.css` says how long it
/// takes the taps, the same as for new keys; then it goes.
const COVER: &str = "under-finger";

/// The event, where a finger or a pointer made it and not a key.
fn tap_of(event: &Event) -> Option<MouseEvent> {
    let click = event.dyn_ref::<MouseEvent>()?;
    (click.detail() > 0).then(|| click.clone())
}

/// Where the button that was tapped is no longer under the finger, a second tap was meant for it
/// and for nothing that is there now. Says whether it is so.
fn cover(button: &Element, tap: &MouseEvent) -> bool {
    let (x, y) = (tap.client_x(), tap.client_y());
    let under = document().element_from_point(x as f32, y as f32);
    if under.is_some_and(|under| button.contains(Some(&under))) {
        return false;
    }
    let Ok(cover) = document().create_element("div") else {
        return false;
    };
    let cover: HtmlElement = cover.unchecked_into();
    cover.set_class_name(COVER);
    for (side, at) in [("left", x), ("top", y)] {
        let _ = cover.style().set_property(side, &format!("{at}px"));
    }
    // What lies over the page is in front of all that lies in it.
    let place = device::question().or_else(|| document().body().map(Element::from));
    place.is_some_and(|place| place.append_child(&cover).is_ok())
}

fn uncover(event: &Event) {
    let ended: Option<Element> = event.target().and_then(|target| target.dyn_into().ok());
    if let Some(cover) = ended.filter(|ended| ended.class_list().contains(COVER)) {
        cover.remove();
    }
}

/// What came or went above a button moves the page instead of the button, which a second tap
/// would miss for another. One that is no longer shown, as that of a term which closes by it, is
/// nowhere.
fn hold(button: &Element, was: f64) {
    let place = button.get_bounding_client_rect();
    let moved = place.top() - was;
    let is_shown = button.is_connected() && place.width() > 0.0;
    if is_shown && moved.abs() >= 1.0 {
        window().scroll_by_with_x_and_y(0.0, moved);
    }
}

/// The button, or the one of the same id that was made in its stead, as for a row that went to
/// another list; that has the focus then.
fn standing_for(button: Element) -> Element {
    let id = button.id();
    if button.is_connected() || id.is_empty() {
        return button;
    }
    let Some(new) = document().get_element_by_id(&id) else {
        return button;
    };
    if let Some(new) = new
        .dyn_ref::<HtmlElement>()
        .filter(|_| device::nothing_has_focus())
    {
        device::focus_in_place(new);
    }
    new
}

/// Where what had the focus is gone, keys go on from the heading.
fn focus_somewhere() {
    let heading: Option<HtmlElement> = device::first_heading();
    if let Some(heading) = heading.filter(|_| device::nothing_has_focus()) {
        device::focus_in_place(&heading);
    }
}
