//! A step that no procedure foresaw.

use crate::job::{OwnFault, OwnField, OwnKind};

pub const LEAD: &str =
    "It stands in the log, on the report and in the set's history like any other.";
pub const KIND: &str = "What is to be done";
pub const TITLE: &str = "What";
pub const TITLE_HINT: &str = "Such as: Supply rail at the driver";
pub const AT: &str = "Where";
pub const AT_HINT: &str = "A test point or a place on the board";
/// The hint of what can't be left blank.
pub fn needed(hint: &str) -> String {
    format!("Needed. {hint}")
}
pub const WITH: &str = "Instrument";
pub const WITH_HINT: &str = "The instrument's role; blank for the usual one";
pub const UNIT: &str = "Unit";
pub const LIMIT: &str = "Limit";
pub const LIMIT_HINT: &str =
    "Such as: 8.5 to 9.5, 13.8 ±\u{a0}0.2, at least 60. Blank where there is none";
pub const STATE: &str = "The set as it stands";
pub const MODE: &str = "Mode";
pub const CHANNEL: &str = "Channel or frequency";
pub const SIGNAL: &str = "State";
pub const NOT_STATED: &str = "Not stated";
pub const SUPPLY: &str = "Supply";
pub const NOTE: &str = "How";
pub const ADD: &str = "Add it and go there";

pub const CHANGE: &str = "Edit this step";
pub const CHANGE_LEAD: &str = "Its readings stay as they were entered and are judged by what stands here. Instrument and unit stay too: for others, add another step.";

/// From where it is filled in.
pub fn as_at(number: usize) -> String {
    format!("As at step {number}: change what is different.")
}

/// What the limit is understood as.
pub fn understood(limit: &str) -> String {
    format!("Inside is: {limit}")
}

/// A kind of step.
pub const fn kind(kind: OwnKind) -> &'static str {
    match kind {
        OwnKind::Read => "Read a value",
        OwnKind::Inspect => "Look at something",
        OwnKind::Tick => "Do something",
    }
}

/// What a field is called.
const fn field(field: OwnField) -> &'static str {
    match field {
        OwnField::Title => TITLE,
        OwnField::At => AT,
        OwnField::With => WITH,
        OwnField::Scale => UNIT,
        OwnField::Limit => LIMIT,
    }
}

/// Why it can't be added yet.
pub fn fault(fault: OwnFault) -> String {
    match fault {
        OwnFault::Blank(OwnField::Title) => "Say what it is".to_owned(),
        OwnFault::Blank(OwnField::At) => "Say where it is read".to_owned(),
        OwnFault::Blank(OwnField::Scale) => "Choose the unit".to_owned(),
        OwnFault::Blank(it) => format!("{} is blank", field(it)),
        OwnFault::Name(it, why) => format!("{}: {why}", field(it)),
        OwnFault::Comma => "The decimal sign is a point here, and a comma may mean two things: type 13.8 or 13\u{a0}800, without one".to_owned(),
        OwnFault::Limit(scale) => format!(
            "That is no limit in {}: type it like 8.5 to 9.5, or leave it blank",
            scale.symbol()
        ),
    }
}
