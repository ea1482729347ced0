//! Waits, such as for a warm-up.

pub const WAIT: &str = "Wait";
pub const START: &str = "Start timer";
pub const START_AGAIN: &str = "Restart timer";
pub const OVER: &str = "Time’s up.";
pub const NOT_STARTED: &str = "Timer not started. The step can be done all the same.";
pub const EARLY: &str = "Timer still running. Done now is early; that is your decision.";

/// How long a step asks to wait.
pub fn asked(minutes: u32) -> String {
    match minutes {
        1 => "Wait 1 min; carry on elsewhere.".to_owned(),
        n => format!("Wait {n} min; carry on elsewhere."),
    }
}

/// How much of a wait is left.
pub fn left(time: &str) -> String {
    format!("{time} left")
}

/// The step that waits.
pub fn step(number: usize, title: &str) -> String {
    format!("Step {number}, {title}")
}
