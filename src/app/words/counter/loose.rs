//! Readings that belong to no job yet.

pub const TAKE_ONE: &str = "Take one reading";
pub const TAKE_ONE_LEAD: &str = "For when there is no job yet. Afterwards it goes into a job, with the time at which it was read, or is discarded.";
pub const GO_AND_READ: &str = "Go and read it";
/// What stands in the place of number and set.
pub const NO_JOB: &str = "A reading without a job";
/// Heads them in the list of jobs.
pub const ALL: &str = "Readings without a job";
pub const NOT_READ: &str = "not read yet";
/// What becomes of them, and the way there.
pub const WHAT_NOW: &str = "Save or discard it";
pub const INTO: &str = "Into a job";
pub const INTO_LEAD: &str = "It becomes a step of the job’s own, with the time at which it was read and the instrument it was read with.";
pub const NO_OPEN_JOB: &str = "No job is in progress that it could go into.";
pub const MAKE_A_JOB: &str = "Make a job of it";
pub const MAKE_A_JOB_LEAD: &str = "Say of which set it is, and it is a job like any other.";
pub const ONE_MORE: &str = "Take one more";
pub const THROW_AWAY: &str = "Discard";
pub const THROW_AWAY_NOW: &str = "Discard permanently";
pub const KEEP_IT: &str = "Leave it here";
pub const THROWN_AWAY: &str = "The reading was discarded.";
/// What the job's log says of it.
pub const TAKEN_BEFORE: &str = "Read before it belonged to this job";

/// It went into a job.
pub fn kept_into(title: &str) -> String {
    format!("The reading now belongs to {title}.")
}

/// What was read, in a line.
pub fn line(what: &str, value: &str) -> String {
    format!("{what}: {value}")
}
