//! Parts and changes.

pub const KEEP_CHANGE: &str = "Keep the change";
pub const KEPT_CHECK: &str = "Kept with it: the substitution check";
pub const WITHOUT_CHECK: &str = "Leave the check out";
pub const CAME_OUT: &str = "What came out";
pub const WENT_IN: &str = "What went in";
pub const OWNER_AGREED: &str = "The owner agreed to it";
pub const REVERSIBLE: &str = "It can be taken back";
pub const TOUCHES_APPROVAL: &str = "It can touch the set’s type approval";
pub const LOCAL_RULES: &str = "Whether the set may still be used after such a change, and where, is for your local rules to say. Ask before it goes on the air.";
pub const NONE: &str = "Nothing was changed so far.";
pub const FITTED: &str = "Fitted";

/// What is to be known of a kept change.
pub fn facts(agreed: bool, reversible: bool, touches_approval: bool) -> String {
    let agreed = match agreed {
        true => "agreed with the owner",
        false => "not agreed with the owner",
    };
    let reversible = match reversible {
        true => "can be taken back",
        false => "can’t be taken back",
    };
    let approval = match touches_approval {
        true => "can touch the type approval: local rules decide",
        false => "does not touch the type approval",
    };
    [agreed, reversible, approval].join("; ")
}

/// Follows the moment of a change.
pub fn in_step(number: usize) -> String {
    format!(", step {number}")
}
