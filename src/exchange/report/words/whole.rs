//! The sheet as a whole: what it is, and what keeps it from being a result.

use crate::exchange::report::text::typed;

/// What the sheet is.
pub const REPORT: &str = "Bench report";
/// A set of which nothing is known.
pub const NAMELESS: &str = "A set without a name";
/// What stands where nothing is known.
pub const NONE: &str = "–";

/// Number and set in a line.
pub fn job_and_set(number: &str, set: &str) -> String {
    let set = if set.is_empty() { NAMELESS } else { set };
    match number.trim() {
        "" => typed(set),
        number => format!("Job {}, {}", typed(number), typed(set)),
    }
}

/// A job that is not signed off is no result.
pub fn draft(owed: usize) -> String {
    match owed {
        0 => "Draft: nothing is outstanding, but the job is not signed off.".to_owned(),
        1 => "Draft: one step is outstanding and the job is not signed off.".to_owned(),
        n => format!("Draft: {n} steps are outstanding and the job is not signed off."),
    }
}

/// A job that was signed off, although copies of it that were merged later hold entries that the
/// sign-off did not know of.
pub fn signed_but_open(owed: usize, off: usize) -> String {
    let steps = match owed {
        0 => None,
        1 => Some("one step is outstanding".to_owned()),
        n => Some(format!("{n} steps are outstanding")),
    };
    let things = match off {
        0 => None,
        1 => Some("one thing is still off".to_owned()),
        n => Some(format!("{n} things are still off")),
    };
    let open: Vec<String> = steps.into_iter().chain(things).collect();
    format!(
        "Signed off, but {}: a copy of this job that was merged holds entries that the sign-off did not know of, an entry of it is damaged, or more is asked of a step now than when it was signed off. Reopen the job, do what is outstanding and sign off again.",
        open.join(" and ")
    )
}

/// Entries that are not what their checks say, of which some may be set aside. What else stands
/// there may follow from their being missed.
pub fn damaged(count: usize, set_aside: usize) -> String {
    let aside = match set_aside {
        0 => String::new(),
        n => format!(", {n} of them set aside"),
    };
    match count {
        1 => "1 entry of this job is damaged: it is not what its check says, or has none, and counts for nothing. What stands here was worked out without it. A file that has it sound puts it right: bring that in.".to_owned(),
        n => format!("{n} entries of this job are damaged{aside}: they are not what their checks say, or have none, and count for nothing. What stands here was worked out without them. A file that has them sound puts them right: bring that in."),
    }
}

/// The same of a job in a file.
pub fn damaged_in_file(count: usize) -> String {
    match count {
        1 => "1 entry in the file is damaged: it is not what its check says, or has none, and counts for nothing".to_owned(),
        n => format!("{n} entries in the file are damaged: they are not what their checks say, or have none, and count for nothing"),
    }
}

/// Entries of a file as it was before there were checks.
pub fn bare_in_file(count: usize) -> String {
    match count {
        1 => "1 entry in the file carries no check, as before there were checks: nothing tells whether it is what was entered".to_owned(),
        n => format!("{n} entries in the file carry no check, as before there were checks: nothing tells whether they are what was entered"),
    }
}

/// Numbers that no entry of a log has.
pub fn missing(count: u64) -> String {
    match count {
        1 => "The entries are numbered, and 1 number is missing: an entry was lost or taken out, or was damaged once".to_owned(),
        n => format!("The entries are numbered, and {n} numbers are missing: entries were lost or taken out, or were damaged once"),
    }
}

/// What an entry says that has lost its check.
pub fn without_check(said: &str) -> String {
    format!("{said}, without its check")
}

/// Where an entry belongs that does not read as one.
pub const NO_PLACE: &str = "Where it belongs can’t be read";

/// What is left of an entry that does not read as one.
pub fn unread(text: &str) -> String {
    match text.is_empty() {
        true => "nothing: the log stops there".to_owned(),
        false => format!("“{text}”"),
    }
}

/// The list of damaged entries.
pub const DAMAGED: &str = "Damaged entries";
/// Who set such an entry aside, when, and why.
pub const SET_ASIDE: &str = "Set aside";

/// By whom and why.
pub fn set_aside(by: &str, reason: &str, when: &str) -> String {
    format!("{reason} ({by}, {when})")
}

/// What such an entry says, which need not be what was entered.
pub const READS_NOW: &str = "Reads now";

/// The word in front of a page number.
pub const PAGE: &str = "Page";
