//! Steps moved by finger, pen or mouse: the handle is held, a line shows where the step goes.

use crate::app::screens::author::pen::Pen;
use crate::app::words::author as words;
use crate::authoring::{Draft, edit};
use crate::procedure::Id;
use leptos::prelude::*;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, PointerEvent};

/// So close to the edge of the window, in pixels, the page moves along.
const EDGE: i32 = 90;

/// How far it moves each time, in pixels.
const STRIDE: f64 = 14.0;

/// A step on its way to another place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    /// The step.
    pub step: Id,
    /// Where it would go: the section, and the place in it, counted without the step itself.
    pub to: Option<(usize, usize)>,
}

/// What is dragged on a screen.
#[derive(Clone, Copy)]
pub struct Drag {
    pen: Pen,
    /// The step held.
    pub held: RwSignal<Option<Held>>,
    /// Where the finger is in the window.
    height: StoredValue<i32>,
}

impl Drag {
    /// Nothing held yet.
    pub fn new(pen: Pen) -> Self {
        let drag = Drag {
            pen,
            held: RwSignal::new(None),
            height: StoredValue::new(0),
        };
        // A finger that rests at the edge goes on moving the page.
        let tick = set_interval_with_handle(move || drag.follow_edge(), Duration::from_millis(40));
        on_cleanup(move || {
            if let Ok(tick) = tick {
                tick.clear();
            }
        });
        drag
    }

    /// Takes hold of a step.
    pub fn start(self, event: &PointerEvent, step: Id) {
        if event.button() != 0 {
            return;
        }
        if let Some(handle) = event
            .current_target()
            .and_then(|t| t.dyn_into::<HtmlElement>().ok())
        {
            let _ = handle.set_pointer_capture(event.pointer_id());
        }
        self.height.set_value(event.client_y());
        self.held.set(Some(Held { step, to: None }));
    }

    /// Follows the finger.
    pub fn moved(self, event: &PointerEvent) {
        self.height.set_value(event.client_y());
        self.aim(f64::from(event.page_y()));
    }

    fn aim(self, y: f64) {
        self.held.update(|held| {
            if let Some(held) = held {
                let place = self
                    .pen
                    .draft
                    .with_untracked(|draft| place_at(draft, &held.step, y));
                held.to = Some(place);
            }
        });
    }

    fn follow_edge(self) {
        if self.held.with_untracked(Option::is_none) {
            return;
        }
        let y = self.height.get_value();
        let room = window()
            .inner_height()
            .ok()
            .and_then(|h| h.as_f64())
            .unwrap_or(0.0);
        let by = match y {
            y if y < EDGE => -STRIDE,
            y if f64::from(y + EDGE) > room => STRIDE,
            _ => return,
        };
        window().scroll_by_with_x_and_y(0.0, by);
        self.aim(f64::from(y) + window().scroll_y().unwrap_or(0.0));
    }

    /// Puts the step where the line is.
    pub fn drop(self) {
        let held = self.held.get_untracked();
        self.held.set(None);
        if let Some(Held {
            step,
            to: Some((section, index)),
        }) = held
        {
            self.pen.change(words::STEP_MOVED, |draft| {
                edit::move_step(draft, &step, section, index);
            });
        }
    }

    /// Lets go without moving anything.
    pub fn cancel(self) {
        self.held.set(None);
    }

    /// Whether the step held would go to this place.
    pub fn aims_at(self, section: usize, index: usize) -> bool {
        self.held.with(|held| {
            held.as_ref()
                .is_some_and(|held| held.to == Some((section, index)))
        })
    }

    /// Whether this step is held.
    pub fn holds(self, step: &Id) -> bool {
        self.held
            .with(|held| held.as_ref().is_some_and(|held| held.step == *step))
    }
}

/// The id of a section on the page.
pub fn section_id(index: usize) -> String {
    format!("draft-section-{index}")
}

/// The id of a step's row on the page.
pub fn row_id(step: &Id) -> String {
    format!("draft-row-{step}")
}

fn element(id: &str) -> Option<HtmlElement> {
    document().get_element_by_id(id)?.dyn_into().ok()
}

/// The place that a height on the page belongs to.
fn place_at(draft: &Draft, held: &Id, y: f64) -> (usize, usize) {
    let is_above = |index: &usize| {
        element(&section_id(*index)).is_some_and(|section| f64::from(section.offset_top()) <= y)
    };
    let section = (0..draft.sections.len()).rev().find(is_above).unwrap_or(0);
    let middle = |step: &Id| {
        let row = element(&row_id(step));
        row.map_or(0.0, |row| {
            f64::from(row.offset_top()) + f64::from(row.offset_height()) / 2.0
        })
    };
    let others = draft.sections.get(section).map_or(&[][..], |s| &s.steps);
    let above = others
        .iter()
        .filter(|step| step.id != *held && middle(&step.id) < y);
    (section, above.count())
}
