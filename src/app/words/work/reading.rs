//! The reading of a step: target, verdict, entry, and what is made of the readings.

use crate::app::words::spelling::spelt;
use crate::job::guidance::advice::KnownBy;
use crate::quantity::ended;
use std::cmp::Ordering;

pub const TARGET: &str = "Target";
pub const SAVING: &str = "; saving…";
pub const NOT_SURE: &str = "; not yet surely on the disk";
pub const PEAK: &str = "Peak";
pub const DIP: &str = "Null (minimum)";
pub const NOT_ENTERED: &str = " (not entered)";

/// The target waits for another step, to which its name leads: what stands before that, and after.
pub const WAITS_FOR: (&str, &str) = ("Take ", " first.");

/// The step that the target waits for was waived.
pub fn not_known(step: &str) -> String {
    format!("Not known: step {step} was waived.")
}

/// The target can't be worked out for another reason.
pub fn no_target(reason: impl std::fmt::Display) -> String {
    ended(format!("It can't be worked out: {reason}"))
}

/// A reading that has no limits is only read.
pub const READ: &str = "Recorded";

/// Follows the margin: how far a reading is off its target.
pub fn then(off: String) -> String {
    format!(", {off}")
}

/// Which way a reading must go and, where it is known, which way its adjuster turns.
pub fn way_to_go(up: bool, adjuster: &str, clockwise: Option<bool>) -> String {
    let way = match up {
        true => "The reading must rise",
        false => "The reading must fall",
    };
    match clockwise {
        None => format!("{way}."),
        Some(true) => format!("{way}: turn {adjuster} clockwise."),
        Some(false) => format!("{way}: turn {adjuster} anticlockwise."),
    }
}

pub const THE_BEST: &str = "Best so far.";

/// A peak or dip goes on.
pub fn better(distance: &str) -> String {
    format!("Better by {distance}.")
}

/// A peak or dip was passed.
pub fn off_the_best(distance: &str, best: &str) -> String {
    format!("Best {best}, now {distance} off.")
}

// The entry

pub const WHEN: &str = "When the reading is taken";
pub const AGAIN: &str = "Repeat";
pub const WHERE_THE_TOOL_IS: &str = "Where the tool is";
pub const TOOL_IN: &str = "Tool in";
pub const TOOL_OUT: &str = "Tool out";

/// The field for the reading.
pub fn field(unit: &str, target: Option<&str>) -> String {
    match target {
        Some(target) => format!("Reading, {unit}, target {target}"),
        None => format!("Reading, {unit}"),
    }
}

/// A reading that is to be as large or as small as it gets, within limits if there are any.
pub fn extreme(aim: &str, limits: Option<&str>) -> String {
    let aim = aim.to_lowercase();
    match limits {
        Some(limits) => format!("{aim}, {limits}"),
        None => aim,
    }
}

/// A reading as it is said aloud: “Try 9.0015 megahertz”.
pub fn spoken_reading(phase: &str, number: &str, unit: &str) -> String {
    format!("{phase} {number} {unit}")
}

/// A reading with its verdict and the way it must go, said aloud once it is entered.
pub fn spoken(reading: &str, verdict: Option<&str>, way: Option<&str>) -> String {
    match (verdict, way) {
        (None, _) => format!("{reading}."),
        (Some(verdict), None) => format!("{reading}: {verdict}."),
        (Some(verdict), Some(way)) => format!("{reading}: {verdict}. {way}"),
    }
}

/// Makes the last reading the one that is left.
pub fn leave_at(reading: &str) -> String {
    format!("Record as left: {reading}")
}

// The readings so far

pub const SAVED: &str = "Readings, newest first";
pub const STRUCK_OUT: &str = "Void";
pub const STRIKE: &str = "Void";
pub const STANDS_OUT: &str = "; possible outlier";
/// Follows the phase of a reading.
pub const AND_AGAIN: &str = ", repeat";
/// Follows the phase of a reading.
pub const AND_TOOL_IN: &str = ", tool in";
/// Follows the phase of a reading.
pub const AND_TOOL_OUT: &str = ", tool out";

/// The button that strikes a reading out.
pub fn strike_out(reading: &str) -> String {
    format!("Void {reading}")
}

// Where to aim

/// How an aim was found: from tries at this adjuster, or from its like.
pub fn known_by(known_by: KnownBy) -> String {
    match known_by {
        KnownBy::Own(1) => "1 try".to_owned(),
        KnownBy::Own(n) => format!("{n} tries"),
        KnownBy::Similar => "estimate from similar adjusters".to_owned(),
        KnownBy::SimilarElsewhere => {
            "estimate from similar adjusters at another frequency".to_owned()
        }
    }
}

/// Where to stop with the tool in; a space follows, for more is said.
pub fn stop_at(reading: &str, is_corrected: bool) -> String {
    let as_shown = match is_corrected {
        true => ", corrected",
        false => " on the instrument",
    };
    format!("Aim {reading}{as_shown}, tool in. ")
}

/// What the tool does when it leaves.
pub fn pull(pull: &str, from: &str) -> String {
    format!("Tool pull {pull} ({from}).")
}

/// How close to the target it comes.
pub fn settles_within(half_width: &str) -> String {
    format!(" Expect ±\u{a0}{half_width} (95\u{a0}%).")
}

/// The same where that can't be said.
pub const SPREAD_NOT_KNOWN: &str = " Its scatter is not known.";

/// How likely it comes to lie inside.
pub fn chance(percent: &str) -> String {
    format!(" Inside: about {percent}\u{a0}%.")
}

/// This side of a shared null is the worse one.
pub fn give_here() -> String {
    spelt("This side is worse: favour it.")
}
pub const LOOK_AT_BOTH: &str =
    "An adjuster was turned since then: look at both sides before giving to either.";
pub const BEST_COMPROMISE: &str = "Both sides are alike: this is the best compromise.";
pub const WORSE_INSIDE: &str = "The worse of the two is inside.";
pub const WORSE_OUTSIDE: &str = "The worse of the two is outside.";

/// The side of another step of a shared null is the worse one.
pub fn give_there(step: usize) -> String {
    spelt(&format!("Step {step} is worse: favour it."))
}

/// Both readings of a shared null.
pub fn both_sides(here: &str, there: &str, step: usize) -> String {
    format!("{here} here, {there} in step {step}")
}

/// How a shared null stands, or stood when its sides were last read without a turn between them.
pub fn latest_and_best(is_current: bool, latest: &str, best: &str) -> String {
    match is_current {
        true => format!(" Now {latest}; best so far {best}."),
        false => format!(" Last read together: {latest}; best so far {best}."),
    }
}

/// Where to leave each in the next round, and from what that is known: from so many earlier jobs,
/// or from this set.
pub fn leave_at_next(jobs: Option<usize>) -> String {
    match jobs {
        Some(count) => format!("Leave at, next, from {count} earlier jobs"),
        None => "Leave at, next, from this set".to_owned(),
    }
}

/// What the ± of the aims is of.
pub fn what_aims_hold(jobs: Option<usize>) -> &'static str {
    match jobs {
        Some(_) => "±: 95 of 100 sets that differ as those of the earlier jobs do",
        None => "±: 95 of 100 rounds",
    }
}

/// A round of a chase.
pub fn round(number: usize) -> String {
    format!("Round {number}")
}

/// The title of a chase.
pub fn chase(title: &str) -> String {
    format!("{title}: interacting")
}

/// Where to leave a reading, and within what of its target it lies after the round.
pub fn aim(leave_at: &str, half_width: Option<&str>) -> String {
    match half_width {
        Some(half) => format!("{leave_at}, to end within ±\u{a0}{half} of its target"),
        None => leave_at.to_owned(),
    }
}

// An instrument whose accuracy isn't known

/// The way to the kit, where what stands in the path is described.
pub const STATE_LOSS: &str = "Describe it under Instruments";
pub const STATE_ACCURACY: &str = "State its accuracy";
pub const ANOTHER_INSTRUMENT: &str = "Another instrument";

/// The instrument of a reading that was taken with another than the one of now.
pub fn read_with(name: Option<&str>) -> String {
    match name {
        Some(name) => format!("read with {name}"),
        None => "instrument not named".to_owned(),
    }
}
/// The instruments of the kit for a role, to choose from.
pub fn instrument_for(role: &str) -> String {
    format!("Which {role} was it? It counts for what was read with it before too.")
}

/// The same where one is named: the next readings can be taken with another.
pub fn read_again_with(role: &str) -> String {
    format!("Read it again with another {role}; what was read stays with its own.")
}

/// What the last visit left at a step.
pub fn last_visit(day: &str, left: &str) -> String {
    format!("Last visit, {day}: left at {left}.")
}

/// What is found now, beside what the last visit left.
pub fn found_now(found: &str, is: Ordering, apart: &str) -> String {
    match is {
        Ordering::Equal => format!(" Found now: {found}, the same."),
        Ordering::Greater => format!(" Found now: {found}, {apart} above that."),
        Ordering::Less => format!(" Found now: {found}, {apart} below that."),
    }
}

// A second route

pub const SECOND_ROUTE: &str = "Cross-check";
pub const COMPARE: &str = "Compare";
pub const AGREE: &str = "Both agree.";
pub const DISAGREE: &str = "They disagree.";
pub const PLAUSIBLE: &str = "Plausible.";
pub const NOT_PLAUSIBLE: &str = "Implausible: investigate.";
pub const COMPARE_YOURSELF: &str = "Compare them yourself.";
pub const SAME_INSTRUMENT: &str =
    "Both were read with one instrument: what it is off by would not show.";
pub const UNCERTAINTY_UNKNOWN: &str = "The uncertainty of at least one instrument is not known.";

/// The field for the reading of the second route.
pub fn by_another_route(at: &str, with: &str) -> String {
    format!("{at} with the {with}")
}

/// The normalised error; `within` holds where it is at most one.
pub fn normalised_error(error: &str, within: bool) -> String {
    match within {
        true => format!("Eₙ = {error}, at most 1 (ISO/IEC 17043)."),
        false => format!("Eₙ = {error}, beyond 1 (ISO/IEC 17043)."),
    }
}

/// What the second route gives and how far the two are apart.
pub fn by_this_route(figure: &str, difference: Option<&str>, rest: &str) -> String {
    match difference {
        Some(difference) => format!(" Cross-check {figure}, difference {difference}. {rest}"),
        None => format!(" Cross-check {figure}. {rest}"),
    }
}

// Drift

pub const SETTLED: &str = "Settled.";
pub const UNSURE: &str = "Not sure yet: read it again, later.";
pub const DRIFTING: &str = "Still drifting.";

/// What to do to see whether a reading has settled.
pub fn how_to_settle(limit: &str) -> String {
    format!("Stable at ≤\u{a0}{limit}/min. Read, then “Repeat” every minute or so.")
}

/// It can't be said yet, and why.
pub fn settled_or_not(limit: &str, reason: impl std::fmt::Display) -> String {
    format!("Stable at ≤\u{a0}{limit}/min? {reason}")
}

/// How fast a reading drifts.
pub fn slope(slope: &str, expanded: &str, limit: &str) -> String {
    format!(" {slope}/min, U\u{a0}=\u{a0}{expanded}/min; limit {limit}/min.")
}

// Slips

pub const WRONG_SIGN: &str = "Wrong sign. Leads reversed?";
pub const WRONG_PREFIX: &str = "Right digits, other prefix. Another unit meant?";
pub const WRONG_DECADE: &str = "Right digits, point elsewhere. Did it slip?";
pub const AS_TYPED: &str = "Keep as typed";
pub const SWAP: &str = "Swap the two";
pub const STRIKE_IT: &str = "Void reading";
/// Reasons that the log keeps with a reading that was struck out as a slip.
pub const SLIP_OF_SIGN: &str = "slip: leads reversed";
/// See [`SLIP_OF_SIGN`].
pub const SLIP_OF_PREFIX: &str = "slip: another unit was meant";
/// See [`SLIP_OF_SIGN`].
pub const SLIP_SWAPPED: &str = "slip: swapped with another step";
/// See [`SLIP_OF_SIGN`].
pub const SLIP_NEIGHBOUR: &str = "slip: meant for another step";
/// See [`SLIP_OF_SIGN`].
pub const SLIP_OF_DECADE: &str = "slip: the point was elsewhere";

/// Two readings fit each other's steps.
pub fn were_swapped(step: usize) -> String {
    format!("This and the reading of step {step} fit each other’s places: were the two swapped?")
}

/// A reading fits another step.
pub fn fits_step(step: usize) -> String {
    format!("This fits step {step}: was it meant for there?")
}

/// Puts a reading where it fits.
pub fn move_to(step: usize) -> String {
    format!("Move it to step {step}")
}

/// Puts a reading right.
pub fn make_it(reading: &str) -> String {
    format!("Change to {reading}")
}

/// All readings of a step, of which the last few are shown.
pub fn show_all(count: usize) -> String {
    format!("Show all {count} readings")
}
