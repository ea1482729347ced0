//! Titles of the sections, and the photos.

use crate::exchange::report::text::typed;
use crate::job::Moment;

/// See its text.
pub const SUMMARY: &str = "Summary";
/// See its text.
pub const READINGS: &str = "Readings";
/// See its text.
pub const OVERVIEW: &str = "As found and as left, overview";
/// See its text.
pub const PLAN: &str = "Carrier frequency";
/// See its text.
pub const DRIFT: &str = "Drift";
/// See its text.
pub const INSPECTED: &str = "Inspections and checks";
/// See its text.
pub const SOCKETS: &str = "Sockets";
/// See its text.
pub const CHANGES: &str = "Parts and changes";
/// See its text.
pub const PAPERS: &str = "Papers of the set";
/// See its text.
pub const PAPER: &str = "Paper";
/// See its text.
pub const PAPER_DIGEST: &str = "SHA-256 begins";
/// See its text.
pub const PHOTOS: &str = "Photos";
/// See its text.
pub const SOUNDS: &str = "Sound recordings";
/// A reading that was struck or taken back since.
pub const DOES_NOT_COUNT: &str = "no longer counts";
/// See its text.
pub const OFF: &str = "Reassembly";
/// See its text.
pub const BREAKS: &str = "Pauses";
/// See its text.
pub const WAIVED: &str = "Waived";
/// See its text.
pub const NOTES: &str = "Notes";
/// See its text.
pub const INSTRUMENTS: &str = "Test equipment";
/// See its text.
pub const LIMITS: &str = "Limits applied";
/// See its text.
pub const BASES: &str = "Basis of the other limits";
/// See [`STEP`].
pub const BASIS: &str = "Basis of the limit";
/// Where a limit does not say what it rests on.
pub const NOT_STATED: &str = "not stated";
/// See its text.
pub const HISTORY: &str = "Service history";
/// See its text.
pub const COST: &str = "Time and parts";
/// See its text.
pub const FINGERPRINT: &str = "Verification";

// Photos

/// Stands in the place of a photo whose bytes are not on the device.
pub const NO_PHOTO: &str =
    "This photo is not on the device that made the report. The job’s file may hold it.";

/// The heading over the photos of a state.
pub const fn photo_heading(when: Moment) -> &'static str {
    match when {
        Moment::Found => "As found",
        Moment::Left => "As left",
    }
}

/// What a photo is, for who does not see it.
pub fn photo(when: Moment, step: Option<&str>, note: &str) -> String {
    let place = step.map_or(String::new(), |step| format!(", {}", typed(step)));
    let note = match note.trim() {
        "" => String::new(),
        note => format!(": {}", typed(note)),
    };
    format!("Photo of the set {}{place}{note}", when.name())
}

/// Where in the work a photo was taken, and when.
pub fn photo_place(step: Option<&str>, when: &str) -> String {
    match step {
        Some(step) => format!("{}, {when}", typed(step)),
        None => when.to_owned(),
    }
}

/// A step by its number and title.
pub fn step(number: usize, title: &str) -> String {
    format!("Step {number}, {title}")
}
