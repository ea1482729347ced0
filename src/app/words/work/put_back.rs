//! The put-back list.

pub const TITLE: &str = "What is off";

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

pub const WHY_IT_STAYS: &str = "Why it stays off";
pub const WHY_IT_STAYS_HINT: &str = "The reason stands with the finished job.";
pub const STAYS: &str = "It stays off";
pub const STAYS_ASKS: &str = "It stays off…";
pub const IS_BACK: &str = "It is back";

pub const PLACE: &str = "Place";
pub const SITS: &str = "Sits";

pub const CAME_OFF: &str = "Something came off";
pub const CAME_OFF_HINT: &str = "One tap lists it. What is typed below for its place goes with it.";
pub const WHAT: &str = "Something else";
pub const WHAT_HINT: &str = "what it is";
pub const WHERE: &str = "Where it belongs";
pub const WHICH_WAY: &str = "Which way round";
pub const ADD: &str = "Put it on the list";

pub const DEALT_WITH: &str = "Put back or left off";
pub const BACK: &str = "back";
pub const COMES_OFF: &str = "Comes off here";
pub const GOES_BACK: &str = "Goes back here";

pub const STILL_OFF: &str = "Still off";
pub const STILL_OFF_LEAD: &str =
    "Each of these must be back, or have a reason why it stays off, before the job is signed off.";
pub const TO_THE_LIST: &str = "To the put-back list";

/// How much is off.
pub fn lead(count: usize) -> String {
    match count {
        0 => "Nothing is off.".to_owned(),
        1 => "One thing is off. It goes back before the job is signed off.".to_owned(),
        n => format!("{n} things are off. The latest is first, which is the way they go back."),
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
    format!("Off: {count}")
}

/// The same with where the link leads.
pub fn count_spoken(count: usize) -> String {
    format!("Off: {count}, the put-back list")
}
