//! A table pasted from a spreadsheet, a CSV file or a manual, as steps of a draft.
//!
//! [`preview`] says what each line would become and what of it was not understood; [`take`]
//! adds that to a draft. Nothing is lost: what was not understood stands in the step's text, and
//! stays open in the draft until someone settles it.

mod aim;
mod cells;
mod columns;
mod footnotes;
mod hints;
mod layout;
mod lex;
mod meaning;
mod orders;
mod phrases;
mod row;
mod why;

pub use aim::{Side, read_limit};
pub use columns::Column;
pub use layout::Line;
pub use meaning::Meaning;
pub use why::Why;

use self::cells::Record;
use self::layout::{Part, Text, is_title, parts};
use self::row::{Reader, one_line, shortened};
use crate::authoring::draft::{Draft, DraftSection, DraftStep};
use crate::authoring::edit;
use crate::authoring::edit::List;
use crate::procedure::Id;
use crate::quantity::{DecimalSign, Scale};
use serde::{Deserialize, Serialize};
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

/// What a pasted table would become.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Preview {
    /// The columns, and what each is taken for.
    pub columns: Vec<Column>,
    /// The lines below the first headings that have something in them.
    pub rows: Vec<Row>,
    /// Why none of it was looked at, if it was too much.
    pub too_much: Option<TooMuch>,
}

/// What one line would become.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The cells as pasted.
    pub cells: Vec<String>,
    /// What the line is.
    pub line: Line,
    /// The section that begins with it.
    pub section: Option<String>,
    /// Its steps: one a reading, and one an adjuster where it peaks or dips several. [`take`]
    /// gives each an id of its own.
    pub steps: Vec<DraftStep>,
    /// What was not understood; empty for a line that was understood wholly.
    pub unclear: Vec<Unclear>,
    /// Its printed number, or else its place among the rows.
    number: String,
    /// The printed numbers of the first and the last row that it repeats.
    repeats: Option<(String, String)>,
    /// The marks of the footnotes that it refers to, or the one that it is.
    marks: Vec<String>,
}

/// A cell that was not understood, or something that the row doesn't say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unclear {
    /// The heading of its column.
    pub column: String,
    /// The cell as pasted; empty for something missing.
    pub cell: String,
    /// Why.
    pub why: Why,
}

impl Unclear {
    /// What stays open in the draft: the cell under its heading, or what isn't stated.
    fn line(&self) -> String {
        match self.cell.as_str() {
            // Nothing in the row itself: what it is stands in the reason alone.
            "" if self.column.is_empty() => self.why.to_string(),
            "" => self.column.clone(),
            cell => format!("{}: {}", self.column, one_line(cell)),
        }
    }
}

/// What the user has said of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answers {
    /// Of columns, by their headings.
    pub columns: Vec<(String, Meaning)>,
    /// The unit of what states none.
    pub unit: Option<Scale>,
    /// Which volts a level is in that doesn't say it.
    #[serde(default)]
    pub volts: Option<Scale>,
}

/// What a pasted text would become in a draft. A step that names no instrument gets the one
/// that the draft uses for its unit, or else the usual one.
pub fn preview(text: &str, draft: &Draft, sign: DecimalSign) -> Preview {
    preview_with(text, &Answers::default(), draft, sign)
}

/// What a pasted text would become, with what was said of its columns.
pub fn preview_with(text: &str, answers: &Answers, draft: &Draft, sign: DecimalSign) -> Preview {
    within_limits(text).map_or_else(
        |too_much| Preview {
            too_much: Some(too_much),
            ..Preview::default()
        },
        |records| of_records(records, answers, draft, sign),
    )
}

/// Why a text is more than a table may have, if it is.
pub fn too_much(text: &str) -> Option<TooMuch> {
    within_limits(text).err()
}

/// The records of a text that is no more than can be looked at while someone types.
fn within_limits(text: &str) -> Result<Vec<Record>, TooMuch> {
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

fn of_records(
    records: Vec<Record>,
    answers: &Answers,
    draft: &Draft,
    sign: DecimalSign,
) -> Preview {
    let blank = DraftStep::blank(edit::fresh_step_id(draft));
    let mut preview = Preview::default();
    let mut section = String::new();
    let mut number = 0;
    for Part { columns, lines } in parts(records, &answers.columns) {
        let mut doubts: Vec<Vec<String>> = Vec::new();
        for Text {
            line,
            record,
            cells,
            marks,
        } in lines
        {
            let mut row = Row {
                cells: record,
                line,
                section: None,
                steps: Vec::new(),
                unclear: Vec::new(),
                number: String::new(),
                repeats: None,
                marks,
            };
            match line {
                Line::Row => {
                    number += 1;
                    // Words where figures are due may be headings for what follows.
                    let words = row::has_words_for_figures(&columns, &cells);
                    let mut reader = Reader::new(&columns, &cells, &section, number, sign, answers);
                    if !words && doubts.iter().any(|above| stands_above(above, &cells)) {
                        reader.doubt_headings();
                    }
                    if words {
                        doubts.push(cells.clone());
                    }
                    row.steps = reader.steps(&blank, draft);
                    row.number = reader.printed_number();
                    row.repeats = reader.repeats.take();
                    row.unclear = reader.unclear;
                    row.section = section_in(&columns, &cells).filter(|named| *named != section);
                }
                Line::Section => {
                    let title = row.cells.concat();
                    if !is_title(&title) && !preview.rows.is_empty() {
                        row.unclear.push(Unclear {
                            column: String::new(),
                            cell: title.clone(),
                            why: Why::Section,
                        });
                    }
                    row.section = Some(shortened(&title));
                }
                Line::Headings | Line::Note | Line::Caution => {}
            }
            if let Some(named) = &row.section {
                section.clone_from(named);
            }
            preview.rows.push(row);
        }
        for column in columns {
            if !preview
                .columns
                .iter()
                .any(|seen| seen.heading == column.heading)
            {
                preview.columns.push(column);
            }
        }
    }
    place_notes(&mut preview.rows);
    find_repeated(&mut preview.rows);
    preview
}

/// Whether a line has a cell above every cell of a row, as headings have.
fn stands_above(line: &[String], row: &[String]) -> bool {
    let is_filled = |index: usize| line.get(index).is_some_and(|cell| !cell.is_empty());
    let mut filled = row.iter().enumerate().filter(|(_, cell)| !cell.is_empty());
    filled.all(|(index, _)| is_filled(index))
}

/// Tells of rows to be repeated that are not above.
fn find_repeated(rows: &mut [Row]) {
    for index in 0..rows.len() {
        let (above, row) = rows.split_at_mut(index);
        let Some((from, to)) = &row[0].repeats else {
            continue;
        };
        let is_there = |name: &String| {
            let mut above = above.iter();
            above.any(|row| row.number == *name && !row.steps.is_empty())
        };
        if is_there(from) && is_there(to) {
            continue;
        }
        let unclear = Unclear {
            column: String::new(),
            cell: format!("{from}, {to}"),
            why: Why::NoSuchRows,
        };
        for step in &mut row[0].steps {
            let lines = [step.open.as_str(), &unclear.line()];
            step.open = lines.join("\n").trim().to_owned();
        }
        row[0].unclear.push(unclear);
    }
}

/// The section that a column of sections names.
fn section_in(columns: &[Column], cells: &[String]) -> Option<String> {
    let index = columns
        .iter()
        .position(|column| column.meaning == Some(Meaning::Section))?;
    let title = shortened(cells.get(index)?);
    (!title.is_empty()).then_some(title)
}

/// Hands notes and cautions to the steps that they stand above, or else below.
fn place_notes(rows: &mut [Row]) {
    for index in 0..rows.len() {
        let line = rows[index].line;
        if !matches!(line, Line::Note | Line::Caution) {
            continue;
        }
        let text = rows[index].cells.concat();
        if let Some(mark) = rows[index].marks.first().cloned() {
            let carries = |row: &&mut Row| row.line == Line::Row && row.marks.contains(&mark);
            for row in rows.iter_mut().filter(carries) {
                for step in &mut row.steps {
                    step.text = [text.as_str(), &step.text].join("\n").trim().to_owned();
                }
            }
            continue;
        }
        let has_steps = |row: &&mut Row| !row.steps.is_empty();
        let (before, behind) = rows.split_at_mut(index);
        let above = phrases::FOOTNOTES.iter().any(|sign| text.starts_with(sign));
        let next = behind.iter_mut().find(has_steps);
        let last = before.iter_mut().rev().find(has_steps);
        let found = if above { last.or(next) } else { next.or(last) };
        match found.and_then(|row| row.steps.first_mut()) {
            Some(step) => {
                let field = match line {
                    Line::Caution => &mut step.cautions,
                    _ => &mut step.text,
                };
                *field = [text.as_str(), field.as_str()].join("\n").trim().to_owned();
            }
            None => rows[index].unclear.push(Unclear {
                column: String::new(),
                cell: text,
                why: Why::NoStep,
            }),
        }
    }
}

impl Preview {
    /// Whether a column is taken for this.
    pub fn has(&self, meaning: Meaning) -> bool {
        self.columns.iter().any(|c| c.meaning == Some(meaning))
    }

    /// The columns that someone has to say something of before anything becomes a step.
    pub fn asked(&self) -> impl Iterator<Item = &Column> {
        self.columns.iter().filter(|column| column.is_asked())
    }

    /// Whether a unit is asked for that nothing in the table states.
    pub fn asks_unit(&self) -> bool {
        let mut all = self.rows.iter().flat_map(|row| &row.unclear);
        all.any(|unclear| matches!(unclear.why, Why::NoUnit(_) | Why::NoUnitAtAll))
    }

    /// Whether it is asked which volts a level is in.
    pub fn asks_volts(&self) -> bool {
        let mut all = self.rows.iter().flat_map(|row| &row.unclear);
        all.any(|unclear| unclear.why == Why::WhichVolts)
    }

    /// The steps of all rows.
    pub fn steps(&self) -> impl Iterator<Item = &DraftStep> {
        self.rows.iter().flat_map(|row| &row.steps)
    }

    /// The names in the steps that are not in a list of the draft yet.
    pub fn new_names(&self, list: List, draft: &Draft) -> Vec<String> {
        let known = list.names(draft);
        let mut fresh: Vec<String> = Vec::new();
        for name in self.steps().filter_map(|step| name_in(list, step)) {
            if !known.contains(name) && !fresh.contains(name) {
                fresh.push(name.clone());
            }
        }
        fresh
    }
}

/// The name of a list that a step refers to.
fn name_in(list: List, step: &DraftStep) -> Option<&String> {
    let (name, due) = match list {
        List::Adjusters => (&step.adjuster, step.kind.turns()),
        List::TestPoints => (&step.at, step.reads()),
        List::Instruments => (&step.with, step.reads()),
    };
    Some(name).filter(|name| due && !name.is_empty())
}

/// Adds the steps at the end of a section, the last one if there is none such, with sections of
/// their own where the table has some, and to the lists what the steps refer to. Gives the ids
/// of the new steps; none while a column is asked about.
pub fn take(draft: &mut Draft, section: usize, preview: &Preview) -> Vec<Id> {
    if preview.asked().next().is_some() || preview.steps().next().is_none() {
        return Vec::new();
    }
    for list in [List::Adjusters, List::TestPoints, List::Instruments] {
        for name in preview.new_names(list, draft) {
            // Read as a name and new to the list: it can't be refused.
            let _ = edit::add(draft, list, &name);
        }
    }
    if draft.sections.is_empty() {
        edit::add_section(draft, "");
    }
    let mut section = section.min(draft.sections.len() - 1);
    let mut taken = Vec::new();
    // The printed number of each row, with its first step and its last.
    let mut numbered: Vec<(&str, Id, Id)> = Vec::new();
    for row in &preview.rows {
        if let Some(title) = &row.section {
            section += 1;
            let fresh = DraftSection {
                title: title.clone(),
                steps: Vec::new(),
            };
            draft.sections.insert(section, fresh);
        }
        let before = taken.len();
        for step in &row.steps {
            let id = edit::fresh_step_id(draft);
            let mut step = DraftStep {
                id: id.clone(),
                ..step.clone()
            };
            if let Some((from, to)) = &row.repeats {
                // Numbers may begin anew with a section: the nearest is meant.
                let find = |name: &String| numbered.iter().rev().find(|(it, ..)| it == name);
                step.repeat.from = find(from).map(|(_, first, _)| first.clone());
                step.repeat.to = find(to).map(|(.., last)| last.clone());
                // Its numbers are those of the table: what the step repeats says it better.
                let again = orders::repeat::again_in(&step.title, DecimalSign::Point);
                if again.is_some_and(|again| again.ends) {
                    step.title.clear();
                }
            }
            draft.sections[section].steps.push(step);
            taken.push(id);
        }
        if let (Some(first), Some(last)) = (taken.get(before), taken.last()) {
            numbered.push((&row.number, first.clone(), last.clone()));
        }
    }
    taken
}
