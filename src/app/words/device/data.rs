//! Backup, files, storage.

use crate::app::words::shared::listed;

pub const TITLE: &str = "Files";
pub const CHECK_LEAD: &str =
    "Whether a printed or saved report was made from a file that you have.";

pub const BACKUP: &str = "Backup";
pub const BACKUP_LEAD: &str = "Everything is kept in this browser on this device only. A backup is one file with all of it: keep it somewhere else.";
pub const SAVE_BACKUP: &str = "Save a backup";
pub const PICK: &str = "Export selected";
pub const PICK_LEAD: &str =
    "Single jobs, procedures or instruments can go into a file of their own.";

/// Before it is known how much is kept.
pub const COUNTING: &str = "What is here is being counted …";

/// How much is kept.
pub fn used(jobs: usize, procedures: usize, kilobytes: usize) -> String {
    format!(
        "Jobs: {jobs}. Procedures: {procedures}. Together {kilobytes} KiB of the 5 MiB that browsers usually give."
    )
}

/// What a backup leaves out.
pub fn drafts_stay(count: usize) -> String {
    match count {
        1 => "One draft of a procedure is not in it: publish it to have it in.".to_owned(),
        n => format!("{n} drafts of procedures are not in it: publish them to have them in."),
    }
}

pub const ALL_FILED: &str =
    "Every entry of every job went into a file from here or came out of one.";

/// What is only on this device.
pub fn at_risk(entries: usize, jobs: usize, since: &str) -> String {
    let entries = match entries {
        1 => "1 entry".to_owned(),
        n => format!("{n} entries"),
    };
    let jobs = match jobs {
        1 => "1 job".to_owned(),
        n => format!("{n} jobs"),
    };
    format!("Not backed up: {entries}, {jobs}, since {since}.")
}

/// What it means that the browser's database can't be used, and why it can't.
pub fn unsure(why: impl std::fmt::Display) -> String {
    format!(
        "What you enter is stored, but if the browser is killed or the battery goes flat, the last minutes may be lost: end it in the usual way, and save a backup after work. {why}."
    )
}

// A file

pub const CHOOSE_FILE: &str = "Choose a file";
pub const WHAT_IT_HOLDS: &str = "Contents";
pub const LEAVE_IT: &str = "Cancel";
pub const TAKE_IT: &str = "Import selected";

/// A file that can't be taken, and why.
pub fn not_taken(file: &str, why: impl std::fmt::Display) -> String {
    format!("{file}: {why}. Nothing was changed")
}

/// A procedure in a file.
pub fn procedure(title: &str, revision: u32) -> String {
    format!("Procedure: {title}, revision {revision}")
}

/// A job in a file.
pub fn job(number: &str, set: &str) -> String {
    format!("Job: {}", listed(&format!("{number} {set}")))
}

/// Entries of a job in a file that read otherwise here.
pub fn corrections(number: &str, set: &str) -> String {
    format!("Entries that differ: {number} {set}")
}

/// A table in a file.
pub fn channel_table(name: &str) -> String {
    format!("Channel table: {name}")
}

/// An instrument in a file.
pub fn instrument(name: &str) -> String {
    format!("Instrument: {name}")
}

/// What was taken in of a file.
pub fn taken_in(count: usize) -> String {
    match count {
        1 => "1 item imported.".to_owned(),
        n => format!("{n} items imported."),
    }
}

// What is stored

pub const JOBS_HERE: &str = "Jobs on this device";
pub const SAVE: &str = "Save";
pub const REMOVE_ASKS: &str = "Remove…";
pub const REMOVE: &str = "Delete permanently";
pub const KEEP_IT: &str = "Cancel";
pub const SET_ASIDE: &str = "Unreadable entries";
pub const SET_ASIDE_LEAD: &str = "These entries in the storage can't be read. They stay as they are; save them before you ask for help.";

/// A job was taken off the device.
pub fn removed(job: &str) -> String {
    format!("{job} was removed from this device.")
}
