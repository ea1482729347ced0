//! Channel tables and published limits.

pub const TABLE: &str = "Table";
pub const REMOVE_TABLE: &str = "Remove this table";
pub const OWN_TABLE: &str = "A table of your own";
pub const TABLE_NAME: &str = "Name of the table";
pub const TABLE_SOURCE: &str = "Where it is from";
pub const CHANNELS: &str = "Channels";
pub const CHANNELS_HINT: &str =
    "one to a line: its name on the dial, a space, and its frequency in MHz";
pub const KEEP_TABLE: &str = "Save the table";
pub const NAME_TAKEN: &str = "Another table has this name: give this one a name of its own";

pub const BEFORE_YOU_RELY: &str = "Before you rely on one";
pub const WHAT: &str = "What";
pub const LIMIT: &str = "Limit";
pub const CLAUSE: &str = "Clause";
pub const HOW_KNOWN: &str = "How it is known";

/// Where a table is from.
pub fn source(source: &str) -> String {
    format!("Source: {source}")
}

/// A bound to both sides, in parts per million.
pub fn within_ppm(ppm: &str) -> String {
    format!("±\u{a0}{ppm}\u{a0}ppm")
}

/// A bound to both sides.
pub fn within(distance: &str) -> String {
    format!("±\u{a0}{distance}")
}

/// An upper bound.
pub fn at_most(most: &str) -> String {
    format!("at most\u{a0}{most}")
}

/// A bound below and one above.
pub fn between(low: &str, high: &str) -> String {
    format!("{low} to {high}")
}
