//! The set and the work as a whole, as fields.

pub const MAKE: &str = "Make";
pub const MAKE_HINT: &str = "as on the plate";
pub const MODEL: &str = "Model";
pub const SERIAL: &str = "Serial number";
pub const OWNER: &str = "Owner";
pub const OWNER_HINT: &str = "a name or your own reference";

pub const NAMELESS: &str = "Enter make, model or serial number.";
/// What is folded below the fields of an intake, with how many of the instruments are chosen.
pub fn the_rest(chosen: usize, roles: usize) -> String {
    let rest = "Condition, accessories, job number, decision rule";
    match roles {
        0 => rest.to_owned(),
        roles => format!("{rest}, test equipment ({chosen} of {roles})"),
    }
}

pub const INTAKE: &str = "Condition on receipt";
pub const FAULT: &str = "Fault reported";
pub const FAULT_HINT: &str = "in the owner’s words";
pub const CONDITION: &str = "Condition";
pub const CONDITION_HINT: &str = "what you see before you open it";
pub const ACCESSORIES: &str = "Accessories";
pub const ACCESSORIES_HINT: &str = "microphone, leads, bracket";

pub const THE_WORK: &str = "Job";
pub const NUMBER: &str = "Job number";
pub const TECHNICIAN: &str = "Technician";
pub const NEXT_CHECK: &str = "Next check due";
pub const NEXT_CHECK_HINT: &str = "for the report and the label";

pub const INSTRUMENTS: &str = "Test equipment";
pub const KIT_DIFFERS: &str =
    "The instrument list has other figures for this instrument than this job.";
pub const TAKE_KIT: &str = "Use the list’s figures";
/// Asks for which readings another instrument counts.
pub const COUNTS: &str = "The new instrument counts";
pub const FROM_HERE: &str = "From the next reading on";
pub const BEFORE: &str = "For what was read before too";
/// What that means for these.
pub const READ_WITH_IT_TOO: &str = "It was named wrongly, or not at all. What was read is judged, and said to be read, with the new one.";
/// What stays as it is where it counts from here on.
pub fn stay(role: &str, name: Option<&str>) -> String {
    match name {
        Some(name) => format!("What was read on the {role} so far stays read with {name}."),
        None => format!("What was read on the {role} so far stays without an instrument."),
    }
}
pub const RULES: &str = "Decision rule";
pub const SIMPLE: &str = "Simple acceptance";
pub const GUARD_BAND: &str = "Guard band";
pub const FOUR_WAY: &str = "Four-way: pass, conditional pass, conditional fail, fail";

/// How many targets the chosen instruments prove with room to spare.
pub fn kit_check(at_ease: usize, all: usize) -> String {
    format!("Equipment check: {at_ease} of {all} tolerances well covered")
}

/// A step of the kit check.
pub fn step(number: usize, title: &str) -> String {
    format!("{number}. {title}")
}

/// What is wrong with the instrument of a step and, where it is known, what would do.
pub fn finding(finding: &str, accuracy_needed: Option<&str>) -> String {
    match accuracy_needed {
        Some(needed) => format!("{finding}. ±\u{a0}{needed} accuracy needed."),
        None => format!("{finding}. "),
    }
}
