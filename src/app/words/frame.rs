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
pub const SUMS: &str = "Calculations";
/// The way to the instruments.
pub const KIT: &str = "Instruments";
/// The way to files and storage.
pub const DATA: &str = "Files";
/// The way to the settings.
pub const SETTINGS: &str = "Settings";
/// A part of the program could not be fetched.
pub const PART_MISSING: &str = "This screen is not on the device yet. Try again with a network.";
/// A new version waits.
pub const UPDATE: &str = "Update ready. Jobs are unaffected.";
/// Takes the new version.
pub const UPDATE_NOW: &str = "Update now";
/// Leaves the new version for later.
pub const UPDATE_LATER: &str = "Later";
/// An entry of a job did not reach the storage.
pub fn unsaved(job: &str) -> String {
    format!("Last entry of {job} not saved. Save the job to a file before you leave this page.")
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
    format!("Recovered after an unexpected close: {entries} in {jobs}.")
}

/// Other things were put back at the start: settings, instruments, procedures.
pub fn others_put_back(count: usize) -> String {
    let things = match count {
        1 => "1 other item".to_owned(),
        n => format!("{n} other items"),
    };
    format!("Recovered after an unexpected close: {things}.")
}

/// Something could not be put back at the start.
pub fn not_put_back(count: usize) -> String {
    let things = match count {
        1 => "One job or other item".to_owned(),
        n => format!("{n} jobs or other items"),
    };
    format!(
        "{things} may lack the last entries: after an unexpected close they could not be recovered. They stay in the journal; free some room and reload the page"
    )
}

/// What was done is on its way to the disk.
pub const SAVING: &str = "Saving…";
/// What was done is stored, but not yet surely on the disk.
pub fn not_sure(done: &str) -> String {
    format!("{done} Not yet surely on the disk: keep the page open.")
}
/// Saves the job that did not reach the storage.
pub const SAVE_JOB: &str = "Save the job as a file";
/// Takes a notice away.
pub const CLOSE: &str = "Close";
