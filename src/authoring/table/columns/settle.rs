//! What the headings leave open, settled by the cells and by what was answered.

use crate::authoring::table::columns::Column;
use crate::authoring::table::columns::cells::{
    begins_to_count, counts, is_bare_figure, is_mark, is_signal, is_test_point, names_an_extreme,
    repeats, says, starts_with_figure, starts_with_limit, states_a_limit,
};
use crate::authoring::table::lex::{Token, begins, lex, plain};
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::meaning::Meaning::*;
use crate::authoring::table::phrases::{CRITERION, STEPS, TURNS, VERIFIED};

/// Settles what the headings alone leave open: by the cells, or by what was answered.
pub(in crate::authoring::table) fn settle(
    columns: &mut [Column],
    rows: &[&Vec<String>],
    answers: &[(String, Meaning)],
) {
    let cells = |index: usize| {
        let all = rows.iter().filter_map(move |row| row.get(index));
        all.map(String::as_str)
            .filter(|cell| says(cell) && !repeats(cell))
    };
    let electrodes = columns
        .iter()
        .filter(|column| !column.set.point.is_empty())
        .count();
    let titled = columns
        .iter()
        .enumerate()
        .any(|(index, column)| column.meaning == Some(Title) && cells(index).next().is_some());
    for (index, column) in columns.iter_mut().enumerate() {
        column.used = cells(index).next().is_some();
        let figures = || cells(index).filter(|cell| cell.contains(|c: char| c.is_ascii_digit()));
        // With a unit or a set-up in its heading a word or two among the figures are left open by
        // themselves.
        let sets = !column.set.mode.is_empty()
            || column.set.signal.is_some()
            || (!column.set.point.is_empty() && electrodes > 1);
        let least = if column.printed.is_some() || sets {
            2
        } else {
            1
        };
        let figured = || least * figures().count() >= cells(index).count();
        match column.meaning {
            // A set-up heads readings only where figures stand below it.
            Some(Reading) if !figured() => column.meaning = None,
            // What is read stands under a meter too.
            Some(Instrument) if column.used && cells(index).all(starts_with_figure) => {
                column.meaning = None;
            }
            // A letter is an electrode beside others.
            Some(Reading) if column.set.point.len() == 1 && electrodes < 2 => column.meaning = None,
            // What is counted has numbers, or beside a title marks that count.
            Some(Number) if titled && cells(index).all(is_mark) => {}
            Some(Number) if !cells(index).all(counts) => column.meaning = Some(Title),
            // Receiving and transmitting are no modes.
            Some(Mode) if column.used && cells(index).all(is_signal) => {
                column.meaning = Some(Signal);
            }
            // A place to write in has nothing in it.
            Some(Left) if column.used => column.meaning = None,
            _ => {}
        }
    }
    take_criteria_for_targets(columns);
    take_sentences_for_steps(columns, &cells);
    number_the_steps(columns, &cells);
    name_the_adjustments(columns, &cells);
    words_beside_values(columns, &cells);
    figures_beside_limits(columns, &cells);
    once_each(columns);
    for (index, column) in columns.iter_mut().enumerate() {
        if column.meaning.is_none() && column.used && cells(index).all(is_test_point) {
            column.meaning = Some(Point);
        }
    }
    answer(columns, answers);
    one_of_values(columns, &cells);
    // What was answered stands, whatever the cells look like.
    answer(columns, answers);
}

/// Takes columns for what was answered of them. Of two that are aimed at, one that nobody was
/// asked about is asked about then.
fn answer(columns: &mut [Column], answers: &[(String, Meaning)]) {
    let said = |column: &Column| {
        let mut answers = answers.iter();
        answers.find_map(|(heading, it)| (*heading == column.heading).then_some(*it))
    };
    let aimed = columns.iter().any(|column| said(column) == Some(Target));
    for column in columns.iter_mut() {
        match said(column) {
            Some(meaning) => column.meaning = Some(meaning),
            None if aimed && column.meaning == Some(Target) => column.meaning = None,
            None => {}
        }
    }
}

/// A table with no target has one where a single column holds figures, half of them or more
/// as limits with their units: nothing else looks like that.
fn one_of_values<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let aims = |column: &Column| {
        matches!(
            column.meaning,
            Some(Target | Low | High | Nominal | Reading)
        )
    };
    if columns.iter().any(aims) {
        return;
    }
    let turned = columns
        .iter()
        .any(|column| column.meaning == Some(Adjuster) && column.used);
    let limits = |cell: &str| {
        let cell = plain(cell);
        let tokens = lex(&cell).tokens;
        let with_unit =
            |token: &Token| matches!(token, Token::Figure(figure) if figure.unit.is_some());
        let signs = |token: &Token| matches!(token, Token::Sense(_));
        tokens.iter().any(with_unit) && tokens.iter().any(signs) && !tokens.contains(&Token::Lost)
    };
    let states = |cell: &str| {
        let cell = plain(cell);
        let tokens = lex(&cell).tokens;
        let signs = |token: &Token| matches!(token, Token::Sense(_));
        tokens.iter().any(signs) && !tokens.contains(&Token::Lost)
    };
    let of_values = |(index, column): &(usize, &Column)| {
        let limits = |cell: &str| match column.printed {
            Some(_) => states(cell),
            None => limits(cell),
        };
        let figured = cells(*index).all(|cell| cell.contains(|c: char| c.is_ascii_digit()));
        let most = 2 * cells(*index).filter(|cell| limits(cell)).count() >= cells(*index).count();
        // What is said of adjusters is what they are turned for.
        let remarks = turned && column.meaning == Some(Note) && column.used;
        let says = |cell: &&str| limits(cell) || names_an_extreme(cell);
        let aims = 2 * cells(*index).filter(says).count() >= cells(*index).count();
        (column.is_asked() && figured && most) || (remarks && aims)
    };
    let found: Vec<usize> = columns
        .iter()
        .enumerate()
        .filter(of_values)
        .map(|(index, _)| index)
        .collect();
    if let [index] = found.as_slice() {
        columns[*index].meaning = Some(Target);
    }
}

/// A column of steps that holds nothing but numbers numbers them, where another says more.
fn number_the_steps<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let telling = columns
        .iter()
        .filter(|c| matches!(c.meaning, Some(Title | Note)))
        .count();
    let aims = columns
        .iter()
        .any(|c| matches!(c.meaning, Some(Target | Low | High | Reading)));
    if telling < 2 && !aims {
        return;
    }
    let numbers = |(index, column): &(usize, &mut Column)| {
        let from_one = cells(*index).next().is_some_and(begins_to_count);
        let counted = from_one && cells(*index).all(counts);
        let marked = STEPS.contains(&column.name.as_str()) && cells(*index).all(is_mark);
        column.meaning == Some(Title) && column.used && (counted || marked)
    };
    if let Some((_, column)) = columns.iter_mut().enumerate().find(numbers) {
        column.meaning = Some(Number);
    }
}

/// A criterion beside another title is what is aimed at, where nothing else is.
fn take_criteria_for_targets(columns: &mut [Column]) {
    let aims = |column: &Column| matches!(column.meaning, Some(Target | Low | High | Reading));
    let titles = |column: &Column| column.meaning == Some(Title) && column.used;
    if columns.iter().any(aims) || columns.iter().filter(|it| titles(it)).count() != 2 {
        return;
    }
    if let Some(column) = columns
        .iter_mut()
        .find(|it| titles(it) && it.name == CRITERION)
    {
        column.meaning = Some(Target);
    }
}

/// A column of adjustments in which each cell is a sentence that says what to do says just that.
fn take_sentences_for_steps<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let asks = |cell: &str| {
        let words = cell.split_whitespace().count();
        words > 2 && (begins(cell, TURNS) || begins(cell, VERIFIED))
    };
    for (index, column) in columns.iter_mut().enumerate() {
        if column.meaning == Some(Adjuster) && column.used && cells(index).all(asks) {
            column.meaning = Some(Title);
        }
    }
}

/// Where two columns head what is turned and none what is done, the one without names of parts
/// says what is done.
fn name_the_adjustments<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let turned = |column: &Column| column.meaning == Some(Adjuster) && column.used;
    let titled = columns.iter().any(|column| column.meaning == Some(Title));
    let [first, second] = (0..columns.len())
        .filter(|index| turned(&columns[*index]))
        .collect::<Vec<_>>()[..]
    else {
        return;
    };
    let parts = |index: usize| {
        let named = |cell: &&str| cell.contains(|c: char| c.is_ascii_digit());
        cells(index).filter(named).count()
    };
    let words = match parts(first).cmp(&parts(second)) {
        std::cmp::Ordering::Less => first,
        std::cmp::Ordering::Greater => second,
        std::cmp::Ordering::Equal => return,
    };
    if !titled {
        columns[words].meaning = Some(Title);
    }
}

/// Where two columns head what is aimed at, one of names and one of figures, the names are titles.
fn words_beside_values<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let aims = |column: &Column| column.meaning == Some(Target) && column.used;
    let titled = columns.iter().any(|column| column.meaning == Some(Title));
    let [first, second] = (0..columns.len())
        .filter(|index| aims(&columns[*index]))
        .collect::<Vec<_>>()[..]
    else {
        return;
    };
    let stated = |index: usize| cells(index).filter(|cell| starts_with_limit(cell)).count();
    let names =
        |index: usize, other: usize| 2 * stated(index) < stated(other).min(cells(index).count());
    let found = [(first, second), (second, first)]
        .into_iter()
        .find(|(index, other)| names(*index, *other));
    let of_words = |index: usize| {
        let lettered = |cell: &str| cell.contains(char::is_alphabetic);
        columns[index].printed.is_none() && cells(index).all(lettered)
    };
    if let Some((index, _)) = found.filter(|(index, _)| !titled || of_words(*index)) {
        // Beside a title they tell under which conditions.
        columns[index].meaning = Some(if titled { Condition } else { Title });
    }
}

/// Where two columns head what is aimed at, one of bare figures and one of limits, the figures are
/// what is usual.
fn figures_beside_limits<'a, I: Iterator<Item = &'a str>>(
    columns: &mut [Column],
    cells: &impl Fn(usize) -> I,
) {
    let aims = |index: &usize| columns[*index].meaning == Some(Target) && columns[*index].used;
    let [first, second] = (0..columns.len()).filter(aims).collect::<Vec<_>>()[..] else {
        return;
    };
    let count = |index: usize, is: fn(&str) -> bool| cells(index).filter(|cell| is(cell)).count();
    let usual = |index: usize| {
        count(index, states_a_limit) == 0 && 2 * count(index, is_bare_figure) > cells(index).count()
    };
    let limits = |index: usize| {
        count(index, is_bare_figure) == 0 && 2 * count(index, states_a_limit) > cells(index).count()
    };
    let found = [(first, second), (second, first)]
        .into_iter()
        .find(|(one, other)| usual(*one) && limits(*other));
    if let Some((index, _)) = found.filter(|(index, _)| columns[*index].side.is_none()) {
        columns[index].meaning = Some(Nominal);
    }
}

/// A second column of the same meaning says more of the step: another title is a note. Columns
/// of readings that each bring a unit are readings of their own; any other is asked about.
fn once_each(columns: &mut [Column]) {
    let targets = || {
        columns
            .iter()
            .filter(|c| c.meaning == Some(Target) && c.used)
    };
    if targets().count() > 1 && targets().all(|column| column.scale.is_some()) {
        for column in columns.iter_mut().filter(|c| c.meaning == Some(Target)) {
            column.meaning = Some(Reading);
        }
    }
    for index in 0..columns.len() {
        let meaning = columns[index].meaning;
        let many = matches!(
            meaning,
            None | Some(Note | Caution | Condition | Reading | Left | Low | High)
        );
        let same = |c: &&Column| c.meaning == meaning && (c.used || !columns[index].used);
        if !many && columns[..index].iter().any(|c| same(&c)) {
            columns[index].meaning = match meaning {
                Some(Title) => Some(Note),
                _ => None,
            };
        }
    }
}
