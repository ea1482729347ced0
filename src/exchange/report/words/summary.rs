//! The summary, a sentence each.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::phrases::listed;
use crate::exchange::report::words::phrases::sentence;
use crate::job::Finding;
use crate::quantity::ended;

/// The owner's words.
pub fn came_with(fault: &str) -> String {
    format!("The set came in with this fault: {}", sentence(fault))
}

/// What the eye found.
pub fn found_by_eye(things: &[String]) -> String {
    ended(format!("Visual inspection: {}", listed(things)))
}

/// An inspection that found something.
pub fn finding(title: &str, finding: Finding) -> String {
    format!("{} ({})", typed(title), finding.name())
}

/// What was outside when it came.
pub fn found_outside(outside: usize, of: usize, worst: &[String]) -> String {
    let worst = listed(worst);
    match (outside, of) {
        (0, 1) => "The one reading that was judged as found was inside its limits.".to_owned(),
        (0, _) => format!("All {of} readings that were judged as found were inside their limits."),
        (1, 1) => {
            format!("The one reading that was judged as found was outside its limits: {worst}.")
        }
        (1, _) => format!("One of {of} readings was outside its limits as found: {worst}."),
        (n, _) => format!("{n} of {of} readings were outside their limits as found: {worst}."),
    }
}

/// A reading with how far it was off.
pub fn off_by(title: &str, off: &str) -> String {
    format!("{} {off}", typed(title))
}

/// What was changed.
pub fn changed(things: &[String]) -> String {
    ended(format!("Changed: {}", listed(things)))
}

/// What went in for what.
pub fn swapped(out: &str, fitted: &str) -> String {
    match out.trim() {
        "" => typed(fitted),
        out => format!("{} for {}", typed(fitted), typed(out)),
    }
}

/// What was set.
pub fn set(count: usize, things: &[String]) -> String {
    match count {
        1 => ended(format!("One adjustment was made: {}", listed(things))),
        n => ended(format!("{n} adjustments were made: {}", listed(things))),
    }
}

/// A reading from found to left.
pub fn moved(title: &str, found: &str, left: &str) -> String {
    format!("{} from {found} to {left}", typed(title))
}

/// How it was left, where all that was left is inside; whether nothing is outside and open beside it.
pub fn left_inside(count: usize, is_all: bool) -> String {
    match (count, is_all) {
        (1, true) => "The one as-left reading is within limits.".to_owned(),
        (1, false) => "1 reading was left, within limits.".to_owned(),
        (n, true) => format!("All {n} as-left readings are within limits."),
        (n, false) => format!("{n} readings were left, within limits."),
    }
}

/// What lies outside and waits for another reading.
pub fn outside_and_open(things: &[String]) -> String {
    ended(format!("Outside, with the step open: {}", listed(things)))
}

/// What is left outside.
pub fn left_outside(title: &str, off: &str, why: Option<&str>) -> String {
    match why {
        Some(why) => format!(
            "Left outside: {} {off}, because: {}",
            typed(title),
            sentence(why)
        ),
        None => format!("Outside: {} {off}; no reason is given.", typed(title)),
    }
}

/// What could not be proved.
pub fn left_unproved(titles: &[String]) -> String {
    ended(format!(
        "Inside, conformity not shown under the rule of this job: {}",
        listed(titles)
    ))
}

/// What was waived.
pub fn waived(titles: &[String]) -> String {
    ended(format!("Waived, with a reason below: {}", listed(titles)))
}

/// What is not done.
pub fn owed(count: usize) -> String {
    match count {
        1 => "One step is outstanding.".to_owned(),
        n => format!("{n} steps are outstanding."),
    }
}

/// What stays off.
pub fn stays_off(things: &[String]) -> String {
    ended(format!("Stays off on purpose: {}", listed(things)))
}

/// What is still off.
pub fn still_off(things: &[String]) -> String {
    ended(format!("Not refitted: {}", listed(things)))
}
