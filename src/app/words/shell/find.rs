//! Finding jobs, sets and procedures.

pub const FIND: &str = "Find";
pub const FIND_HINT: &str = "serial, make, owner, job number, fault or procedure";
pub const FIND_PROCEDURE_HINT: &str = "title, or what it covers";
pub const WHICH: &str = "Show";
pub const NOTHING: &str = "No match. Try fewer words.";
pub const NONE_OF_THESE: &str = "There is no such job.";
pub const SETS: &str = "Sets";
pub const PROCEDURES: &str = "Procedures";
pub const MORE: &str = "Show more";
pub const EARLIER: &str = "Previous visits";
/// Jobs whose serial number has what is typed, on whatever plate.
pub const ALIKE: &str = "Jobs with this in their serial number";
pub const ALL_VISITS: &str = "Service history and trends";

/// The name of a choice of jobs.
pub fn shown(which: crate::job::Shown) -> &'static str {
    use crate::job::Shown;
    match which {
        Shown::All => "All",
        Shown::InHand => "In progress",
        Shown::Waiting => "Waiting",
        Shown::Finished => "Finished",
    }
}

/// How many of all are shown.
pub fn part_of(shown: usize, all: usize) -> String {
    format!("{shown} of {all}")
}

/// A set with the times it was here.
pub fn set(title: &str, visits: usize) -> String {
    match visits {
        1 => format!("{title}: 1 visit"),
        n => format!("{title}: {n} visits"),
    }
}

/// Fills the blank fields with what is known of a set.
pub fn take_over(set: &str) -> String {
    format!("Fill in from the last visit of {set}")
}

/// An earlier job of the set: when, number, fault.
pub fn earlier_job(when: &str, number: &str, fault: &str) -> String {
    let texts = [when, number, fault].into_iter().filter(|t| !t.is_empty());
    texts.collect::<Vec<_>>().join(" · ")
}
