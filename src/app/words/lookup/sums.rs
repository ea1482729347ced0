//! The calculations. Their titles, fields and results are named in the catalogues.

pub const TITLE: &str = "Calculations";
pub const FIND: &str = "Find";
pub const UNKNOWN: &str = "No such calculation";
pub const UNKNOWN_LEAD: &str =
    "The address names a calculation that this version of the app does not have.";
pub const TO_THE_SUMS: &str = "To the calculations";
pub const FORMULA: &str = "Formula";
pub const SOURCE: &str = "Source";
/// Follows the label of a field that need not be filled in.
pub const OPTIONAL: &str = " (optional)";
pub const ONE_TO_A_LINE: &str = "one to a line";
/// The hint of a field for numbers that belong to two quantities each.
pub const PAIRS: &str = "as in ab 0.5, one to a line";
pub const UNREADABLE: &str = "The marked field can't be read yet.";

/// The search found nothing.
pub fn none_found(wanted: &str) -> String {
    format!("No calculation has “{wanted}” in its title, inputs or formula.")
}

/// A unit was typed that the field does not take.
pub fn wrong_unit_of(typed: &str, fitting: &[String]) -> String {
    let fitting = fitting.join(", ");
    format!("{typed} does not belong here: use one of {fitting}.")
}

/// A unit was typed that the field does not take; it takes one only.
pub fn wrong_unit(typed: &str, due: &str) -> String {
    format!("{typed} does not belong here: use {due}.")
}

/// A unit was typed behind a number that has none.
pub fn no_unit(text: &str) -> String {
    format!("“{text}” can't follow the number here: type the number alone.")
}

/// The keys that choose the unit of a field.
pub fn unit_of(label: &str) -> String {
    format!("Unit of {label}")
}

/// A unit as it is printed and as it is said.
pub fn unit(symbol: &str, spoken: &str) -> String {
    format!("{symbol}, {spoken}")
}

/// The hint of a field for several numbers.
pub fn several_in(unit: &str) -> String {
    format!("in {unit}, {ONE_TO_A_LINE}")
}

/// Fields that the result waits for.
pub fn still_needed(labels: &[&str]) -> String {
    format!("Still needed: {}", labels.join(", "))
}

/// An input or a result with its name.
pub fn named(label: &str, value: &str) -> String {
    format!("{label} {value}")
}

/// Enters a result in the open step.
pub fn use_as_reading(step: usize) -> String {
    format!("Use as the reading of step {step}")
}

/// The same with the result, for who can't see it beside the button.
pub fn use_this_as_reading(step: usize, result: &str) -> String {
    format!("{}: {result}", use_as_reading(step))
}

/// The note that goes into the log with a result.
pub fn worked_out(title: &str, inputs: &[String], result: &str) -> String {
    let inputs = inputs.join(", ");
    format!("Worked out: {title}: {inputs} → {result}")
}
