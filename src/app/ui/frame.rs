//! A frame that shows a part of a picture, to be looked at more closely by pinch, by drag, by
//! buttons and by keys.

use crate::procedure::{Crop, WHOLE};
use leptos::html::Div;
use leptos::prelude::*;
use std::collections::BTreeMap;
use web_sys::{Element, KeyboardEvent, PointerEvent, WheelEvent};

/// Width by height of the frame; the style sheet has the same.
pub const FRAME: f64 = 4.0 / 3.0;

/// How much one press of a key or button zooms.
const ZOOM: f64 = 1.5;

/// What one press of an arrow key moves, as a part of what is shown.
const MOVE: f64 = 0.2;

/// How far a finger may stray in a tap, in pixels.
const TAP: f64 = 8.0;

/// What of a picture is looked at.
#[derive(Clone, Copy)]
pub struct Look {
    /// The part that is shown.
    pub crop: RwSignal<Crop>,
    start: Crop,
}

impl Look {
    /// Looks at a part first, and comes back to it.
    pub fn new(start: Crop) -> Self {
        Look {
            crop: RwSignal::new(start),
            start,
        }
    }

    /// Whether the first part is shown.
    pub fn is_at_start(self) -> bool {
        self.crop.get() == self.start
    }

    /// Back to the first part.
    pub fn back(self) {
        self.crop.set(self.start);
    }

    /// Magnifies what is in the middle.
    pub fn closer(self) {
        self.zoom(ZOOM);
    }

    /// Shows more around what is in the middle.
    pub fn further(self) {
        self.zoom(1.0 / ZOOM);
    }

    fn zoom(self, factor: f64) {
        self.crop.update(|crop| {
            let (x, y) = crop.middle();
            *crop = crop.zoomed(factor, x, y);
        });
    }

    fn shift(self, right: f64, down: f64) {
        self.crop.update(|crop| *crop = crop.moved(right, down));
    }

    /// Follows a key; whether it had a meaning here.
    fn key(self, key: &str) -> bool {
        match key {
            "+" | "=" => self.closer(),
            "-" => self.further(),
            "0" => self.back(),
            "ArrowLeft" => self.shift(-MOVE, 0.0),
            "ArrowRight" => self.shift(MOVE, 0.0),
            "ArrowUp" => self.shift(0.0, -MOVE),
            "ArrowDown" => self.shift(0.0, MOVE),
            _ => return false,
        }
        true
    }
}

/// A place on the picture, in ten-thousandths of its width and height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spotted {
    /// From the left edge.
    pub x: u16,
    /// From the upper edge.
    pub y: u16,
}

impl Spotted {
    /// The place, held on the picture.
    pub fn at(x: f64, y: f64) -> Self {
        let hold = |share: f64| share.round().clamp(0.0, f64::from(WHOLE)) as u16;
        Spotted {
            x: hold(x),
            y: hold(y),
        }
    }
}

/// Fingers on the frame: where each is, as parts of its width and height, and how far the
/// first one strayed.
#[derive(Default)]
struct Fingers {
    places: BTreeMap<i32, (f64, f64)>,
    strayed: f64,
}

/// The frame, with marks as children.
#[component]
pub fn Frame(
    /// What is looked at.
    look: Look,
    /// The address of the whole picture.
    address: String,
    /// What is to be seen, for who does not see it.
    label: String,
    /// Width by height of the frame, where it has another form than the style sheet says.
    #[prop(default = FRAME)]
    aspect: f64,
    /// Whether a plain wheel zooms, and does not move the page.
    #[prop(optional)]
    wheel_zooms: bool,
    /// Takes a tap on the picture.
    #[prop(optional, into)]
    on_tap: Option<Callback<Spotted>>,
    children: Children,
) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let crop = look.crop;
    let fingers = StoredValue::new(Fingers::default());
    let down = move |event: PointerEvent| {
        if let Some(at) = share(frame, &event) {
            fingers.update_value(|fingers| {
                if fingers.places.is_empty() {
                    fingers.strayed = 0.0;
                }
                fingers.places.insert(event.pointer_id(), at);
            });
        }
    };
    let moved = move |event: PointerEvent| {
        let Some(now) = share(frame, &event) else {
            return;
        };
        fingers.update_value(|fingers| follow(look, aspect, fingers, &event, now));
    };
    let up = move |event: PointerEvent| {
        let mut tapped = false;
        fingers.update_value(|fingers| {
            let was_down = fingers.places.remove(&event.pointer_id()).is_some();
            tapped = was_down && fingers.places.is_empty() && fingers.strayed < TAP;
        });
        if let (true, Some(on_tap), Some((x, y))) = (tapped, on_tap, share(frame, &event)) {
            let crop = crop.get_untracked();
            on_tap.run(Spotted::at(
                crop.x + x * crop.width,
                crop.y + y * crop.height,
            ));
        }
    };
    let gone = move |event: PointerEvent| {
        fingers.update_value(|fingers| {
            fingers.places.remove(&event.pointer_id());
        });
    };
    // What a pinch on a touch pad sends; a plain wheel mostly moves the page.
    let wheel = move |event: WheelEvent| {
        let at = share(frame, &event);
        if let (true, Some((x, y))) = (event.ctrl_key() || wheel_zooms, at) {
            event.prevent_default();
            let factor = (-event.delta_y() / 200.0).exp();
            crop.update(|crop| {
                *crop = crop.zoomed(factor, crop.x + x * crop.width, crop.y + y * crop.height);
            });
        }
    };
    let key = move |event: KeyboardEvent| {
        let plain = !event.ctrl_key() && !event.alt_key() && !event.meta_key();
        if plain && look.key(&event.key()) {
            event.prevent_default();
            // Digits and minus go to the reading otherwise.
            event.stop_propagation();
        }
    };
    let whole = f64::from(WHOLE);
    let percent = |share: f64| format!("{:.4}%", share * 100.0);
    view! {
        <div class="frame" node_ref=frame tabindex="0" role="group" aria-label=label
            style:aspect-ratio=aspect.to_string()
            class:frame-held=move || !look.is_at_start()
            on:pointerdown=down on:pointermove=moved on:pointerup=up
            on:pointercancel=gone on:pointerleave=gone on:wheel=wheel on:keydown=key>
            <img src=address alt="" draggable="false"
                style:width=move || percent(whole / crop.get().width)
                style:height=move || percent(whole / crop.get().height)
                style:left=move || percent(-crop.get().x / crop.get().width)
                style:top=move || percent(-crop.get().y / crop.get().height)/>
            {children()}
        </div>
    }
}

/// Where a pointer is on the frame, as parts of its width and height.
fn share(frame: NodeRef<Div>, event: &web_sys::MouseEvent) -> Option<(f64, f64)> {
    let frame = frame.get_untracked()?;
    let element: &Element = &frame;
    let edges = element.get_bounding_client_rect();
    let across = f64::from(event.client_x()) - edges.left();
    let down = f64::from(event.client_y()) - edges.top();
    Some((across / edges.width(), down / edges.height()))
}

/// Follows a moving finger: two pinch, one drags once the picture was zoomed.
fn follow(look: Look, aspect: f64, fingers: &mut Fingers, event: &PointerEvent, now: (f64, f64)) {
    let Some(&before) = fingers.places.get(&event.pointer_id()) else {
        return;
    };
    let strayed = f64::from(event.movement_x()).hypot(f64::from(event.movement_y()));
    fingers.strayed += strayed;
    let others = fingers.places.iter();
    let other = others
        .filter(|(id, _)| **id != event.pointer_id())
        .map(|(_, place)| *place)
        .next();
    match other {
        Some(other) => pinch(look, aspect, other, before, now),
        None if look.crop.get_untracked() != look.start => {
            look.shift(before.0 - now.0, before.1 - now.1);
        }
        None => {}
    }
    fingers.places.insert(event.pointer_id(), now);
}

/// One of two fingers has moved: what was between them stays between them.
fn pinch(look: Look, aspect: f64, other: (f64, f64), before: (f64, f64), now: (f64, f64)) {
    let distance = |a: (f64, f64)| ((a.0 - other.0) * aspect).hypot(a.1 - other.1);
    let (was, is) = (distance(before), distance(now));
    if was < 0.01 || is < 0.01 {
        return;
    }
    let middle = |a: (f64, f64)| ((a.0 + other.0) / 2.0, (a.1 + other.1) / 2.0);
    let (from, to) = (middle(before), middle(now));
    look.crop.update(|crop| {
        let (x, y) = (crop.x + from.0 * crop.width, crop.y + from.1 * crop.height);
        *crop = crop
            .zoomed(is / was, x, y)
            .moved(from.0 - to.0, from.1 - to.1);
    });
}
