//! What is said of readings.

use crate::exchange::report::text::typed;
use crate::exchange::report::words::phrases::listed;
use crate::exchange::report::words::phrases::sentence;
use crate::job::Phase;
use crate::job::guidance::advice::Opinion;
use crate::metrology::Place;
use crate::metrology::inference::agreement::Agreement;
use crate::procedure::Control;
use crate::quantity::ended;

/// Above the readings: the rule that judged them.
pub fn rule(rule: &str) -> String {
    format!(
        "{rule} “Margin” is how far inside the nearest limit a reading lies, or how far beyond it; below it stands its deviation from the target. U is the expanded uncertainty at 95\u{a0}%."
    )
}

/// How the scales are to be read, for who does not see it.
pub const SCALE_KEY: &str = "On each scale: shaded, within limits; dark ends, guard band; ring, as found; pointer, as left.";

/// How the overview is to be read.
pub const OVERVIEW_KEY: &str =
    "Each reading as a share of its own tolerance; with one limit, as a share of that.";
/// What a mark is.
pub const KEY_FOUND: &str = "as found";
/// See [`KEY_FOUND`].
pub const KEY_LEFT: &str = "as left";
/// See [`KEY_FOUND`].
pub const KEY_BEYOND: &str = "further out";
/// See [`KEY_FOUND`].
pub const KEY_LIMITS: &str = "within limits";
/// See [`KEY_FOUND`].
pub const KEY_GUARD: &str = "guard band";

/// A verdict where there is no statement of a rule.
pub const FOR_THE_RECORD: &str = "record only";
/// Inside, and nothing is known of the uncertainty.
pub const INSIDE_NO_U: &str = "inside; uncertainty not known";
/// Outside, and nothing is known of the uncertainty.
pub const OUTSIDE: &str = "outside";
/// Not read as left.
pub const NOT_LEFT: &str = "not taken";
/// Not read.
pub const NOT_READ: &str = "not read";
/// The mark of a waived step.
pub const WAIVED_MARK: &str = "waived";

/// Repeated readings.
pub fn mean_of(each: &[String]) -> String {
    format!("mean of {}: {}", each.len(), each.join(", "))
}

/// Repeated readings of which one decides, and not their mean.
pub fn mean_is(mean: &str, each: &[String]) -> String {
    format!("mean {mean} of {}: {}", each.len(), each.join(", "))
}

/// Further readings of a phase, which the result is not made of.
pub fn also_read(phase: Phase, others: &[String]) -> String {
    let how = match phase {
        Phase::AsFound => "also read as found",
        Phase::Try => "repeated while adjusting",
        Phase::AsLeft => "also read as left",
    };
    format!("{how}: {}", others.join(", "))
}

/// What is said of one of several readings.
pub fn of_reading(reading: &str, said: &str) -> String {
    format!("{reading}: {said}")
}

/// With what a step was read: its instrument, or the sound input of the device in its place.
pub fn read_by(role: &str, by_instrument: bool, by_sound: bool) -> String {
    match (by_instrument, by_sound) {
        (false, true) => SOUND_INPUT.to_owned(),
        (true, true) => format!("{}, {SOUND_INPUT}", typed(role)),
        (_, false) => typed(role),
    }
}

const SOUND_INPUT: &str = "sound input";

/// Where and with what.
pub fn taken_at(number: usize, at: &str, with: &str) -> String {
    format!("{number} · {} · {with}", typed(at))
}

/// Where and with what all cells of a table are read, through what and into what.
pub fn taken_with(at: &str, with: &str, through: &str, into: Option<&str>) -> String {
    let through = match through.is_empty() {
        true => String::new(),
        false => format!(", through {through}"),
    };
    let into = into.map_or(String::new(), |into| format!(", into {into}"));
    format!("{} · {with}{through}{into}", typed(at))
}

/// What the set was set to while a reading was taken.
pub fn conditions(lines: &[(String, String)]) -> String {
    let said = lines
        .iter()
        .map(|(name, to)| format!("{} {}", typed(name), typed(to)));
    said.collect::<Vec<_>>().join(", ")
}

/// Controls and where they stand, in one cell of the table of readings.
pub fn controls(all: &[Control]) -> String {
    let said = all
        .iter()
        .map(|control| format!("{}: {}", control.name, control.to));
    said.collect::<Vec<_>>().join("; ")
}

/// What the set was set to for the cells of a table; where one of them differs, it says so itself.
pub fn common_conditions(lines: &[(String, String)], is_everywhere: bool) -> String {
    match (lines.is_empty(), is_everywhere) {
        (false, false) => format!("{}, where a cell says nothing else", conditions(lines)),
        _ => conditions(lines),
    }
}

/// The numbers of the steps of a table.
pub fn steps(first: usize, last: usize) -> String {
    match first == last {
        true => format!("step {first}"),
        false => format!("steps {first} to {last}"),
    }
}

/// What holds for all readings of a table, behind its title.
pub fn table_of_readings(said: &[String]) -> String {
    format!(": {}", said.join("; "))
}

/// The conditions of all readings of a section.
pub fn all_with(conditions: &str) -> String {
    format!("all with {conditions}")
}

/// The conditions of all readings of a section but one.
pub fn all_but(step: usize, conditions: &str) -> String {
    format!("all but step\u{a0}{step} with {conditions}")
}

/// Why each value was corrected that an instrument indicated.
pub fn corrected(role: &str, why: &str) -> String {
    format!("each value that the {} indicated: {why}", typed(role))
}

/// What a reading was found at, with what is said of that.
pub fn found_at(reading: &str, said: &str) -> String {
    match said.is_empty() {
        true => format!("found {reading}"),
        false => format!("found {reading}, {said}"),
    }
}

/// What a picture of a table shows.
pub fn plot_of(title: &str, unit: &str, over: &str) -> String {
    format!("{title} in {unit} over {}", over.to_lowercase())
}

/// A picture of a table, for who does not see it; the table says the figures.
pub fn curve(title: &str, read: usize, outside: usize) -> String {
    format!("{title}: {read} points, {outside} outside; the figures are in the table")
}

/// Another route to the same thing, and what it says of the reading.
pub fn other_route(value: &str, said: Option<&str>) -> String {
    match said {
        Some(said) => format!("cross-check {value}: {said}"),
        None => format!("cross-check {value}"),
    }
}

/// What a second route says of a reading.
pub const fn opinion(opinion: &Opinion) -> &'static str {
    match opinion {
        Opinion::Judged(_, Agreement::Agree) => "agrees within both uncertainties",
        Opinion::Judged(_, Agreement::Disagree) => "differs by more than both uncertainties",
        Opinion::Plausible(verdict) => match verdict.place {
            Place::Inside => "plausible",
            Place::Low | Place::High => "not plausible",
        },
        Opinion::SameInstrument => "read with the same instrument, not compared",
        Opinion::Unjudged => "not compared, an uncertainty is not known",
    }
}

/// A second route that speaks against a verdict.
pub fn second_route_says(said: &Opinion) -> String {
    format!("cross-check: {}", opinion(said))
}

/// A reading that its second route speaks against.
pub fn doubted(title: &str, said: &Opinion) -> String {
    format!("{} ({})", typed(title), opinion(said))
}

/// The readings that their second routes speak against.
pub fn second_route_against(doubted: &[String]) -> String {
    ended(format!(
        "The cross-check speaks against this: {}",
        listed(doubted)
    ))
}

/// A null that one adjuster makes in two steps, and that is not made in both.
pub const NULL_OUTSIDE: &str = "shared null: the worse side is outside";

/// A reading struck out.
pub fn struck(value: &str, why: &str) -> String {
    format!("{value} is void, entry error: {}", sentence(why))
}
