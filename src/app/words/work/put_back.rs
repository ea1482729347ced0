//! The put-back list.

pub const TITLE: &str = "Removed parts";

/// What comes off at nearly every set. It goes into the log as it stands here.
pub const COMMON: [&str; 8] = [
    "Knob with its ring",
    "Cover screws",
    "Cover",
    "Link opened for the ammeter",
    "Speaker lead unplugged",
    "Microphone unplugged",
    "Dummy load on the aerial socket",
    "Probe left clipped on",
];

pub const WHY_IT_STAYS: &str = "Reason";
pub const WHY_IT_STAYS_HINT: &str = "The reason stands with the finished job.";
pub const STAYS: &str = "Leave off";
pub const STAYS_ASKS: &str = "Leave off…";
pub const IS_BACK: &str = "Refitted";

pub const PLACE: &str = "Location";
pub const SITS: &str = "Orientation";

pub const CAME_OFF: &str = "Add a removed part";
pub const CAME_OFF_HINT: &str = "Enter the location first, then tap.";
pub const WHAT: &str = "Something else";
pub const WHAT_HINT: &str = "what it is";
pub const WHERE: &str = "Where it belongs";
pub const WHICH_WAY: &str = "Which way round";
pub const ADD: &str = "Add to the list";

pub const DEALT_WITH: &str = "Reassembly";
pub const BACK: &str = "refitted";
pub const COMES_OFF: &str = "Remove";
pub const GOES_BACK: &str = "Refit";

pub const STILL_OFF: &str = "Not refitted";
pub const STILL_OFF_LEAD: &str = "Refit each, or give a reason, before sign-off.";
pub const TO_THE_LIST: &str = "To the removed parts";

/// How much is off.
pub fn lead(count: usize) -> String {
    match count {
        0 => "No part is off.".to_owned(),
        1 => "1 part off. Refit it before sign-off.".to_owned(),
        n => format!("{n} parts off. Last off, first on."),
    }
}

/// The button that takes a thing off the list, for who can't see what it stands beside.
pub fn this_is_back(what: &str) -> String {
    format!("{IS_BACK}: {what}")
}

/// The button that leaves a thing off, for who can't see what it stands beside.
pub fn this_stays(what: &str) -> String {
    format!("{STAYS}: {what}")
}

/// Since when a thing is off.
pub fn since_step(number: usize) -> String {
    format!("off since step {number}")
}

/// Why a thing stays off.
pub fn stays_off(reason: &str) -> String {
    format!("stays off: {reason}")
}

/// Follows the name of a thing.
pub fn and_place(place: &str) -> String {
    format!(", {place}")
}

/// How many things are off, on every screen of a job.
pub fn count(count: usize) -> String {
    format!("{count} off")
}

/// The same with where the link leads.
pub fn count_spoken(count: usize) -> String {
    format!("{count} off, removed parts")
}
