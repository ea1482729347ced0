//! Whether a line of a table heads what is below it.

use crate::authoring::table::cells::Record;
use crate::authoring::table::columns::{Column, is_head};
use crate::authoring::table::layout::doing::is_doing;
use crate::authoring::table::layout::spans::goes_on;
use crate::authoring::table::layout::{Line, Text};
use crate::authoring::table::lex::{Token, begins, lex, lone_unit, plain};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::orders::hold::is_designator;
use crate::authoring::table::phrases::{QUANTITY_NOUNS, STATES, Sense};

/// Whether a record among rows of figures names quantities, and the next one has figures again.
pub(super) fn names_quantities(record: &Record, rows: &[Text], below: Option<&Record>) -> bool {
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
    let words = |cell: &String| {
        cell.len() <= 30
            && !cell.starts_with(char::is_lowercase)
            && !cell.contains(|c: char| c.is_ascii_digit())
            && !is_doing(cell)
            && !begins_as_limit(cell)
    };
    let figure = |record: &Record| {
        record
            .get(last)
            .is_some_and(|cell| cell.contains(|c: char| c.is_ascii_digit()))
    };
    let rows = rows.iter().filter(|text| text.line == Line::Row);
    let all = rows.map(|text| figure(&text.record)).collect::<Vec<_>>();
    let most = 2 * all.iter().filter(|it| **it).count() > all.len();
    record.iter().all(words) && most && below.is_some_and(figure)
}

/// Whether a cell begins with the sign of a limit or the words for it, and goes
/// on in words, as in `≥ rated power`.
fn begins_as_limit(cell: &str) -> bool {
    use Sense::{AtLeast, AtMost, Better, Within};
    let cell = plain(cell);
    matches!(
        lex(&cell).tokens.as_slice(),
        [
            Token::Sense(AtLeast | AtMost | Better | Within),
            Token::Word | Token::Sense(Sense::Kind),
            ..
        ]
    )
}

/// Whether a record heads the pins of parts by their numbers: words, then 1, 2, 3 and so on.
pub(super) fn counts_pins(record: &Record) -> bool {
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

pub(super) fn name_pin(heading: &mut String) {
    if heading.parse::<u32>().is_ok() {
        *heading = format!("Pin {heading}");
    }
}

/// Where the first headings stand, if there are any; a table may have some lines above them.
pub(in crate::authoring::table) fn first_heading(records: &[Record]) -> Option<usize> {
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
pub(in crate::authoring::table) fn has_headings(records: &[Record]) -> bool {
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
pub(super) fn known(record: &Record) -> Vec<Meaning> {
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
pub(super) fn repeats_a_heading(record: &Record, columns: &[Column]) -> bool {
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
pub(super) fn heads_cases(record: &Record) -> bool {
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
pub(super) fn heads(cell: &str) -> Option<Meaning> {
    (cell.len() <= 80)
        .then(|| Column::headed(cell).meaning)
        .flatten()
}

pub(super) fn filled(record: &Record) -> usize {
    record.iter().filter(|cell| !cell.is_empty()).count()
}

/// Whether a cell has a word that names something, as headings have and figures have not.
pub(super) fn names_something(cell: &str) -> bool {
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
pub(super) fn has_figures(record: &Record) -> bool {
    let figure = |cell: &String| {
        let rest = cell.trim_start_matches(['+', '-', '−', '<', '>', '≤', '≥', '±', '.', ' ', '~']);
        rest.starts_with(|c: char| c.is_ascii_digit())
    };
    record.iter().any(figure)
}

/// Whether a record among the rows is one of headings, where those before are in small letters.
pub(super) fn changes_headings(record: &Record, before: &[String]) -> bool {
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
pub(super) fn heads_points(record: &Record, below: &Record) -> bool {
    let plain = |cell: &String| cell.len() <= 30 && !cell.contains(|c: char| c.is_ascii_digit());
    let over = |(cell, below): (&String, &String)| {
        let points = heads(cell) == Some(Meaning::Point) && tells(cell) && cell.len() > 4;
        points && is_designator(below)
    };
    filled(record) >= 2 && record.iter().all(plain) && record.iter().zip(below).any(over)
}

/// Whether a record of plain words has two that are headings, and a figure right below one that
/// heads figures.
pub(super) fn stands_over_figures(record: &Record, below: &Record) -> bool {
    use Meaning::{High, Low, Nominal, Target, Tolerance};
    let plain = |cell: &String| {
        cell.len() <= 30
            && !cell.starts_with(char::is_lowercase)
            && !cell.contains(|c: char| c.is_ascii_digit())
            && (!is_doing(cell) || begins(cell, &["test"]))
            && !begins_as_limit(cell)
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
pub(super) fn names_several(record: &Record, below: &Record) -> bool {
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
