//! Several readings in rows and columns.

/// How far a table is.
pub fn done(done: usize, waived: usize, cells: usize) -> String {
    match waived {
        0 => format!("{done} of {cells} done"),
        _ => format!("{done} of {cells} done, {waived} waived"),
    }
}

/// How far a table is, below its title.
pub fn standing((done, waived): (usize, usize), cells: usize, outside: bool) -> String {
    let outside = if outside { ", not all inside" } else { "" };
    format!("{}{outside}", self::done(done, waived, cells))
}

/// The numbers of the first and the last of its steps.
pub fn numbers(first: usize, last: usize) -> String {
    match first == last {
        true => first.to_string(),
        false => format!("{first}–{last}"),
    }
}

/// What stands in a cell that is not read yet.
pub const NOT_READ: &str = "–";
/// A cell in which nothing is to be read.
pub const NOTHING: &str = "not read";
/// A cell whose limits are not known before another one is read.
pub const WAITS: &str = "waits";
/// A reading of a cell without limits.
pub const READ: &str = "read";

/// What a cell was found at, below what it is left at.
pub fn found(reading: &str) -> String {
    format!("found {reading}")
}

/// A cell that was just read, for a screen reader.
pub fn just_read(title: &str, reading: &str, verdict: &str) -> String {
    match verdict.is_empty() {
        true => format!("{title}: {reading}."),
        false => format!("{title}: {reading}, {verdict}."),
    }
}

// Written.

pub const ADD: &str = "Several readings";
pub const ADDED: &str = "a new table";
pub const CHANGED: &str = "change of a table";
pub const TITLE: &str = "What is read";
pub const TITLE_HINT: &str =
    "such as Carrier power; its steps are named from it and their headings";
pub const COLUMNS: &str = "Columns";
pub const ROWS: &str = "Rows";
pub const SETS: &str = "Their headings set";
pub const CONTROL: &str = "Name of the control";
pub const CONTROL_HINT: &str = "such as Clarifier, or what else changes";
pub const WHICH: &str = "Which of them";
/// What is said once for all cells.
pub const FOR_ALL: &str = "In every cell";
pub const FOR_ALL_HINT: &str = "What stands in the path and what is set, once for all of them; what the headings set is theirs.";
pub const HEADINGS: &str = "Headings";
pub const HEADINGS_HINT: &str = "one a line, or with commas between; a limit of its own behind =, such as 300\u{a0}Hz = -8\u{a0}dB to 1\u{a0}dB";
pub const UNITS_HINT: &str =
    "one a line, with the unit in brackets, such as Level (dBc); none for one column or row only";
pub const LIMITS: &str = "Limit";
pub const LIMIT: &str = "Limit of all that have none of their own";
pub const LIMIT_HINT: &str =
    "such as at least 3.5\u{a0}W, 3\u{a0}W to 5\u{a0}W or ±\u{a0}2\u{a0}dB; none judges nothing";
pub const FROM: &str = "Counted from the reading of";
pub const FROM_NONE: &str = "no cell: the figures as they stand";
pub const CELLS: &str = "Its steps";
pub const CELLS_HINT: &str =
    "Each cell is a step like any other: open it to change what is its own.";
pub const DIFFERS: &str = "differs";
pub const GATHER: &str = "Put its steps in order";
pub const DISSOLVE: &str = "Keep the steps, drop the table";
pub const REMOVE: &str = "Remove it with its steps";
pub const IN_ORDER: &str = "order of a table’s steps";
pub const DISSOLVED: &str = "table dropped";
pub const REMOVED: &str = "table with its steps";
/// Above the steps of a table in the outline.
pub const TABLE: &str = "Table";

/// What the headings of rows or columns can set, each with its name.
pub const KINDS: [(&str, &str); 7] = [
    ("mode", "Mode"),
    ("channel", "Channel"),
    ("state", "RX or TX"),
    ("supply", "Supply"),
    ("setting", "Load, generator or analyser"),
    ("control", "A control"),
    ("reading", "Nothing: what is read"),
];

/// What stands at a row or column: its heading, or what it sets while it has none.
pub fn heading(name: &str, sets: &str) -> String {
    let stated = [name, sets]
        .into_iter()
        .find(|text| !text.trim().is_empty());
    stated.unwrap_or(NOT_READ).to_owned()
}

/// What the cells don't have alike.
pub fn cells_differ(names: &str) -> String {
    format!("Cells differ in: {names}. What is typed here is put into all of them.")
}

/// A table's title with how many readings it has.
pub fn of_readings(title: &str, readings: usize) -> String {
    let title = match title.trim() {
        "" => "Several readings",
        title => title,
    };
    match readings {
        1 => format!("{title}, 1 reading"),
        n => format!("{title}, {n} readings"),
    }
}
