//! The foot and the label.

/// What the fingerprint is for.
pub const FINGERPRINT_KEY: &str = "SHA-256 of the job’s file. To verify: Files, Verify a report.";

/// What a verdict is and isn't.
pub const NOTICE: &str = "Results are computed from the readings entered. Local regulations, the licence and a qualified technician’s judgement prevail.";

// The label

/// What the label's code holds.
pub fn code(number: &str, fingerprint: &str, job: &str) -> String {
    format!("{CODE_BEGINS} {number} {fingerprint} {job}")
}

/// With what the text of a label's code begins.
pub const CODE_BEGINS: &str = "halfturn";

/// The label's code in words.
pub const CODE: &str =
    "Code that leads back to the job, with its number and the fingerprint of its file";
/// The label's check mark.
pub const CHECKED: &str = "Checked";
/// A label of a job that is not signed off.
pub const NOT_SIGNED: &str = "not signed off";
/// A label of a job that was signed off and is open again by what was merged.
pub const OPEN_AGAIN: &str = "steps owed";
