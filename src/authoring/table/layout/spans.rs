//! Headings in two lines, and those that stand over several columns.

use crate::authoring::table::cells::Record;
use crate::authoring::table::columns::Column;
use crate::authoring::table::layout::doing::is_doing;
use crate::authoring::table::layout::headings::{filled, has_figures, heads, names_something};
use crate::authoring::table::lex::{Spelled, Token, lex, lone_unit};
use crate::authoring::table::meaning::Meaning;

/// Whether a record goes on with the headings above it: nothing but limits, set-ups and units,
/// several or in brackets, and none in the first column; or what a heading above stands over.
pub(super) fn goes_on(head: &Record, record: &Record) -> bool {
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
    (first && ((known && !has_figures(record)) || is_under() || parts_headings(head, record)))
        || fills_in(head, record)
        || states_units(record)
}

/// Whether a record has a word under every heading, and nothing but limits or set-ups under one
/// that goes over several columns.
fn fills_in(head: &Record, record: &Record) -> bool {
    use Meaning::{High, Low, Nominal, Reading, Tolerance};
    let at = |cells: &Record, index: usize| cells.get(index).is_some_and(|it| !it.is_empty());
    let wide = |index: &usize| at(head, *index) && !at(head, index + 1) && at(record, index + 1);
    let limits = |index: usize| {
        let meaning = record.get(index).and_then(|cell| heads(cell));
        matches!(meaning, Some(Low | High | Nominal | Tolerance | Reading))
    };
    let under = |index: usize| {
        let rest = (index + 1..record.len()).take_while(|below| !at(head, *below));
        limits(index) && rest.into_iter().all(limits)
    };
    let names = |cell: &String| cell.len() <= 40 && names_something(cell) && !is_doing(cell);
    filled(head) >= 2
        && filled(record) >= head.len().max(3)
        && !has_figures(record)
        && !has_figures(head)
        && record.iter().all(names)
        && (0..record.len()).filter(wide).any(under)
}

/// Whether a record has nothing but units, several of them, and none or one in brackets first.
pub(super) fn states_units(record: &Record) -> bool {
    let unit = |cell: &String| lone_unit(cell.trim_matches(['(', ')', '[', ']'])).is_some();
    let first = record
        .first()
        .is_some_and(|it| it.is_empty() || it.starts_with(['(', '[']));
    first && filled(record) > 2 && record.iter().all(|cell| cell.is_empty() || unit(cell))
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
pub(super) fn parts_headings(head: &Record, record: &Record) -> bool {
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
pub(super) fn spanned(head: &Record, record: &Record) -> Vec<(usize, String)> {
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
pub(super) fn merge(head: &mut Record, below: &Record) {
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
