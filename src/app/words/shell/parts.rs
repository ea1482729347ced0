//! The parts that screens share: questions, keys, marks, what a reading proves.

/// Leaves a question without an answer.
pub const NOT_NOW: &str = "Cancel";

// Number keys

pub const DELETE_LAST: &str = "Delete the last character";
pub const CHANGE_SIGN: &str = "Change the sign";
pub const ENTER: &str = "Enter";
pub const MORE_UNITS: &str = "More units";
pub const CLEAR_NUMBER: &str = "Clear the number";
pub const UNIT_OF_NUMBER: &str = "Unit of the number";

/// A unit as it is printed and as it is said.
pub fn unit(symbol: &str, spoken: &str) -> String {
    format!("{symbol}, {spoken}")
}

// The state of a step

pub const OPEN: &str = "open";
pub const NOT_PROVED: &str = "conformity not shown";
pub const NOT_SETTLED: &str = "not settled";
pub const WAIT_AGAIN: &str = "wait again";
pub const LOOK_AGAIN: &str = "recheck";
pub const CONFIRM_AGAIN: &str = "re-confirm";
pub const DONE: &str = "done";
pub const WAIVED: &str = "waived";

/// The step waits for a stop.
pub fn opens_after(stop: usize) -> String {
    format!("locked by {stop}")
}

// What a reading proves

pub const WHERE_FROM: &str = "Uncertainty budget";
pub const FROM: &str = "Source";
pub const STATED: &str = "±\u{a0}limit";
pub const DIVISOR: &str = "Divisor";
/// The symbol of a standard uncertainty.
pub const STANDARD: &str = "u";
pub const SHARE: &str = "Contribution";

/// Several readings in one.
pub fn mean(count: usize, mean: &str, deviation: &str) -> String {
    format!("Mean of {count} readings {mean}, standard deviation {deviation}.")
}

/// A repeat that lies outside decides over the mean.
pub fn one_decides(reading: &str, margin: &str) -> String {
    format!("One of them, {reading}, decides: {margin}.")
}

/// Follows the statement: the expanded uncertainty and its coverage factor.
pub fn expanded(expanded: &str, coverage: &str) -> String {
    format!(". U\u{a0}=\u{a0}{expanded} at 95\u{a0}%, k\u{a0}=\u{a0}{coverage}.")
}

/// Follows the uncertainty: how likely the reading lies inside, and what that rests on.
pub fn likely(probability: &str) -> String {
    format!(
        " Conformance probability {probability}, if nothing was known beforehand and errors \
         lie anywhere within the accuracy alike."
    )
}

/// A probability that is not rounded up to certainty.
pub fn over(percent: &str) -> String {
    format!("over {percent}")
}

/// The line map of a job, for who does not see it.
pub fn line_map(settled: usize, steps: usize) -> String {
    format!("Steps done: {settled} of {steps}")
}
