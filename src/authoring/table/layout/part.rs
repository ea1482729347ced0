//! The parts of a table, and the texts between its rows.

use crate::authoring::table::cells::Record;
use crate::authoring::table::columns::Column;

/// What a line of a table is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// A row that becomes steps.
    Row,
    /// Headings, for the rows below.
    Headings,
    /// The title of a section.
    Section,
    /// A note on what follows, or on what came before.
    Note,
    /// A caution on what follows.
    Caution,
}

/// The lines below one row of headings.
#[derive(Clone, Debug, Default)]
pub(in crate::authoring::table) struct Part {
    pub columns: Vec<Column>,
    pub lines: Vec<Text>,
}

/// One line.
#[derive(Clone, Debug)]
pub(in crate::authoring::table) struct Text {
    pub line: Line,
    /// The cells as pasted.
    pub record: Record,
    /// What stands in them once repeats are filled in and marks taken off.
    pub cells: Vec<String>,
    /// The marks of footnotes: those that a row refers to, or the one that a note begins with.
    pub marks: Vec<String>,
}

impl Text {
    pub(super) fn of(line: Line, record: Record) -> Text {
        Text {
            line,
            record,
            cells: Vec::new(),
            marks: Vec::new(),
        }
    }
}
