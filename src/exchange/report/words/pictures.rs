//! Time and visits, and pictures in words.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::limits::minutes;

/// How the time was counted.
pub const TIME_KEY: &str = "Counted from entry to entry in the log; pauses, and gaps of more than half an hour, are left out.";
/// The work: how long it took, how that is known, and what an hour costs.
pub fn labour(time: i64, is_typed: bool, rate: &str) -> String {
    let how = match is_typed {
        true => "as stated",
        false => "by the log",
    };
    format!("Work: {} {how}, at {rate} an hour", minutes(time))
}
/// Entries that belong to no step.
pub const NO_SECTION: &str = "Intake and finish";
/// A part without a price.
pub const NO_PRICE: &str = "no price given";

/// The way a visit ended.
pub fn visit_end(signed: Option<&str>, owed: usize) -> String {
    match (signed, owed) {
        (Some(when), 0) => format!("signed off, {when}"),
        (Some(when), 1) => format!("signed off, {when}, but one step is outstanding"),
        (Some(when), n) => format!("signed off, {when}, but {n} steps are outstanding"),
        (None, 1) => "in progress, one step open".to_owned(),
        (None, n) => format!("in progress, {n} steps open"),
    }
}

/// The visit that this sheet is of.
pub const THIS_VISIT: &str = "this visit";

/// How the course of readings is to be read.
pub const HISTORY_KEY: &str = "Readings that more than one visit found or left, as shares of their tolerance, or of the limit where there is one, all on one scale of time. Ring: as found; dot: as left; dashed: the target; shaded: inside.";

/// Nothing to compare with.
pub const NO_VISITS: &str = "No job on this device is of this set.";

// Pictures in words

/// A scale in words.
pub fn scale(target: Option<&str>, latest: Option<(&str, &str)>) -> String {
    let band = target.map_or("No target".to_owned(), |t| format!("Target {t}"));
    match latest {
        Some((value, "")) => format!("{band}; latest reading {value}"),
        Some((value, place)) => format!("{band}; latest reading {value}, {place}"),
        None => band,
    }
}

/// Labels of the picture of a tool's pull.
pub const PULL_IN: &str = "tool in";
/// See [`PULL_IN`].
pub const PULL_OUT: &str = "expected, tool out";
/// See [`PULL_IN`].
pub fn pull_aim(aim: &str) -> String {
    format!("stop at {aim}, tool in")
}

/// The pull of a tool in words.
pub fn tool_pull(aim: &str, tool_in: Option<&str>, out: &str, half: Option<&str>) -> String {
    let now = tool_in.map_or(String::new(), |it| format!(". Now {it} with the tool in"));
    let half = half.map_or(", its scatter not known".to_owned(), |it| {
        format!(", ±\u{a0}{it} (95\u{a0}%)")
    });
    format!("Stop at {aim} with the tool in{now}; expected with the tool out: {out}{half}")
}

/// The overview in words.
pub fn overview(readings: usize, found_outside: usize, left_outside: usize) -> String {
    format!(
        "{readings} readings as shares of their tolerance: {found_outside} outside as found, {left_outside} outside as left"
    )
}

/// A course in words: how many visits left it outside, and how many found it so and left it open.
pub fn course(title: &str, visits: usize, left: usize, only_found: usize) -> String {
    let found = match only_found {
        0 => String::new(),
        n => format!(", {n} only found outside"),
    };
    format!(
        "{}: {visits} visits, {left} left outside{found}",
        typed(title)
    )
}

/// A drift plot in words.
pub fn drift_plot(readings: usize, minutes: &str) -> String {
    format!("{readings} readings over {minutes} minutes with a line through them")
}

/// How a drift plot is to be read.
pub const DRIFT_KEY: &str = "Line: the drift of the latest readings. Dashed: as far as the limit of drift lets it run. Thick: limits of the reading, where they are near.";

/// The last figure of an axis of time.
pub fn at_minutes(figure: &str) -> String {
    format!("{figure}\u{a0}min")
}

/// Labels of the overview.
pub const LOW_LIMIT: &str = "lower limit";
/// See [`LOW_LIMIT`].
pub const HIGH_LIMIT: &str = "upper limit";
/// See [`LOW_LIMIT`].
pub const ON_TARGET: &str = "target";
