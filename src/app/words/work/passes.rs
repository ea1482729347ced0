//! Steps that are gone through until they hold.

/// Which pass it is.
pub fn pass(number: usize) -> String {
    format!("Pass {number}")
}

/// That a step is to be gone through again.
pub fn again_in(pass: usize) -> String {
    format!("Recheck: pass {pass}.")
}

/// The key that begins the next pass at its first step.
pub fn begin(pass: usize, step: usize) -> String {
    format!("Begin pass {pass} at step {step}")
}

/// Leads to what is open in the pass.
pub fn go_to(step: usize) -> String {
    format!("Go to step {step}")
}

/// A step of the range by number and title.
pub fn step(number: usize, title: &str) -> String {
    format!("{number} {title}")
}

pub const READINGS: &str = "Readings of each pass";
pub const NOT_READ: &str = "–";

/// Leads from a step to the one that repeats it.
pub fn repeated_by(step: usize) -> String {
    format!("Repeated by step {step}")
}

// Written.

pub const REPEAT: &str = "Repeat";
pub const FROM: &str = "From step";
pub const TO: &str = "To step";
pub const UNTIL: &str = "Until";
pub const CHANGE: &str = "Largest change";
pub const CHANGE_HINT: &str = "from one pass to the next, with its unit, such as 20\u{a0}mV";
pub const PASSES: &str = "Most passes";
pub const PASSES_HINT: &str = "the first one counts; empty for as many as it takes";
