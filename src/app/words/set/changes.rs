//! Parts and changes.

use crate::job::Reply;

pub const KEEP_CHANGE: &str = "Save the change";
pub const KEPT_CHECK: &str = "Attached: the substitution check";
pub const WITHOUT_CHECK: &str = "Detach check";
pub const CAME_OUT: &str = "Removed";
pub const WENT_IN: &str = "Fitted";
pub const OWNER_AGREED: &str = "Did the owner agree to it?";
pub const REVERSIBLE: &str = "Reversible?";
pub const TOUCHES_APPROVAL: &str = "May it affect type approval?";
pub const LOCAL_RULES: &str = "Whether the set may still be used after such a change, and where, is for your local rules to say. Ask before it goes on the air.";
pub const NONE: &str = "Nothing was changed so far.";
pub const FITTED: &str = "Fitted";

/// A reply to one of the questions.
pub const fn reply(reply: Reply) -> &'static str {
    match reply {
        Reply::Yes => "Yes",
        Reply::No => "No",
        Reply::NotAsked => "Not asked",
    }
}

/// Follows the moment of a change.
pub fn in_step(number: usize) -> String {
    format!(", step {number}")
}

pub const PUT_RIGHT: &str = "Edit this change";
pub const KEEP_CHANGED: &str = "Save";
