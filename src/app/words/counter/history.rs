//! All visits of a set.

pub const JOBS: &str = "Jobs";

/// The set by its serial number.
pub fn visits_of(serial: &str) -> String {
    format!("Service history, {serial}")
}

/// The way to the report of a visit.
pub fn report_of(number: &str) -> String {
    format!("Report of job {number}")
}
