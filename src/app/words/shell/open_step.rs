//! The way back to the step last looked at.

/// The way back.
pub fn back_to_step(number: usize) -> String {
    format!("Back to step {number}")
}
