//! Steps from a table.

use crate::app::words::author::draft::steps_counted;
use crate::authoring::table::Line;

pub const TABLE: &str = "Steps from a table";
pub const TABLE_LEAD: &str = "Copy an alignment table from a spreadsheet and paste it here, or open it as a CSV file. Each reading of a row becomes a step.";
pub const TABLE_TEXT: &str = "The table";
pub const TABLE_HINT: &str = "in its own words and headings; whatever isn’t understood goes into the step’s text and stays open until you settle it";
pub const OPEN_FILE: &str = "Open a CSV file";
pub const TABLE_PREVIEW: &str = "Preview";
pub const TABLE_SECTION: &str = "Add to section";
pub const TABLE_COLUMNS: &str = "What the columns are";
pub const TABLE_COLUMNS_HINT: &str = "Tap a column to say what it is.";
pub const TABLE_UNIT: &str = "The unit of readings that state none";
/// The units that tables mostly leave unsaid, by their symbols.
/// Which volts a level of a signal may be in.
pub const UNSAID_VOLTS: [&str; 4] = ["V EMF", "V PD", "V rms", "V p-p"];
pub const TABLE_VOLTS: &str = "The volts of levels that don’t say which";

pub const UNSAID_UNITS: [&str; 10] = [
    "V", "V rms", "V p-p", "mV", "mA", "W", "dBm", "dB", "Ω", "MHz",
];
pub const ASKED_SIGN: &str = "? ";
pub const NOT_UNDERSTOOD: &str = "Open";
pub const STILL_OPEN: &str = "Still open of its table";
pub const STILL_OPEN_HINT: &str = "take a line off once the step says what it means";

/// What a column is taken for.
pub fn column_is(meaning: Option<&str>, figures: &str) -> String {
    let is = meaning.unwrap_or("say what it is");
    match figures {
        "" => is.to_owned(),
        figures => format!("{is}, {figures}"),
    }
}

/// Asks what a column is.
pub fn column_is_what(heading: &str) -> String {
    format!("“{heading}” is")
}

/// Why nothing can be taken in yet.
pub fn columns_asked(count: usize) -> String {
    match count {
        1 => "One column is not known: tap it and say what it is.".to_owned(),
        count => format!("{count} columns are not known: tap them and say what they are."),
    }
}

/// How many lines there are, and how many stay open.
pub fn understood(lines: usize, open: usize) -> String {
    let lines = match lines {
        1 => "1 line".to_owned(),
        lines => format!("{lines} lines"),
    };
    match open {
        0 => format!("{lines}, all of them understood."),
        open => format!("{lines}, {open} with something open, marked “◆”."),
    }
}

/// What a line is that becomes no step.
pub const fn line_is(line: Line) -> &'static str {
    match line {
        Line::Row => "Step",
        Line::Headings => "New headings",
        Line::Section => "Section",
        Line::Note => "Note",
        Line::Caution => "Caution",
    }
}

/// A row that begins a section.
pub fn begins_section(title: &str) -> String {
    format!("Section: {title}")
}

/// Takes the steps in.
pub fn take_in(count: usize) -> String {
    format!("Add {}", steps_counted(count))
}

/// The steps were taken in.
pub fn table_taken(count: usize) -> String {
    format!("{} from a table", steps_counted(count))
}

/// Names that come onto the lists.
pub fn new_names(names: &[String]) -> String {
    format!("New on the lists: {}.", names.join(", "))
}

/// How much of a cell is quoted, in characters.
const LONGEST_CELL: usize = 120;

/// A cell that was not understood.
pub fn unclear(column: &str, cell: &str) -> String {
    match cell {
        "" if column.is_empty() => String::new(),
        "" => format!("{column}:"),
        cell if column.is_empty() => format!("“{cell}”:"),
        cell if cell.chars().count() <= LONGEST_CELL => format!("{column} “{cell}”:"),
        cell => {
            let beginning: String = cell.chars().take(LONGEST_CELL).collect();
            format!("{column} “{beginning}…”:")
        }
    }
}
