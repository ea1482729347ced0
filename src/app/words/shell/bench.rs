//! What is told on any screen: breaks, what was taken back.

use crate::app::words::shared;
use crate::exchange::report;
use crate::job::{HeaderPart, Showed};

/// Why a break was put into the log unasked.
pub const LEFT_FOR_LONG: &str = "No entry for more than half an hour: pause logged.";

/// What follows from a break: which stops it has left unconfirmed and which warm-ups it has
/// ended, by their numbers.
pub fn after_a_break(why: &str, stops: &[usize], warm_ups: &[usize]) -> String {
    let closed = match stops {
        [] => String::new(),
        [stop] => {
            format!(" Re-confirm hold point {stop}: what is below it is locked.")
        }
        [first, ..] => format!(
            " Re-confirm {} hold points, the first at step {first}: what is below them is locked.",
            stops.len()
        ),
    };
    let again: String = warm_ups
        .iter()
        .map(|step| format!(" Restart the wait of step {step}."))
        .collect();
    format!("{why}{closed}{again}")
}

/// Nothing can be entered without a job.
pub const NO_JOB: &str = "There is no job on this screen to enter it in";

/// Takes back an entry that was named.
pub const UNDO_IT: &str = "Undo it";

/// The last entry that may be taken back is not one of the step in front.
pub fn not_of_this_step(what: &str, step: Option<usize>) -> String {
    match step {
        Some(step) => {
            format!("Undo would take back an entry of another step: {what} at step {step}.")
        }
        None => format!("Undo would take back an entry of the job as a whole: {what}."),
    }
}

/// The last entry was taken back.
pub fn taken_back(what: &str, step: Option<usize>) -> String {
    match step {
        Some(step) => format!("Undone: {what} at step {step}."),
        None => format!("Undone: {what}."),
    }
}

// Entries, as they are called when they are taken back

pub const TICK: &str = "the tick";
pub const NOTE: &str = "a note";
pub const WAIVER: &str = "the waiver";
pub const SET_ASIDE: &str = "the setting aside of a damaged entry";
pub const SIGN_OFF: &str = "the sign-off";
pub const REOPENING: &str = "the reopening";
/// A change of the details, of which parts.
pub fn details(parts: &[HeaderPart]) -> String {
    let parts: Vec<&str> = parts.iter().map(|part| part_of(*part)).collect();
    match parts.is_empty() {
        true => "a change of the details".to_owned(),
        false => format!("a change of the details ({})", shared::list(&parts)),
    }
}
fn part_of(part: HeaderPart) -> &'static str {
    match part {
        HeaderPart::Number => "job number",
        HeaderPart::Set => "the set",
        HeaderPart::Owner => "owner",
        HeaderPart::Fault => "fault reported",
        HeaderPart::Condition => "condition",
        HeaderPart::Accessories => "accessories",
        HeaderPart::Technician => "technician",
        HeaderPart::Instruments => "instruments",
        HeaderPart::Rule => "decision rule",
        HeaderPart::NextCheck => "next check",
        HeaderPart::Charge => "what the work costs",
    }
}
/// Another instrument in a role.
pub fn taken_on(procedure: &str) -> String {
    format!("“{procedure}” taken on")
}
pub fn part(what: &str) -> String {
    format!("what is said of “{what}”")
}
pub fn path(title: &str) -> String {
    format!("what is said of the path “{title}”")
}
/// A look along a path.
pub fn look(place: &str, showed: Showed) -> String {
    let showed = report::words::showed(showed);
    format!("the look at “{place}”, {showed}")
}
pub const ASKED: &str = "a question to the owner";
pub const ANSWERED: &str = "the owner’s answer";
pub const COLLECTED: &str = "that the set was collected";
pub const FAULT: &str = "the record of a fault";
pub fn added(step: &str) -> String {
    format!("the step “{step}”")
}
pub fn another(role: &str) -> String {
    format!("another {role}")
}
pub const UNDO: &str = "an undo";
pub const STRUCK: &str = "a reading voided";
pub const WAIT: &str = "the start of the wait";
pub const PASS: &str = "the start of the pass";
pub const BREAK: &str = "a pause";
pub const PUT_BACK: &str = "something put back";
pub const STAYS_OFF: &str = "something left off";
/// A deed that was taken back.
pub const PAPER_TITLED: &str = "the name of a paper";
/// A deed that was taken back.
pub const PAPER_REMOVED: &str = "taking a paper out";
/// A deed that was taken back.
pub const PHOTO: &str = "a photo";
/// A deed that was taken back.
pub const PHOTO_REMOVED: &str = "the removal of a photo";
/// A deed that was taken back.
pub const SOUND: &str = "a sound recording";
/// A deed that was taken back.
pub const SOUND_REMOVED: &str = "the removal of a sound recording";

/// A paper that was kept.
pub fn paper(title: &str) -> String {
    format!("the paper “{title}”")
}

/// A pin in a paper.
pub fn pin(name: &str) -> String {
    format!("the pin of {name}")
}

/// A pin that was taken off a paper.
pub fn unpinned(name: &str) -> String {
    format!("taking off the pin of {name}")
}

/// A reading with its phase.
pub fn reading(phase: &str, value: &str) -> String {
    format!("{phase} {value}")
}

/// A reading that has no phase.
pub fn plain_reading(value: &str) -> String {
    format!("the reading {value}")
}

/// What was found at an inspection.
pub fn answer(finding: &str) -> String {
    format!("the answer “{finding}”")
}

/// A thing that came off.
pub fn taken_off(what: &str) -> String {
    format!("“{what}” off")
}

/// A part that went in.
pub fn change(fitted: &str) -> String {
    format!("the change to “{fitted}”")
}
