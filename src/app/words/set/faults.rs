//! What was wrong with the set.

use crate::exchange::report::words as sheet;
use crate::job::{FaultOf, FaultRecord, Outcome};

pub const NONE_YET: &str = "No fault is in the log yet.";
pub const REPORTED: &str = "Reported:";
pub const ANOTHER: &str = "Record another fault";
pub const RECORD: &str = "Record a fault";
pub const CHANGE: &str = "Edit";
pub const WHICH: &str = "Which fault";
pub const SEEN: &str = "Symptom as seen on the bench";
pub const PLACE: &str = "Stage or part";
pub const CAUSE: &str = "Cause";
pub const CURE: &str = "Cure";
pub const OUTCOME: &str = "How far it came";
pub const SHOWN_BY: &str = "Readings that show it";
pub const PROVED_BY: &str = "Readings after the cure";
pub const KEEP: &str = "Save the record";
pub const LEAVE: &str = "Discard changes";

/// Which fault it is.
pub const fn of(of: FaultOf) -> &'static str {
    match of {
        FaultOf::Report => "The reported one",
        FaultOf::Bench => "Another one",
    }
}

/// How far it came.
pub const fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Open => "Still looked for",
        Outcome::NotSeen => "Does not show",
        Outcome::NotFound => "Cause not found",
        Outcome::Found => "Found, not cured",
        Outcome::Cured => "Cured",
    }
}

/// A record in a line.
pub fn line(of: FaultOf, outcome: Outcome) -> String {
    let which = match of {
        FaultOf::Report => "Reported fault",
        FaultOf::Bench => "Fault found at the bench",
    };
    format!("{which}, {}", sheet::outcome(outcome))
}

/// How many faults of other sets of this make and model are in the log.
pub fn met(count: usize) -> String {
    match count {
        1 => "Such sets before: 1 fault".to_owned(),
        count => format!("Such sets before: {count} faults"),
    }
}

/// A record of another set, as far as it says something.
pub fn in_short(record: &FaultRecord) -> String {
    let said = record.texts().into_iter().map(str::trim);
    let said: Vec<&str> = said.filter(|text| !text.is_empty()).collect();
    format!("{}: {}", said.join(", "), sheet::outcome(record.outcome))
}

/// A record that is not at its end.
pub fn open(record: &str, seen: &str) -> String {
    match seen.trim() {
        "" => record.to_owned(),
        seen => format!("{record}: {seen}"),
    }
}

/// Takes a reading off a list.
pub fn without(reading: &str) -> String {
    format!("Take off {reading}")
}
