//! What stands around every screen.

/// The name of the app.
pub const HALFTURN: &str = "Halfturn";
/// What the browser calls the page: the screen, and the name that the page came with.
pub fn title(screen: &str, page: &str) -> String {
    format!("{screen} · {page}")
}
/// What the links at the top are.
pub const SCREENS: &str = "Screens";
/// The way to the jobs.
pub const JOBS: &str = "Jobs";
/// The way to the procedures.
pub const PROCEDURES: &str = "Procedures";
/// The way to the calculations.
pub const SUMS: &str = "Sums";
/// The way to the instruments.
pub const KIT: &str = "Kit";
/// The way to files, settings and storage.
pub const DATA: &str = "Data";
/// A new version waits.
pub const UPDATE: &str = "A new version of the app is here. Your jobs stay as they are.";
/// Takes the new version.
pub const UPDATE_NOW: &str = "Use it now";
/// Leaves the new version for later.
pub const UPDATE_LATER: &str = "Later";
/// An entry of a job did not reach the storage.
pub fn unsaved(job: &str) -> String {
    format!(
        "The last entry of {job} is not stored on this device. Save the job with it as a file before you leave this page."
    )
}
/// Entries were joined into jobs at the start.
pub fn put_back(entries: usize, jobs: usize) -> String {
    let entries = match entries {
        1 => "1 entry".to_owned(),
        n => format!("{n} entries"),
    };
    let jobs = match jobs {
        1 => "its job".to_owned(),
        n => format!("{n} jobs"),
    };
    format!(
        "The browser was ended before it had stored everything: {entries} went back into {jobs}."
    )
}

/// Other things were put back at the start: settings, instruments, procedures.
pub fn others_put_back(count: usize) -> String {
    let things = match count {
        1 => "1 thing that was saved is".to_owned(),
        n => format!("{n} things that were saved are"),
    };
    format!("The browser was ended before it had stored everything: {things} here again.")
}

/// Something could not be put back at the start.
pub fn not_put_back(count: usize) -> String {
    let things = match count {
        1 => "One job or other thing".to_owned(),
        n => format!("{n} jobs or other things"),
    };
    format!(
        "{things} may lack what was saved last: the browser was ended before it had stored that, and it could not be put back. It stays in the journal; free some room and load the page again"
    )
}

/// What was done is on its way to the disk.
pub const SAVING: &str = "Saving…";
/// What was done is stored, but not yet surely on the disk.
pub fn not_sure(done: &str) -> String {
    format!("{done} It is not yet surely on the disk: leave the page open.")
}
/// Saves the job that did not reach the storage.
pub const SAVE_JOB: &str = "Save the job as a file";
/// Takes a notice away.
pub const CLOSE: &str = "Close";
