//! Whether a sheet and a file belong together.

pub const DATA: &str = "Data";
pub const LEAD: &str = "Each sheet carries the fingerprint of the job’s file that it was made from. The two are compared here; nothing is taken in.";
pub const FINGERPRINT: &str = "Fingerprint";
pub const FINGERPRINT_HINT: &str = "from the foot of the sheet, or what the label’s code holds";
pub const CHOOSE_FILE: &str = "Choose the job’s file";
