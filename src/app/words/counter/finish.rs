//! The last screen of a job.

pub const TITLE: &str = "Sign off";
pub const THE_SHEET: &str = "Report";
pub const SHEET_LEAD: &str =
    "Everything that was found, done and left, for the owner and whoever opens the set next.";
pub const STILL_OPEN: &str = "Outstanding";
/// What was typed in the job and not entered.
pub const UNSENT: &str = "Typed and not entered";
pub const UNSENT_LEAD: &str = "It won’t be on the report. Enter it there, or leave it.";
pub const STILL_OPEN_LEAD: &str = "Do each, or waive it with a reason, before sign-off.";
pub const DAMAGED: &str = "Damaged entries";
pub const DAMAGED_LEAD: &str = "The job can be signed off when each of these is restored by a file that has it sound, or set aside with a reason.";
pub const WHO_SETS_ASIDE: &str = "Who sets it aside";
pub const SET_ASIDE: &str = "Set aside";
pub const SET_ASIDE_THIS: &str = "Set this entry aside";
pub const SET_ASIDE_HINT: &str =
    "Say why the work holds without it. The entry and your reason are printed on the report.";
pub const SIGN_OFF: &str = "Signature";
pub const WHO_ANSWERS: &str = "Signed off by";
pub const REMARKS: &str = "Remarks for the owner";
pub const SIGN_OFF_JOB: &str = "Sign off the job";
pub const SIGNED_OFF: &str = "Signed off";
pub const REOPEN_JOB: &str = "Reopen the job";
pub const REOPEN_THIS: &str = "Reopen this job";
pub const REOPEN_HINT: &str = "Say why. The sign-off stays in the log.";
pub const REOPEN: &str = "Reopen";
pub const THE_FILE: &str = "The file";
pub const FILE_LEAD: &str = "It holds the whole job with its procedure and every reading, and can be brought in on any device.";
pub const SAVE_FILE: &str = "Save the job as a file";

/// Who answers for the work, and since when.
pub fn signed(by: &str, when: &str) -> String {
    format!("By {by}, {when}")
}
