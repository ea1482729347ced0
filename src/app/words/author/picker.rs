//! Choosing from a list.

pub const CHOOSE: &str = "Choose";
pub const FIND: &str = "Find";
pub const FIND_OR_ADD: &str = "Find, or name a new one";
pub const OTHERS_BY_NAME: &str = "Type for others.";
pub const NONE_THERE: &str = "There is nothing to choose from yet.";
pub const NONE_FITS: &str = "Nothing in the list fits.";
pub const NONE: &str = "None";

/// The key of a picker, as it is read out.
pub fn picker(label: &str, shown: &str) -> String {
    match shown {
        "" => format!("{label}: choose"),
        shown => format!("{label}: {shown}"),
    }
}

/// The list of a picker.
pub fn choose(label: &str) -> String {
    format!("{label}, to choose from")
}

/// Adds something under a new name.
pub fn add_named(name: &str) -> String {
    format!("Add “{name}”")
}

/// Adds a row.
pub fn add_row(row: &str) -> String {
    format!("Add a {row}")
}

/// A row that holds nothing yet.
pub fn row_named(row: &str, number: usize) -> String {
    format!("{row} {number}")
}

/// Takes a row away.
pub fn take_row(row: &str, number: usize) -> String {
    format!("Remove {row} {number}")
}
