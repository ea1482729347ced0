//! All steps of a job.

pub const BREAK: &str = "Pause logged.";
pub const GO_ON: &str = "Continue";
pub const FINISH: &str = "Sign off";
pub const REPORT: &str = "Report";
pub const TAKE_BREAK: &str = "Pause (hold points lapse)";

pub const NOTHING_YET: &str =
    "This job has no steps yet. Add a step of your own, or take on a procedure.";

/// A procedure of several that a job is worked by.
pub fn procedure(title: &str, revision: u32) -> String {
    format!("{title}, revision {revision}")
}

/// How far the job is.
pub fn settled(settled: usize, all: usize) -> String {
    format!("{settled} of {all} done")
}

/// What was found at an inspection, with the technician's words.
pub fn finding(finding: &str, note: &str) -> String {
    match note.is_empty() {
        true => finding.to_owned(),
        false => format!("{finding}: {note}"),
    }
}

/// A reading of which there is none as left.
pub fn found(reading: &str) -> String {
    format!("found {reading}")
}
