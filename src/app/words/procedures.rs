//! Procedures: all of them, and one.

pub const TITLE: &str = "Procedures";
pub const ALL_PROCEDURES: &str = "All procedures";
pub const NOT_HERE: &str = "The procedure of this address is not here.";
pub const TO_THE_PROCEDURES: &str = "To the procedures";
pub const READ_AND_PRINT: &str = "Read or print it";
pub const SAVE: &str = "Save as a file";

/// A procedure in a list.
pub fn revision_and_steps(revision: u32, steps: usize) -> String {
    format!("Revision {revision}, {steps} steps")
}

/// A procedure in a list, beside another of the same name and revision.
pub fn one_of_several(mark: &str) -> String {
    format!(
        "Another one here has this name and revision, and differs: this one’s digest begins with {mark}"
    )
}

/// A procedure on its own.
pub fn revision(revision: u32) -> String {
    format!("Revision {revision}")
}
