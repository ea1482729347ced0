//! Publishing, and revisions.

use crate::app::words::author::draft::draft_title;

pub const PUBLISH_LEAD: &str =
    "A revision never changes once it is published. Jobs that run keep theirs.";
pub const CHANGES: &str = "What changes";
pub const FIRST: &str = "This is the first revision.";
pub const SAME: &str = "Nothing differs from the latest revision.";
pub const NO_DIFFERENCE: &str = "Nothing differs.";
pub const LATEST: &str = "The latest";
pub const COMPARE: &str = "Compare two";
pub const COMPARE_FROM: &str = "From";
pub const COMPARE_TO: &str = "To";
pub const DRAFT_IN_THE_WAY: &str =
    "A draft of this procedure is being written: publish or discard it first";

/// The heading before publishing.
pub fn publish_title(title: &str, revision: u32) -> String {
    format!("{}, revision {revision}", draft_title(title))
}

/// The key that publishes.
pub fn publish(revision: u32) -> String {
    format!("Publish revision {revision}")
}

/// What was done once it is on the disk.
pub fn published(revision: u32) -> String {
    format!("Revision {revision} is published.")
}

/// Why it can't be published.
pub fn not_yet(faults: usize) -> String {
    match faults {
        1 => "Fix 1 error to publish.".to_owned(),
        n => format!("Fix {n} errors to publish."),
    }
}

/// A later revision came while the draft was written.
pub fn meanwhile(from: u32, latest: u32) -> String {
    format!(
        "Revision {latest} came to this device while this draft went on from revision {from}. What {latest} changed is lost where the list below says so."
    )
}

/// The revisions of a procedure.
pub fn revisions_of(title: &str) -> String {
    format!("Revisions of {title}")
}

/// A revision by its number.
pub fn revision(number: &str) -> String {
    format!("Revision {number}")
}

/// Takes an earlier revision up again.
pub fn take_up(revision: u32) -> String {
    format!("Restore revision {revision}")
}

/// What is compared.
pub fn between(was: &str, is: &str) -> String {
    format!("From revision {was} to {is}")
}
