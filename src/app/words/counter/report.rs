//! The screens that show the sheet and the label. The words on them are in
//! `exchange::report::words`.

pub const ALL_VISITS: &str = "Service history of this set";
pub const SAVE_PAGE: &str = "Save as a page";
pub const SAVE_TABLE: &str = "Save the readings as a table";
pub const LABEL: &str = "Label";
pub const LABEL_LEAD: &str = "80 by 36 mm. The code holds the job’s number and the fingerprint of its file as it is now: print it after the sign-off.";
/// Why it can't be printed yet.
pub const LABEL_TOO_EARLY: &str = "Sign off the job first: the label says when that was.";
pub const NO_NEXT_CHECK: &str = "The day of the next check is not known. It can be set with the set’s details until the job is signed off.";
