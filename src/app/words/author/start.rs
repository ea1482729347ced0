//! Beginning a procedure.

pub const WRITE: &str = "Write a procedure";
pub const WRITE_LEAD: &str = "It is kept on this device from the first letter on. Jobs can start with it once it is published.";
pub const FROM_NOTHING: &str = "Blank";
pub const FROM_ANOTHER: &str = "From an existing one";
pub const FROM_ANOTHER_HINT: &str =
    "A change becomes its next revision. A copy becomes a procedure of its own.";
pub const FROM_STARTER: &str = "From a template";
pub const FROM_STARTER_HINT: &str =
    "For sets in general. Board-specific values are blank and flagged as errors.";
pub const START_FROM: &str = "Use template";
pub const CHANGE: &str = "Edit";
pub const COPY: &str = "Duplicate";
pub const REVISIONS: &str = "Revisions";
pub const GOES_ON: &str = "A draft of this procedure was begun already; here it is.";

/// Starts from a starter.
pub fn start_from_named(name: &str) -> String {
    format!("{START_FROM}: {name}")
}

/// Changes a procedure.
pub fn change_named(title: &str) -> String {
    format!("Edit {title}")
}

/// Copies a procedure.
pub fn copy_named(title: &str) -> String {
    format!("Duplicate {title}")
}

/// The title of a copy.
pub fn copy_of(title: &str) -> String {
    format!("{title}, copy")
}
