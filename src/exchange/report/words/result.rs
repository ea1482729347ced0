//! What came of the job, a line each.

use crate::exchange::report::words::phrases::listed;
use crate::quantity::ended;

/// How many readings are within their limits, of those that were judged as left.
pub fn result_of_readings(inside: usize, all: usize, not_shown: usize) -> String {
    let within = match (inside == all, all) {
        (true, 1) => "The one as-left reading is within limits".to_owned(),
        (true, _) => format!("All {all} as-left readings are within limits"),
        (false, _) => format!("{inside} of {all} as-left readings are within limits"),
    };
    match not_shown {
        0 => format!("{within}."),
        n => format!("{within}; conformity not shown for {n}."),
    }
}

/// How many readings are outside and wait for another.
pub fn result_of_outside(count: usize) -> String {
    match count {
        1 => "1 reading is outside its limits, and its step is open.".to_owned(),
        n => format!("{n} readings are outside their limits, and their steps are open."),
    }
}

/// How many parts went in.
pub fn result_of_parts(count: usize) -> String {
    match count {
        1 => "1 part or change.".to_owned(),
        n => format!("{n} parts or changes."),
    }
}

/// How many parts are not back.
pub fn result_of_off(count: usize) -> String {
    match count {
        1 => "1 part is not refitted.".to_owned(),
        n => format!("{n} parts are not refitted."),
    }
}

/// What was read with after its calibration had run out.
pub fn result_of_overdue(names: &[String]) -> String {
    ended(format!("Calibration overdue when used: {}", listed(names)))
}

/// Where a hand signs.
pub const SIGNATURE: &str = "Signature";
/// The day of it.
pub const DATE: &str = "Date";
/// What does not stand in the head: the rest of what is known of set and job.
pub const SET_AND_JOB: &str = "Set and job";
