//! The lines of a pasted table: headings, sections, notes and rows.

mod part;

pub use self::part::Line;
pub(super) use self::part::{Part, Text};

mod doing;
mod headings;
mod spans;

pub(super) use self::doing::{
    has_two_steps, is_action, is_doing, promises, puts_control, without_letter,
};
pub(super) use self::headings::{first_heading, has_headings};

use self::headings::{
    changes_headings, counts_pins, filled, has_figures, heads_cases, heads_points, name_pin,
    names_quantities, names_several, repeats_a_heading, stands_over_figures,
};
use self::spans::{goes_on, merge, parts_headings, spanned, states_units};
use crate::authoring::table::cells::Record;
use crate::authoring::table::columns::{Column, repeats, settle};
use crate::authoring::table::footnotes;
use crate::authoring::table::lex::{begins, lone_unit};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::phrases::{CAUTIONS, FOOTNOTES, NOTES, SECTIONS, STOPS};
use std::mem::take;

/// Takes the lines of a table apart by what they are.
pub(super) fn parts(records: Vec<Record>, answers: &[(String, Meaning)]) -> Vec<Part> {
    let width = records.iter().map(Vec::len).max().unwrap_or(0);
    let counts = |record: &&Record| {
        record
            .iter()
            .any(|it| it.contains(|c: char| c.is_ascii_digit()))
    };
    let values =
        width < 2 && 2 * records.iter().filter(|it| counts(it)).count() >= records.len().max(2);
    let mut parts: Vec<Part> = Vec::new();
    let mut early = Vec::new();
    let mut headings: Vec<String> = Vec::new();
    let first = first_heading(&records);
    let mut records = records.into_iter().enumerate().peekable();
    while let Some((index, record)) = records.next() {
        let names = parts.last().is_some_and(|part: &Part| {
            let below = records.peek().map(|(_, below)| below);
            names_quantities(&record, &part.lines, below)
        });
        let mut over = || {
            filled(&record) >= 2
                && !has_figures(&record)
                && records
                    .peek()
                    .is_some_and(|(_, below)| goes_on(&record, below))
        };
        let again = parts
            .last()
            .is_some_and(|part| repeats_a_heading(&record, &part.columns));
        let starts = Some(index) == first
            || counts_pins(&record)
            || names
            || again
            || heads_cases(&record)
            || (first.is_some_and(|first| index > first)
                && (changes_headings(&record, &headings)
                    || over()
                    || records
                        .peek()
                        .is_some_and(|(_, below)| heads_points(&record, below))
                    || records
                        .peek()
                        .is_some_and(|(_, below)| stands_over_figures(&record, below))
                    || records
                        .peek()
                        .is_some_and(|(_, below)| names_several(&record, below))));
        if !starts {
            let line = match values && is_title_in_a_list(&record) {
                true => Line::Section,
                false => line_of(&record, width),
            };
            match parts.last_mut() {
                Some(part) => part.lines.push(Text::of(line, record)),
                None => early.push(Text::of(line, record)),
            }
            continue;
        }
        let mut head = record.clone();
        if counts_pins(&record) {
            head.iter_mut().for_each(name_pin);
        }
        let mut lines = Vec::new();
        let mut spans = Vec::new();
        let mut parted = Record::new();
        if let Some((_, below)) = records.next_if(|(_, below)| goes_on(&record, below)) {
            spans = spanned(&head, &below);
            if parts_headings(&head, &below) {
                parted.clone_from(&below);
            }
            merge(&mut head, &below);
            lines.push(Text::of(Line::Headings, below));
            while let Some((_, units)) = records.next_if(|(_, units)| states_units(units)) {
                merge(&mut head, &units);
                lines.push(Text::of(Line::Headings, units));
            }
        }
        // The first headings are shown above the rows, later ones among them.
        match parts.is_empty() {
            true => lines.clear(),
            false => lines.insert(0, Text::of(Line::Headings, record)),
        }
        let mut columns: Vec<Column> = head.iter().map(|heading| Column::headed(heading)).collect();
        for (index, column) in columns.iter_mut().enumerate() {
            if column.heading.is_empty() {
                *column = Column::unheaded(index);
            }
        }
        for (index, below) in spans {
            columns[index].is_one_of_several(&below);
        }
        for (column, own) in columns.iter_mut().zip(&parted) {
            // A unit of a set is no unit of figures.
            let own = Column::headed(own).meaning;
            let known = own.filter(|own| *own != Meaning::Unit);
            column.meaning = column.meaning.or(known);
        }
        columns.extend((columns.len()..width).map(Column::unheaded));
        headings.extend(head.iter().map(|heading| heading.to_lowercase()));
        if parts.is_empty() {
            lines = take(&mut early);
        }
        parts.push(Part { columns, lines });
    }
    if parts.is_empty() {
        let mut columns: Vec<Column> = (0..width).map(Column::unheaded).collect();
        // A list is a list of things to do.
        if let [only] = columns.as_mut_slice() {
            only.meaning = Some(Meaning::Title);
        }
        parts.push(Part {
            columns,
            lines: early,
        });
    }
    for part in &mut parts {
        settle_part(part, answers);
    }
    if let Some(last) = parts.last_mut() {
        end_with_notes(last);
    }
    footnotes::refer(&mut parts);
    parts
}

fn settle_part(part: &mut Part, answers: &[(String, Meaning)]) {
    let rows: Vec<&Record> = part
        .lines
        .iter()
        .filter(|text| text.line == Line::Row)
        .map(|text| &text.record)
        .collect();
    settle(&mut part.columns, &rows, answers);
    // What stands alone in the column of steps and is something to do is a step.
    let title = part
        .columns
        .iter()
        .position(|column| column.meaning == Some(Meaning::Title));
    let is_point = |column: &Column| column.meaning == Some(Meaning::Point) && column.used;
    let point = part.columns.iter().position(is_point);
    let headed_points = part
        .columns
        .iter()
        .any(|column| !column.set.point.is_empty() && column.meaning == Some(Meaning::Reading));
    let mut above: Vec<String> = Vec::new();
    let number = part
        .columns
        .iter()
        .position(|column| column.meaning == Some(Meaning::Number));
    for Text {
        line,
        record,
        cells,
        ..
    } in &mut part.lines
    {
        if *line == Line::Row && is_numbered_title(record, number, title) {
            *line = Line::Section;
        }
        let alone = record.iter().position(|cell| !cell.is_empty());
        // A stop is one wherever it stands.
        let text = alone.map_or("", |alone| record[alone].as_str());
        let stops = title.is_some() && begins(text, STOPS);
        if *line == Line::Section && (stops || (alone == title && is_doing(text))) {
            *line = Line::Row;
        }
        *cells = record.clone();
        if stops && let (Some(alone), Some(title)) = (alone, title) {
            cells.resize(cells.len().max(title + 1), String::new());
            cells.swap(alone, title);
        }
        if *line != Line::Row {
            continue;
        }
        let reads = |index: usize| {
            part.columns.get(index).and_then(|column| column.meaning) == Some(Meaning::Reading)
        };
        // The word beside a reading may mean the one on its left.
        let sideways = |index: usize| {
            let left = index
                .checked_sub(1)
                .filter(|left| reads(*left) && reads(index));
            left.and_then(|left| record.get(left))
                .is_some_and(|left| !repeats(left) && !left.is_empty())
                && record[index].eq_ignore_ascii_case("same")
        };
        for (index, cell) in cells.iter_mut().enumerate() {
            if repeats(cell)
                && !sideways(index)
                && let Some(said) = above.get(index).filter(|said| !said.is_empty())
            {
                cell.clone_from(said);
            }
        }
        // A stage is named once above all of its points.
        let has_point =
            point.is_some_and(|point| cells.get(point).is_some_and(|it| !it.is_empty()));
        if let Some(title) = title
            && cells.get(title).is_some_and(String::is_empty)
            && (has_point || headed_points)
            && let Some(stage) = above.get(title)
        {
            cells[title].clone_from(stage);
        }
        above.clone_from(cells);
    }
}

/// Whether a line has the number and the title of a section and nothing else.
fn is_numbered_title(record: &Record, number: Option<usize>, title: Option<usize>) -> bool {
    let (Some(number), Some(title)) = (number, title) else {
        return false;
    };
    let cell = |index: usize| record.get(index).map_or("", String::as_str);
    let (number, title) = (cell(number), cell(title));
    let lettered = !number.contains(|c: char| c.is_ascii_digit());
    let stands_out = !title.contains(char::is_lowercase) || title.ends_with(':');
    filled(record) == 2
        && !number.is_empty()
        && !title.is_empty()
        && is_title(title)
        && title.split_whitespace().count() <= 4
        && (lettered || stands_out)
        && !is_doing(title)
}

/// A counted line with no row below it is the title of nothing, but a note.
fn end_with_notes(part: &mut Part) {
    let below = part.lines.iter_mut().rev();
    for text in below.take_while(|text| text.line != Line::Row) {
        let said = text.record.concat();
        if text.line == Line::Section && is_counted_title(&said) {
            text.line = Line::Note;
        }
    }
}

/// Whether a line of a list of values is the title of those below it.
fn is_title_in_a_list(record: &Record) -> bool {
    let cell = record.first().map_or("", String::as_str);
    !cell.contains(|c: char| c.is_ascii_digit())
        && !cell.ends_with('.')
        && cell.split_whitespace().count() <= 3
        && !is_doing(cell)
}

/// What a line is by itself.
fn line_of(record: &Record, width: usize) -> Line {
    let mut cells = record
        .iter()
        .enumerate()
        .filter(|(_, cell)| !cell.is_empty());
    let (Some((index, cell)), None) = (cells.next(), cells.next()) else {
        return Line::Row;
    };
    if width < 2 {
        return Line::Row;
    }
    if begins(cell, CAUTIONS) {
        return Line::Caution;
    }
    let is_prose = cell.ends_with('.') && cell.split_whitespace().count() > 4;
    if begins(cell, NOTES) || FOOTNOTES.iter().any(|sign| cell.starts_with(sign)) {
        return Line::Note;
    }
    if is_counted_title(cell) {
        return Line::Section;
    }
    // A range above a colon stands above what is in it.
    if index == 0 && cell.ends_with(':') && cell.contains(char::is_alphabetic) && !is_doing(cell) {
        return Line::Section;
    }
    if index > 0 || !cell.contains(char::is_alphabetic) || has_figures(record) {
        return Line::Row;
    }
    match is_prose && !is_doing(cell) {
        true => Line::Note,
        false => Line::Section,
    }
}

/// Whether a text is the title of a section behind its number, as in `4.2 Squelch`.
fn is_counted_title(text: &str) -> bool {
    let counts = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '(' | ')');
    let Some((number, title)) = text.split_once(' ') else {
        return false;
    };
    let numbered = number.contains(|c: char| c.is_ascii_digit()) && number.chars().all(counts);
    let named = title.chars().filter(|c| c.is_alphabetic()).count() >= 4;
    let begins = title.starts_with(char::is_uppercase) && lone_unit(title).is_none();
    let figures = title.contains(|c: char| c.is_ascii_digit());
    numbered && named && begins && !figures && is_title(title) && !is_doing(title)
}

/// Whether words can only be the title of a section: capitals, a colon or the trade's words.
pub(super) fn is_title(text: &str) -> bool {
    let words = text
        .split(|c: char| !c.is_alphanumeric())
        .map(str::to_lowercase);
    let capitals = !text.contains(char::is_lowercase);
    // Many words are an instruction rather than a title.
    let few = text.split_whitespace().count() <= 5;
    capitals
        || text.trim_end().ends_with(':')
        || (few
            && words
                .into_iter()
                .any(|word| SECTIONS.contains(&word.as_str())))
}
