//! Waits, such as for a warm-up.

pub const WAIT: &str = "Wait";
pub const START: &str = "Start the wait";
pub const START_AGAIN: &str = "Start it again";
pub const OVER: &str = "The wait is over.";
pub const NOT_STARTED: &str =
    "The wait has not been started. The step can be settled all the same.";
pub const EARLY: &str =
    "The wait is not over. To settle the step now is early, but it is your decision.";

/// How long a step asks to wait.
pub fn asked(minutes: u32) -> String {
    match minutes {
        1 => "This step asks for a minute’s wait. Other steps can be done meanwhile.".to_owned(),
        n => format!("This step asks for {n} minutes’ wait. Other steps can be done meanwhile."),
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
