//! Whether a sheet and a file belong together.

pub const DATA: &str = "Files";
pub const LEAD: &str = "Each report carries the fingerprint of the job’s file that it was made from. The two are compared here; nothing is imported.";
pub const FINGERPRINT: &str = "Fingerprint";
pub const FINGERPRINT_HINT: &str = "from the foot of the report, or what the label’s code holds";
pub const CHOOSE_FILE: &str = "Choose the job’s file";
