//! What several screens say.

use crate::app::words::counter::loose::NO_JOB;
use crate::quantity::ended;

/// The way back to the list of a job's steps.
pub const ALL_STEPS: &str = "All steps";
/// The way back to the calculations.
pub const ALL_SUMS: &str = "All calculations";
/// Empties a form.
pub const CLEAR: &str = "Clear";
/// The screen of the check, and the way to it.
pub const SUBSTITUTION_CHECK: &str = "Substitution check";
/// The set's details, and the way to them.
pub const THE_SET: &str = "Set details";
/// The sheet, and the way to it.
pub const THE_REPORT: &str = "Report";
/// Records a change outside of a step that asks for one.
pub const RECORD_CHANGE: &str = "Record part or change";
/// The comparison of a sheet with its file, and the way to it.
pub const CHECK_A_SHEET: &str = "Verify a report";
/// Keeps what a form holds.
pub const KEEP: &str = "Save";
pub const PRINT: &str = "Print";

/// A step by its number.
pub fn step(number: usize) -> String {
    format!("Step {number}")
}

/// The same within a sentence.
pub fn step_in_text(number: usize) -> String {
    format!("step {number}")
}

/// The frequency plan, and the way to it.
pub const FREQUENCY_PLAN: &str = "Frequency plan";
/// The published limits, and the way to them.
pub const LIMITS: &str = "Limits";
/// The channel tables, and the way to them.
pub const CHANNEL_TABLES: &str = "Channel tables";
/// What came out and went in.
pub const PARTS_AND_CHANGES: &str = "Parts and changes";
/// Heads what can hurt.
/// A probability in percent, as a share of a hundred cases.
pub fn of_hundred(percent: u32) -> String {
    match percent {
        0 => "under 1\u{a0}%".to_owned(),
        percent => format!("{percent}\u{a0}%"),
    }
}
pub const CAUTION: &str = "Caution";
/// What an address names is not here.
pub const NOT_HERE: &str = "Not on this device";
/// Starts a job.
pub const START_A_JOB: &str = "Start a job";
pub const UNDO: &str = "Undo";
pub const BOOK_IN: &str = "Book a set in";
pub const ADD_A_STEP: &str = "Add a step of your own";
pub const TAKE_ON: &str = "Take on a procedure";
pub const FAULTS: &str = "Faults";
pub const OVERTAKEN: &str =
    "Another page changed this meanwhile: look above, then press again to put yours in its place";
/// Opens the screen that reads a file.
pub const BRING_IN_FILE: &str = "Open a file";
/// No procedure to choose from.
pub const NO_PROCEDURE: &str =
    "There is no procedure on this device yet. Write one, or open one from a file.";
/// A saved reading lies outside its limits.
pub const OUTSIDE: &str = "outside";
/// A free remark.
pub const NOTE: &str = "Note";
/// Why something was done.
pub const WHY: &str = "Why";

/// A complaint as a sentence.
pub fn sentence(text: impl std::fmt::Display) -> String {
    ended(text)
}

/// Words and figures that follow each other in a list.
pub fn list(texts: &[impl AsRef<str>]) -> String {
    let texts: Vec<&str> = texts.iter().map(AsRef::as_ref).collect();
    texts.join(", ")
}

/// A job by its number and its set.
pub fn job(number: &str, set: &str) -> String {
    match number.is_empty() && set.is_empty() {
        true => NO_JOB.to_owned(),
        false => format!("{number} · {set}"),
    }
}

/// A job as a list names it.
pub fn listed(title: &str) -> String {
    match title.trim() {
        "" => NO_JOB.to_owned(),
        title => title.to_owned(),
    }
}

/// A pair of which one takes the other's place, or follows it.
pub fn becomes(before: &str, after: &str) -> String {
    format!("{before} → {after}")
}

/// A file is on its way. The browser doesn't tell whether it arrives.
pub fn handed_over(name: &str) -> String {
    format!("{name} was handed to this browser’s downloads: see there that it has arrived.")
}

/// A file was not let through.
pub const NOT_SAVED: &str =
    "The browser did not save the file: allow downloads for this page and try again";

/// An expanded uncertainty.
pub fn expanded(figure: &str) -> String {
    format!("U\u{a0}=\u{a0}{figure} at 95\u{a0}%.")
}
