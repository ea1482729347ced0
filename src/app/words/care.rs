//! What else is to be known of a job on its last screen.

pub const BREAKS: &str = "Breaks";
pub const BREAKS_LEAD: &str =
    "After each of these, stops were confirmed again before what needs them.";
