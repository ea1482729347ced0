//! Pictures of the board: shown at a step, and made with a procedure.

/// While a picture is fetched.
pub const COMING: &str = "The picture is being fetched …";
/// The browser has no room to show it.
pub const NOT_SHOWN: &str =
    "The browser could not show this picture: close other pages and load this one again";
/// The part of a step's screen.
pub const ON_THE_BOARD: &str = "On the board";
/// Magnifies.
pub const CLOSER: &str = "Closer";
/// Shows more.
pub const FURTHER: &str = "Further";
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
