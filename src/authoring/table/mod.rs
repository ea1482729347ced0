//! A table pasted from a spreadsheet, a CSV file or a manual, as steps of a draft.
//!
//! [`preview`] says what each line would become and what of it was not understood; [`take`]
//! adds that to a draft. Nothing is lost: what was not understood stands in the step's text, and
//! stays open in the draft until someone settles it.

mod preview;
mod size;

pub use self::preview::{Answers, Preview, Row, Unclear};
pub use self::size::{MAX_BYTES, TooMuch, too_much};

use crate::authoring::table::size::within_limits;
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
use self::row::{Reader, shortened};
use crate::authoring::draft::{Draft, DraftSection, DraftStep};
use crate::authoring::edit;
use crate::authoring::edit::List;
use crate::procedure::Id;
use crate::quantity::DecimalSign;

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
    doubt_broken(&mut preview.rows);
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

/// Tells of rows that seem to go on in the row below, whose cells all begin in small letters: the
/// word that makes a limit of a figure may stand there.
fn doubt_broken(rows: &mut [Row]) {
    let first = |cell: &String| cell.chars().find(|c| c.is_alphanumeric());
    let small = |cell: &String| first(cell).is_some_and(char::is_lowercase);
    for index in 1..rows.len() {
        let filled = || rows[index].cells.iter().filter(|cell| !cell.is_empty());
        let goes_on = rows[index].line == Line::Row
            && filled().count() > 1
            && filled().all(small)
            && !rows[index].cells.iter().any(|cell| columns::repeats(cell))
            && !rows[index - 1]
                .cells
                .iter()
                .all(|cell| cell.is_empty() || small(cell));
        if !goes_on || rows[index - 1].line != Line::Row || !rows[index - 1].unclear.is_empty() {
            continue;
        }
        let unclear = Unclear {
            column: String::new(),
            cell: rows[index].cells.join(" "),
            why: Why::Broken,
        };
        for step in &mut rows[index - 1].steps {
            step.open = unclear.line();
        }
        rows[index - 1].unclear.push(unclear);
    }
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
