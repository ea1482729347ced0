//! The pins of a socket drawn in their order: how far each is measured, and the wire on it.

use crate::app::ui::paint;
use crate::app::words::work::socket as words;
use crate::job::{SocketFault, StepProgress};
use crate::procedure::{Id, Pin, Socket};
use leptos::prelude::*;

/// How a pin stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    /// Nothing is due on it.
    Unasked,
    /// Not all of its readings are there.
    Open,
    /// All are inside.
    Inside,
    /// One is outside, or its line looks missing or swapped.
    Wrong,
}

impl State {
    fn of(pin: &Pin, standing: Option<&StepProgress>) -> Self {
        let read = |state: &Id| standing.and_then(|it| it.pin(&pin.pin, state));
        let is_inside = |state: &Id| {
            let verdict = |it: &crate::job::PinReading| it.result.verdict.clone();
            read(state).map(|it| verdict(it).is_some_and(|verdict| verdict.is_inside()))
        };
        let inside: Vec<Option<bool>> = pin.expects.iter().map(|it| is_inside(&it.state)).collect();
        let faults = standing.map(|it| it.wiring.as_slice()).unwrap_or_default();
        let is_suspect = faults.iter().any(|fault| match fault {
            SocketFault::Swapped(a, b) => *a == pin.pin || *b == pin.pin,
            SocketFault::Missing(other) => *other == pin.pin,
            _ => false,
        });
        match () {
            () if is_suspect || inside.contains(&Some(false)) => State::Wrong,
            () if inside.is_empty() => State::Unasked,
            () if inside.contains(&None) => State::Open,
            () => State::Inside,
        }
    }

    /// The mark in the pin, which tells it without a colour.
    const fn mark(self) -> &'static str {
        match self {
            State::Unasked | State::Open => "",
            State::Inside => "M12 38l6 6 10-12",
            State::Wrong => "M20 27l10 17h-20z",
        }
    }

    const fn class(self) -> &'static str {
        match self {
            State::Unasked => "face-pin face-unasked",
            State::Open => "face-pin",
            State::Inside => "face-pin face-inside",
            State::Wrong => "face-pin face-wrong",
        }
    }

    const fn words(self) -> &'static str {
        match self {
            State::Unasked => words::UNASKED,
            State::Open => words::TO_MEASURE,
            State::Inside => words::INSIDE,
            State::Wrong => words::WRONG,
        }
    }
}

/// The face. Its pins stand in the order of the sheet, which need not be how the socket has them.
pub fn face(socket: &Socket, standing: Option<&StepProgress>) -> impl IntoView + use<> {
    let pins: Vec<(&Pin, State)> = socket
        .pins
        .iter()
        .map(|pin| (pin, State::of(pin, standing)))
        .collect();
    let said: Vec<String> = pins
        .iter()
        .map(|(pin, state)| words::pin_stands(pin.pin.as_str(), state.words()))
        .collect();
    let drawn = pins.into_iter().map(|(pin, state)| drawn(pin, state));
    let drawn = drawn.collect_view();
    view! {
        <figure class="socket-face">
            <div class="face-pins" role="img" aria-label=words::face(&socket.name, &said)>{drawn}</div>
            <figcaption class="hint" aria-hidden="true">{words::FACE_KEY}</figcaption>
        </figure>
    }
}

fn drawn(pin: &Pin, state: State) -> impl IntoView + use<> {
    // A second colour is a ring around the first.
    let mut colours = pin.colour.split(['/', '-', ',', ' ']).map(str::trim);
    let wire = colours.find_map(|name| paint(&name.to_lowercase()));
    let stripe = colours.find_map(|name| paint(&name.to_lowercase()));
    let has_wire = !pin.colour.trim().is_empty();
    view! {
        <span class=state.class()>
            <svg viewBox="0 0 40 92">
                {has_wire.then(|| view! { <path class="face-wire" d="M20 56V92"/> })}
                {wire.map(|paint| view! { <path class="face-paint" stroke=paint d="M20 57V92"/> })}
                {stripe.map(|paint| view! { <path class="face-stripe" stroke=paint d="M20 57V92"/> })}
                <circle class="face-hole" cx="20" cy="38" r="18"/>
                <path class="face-mark" d=state.mark()/>
                <text x="20" y="14" text-anchor="middle">{pin.pin.to_string()}</text>
            </svg>
        </span>
    }
}
