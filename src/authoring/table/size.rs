//! How much of a table is read.

use crate::authoring::table::cells::Record;
use crate::authoring::table::{cells, layout};
use std::fmt;

/// The longest text that is looked at: 1 MiB.
pub const MAX_BYTES: usize = 1 << 20;

/// The most rows; a procedure of so many steps is long.
const MAX_ROWS: usize = 1000;

/// The most columns; more than twice of what can be understood.
const MAX_COLUMNS: usize = 40;

/// The longest cell, in characters: some pages.
const MAX_CELL: usize = 10_000;

/// Why a table is not looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TooMuch {
    /// So many bytes.
    Bytes(usize),
    /// So many rows.
    Rows(usize),
    /// So many columns.
    Columns(usize),
    /// So many characters in the cell at this row and column, counted from 1.
    Cell {
        /// The row.
        row: usize,
        /// The column.
        column: usize,
        /// The characters.
        characters: usize,
    },
}

impl fmt::Display for TooMuch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TooMuch::Bytes(bytes) => write!(
                f,
                "The text has {} MB, and a table may have {} MB: take it in in parts",
                bytes.div_ceil(1 << 20),
                MAX_BYTES >> 20
            ),
            TooMuch::Rows(rows) => write!(
                f,
                "The table has {rows} rows, and {MAX_ROWS} can be taken in at once: take it in in parts"
            ),
            TooMuch::Columns(columns) => write!(
                f,
                "The table has {columns} columns, and {MAX_COLUMNS} can be taken in: leave out what says nothing of the steps"
            ),
            TooMuch::Cell {
                row,
                column,
                characters,
            } => write!(
                f,
                "The cell in row {row}, column {column} has {characters} characters, and a cell may have {MAX_CELL}: shorten it"
            ),
        }
    }
}

impl std::error::Error for TooMuch {}

/// Why a text is more than a table may have, if it is.
pub fn too_much(text: &str) -> Option<TooMuch> {
    within_limits(text).err()
}

/// The records of a text that is no more than can be looked at while someone types.
pub(super) fn within_limits(text: &str) -> Result<Vec<Record>, TooMuch> {
    if text.len() > MAX_BYTES {
        return Err(TooMuch::Bytes(text.len()));
    }
    let records = cells::records(text, layout::has_headings);
    if records.len() > MAX_ROWS {
        return Err(TooMuch::Rows(records.len()));
    }
    for (row, cells) in records.iter().enumerate() {
        if cells.len() > MAX_COLUMNS {
            return Err(TooMuch::Columns(cells.len()));
        }
        for (column, cell) in cells.iter().enumerate() {
            // Counting them takes longer than asking how many bytes they are.
            let characters = || cell.chars().count();
            if cell.len() > MAX_CELL && characters() > MAX_CELL {
                return Err(TooMuch::Cell {
                    row: row + 1,
                    column: column + 1,
                    characters: characters(),
                });
            }
        }
    }
    Ok(records)
}
