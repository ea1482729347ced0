//! What stands around every screen.

/// The name of the app.
pub const HALFTURN: &str = "Halfturn";
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
/// An entry did not reach the storage.
pub const UNSAVED: &str = "The last entry is not stored on this device. Save the job with it as a file before you leave this page.";
/// Saves the job that did not reach the storage.
pub const SAVE_JOB: &str = "Save the job as a file";
/// Takes a notice away.
pub const CLOSE: &str = "Close";
