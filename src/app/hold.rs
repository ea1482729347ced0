//! What a tap leaves behind: the button that was tapped stays under the finger, and the focus
//! stays on the page.

use super::bench::Bench;
use super::device;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlElement};

/// Watches every tap from now on.
pub fn follow_taps(bench: Bench) {
    // Before the screen hears of it, so that what it was like before is known.
    device::before_window("click", move |event| {
        let Some(button) = button_of(&event) else {
            return;
        };
        let was = button.get_bounding_client_rect().top();
        let route = bench.route.get_untracked();
        request_animation_frame(move || {
            if bench.route.get_untracked() == route && device::question().is_none() {
                hold(&button, was);
            }
            if !button.is_connected() {
                device::after_paint(focus_somewhere);
            }
        });
    });
}

fn button_of(event: &Event) -> Option<Element> {
    let target: Element = event.target()?.dyn_into().ok()?;
    target.closest("button").ok()?
}

/// What came or went above a button moves the page instead of the button, which a second tap
/// would miss for another.
fn hold(button: &Element, was: f64) {
    let moved = button.get_bounding_client_rect().top() - was;
    if button.is_connected() && moved.abs() >= 1.0 {
        window().scroll_by_with_x_and_y(0.0, moved);
    }
}

/// Where what had the focus is gone, keys go on from the heading.
fn focus_somewhere() {
    let heading: Option<HtmlElement> = device::first_heading();
    if let Some(heading) = heading.filter(|_| device::nothing_has_focus()) {
        device::focus_in_place(&heading);
    }
}
