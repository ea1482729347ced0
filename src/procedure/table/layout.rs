//! The lines of a pasted table: headings, sections, notes and rows.

use super::cells::Record;
use super::columns::{Column, is_head, repeats, settle};
use super::footnotes;
use super::hold::is_designator;
use super::lex::{Spelled, Token, begins, lex, lone_unit, plain};
use super::meaning::Meaning;
use super::phrases::Sense;
use super::phrases::{
    ACTIONS, APPLIES, CAUTIONS, CONTROLS, DURATIONS, FOOTNOTES, LOOKS, MEASURES, NAMES_TOO, NOTES,
    OBJECTS, POSITIONS, PROMISES, PUT, QUANTITY_NOUNS, SECTIONS, STATES, STOPS,
};
use std::mem::take;

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
pub(super) struct Part {
    pub columns: Vec<Column>,
    pub lines: Vec<Text>,
}

/// One line.
#[derive(Clone, Debug)]
pub(super) struct Text {
    pub line: Line,
    /// The cells as pasted.
    pub record: Record,
    /// What stands in them once repeats are filled in and marks taken off.
    pub cells: Vec<String>,
    /// The marks of footnotes: those that a row refers to, or the one that a note begins with.
    pub marks: Vec<String>,
}

impl Text {
    fn of(line: Line, record: Record) -> Text {
        Text {
            line,
            record,
            cells: Vec::new(),
            marks: Vec::new(),
        }
    }
}

/// Takes the lines of a table apart by what they are.
pub(super) fn parts(records: Vec<Record>, answers: &[(String, Meaning)]) -> Vec<Part> {
    let width = records.iter().map(Vec::len).max().unwrap_or(0);
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
            let line = line_of(&record, width);
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

/// Whether a record among rows of figures names quantities, and the next one has figures again.
fn names_quantities(record: &Record, rows: &[Text], below: Option<&Record>) -> bool {
    let Some(last) = record.iter().rposition(|cell| !cell.is_empty()) else {
        return false;
    };
    let noun = record[last]
        .split_whitespace()
        .next_back()
        .unwrap_or_default();
    if !QUANTITY_NOUNS.contains(&noun.to_lowercase().as_str()) || filled(record) < 2 {
        return false;
    }
    let plain = |cell: &String| {
        cell.len() <= 30
            && !cell.starts_with(char::is_lowercase)
            && !cell.contains(|c: char| c.is_ascii_digit())
            && !is_doing(cell)
    };
    let figure = |record: &Record| {
        record
            .get(last)
            .is_some_and(|cell| cell.contains(|c: char| c.is_ascii_digit()))
    };
    let rows = rows.iter().filter(|text| text.line == Line::Row);
    let all = rows.map(|text| figure(&text.record)).collect::<Vec<_>>();
    let most = 2 * all.iter().filter(|it| **it).count() > all.len();
    record.iter().all(plain) && most && below.is_some_and(figure)
}

/// Whether a record heads the pins of parts by their numbers: words, then 1, 2, 3 and so on.
fn counts_pins(record: &Record) -> bool {
    let numbers: Vec<u32> = record.iter().filter_map(|cell| cell.parse().ok()).collect();
    let words = record
        .iter()
        .take_while(|cell| cell.parse::<u32>().is_err())
        .count();
    let rest = record[words..]
        .iter()
        .filter(|cell| !cell.is_empty())
        .count();
    let named = record[..words].iter().any(|cell| !cell.is_empty());
    (1..=3).contains(&words)
        && named
        && !record[..words]
            .iter()
            .any(|cell| has_figures(&vec![cell.clone()]))
        && numbers.len() >= 3
        && rest == numbers.len()
        && numbers.windows(2).all(|pair| pair[1] == pair[0] + 1)
}

fn name_pin(heading: &mut String) {
    if heading.parse::<u32>().is_ok() {
        *heading = format!("Pin {heading}");
    }
}

/// Where the first headings stand, if there are any; a table may have some lines above them.
pub(super) fn first_heading(records: &[Record]) -> Option<usize> {
    // Headings may go on below, and then the upper ones needn't be known.
    let goes_on_below = |pair: &[Record]| {
        filled(&pair[0]) >= 2 && !has_figures(&pair[0]) && goes_on(&pair[0], &pair[1])
    };
    if let Some(index) = records.iter().take(6).position(counts_pins) {
        return Some(index);
    }
    let over = records.windows(2).take(6).position(goes_on_below);
    // Words above figures are headings, whatever they are.
    let above_figures = || {
        let index = records
            .iter()
            .take(6)
            .position(|record| filled(record) >= 2)?;
        let head = &records[index];
        let below = |column: usize| {
            let mut cells = records[index + 1..]
                .iter()
                .filter_map(|record| record.get(column));
            cells.any(|cell| cell.contains(|c: char| c.is_ascii_digit()))
        };
        let named = |cell: &String| cell.is_empty() || names_something(cell);
        let heads = |(column, cell): (usize, &String)| names_something(cell) && below(column);
        let headed = head.iter().enumerate().any(heads);
        (head.iter().all(named) && headed).then_some(index)
    };
    over.or_else(|| match headed_by_words(records) {
        // Rows above the first known headings have headings of their own.
        Some(index) => {
            let above = above_figures().filter(|above| {
                let rows = records[above + 1..index.max(above + 1)].iter();
                let figured = |record: &Record| {
                    record
                        .iter()
                        .any(|cell| cell.contains(|c: char| c.is_ascii_digit()))
                };
                *above < index && rows.into_iter().any(figured)
            });
            above.or(Some(index))
        }
        None => above_figures(),
    })
}

/// Whether words that are known head the records, so that they are taken apart rightly.
pub(super) fn has_headings(records: &[Record]) -> bool {
    headed_by_words(records).is_some()
}

fn headed_by_words(records: &[Record]) -> Option<usize> {
    let list = records
        .first()
        .is_some_and(|first| first.len() == 1 && known(first).len() == 1);
    let table = || {
        records
            .iter()
            .take(6)
            .position(|record| (is_headed(record) && !has_figures(record)) || heads_cases(record))
    };
    list.then_some(0).or_else(table)
}

/// The different things that a record heads.
fn known(record: &Record) -> Vec<Meaning> {
    let mut found: Vec<Meaning> = Vec::new();
    // A letter alone may be an electrode, and may be anything.
    let cells = record.iter().filter(|cell| !is_letter(cell));
    for meaning in cells.filter_map(|cell| heads(cell)) {
        if !found.contains(&meaning) || matches!(meaning, Meaning::Reading | Meaning::Condition) {
            found.push(meaning);
        }
    }
    found
}

/// Whether a record can only be one of headings. A mode beside a maximum is a row like any other,
/// so it takes two words that only headings have, or one beside several others.
fn is_headed(record: &Record) -> bool {
    use Meaning::{High, Left, Low, Nominal, Reading};
    let known = known(record);
    let plain = |meaning: &&Meaning| !matches!(meaning, Reading | Low | High | Left | Nominal);
    let plain = known.iter().filter(plain).count();
    plain >= 2 || (plain == 1 && known.len() >= 3)
}

/// Whether a record of plain words has a cell below the very heading that it would be.
fn repeats_a_heading(record: &Record, columns: &[Column]) -> bool {
    let plain = |cell: &String| {
        cell.len() <= 30
            && !cell.starts_with(char::is_lowercase)
            && !cell.contains(|c: char| c.is_ascii_digit())
            && !is_doing(cell)
    };
    let again = |(cell, column): (&String, &Column)| {
        cell.len() > 4 && cell.eq_ignore_ascii_case(&column.heading)
    };
    filled(record) >= 3 && record.iter().all(plain) && record.iter().zip(columns).any(again)
}

/// Whether a record heads cases by figures, beside two headings by the letter or more: what is
/// read at `20 MHz` and at `25 MHz`.
fn heads_cases(record: &Record) -> bool {
    let case = |cell: &&String| {
        let tokens = lex(cell).tokens;
        matches!(tokens.as_slice(), [Token::Figure(figure)] if figure.unit.is_some())
    };
    let by_letter = |cell: &&String| heads(cell).is_some_and(|it| it.is_headed_by(cell));
    let cases = record.iter().filter(case).count();
    let known = record.iter().filter(by_letter).count();
    cases >= 2 && known >= 2 && cases + known == filled(record)
}

fn is_letter(cell: &str) -> bool {
    cell.len() <= 1 && cell.chars().all(char::is_alphabetic)
}

/// What a cell would head; a long one is no heading.
fn heads(cell: &str) -> Option<Meaning> {
    (cell.len() <= 80)
        .then(|| Column::headed(cell).meaning)
        .flatten()
}

fn filled(record: &Record) -> usize {
    record.iter().filter(|cell| !cell.is_empty()).count()
}

/// Whether a cell has a word that names something, as headings have and figures have not.
fn names_something(cell: &str) -> bool {
    let cell = plain(cell);
    let figured = cell.starts_with(|c: char| c.is_ascii_digit() || "+-<>±~.".contains(c));
    let lexed = lex(&cell);
    let names =
        |token: &Token| matches!(token, Token::Word | Token::Lost | Token::Sense(Sense::Kind));
    let with_unit = || {
        let within = cell.split_once('(').and_then(|(_, it)| it.split_once(')'));
        let unit = |within: &str| {
            let last = within.rsplit_once(" in ").map_or(within, |(_, unit)| unit);
            lone_unit(last).is_some()
        };
        within.is_some_and(|(within, _)| unit(within))
    };
    match figured {
        true => (lexed.tokens.iter().any(names) || with_unit()) && cell.contains(' '),
        false => !cell.contains(|c: char| c.is_ascii_digit()) || cell.contains(' '),
    }
}

/// Whether a cell begins with a figure or a sign, as no heading does.
fn has_figures(record: &Record) -> bool {
    let figure = |cell: &String| {
        let rest = cell.trim_start_matches(['+', '-', '−', '<', '>', '≤', '≥', '±', '.', ' ', '~']);
        rest.starts_with(|c: char| c.is_ascii_digit())
    };
    record.iter().any(figure)
}

/// Whether a record among the rows is one of headings, where those before are in small letters.
fn changes_headings(record: &Record, before: &[String]) -> bool {
    // Most records have figures, and need no look at their words.
    if filled(record) < 2 || has_figures(record) {
        return false;
    }
    let stands = |cell: &String| before.contains(&cell.to_lowercase());
    let is_known = |cell: &String| cell.is_empty() || stands(cell) || heads(cell).is_some();
    // A long heading that stands above already is no cell by chance, nor are two of any length.
    let again = |cell: &String| cell.len() > 4 && stands(cell);
    let twice = record
        .iter()
        .filter(|cell| !cell.is_empty() && stands(cell));
    let by_letter = |cell: &&String| heads(cell).is_some_and(|it| it.is_headed_by(cell));
    if twice.clone().count() > 1 && twice.clone().any(|cell| by_letter(&cell)) {
        return true;
    }
    // Nor is the heading of what is done, in words alone.
    let named =
        |cell: &&String| cell.len() > 4 && stands(cell) && heads(cell) == Some(Meaning::Title);
    let words = |cell: &String| cell.len() <= 30 && !cell.contains(|c: char| c.is_ascii_digit());
    if record.first().as_ref().is_some_and(named) && record.iter().all(words) {
        return true;
    }
    let all = record.iter().all(is_known);
    if all && (is_headed(record) || record.iter().any(again)) {
        return true;
    }
    // Nor are two that are headings by the letter, and half of the record with them.
    let plainly = |cell: &&String| {
        let meaning = heads(cell);
        stands(cell) || meaning.is_some_and(|it| it.is_headed_by(cell))
    };
    let known = record.iter().filter(|cell| cell.len() > 1).filter(plainly);
    let known: Vec<&String> = known.collect();
    let headed = |cell: &String| is_head(&cell.to_lowercase());
    let plain = |cell: &String| cell.len() <= 30 && !cell.contains(|c: char| c.is_ascii_digit());
    if record.iter().any(headed) && record.iter().all(plain) {
        return true;
    }
    let names = known
        .iter()
        .any(|cell| matches!(heads(cell), Some(Meaning::Title | Meaning::Point)));
    let aims = known.iter().any(|cell| {
        matches!(
            heads(cell),
            Some(Meaning::Target | Meaning::Low | Meaning::High)
        )
    });
    let several = known.iter().filter(|cell| tells(cell)).count();
    let mostly = several >= 3 && 4 * several >= 3 * filled(record) && record.iter().all(plain);
    mostly || (2 * known.len() >= filled(record) && names && aims)
}

/// Whether a cell is by the letter the heading of something that is no figure and no state.
fn tells(cell: &str) -> bool {
    use Meaning::{Condition, Instrument, Kind, Note, Number, Point, Section, Target, Title, Unit};
    let told = [
        Condition, Instrument, Kind, Note, Number, Point, Section, Target, Title, Unit,
    ];
    heads(cell).is_some_and(|it| told.contains(&it) && it.is_headed_by(cell))
}

/// Whether a record of plain words heads test points, and one stands right below.
fn heads_points(record: &Record, below: &Record) -> bool {
    let plain = |cell: &String| cell.len() <= 30 && !cell.contains(|c: char| c.is_ascii_digit());
    let over = |(cell, below): (&String, &String)| {
        let points = heads(cell) == Some(Meaning::Point) && tells(cell) && cell.len() > 4;
        points && is_designator(below)
    };
    filled(record) >= 2 && record.iter().all(plain) && record.iter().zip(below).any(over)
}

/// Whether a record of plain words has two that are headings, and a figure right below one that
/// heads figures.
fn stands_over_figures(record: &Record, below: &Record) -> bool {
    use Meaning::{High, Low, Nominal, Target, Tolerance};
    let plain = |cell: &String| {
        cell.len() <= 30
            && !cell.starts_with(char::is_lowercase)
            && !cell.contains(|c: char| c.is_ascii_digit())
            && (!is_doing(cell) || begins(cell, &["test"]))
    };
    if filled(record) < 2 || !record.iter().all(plain) {
        return false;
    }
    let noun = |cell: &String| QUANTITY_NOUNS.contains(&cell.to_lowercase().as_str());
    let over = record.iter().zip(below).any(|(cell, below)| {
        let aims = matches!(heads(cell), Some(Target | Low | High | Nominal | Tolerance))
            || (filled(record) > 2 && noun(cell));
        let cut = below.trim_start_matches(['+', '-', '−', '<', '>', '≤', '≥', '±', '~', ' ', '.']);
        aims && cell.len() > 2 && cut.starts_with(|c: char| c.is_ascii_digit())
    });
    let known = |cell: &&String| cell.len() > 2 && (heads(cell).is_some() || noun(cell));
    let compares = |cell: &String| {
        matches!(heads(cell), Some(Low | High)) && cell.to_lowercase().ends_with(" than")
    };
    over && (record.iter().filter(known).count() >= 2 || record.iter().any(compares))
}

/// Whether a record of plain words, none of them a state that something is in, has figures with
/// their units right below two columns or more.
fn names_several(record: &Record, below: &Record) -> bool {
    let plain = |cell: &String| {
        (3..=30).contains(&cell.len())
            && cell.starts_with(char::is_uppercase)
            && !cell.contains(|c: char| c.is_ascii_digit())
            && !is_doing(cell)
            && !STATES.contains(&cell.to_lowercase().as_str())
    };
    let figure = |cell: &String| {
        let lexed = lex(cell).tokens;
        let stated = |token: &Token| matches!(token, Token::Figure(it) if it.unit.is_some());
        lexed.iter().any(stated) && !lexed.contains(&Token::Lost) && !lexed.contains(&Token::Word)
    };
    let with_figure = |cell: &String| {
        let mut lexed = lex(cell).tokens.into_iter();
        lexed.any(|token| matches!(token, Token::Figure(it) if it.unit.is_some()))
    };
    // Nothing but a heading states a unit in brackets without a figure.
    let with_unit = |cell: &&String| cell.contains('(') && Column::headed(cell).printed.is_some();
    let units = record.iter().filter(with_unit).count();
    let over_figure = || {
        let mut pairs = record.iter().zip(below).skip(1);
        pairs.any(|(cell, below)| with_unit(&cell) && has_figures(&vec![below.clone()]))
    };
    let worded = |cell: &String| plain(cell) || with_unit(&cell);
    if units == 1 && filled(record) == filled(below) && record.iter().all(worded) && over_figure() {
        return true;
    }
    if units >= 2 && !has_figures(record) && below.iter().any(|it| has_figures(&vec![it.clone()])) {
        return true;
    }
    let pairs = || record.iter().zip(below).skip(1);
    let over = pairs().filter(|(_, below)| figure(below)).count();
    filled(record) == filled(below)
        && over >= 2
        && record.iter().all(plain)
        && pairs().all(|(_, below)| {
            below.is_empty() || with_figure(below) || !has_figures(&vec![below.clone()])
        })
}

/// Whether a record goes on with the headings above it: nothing but limits, set-ups and units,
/// several or in brackets, and none in the first column; or what a heading above stands over.
fn goes_on(head: &Record, record: &Record) -> bool {
    use Meaning::{High, Left, Low, Nominal, Reading, Target, Tolerance};
    let bracketed = |cell: &String| cell.starts_with(['(', '[']);
    let goes = |cell: &String| match heads(cell) {
        Some(Low | High | Nominal | Tolerance | Left | Reading) => true,
        Some(Target) => bracketed(cell),
        _ => cell.is_empty(),
    };
    let first = record.first().is_some_and(String::is_empty);
    let enough = filled(record) > 1 || (filled(record) == 1 && record.iter().any(bracketed));
    let known = enough && record.iter().all(goes);
    let is_under = || {
        let spans = spanned(head, record);
        let words = |cell: &String| cell.is_empty() || (cell.len() <= 40 && names_something(cell));
        let named =
            |(index, cell): (usize, &String)| words(cell) || is_of_another(head, index, cell);
        filled(record) > 1 && spans.len() == filled(record) && record.iter().enumerate().all(named)
    };
    first && ((known && !has_figures(record)) || is_under() || parts_headings(head, record))
}

/// Whether a figure stands under a heading of another unit, so that it names a column itself.
fn is_of_another(head: &Record, index: usize, cell: &str) -> bool {
    let over = head.iter().take(index + 1).rfind(|cell| !cell.is_empty());
    let unit = over.and_then(|over| Column::headed(over).scale);
    let own = lex(cell).tokens;
    let [Token::Figure(figure)] = own.as_slice() else {
        return false;
    };
    match (unit, figure.unit) {
        (Some(unit), Some(Spelled::Scale(own))) => unit.unit != own.unit,
        _ => false,
    }
}

/// Whether a record of plain words stands nowhere but under headings that go over several columns,
/// two of them or more.
fn parts_headings(head: &Record, record: &Record) -> bool {
    let at = |cells: &Record, index: usize| cells.get(index).map_or(0, String::len);
    let spans = (0..record.len()).filter(|index| {
        at(head, *index) > 0
            && at(record, *index) > 0
            && at(head, index + 1) == 0
            && at(record, index + 1) > 0
    });
    let under = |index: usize| {
        let over = (0..=index).rev().find(|it| at(head, *it) > 0);
        at(record, index) == 0 || over.is_some_and(|over| at(record, over) > 0)
    };
    let plain = |cell: &String| cell.len() <= 30 && !cell.contains(|c: char| c.is_ascii_digit());
    spans.count() >= 2
        && !has_figures(head)
        && (0..record.len()).all(under)
        && record.iter().all(plain)
}

/// The cells of a record that stand under one heading over several columns, where it or they state
/// a unit.
fn spanned(head: &Record, record: &Record) -> Vec<(usize, String)> {
    let at = |cells: &Record, index: usize| cells.get(index).cloned().unwrap_or_default();
    let mut found = Vec::new();
    let mut over = None;
    for index in 0..record.len() {
        if !at(head, index).is_empty() {
            let wide = at(head, index + 1).is_empty() && !at(record, index + 1).is_empty();
            over = wide.then(|| Column::headed(&at(head, index)));
        }
        let own = || Column::headed(&at(record, index)).printed.is_some();
        let states = over
            .as_ref()
            .is_some_and(|over| over.printed.is_some() || own());
        if states && !at(record, index).is_empty() {
            found.push((index, at(record, index)));
        }
    }
    found
}

/// Two rows of headings as one; a heading may stand over several columns.
fn merge(head: &mut Record, below: &Record) {
    if head.len() < below.len() {
        head.resize(below.len(), String::new());
    }
    let mut over = String::new();
    for (index, cell) in head.iter_mut().enumerate() {
        if !cell.is_empty() {
            over.clone_from(cell);
        }
        match below.get(index).map(String::as_str).unwrap_or_default() {
            "" => {}
            below => *cell = format!("{over} {below}").trim().to_owned(),
        }
    }
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

/// Whether an instruction asks for a reading that nothing beside it states.
pub(super) fn promises(text: &str) -> bool {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().collect();
    let figure = |word: &&str| word.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let of_figure = words.windows(2).enumerate().any(|(index, pair)| {
        let lasts = words
            .get(index + 2)
            .is_some_and(|word| DURATIONS.contains(&word.trim_matches(['.', ','])));
        pair[0] == "for" && figure(&pair[1]) && !lasts
    });
    let starts = lower
        .char_indices()
        .filter(|(at, _)| *at == 0 || lower[..*at].ends_with([' ', ',']));
    let mut starts = starts.map(|(at, _)| &lower[at..]);
    // What is brought has its own figures, in one clause with it.
    let brought =
        begins(&lower, APPLIES) && ![". ", "; ", " and "].iter().any(|it| lower.contains(it));
    let signs = |rest: &str| rest.starts_with(['±', '<', '>', '≤', '≥']) || rest.starts_with("+/-");
    of_figure || starts.any(|rest| begins(rest, PROMISES) && !(brought && signs(rest)))
}

/// Whether an instruction asks for two readings or adjustments, one of them with its figure.
pub(super) fn has_two_steps(text: &str) -> bool {
    let lower = text.to_lowercase();
    let mut clauses = vec![lower.as_str()];
    for joint in ["; ", ". ", ", then ", " and then ", "then ", ", and "] {
        clauses = clauses.iter().flat_map(|it| it.split(joint)).collect();
    }
    let named = |word: &str| {
        let digits = word.trim_start_matches(|c: char| c.is_ascii_alphabetic());
        let letters = word.len() - digits.len();
        let bare = digits.trim_end_matches(|c: char| !c.is_ascii_digit());
        (1..=2).contains(&letters) && !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit())
    };
    let is_step = |clause: &&str| {
        let clause = without_letter(clause.trim());
        let sets = begins(clause, &["set", "turn", "rotate"]);
        begins(clause, MEASURES) || (sets && clause.split_whitespace().any(named))
    };
    let figure = |clause: &&str| promises(clause) && clause.contains(|c: char| c.is_ascii_digit());
    let steps: Vec<&str> = clauses.into_iter().filter(is_step).collect();
    steps.len() > 1 && steps.iter().any(figure)
}

/// Whether words say that something is to be done.
pub(super) fn is_doing(text: &str) -> bool {
    let text = without_letter(text);
    let put = text
        .split_whitespace()
        .next_back()
        .is_some_and(|word| PUT.contains(&word.to_lowercase().as_str()));
    let few = text.split_whitespace().count() <= 8;
    is_action(text)
        || begins(text, LOOKS)
        || begins(text, MEASURES)
        || begins(text, STOPS)
        || (put && few)
}

/// Whether a text says in which position a control is put, as in `MODE switch to NORMAL`.
pub(super) fn puts_control(text: &str) -> bool {
    let lower = without_letter(text).to_lowercase();
    let words: Vec<&str> = lower.split_whitespace().collect();
    let put = |pair: &[&str]| CONTROLS.contains(&pair[0]) && POSITIONS.contains(&pair[1]);
    let read = ["indication", "reading", "meter", "for"];
    words.windows(2).any(put) && !words.iter().any(|word| read.contains(word)) && !promises(text)
}

/// Whether a text begins with a word that says what to do, and not with the name of something.
pub(super) fn is_action(text: &str) -> bool {
    if !begins(text, ACTIONS) {
        return false;
    }
    let names = begins(text, NAMES_TOO);
    let mut words = text.split_whitespace().skip(1).peekable();
    let is_object = |word: &&str| {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
        let capitals = bare.len() > 2 && !bare.contains(char::is_lowercase);
        let named = bare.contains(|c: char| c.is_ascii_digit()) || capitals;
        named || OBJECTS.contains(&bare.to_lowercase().as_str())
    };
    let object = words.peek().is_some_and(is_object);
    let moved =
        words.any(|word| ["to", "into", "at", "with"].contains(&word) || PUT.contains(&word));
    !names || object || moved
}

/// A text without the letter or number that it is counted by, as in `a. Inspect the case`.
pub(super) fn without_letter(text: &str) -> &str {
    let text = text.trim_start();
    let end = text.find(['.', ')']).filter(|end| *end <= 4);
    // A short word counts nothing.
    let counted = |head: &str| {
        let bare = head.trim_start_matches('(');
        let letters = bare.chars().filter(|c| c.is_ascii_alphabetic()).count();
        let roman = bare.chars().all(|c| "ivxIVX".contains(c));
        bare.chars().all(|c| c.is_ascii_alphanumeric()) && (letters <= 1 || roman)
    };
    match end {
        Some(end) if counted(&text[..end]) && text[end + 1..].starts_with(' ') => {
            text[end + 1..].trim_start()
        }
        _ => text,
    }
}
