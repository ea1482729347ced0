//! The readings of a socket, pin by pin.

pub const PIN: &str = "Pin";
pub const LINE: &str = "Line";
pub const SOCKETS: &str = "Sockets";
pub const SWAPPED: &str = "swapped?";
pub const MISSING: &str = "missing?";
pub const NOT_YET: &str = "–";
pub const OTHER_UNIT: &str = "in another unit";

/// How a pin of the drawn socket stands.
pub const UNASKED: &str = "nothing due";
/// See [`UNASKED`].
pub const TO_MEASURE: &str = "to be measured";
/// See [`UNASKED`].
pub const INSIDE: &str = "inside";
/// See [`UNASKED`].
pub const WRONG: &str = "outside or suspect";
/// What the marks are.
pub const FACE_KEY: &str = "Pins in the order of the table. Tick: inside. Triangle: outside or suspect. Blank: to be measured. Dashed: nothing due.";

/// A pin of the drawn socket.
pub fn pin_stands(pin: &str, state: &str) -> String {
    format!("pin {pin} {state}")
}

/// The drawn socket in words.
pub fn face(socket: &str, pins: &[String]) -> String {
    format!("{socket}: {}", pins.join(", "))
}

/// What the table of a socket is for.
pub fn caption(socket: &str) -> String {
    format!("{socket}: tap a figure to measure it")
}

/// One pin in one state of the set, as a screen reader says it before the figures.
pub fn place(pin: &str, state: &str) -> String {
    format!("Pin {pin} in {state}: ")
}

/// The same within a sentence.
pub fn place_in_hand(pin: &str, state: &str) -> String {
    format!("pin {pin} in {state}")
}

/// What a pin should show.
pub fn due(tolerance: &str) -> String {
    format!("due {tolerance}")
}

/// Follows the pin in hand.
pub fn and_due(tolerance: &str) -> String {
    format!(", due {tolerance}")
}

/// The field for a pin's reading.
pub fn reading(unit: &str, place: &str, due: &str) -> String {
    format!("Reading, {unit}, {place}, due {due}")
}

/// How much is left to be read; `all_inside` holds for what was.
pub fn still_to_read(count: usize, all_inside: bool) -> String {
    match (count, all_inside) {
        (0, true) => "Every pin is measured and inside.".to_owned(),
        (0, false) => "Every pin is measured.".to_owned(),
        (1, _) => "One reading is still to be taken.".to_owned(),
        (n, _) => format!("{n} readings are still to be taken."),
    }
}

/// What a socket was found like: how many of its readings were taken, and what keeps it open.
pub fn found(taken: usize, all: usize, open: &str) -> String {
    let measured = format!("{taken} of {all} readings");
    match open {
        "" if taken == 0 => measured,
        "" => format!("{measured}, all inside"),
        open => format!("{measured}. {open}"),
    }
}

/// A socket that was ticked before all of it was measured and right.
pub fn ticked_but(when: &str, state: &str) -> String {
    format!("Ticked {when}. The step stays open: {state}.")
}

/// Follows the name of a socket.
pub fn in_step(number: usize) -> String {
    format!(", step {number}")
}
