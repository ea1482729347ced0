//! Bringing in a file.

use crate::exchange::Part;

pub const LEAD: &str = "A procedure, a job, several things or a backup saved from here, also what was saved when the app had stopped. You see what it will do before anything changes.";
pub const DIFFERENCES: &str = "What differs";
pub const ADDED: &str = "What is added";
pub const FAULTY: &str = "Can’t be taken";

/// A thing in a file that has a fault.
pub fn faulty(part: Part, name: Option<&str>) -> String {
    let (kind, number) = match part {
        Part::Preferences => ("Settings", None),
        Part::Instrument(n) => ("Instrument", Some(n)),
        Part::Channels(n) => ("Channel table", Some(n)),
        Part::Procedure(n) => ("Procedure", Some(n)),
        Part::Job(n) => ("Job", Some(n)),
        Part::Picture(n) => ("Picture", Some(n)),
        Part::Kept => ("Entry", None),
    };
    match (name, number) {
        (Some(name), _) => format!("{kind}: {name}"),
        (None, Some(number)) => format!("{kind} number {number} in the file"),
        (None, None) => kind.to_owned(),
    }
}

/// How many lines are not shown.
pub fn and_more(count: usize) -> String {
    format!("and {count} more")
}
