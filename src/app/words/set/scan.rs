//! Codes that are read with the camera.

pub const SCAN: &str = "Scan";
pub const LEAD: &str = "A label from here leads to its job, any other code to the visits of the set with that serial number.";
pub const SCAN_SERIAL: &str = "Scan the serial number";
pub const STOP: &str = "Stop scanning";
pub const CAMERA: &str = "What the camera sees";
pub const HOLD: &str = "Hold the code still in the picture, flat and well lit.";
pub const FROM_PICTURE: &str = "From a picture";
pub const LOOKING: &str = "The picture is being looked through …";
pub const NOTHING_IN_IT: &str =
    "No code was found in this picture: take one that shows it flat, sharp and larger.";
pub const NO_PICTURE: &str = "This file can’t be read as a picture: choose a photo of the code.";
pub const DENIED: &str = "The browser does not let this page use the camera: allow it for this page, or choose a picture of the code.";
pub const NO_CAMERA: &str = "No camera was found: choose a picture of the code.";
pub const BUSY: &str = "The camera does not start: close what else uses it, or choose a picture.";
pub const NO_DECODER: &str = "What reads codes could not be loaded: load the page again with a network, or type what stands on the plate.";
pub const NO_SET: &str =
    "This label is of a job that is not on this device: type the serial number.";
pub const BOOK_IN: &str = "Book in a set with this serial number";
pub const AGAIN: &str = "Scan another";
pub const HALF_TYPED: &str =
    "An intake is half typed already: end it or clear it first, then scan again.";

/// What a code said.
pub fn read(text: &str) -> String {
    format!("Read: {text}")
}

/// A label of a job that is not here.
pub fn not_here(number: &str) -> String {
    format!("This label is of job {number}, which is not on this device: bring in its file.")
}
