//! Which way to turn, as a mark that is read from across the bench.

use leptos::prelude::*;
use std::f64::consts::PI;

/// Which way an adjuster is to be turned, and how far off its reading is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// With the hands of a clock.
    pub clockwise: bool,
    /// How far the reading is off, as a share of the way from the target to its limit: 1 is on the
    /// limit.
    pub off: f64,
}

impl Turn {
    /// The sign beside a designator.
    pub const fn sign(self) -> &'static str {
        match self.clockwise {
            true => "\u{21bb}",
            false => "\u{21ba}",
        }
    }

    /// How long the arc is, in degrees: a short one near the limit, nearly all round at ten times
    /// as far. It is no angle to turn by, which nobody knows.
    fn sweep(self) -> f64 {
        60.0 + 240.0 * self.off.max(1.0).log10().min(1.0)
    }
}

/// The head of a screw with an arc around it whose length says how far off the reading is.
#[component]
pub fn TurnMark(
    /// Which way, and how far.
    turn: Turn,
) -> impl IntoView {
    let end = (turn.sweep() - 90.0) * PI / 180.0;
    let (x, y) = (end.cos(), end.sin());
    let large = u8::from(turn.sweep() > 180.0);
    let (tip_x, tip_y) = (48.0 + 38.0 * x, 48.0 + 38.0 * y);
    let arc = format!("M48 10A38 38 0 {large} 1 {tip_x:.1} {tip_y:.1}");
    // The arrow stands at the end of the arc, along it.
    let at = |along: f64, out: f64| {
        let (px, py) = (
            48.0 + (38.0 + out) * x - along * y,
            48.0 + (38.0 + out) * y + along * x,
        );
        format!("{px:.1} {py:.1}")
    };
    let head = format!("M{}L{}L{}z", at(12.0, 0.0), at(-6.0, 9.0), at(-6.0, -9.0));
    view! {
        <svg class="turn-mark" class:turn-back=!turn.clockwise viewBox="0 0 96 96" aria-hidden="true">
            <circle class="turn-screw" cx="48" cy="48" r="22"/>
            <path class="turn-slot" d="M34 62L62 34"/>
            <path class="turn-arc" d=arc/>
            <path class="turn-head" d=head/>
        </svg>
    }
}
