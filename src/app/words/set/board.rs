//! Pictures of the board: shown at a step, and made with a procedure.

use crate::app::words::spelling::spelt;

/// While a picture is fetched.
pub const COMING: &str = "The picture is being fetched …";
/// The browser has no room to show it.
pub const NOT_SHOWN: &str =
    "The browser could not show this picture: close other pages and load this one again";
/// The part of a step's screen.
pub const ON_THE_BOARD: &str = "On the board";
/// Magnifies.
pub const CLOSER: &str = "Zoom in";
/// Shows more.
pub const FURTHER: &str = "Zoom out";
/// The whole picture.
pub const WHOLE: &str = "Whole board";
/// Back to where the pins are.
pub const TO_THE_PINS: &str = "To the pins";
/// The pictures to choose from.
pub const PICTURES: &str = "Pictures";

/// A frame for who does not see it: the picture, what is marked in it, and the keys.
pub fn frame(title: &str, names: &[&str]) -> String {
    let marked = match names.is_empty() {
        true => String::new(),
        false => format!(" with {}", names.join(" and ")),
    };
    format!("{title}{marked}. Plus and minus zoom, arrow keys move, 0 goes back.")
}

// The pictures of a draft.

/// The screen, and the way to it.
pub const TITLE: &str = "Pictures of the board";
/// What they are for.
pub const HINT: &str = "At each step, the technician sees the part of the board around its test point and adjuster. Take one picture straight from above for each side, in even light, then pin what steps refer to.";
/// The part with the camera.
pub const ADD: &str = "Add a picture";
/// What a picture is called.
pub const SHOWS: &str = "What it shows";
/// There are no names yet.
pub const NOTHING_TO_PIN: &str =
    "There are no test points or adjusters yet: add them to the lists first, then pin them here.";
/// Stands behind a name that is on the picture.
pub const IS_PINNED: &str = " · pinned";
/// Nothing is chosen.
pub const CHOOSE: &str = "Choose a name, then tap its place on the picture.";
/// Puts the chosen one in the middle of what is shown.
pub fn middle() -> String {
    spelt("Place at centre")
}
/// Takes the pin of the chosen one off.
pub const UNPIN: &str = "Remove pin";
/// Takes the picture out of the draft, asked about once more.
pub const REMOVE: &str = "Remove the picture…";
/// Does it.
pub const REMOVE_NOW: &str = "Remove the picture and its pins";
/// Does it not.
pub const KEEP: &str = "Cancel";
/// The change, where undoing it is offered.
pub const ADDED: &str = "a picture of the board";
/// The change, where undoing it is offered.
pub const REMOVED: &str = "the removal of a picture";

/// What a new picture is called, after so many others.
pub fn title(others: usize) -> String {
    match others {
        0 => "Top".to_owned(),
        1 => "Track side".to_owned(),
        n => format!("Picture {}", n + 1),
    }
}

/// What to do with the chosen one.
pub fn now_tap(name: &str, is_pinned: bool) -> String {
    match is_pinned {
        false => format!(
            "Tap the place of {name}, or {} and move it with the arrow keys.",
            spelt("place it at the centre")
        ),
        true => format!("Tap where {name} is to go, or move its pin with the arrow keys."),
    }
}

/// The change, where undoing it is offered.
pub fn pinned(name: &str) -> String {
    format!("the pin of {name}")
}

/// The change, where undoing it is offered.
pub fn unpinned(name: &str) -> String {
    format!("taking off the pin of {name}")
}

/// A pin, for who does not see it.
pub fn pin(name: &str, across: u32, down: u32) -> String {
    format!("{name}, {across}\u{a0}% across, {down}\u{a0}% down")
}
