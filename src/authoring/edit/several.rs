//! Changes of a table of readings: what is typed for its headings and limits becomes steps.

mod grid;

use crate::authoring::Kind;
use crate::authoring::draft::{Draft, DraftAxis, DraftStep, DraftTable, Heading};
use crate::authoring::edit::place::place_of;
use crate::authoring::edit::several::grid::{Grid, new_cell, rewrite, set};
use crate::authoring::edit::{add_step, remove_step};
use crate::procedure::{Id, Sets};
use crate::quantity::{DecimalSign, Scale};

/// A new table at the end of a section, of one cell; it goes on from the step before. Its place
/// among the tables.
pub fn add_table(draft: &mut Draft, section: usize) -> Option<usize> {
    let first = add_step(draft, section)?;
    for step in draft.steps_mut().filter(|step| step.id == first) {
        step.kind = Kind::Read;
    }
    let axis = |sets| DraftAxis {
        sets,
        headings: String::new(),
    };
    draft.tables.push(DraftTable {
        id: fresh_id(draft),
        title: String::new(),
        columns: axis(Sets::Mode),
        rows: axis(Sets::Channel),
        limit: String::new(),
        from: None,
        cells: vec![vec![Some(first)]],
    });
    Some(draft.tables.len() - 1)
}

/// The step that goes on from another one. What the headings of that one's table set, such as
/// the harmonic that is looked at, nobody has said of this one.
pub(super) fn behind(draft: &Draft, last: &DraftStep, id: Id) -> DraftStep {
    let mut step = last.follow_on(id);
    let table = draft.table_of(&last.id).and_then(|at| draft.tables.get(at));
    for axis in table
        .into_iter()
        .flat_map(|table| [&table.columns, &table.rows])
    {
        set(&mut step, &axis.sets, None, "");
    }
    step
}

fn fresh_id(draft: &Draft) -> Id {
    let taken = |name: &str| draft.tables.iter().any(|table| table.id.as_str() == name);
    (draft.tables.len() + 1..)
        .map(|n| format!("table-{n}"))
        .find(|name| !taken(name))
        .and_then(|name| name.parse().ok())
        // A word and a number are an id, and some number is free.
        .unwrap_or_else(|| draft.id.clone())
}

/// Lets a table go; its steps stay as steps like any other.
pub fn dissolve_table(draft: &mut Draft, index: usize) {
    if index < draft.tables.len() {
        draft.tables.remove(index);
    }
}

/// Takes a table away with its steps.
pub fn remove_table(draft: &mut Draft, index: usize) {
    for id in ids_of(draft, index) {
        remove_step(draft, &id);
    }
    dissolve_table_of_none(draft);
}

fn dissolve_table_of_none(draft: &mut Draft) {
    draft
        .tables
        .retain(|table| table.cells.iter().flatten().any(Option::is_some));
}

/// Takes a step out of the tables.
pub(super) fn forget(draft: &mut Draft, id: &Id) {
    for table in &mut draft.tables {
        for cell in table.cells.iter_mut().flatten() {
            cell.take_if(|step| step == id);
        }
        table.from.take_if(|step| step == id);
    }
    dissolve_table_of_none(draft);
}

fn ids_of(draft: &Draft, index: usize) -> Vec<Id> {
    let table = draft.tables.get(index);
    let cells = table
        .into_iter()
        .flat_map(|table| table.cells.iter().flatten().flatten());
    cells.cloned().collect()
}

/// Changes all steps of a table alike.
pub fn change_cells(draft: &mut Draft, index: usize, act: impl Fn(&mut DraftStep)) {
    let ids = ids_of(draft, index);
    draft
        .steps_mut()
        .filter(|step| ids.contains(&step.id))
        .for_each(act);
}

/// Whether something of the set-up is said for a whole table at once: what its headings don't set.
pub fn is_left_to_all(table: &DraftTable, what: &Sets) -> bool {
    [&table.rows, &table.columns]
        .into_iter()
        .all(|axis| match (&axis.sets, what) {
            (Sets::Control(_), Sets::Control(_)) => false,
            (sets, what) => sets != what,
        })
}

/// Reads all cells in another unit, and their limits with it.
pub fn read_cells_in(draft: &mut Draft, index: usize, scale: Scale, sign: DecimalSign) {
    change_cells(draft, index, |step| step.scale = scale);
    let Some(table) = draft.tables.get(index).cloned() else {
        return;
    };
    let unlimited = DraftTable {
        limit: String::new(),
        columns: without_limits(&table.columns, sign),
        rows: without_limits(&table.rows, sign),
        ..table.clone()
    };
    follow(draft, index, &unlimited, sign);
}

fn without_limits(axis: &DraftAxis, sign: DecimalSign) -> DraftAxis {
    let names = axis.read(sign).into_iter().map(|heading| heading.name);
    DraftAxis {
        sets: axis.sets.clone(),
        headings: names.collect::<Vec<_>>().join("\n"),
    }
}

/// Changes what is typed of a table, and its steps with it: new headings make steps, those that
/// went take theirs along, and what differs in titles, set-ups and limits is written into the
/// steps that stay. What was changed in a step by itself stays until its own words change.
pub fn write_table(
    draft: &mut Draft,
    index: usize,
    sign: DecimalSign,
    act: impl FnOnce(&mut DraftTable),
) {
    let Some(table) = draft.tables.get_mut(index) else {
        return;
    };
    let before = table.clone();
    act(table);
    follow(draft, index, &before, sign);
}

fn follow(draft: &mut Draft, index: usize, before: &DraftTable, sign: DecimalSign) {
    let Some(mut table) = draft.tables.get(index).cloned() else {
        return;
    };
    let (was, is) = (Grid::of(before, sign), Grid::of(&table, sign));
    let rows = kept(&was.rows, &is.rows);
    let columns = kept(&was.columns, &is.columns);
    let mut fresh = Vec::new();
    let mut grid: Vec<Vec<Option<Id>>> = Vec::new();
    for row in &rows {
        let mut cells = Vec::new();
        for column in &columns {
            let stays = row.zip(*column);
            cells.push(match stays {
                Some((row, column)) => before
                    .cells
                    .get(row)
                    .and_then(|it| it.get(column))
                    .cloned()
                    .flatten(),
                None => {
                    new_cell(draft, before, (*row, *column)).inspect(|id| fresh.push(id.clone()))
                }
            });
        }
        grid.push(cells);
    }
    let stays = |id: &Id| grid.iter().flatten().flatten().any(|other| other == id);
    let gone: Vec<Id> = before
        .cells
        .iter()
        .flatten()
        .flatten()
        .filter(|id| !stays(id))
        .cloned()
        .collect();
    table.from = table.from.filter(|id| !gone.contains(id));
    table.cells = grid;
    for (r, row) in rows.iter().enumerate() {
        for (c, column) in columns.iter().enumerate() {
            let Some(id) = table.cells[r][c].clone() else {
                continue;
            };
            let old = row
                .zip(*column)
                .map(|(row, column)| was.cell(before, row, column, &id));
            let new = is.cell(&table, r, c, &id);
            for step in draft.steps_mut().filter(|step| step.id == id) {
                rewrite(step, old.as_ref(), &new, sign);
            }
        }
    }
    draft.tables[index] = table;
    if !fresh.is_empty() {
        gather_table(draft, index);
    }
    for id in gone {
        remove_step(draft, &id);
    }
}

/// For each heading that is there now, its place before. What stands alike at the beginning and at
/// the end stayed; of what is between, the first are renamed.
fn kept(was: &[Heading], is: &[Heading]) -> Vec<Option<usize>> {
    let same = |(a, b): &(&Heading, &Heading)| a.name == b.name;
    let start = was.iter().zip(is).take_while(same).count();
    let rest = was.len().min(is.len()) - start;
    let end = was
        .iter()
        .rev()
        .zip(is.iter().rev())
        .take_while(same)
        .count()
        .min(rest);
    let (was_middle, is_middle) = (was.len() - end, is.len() - end);
    let place = |index: usize| match index {
        _ if index < start => Some(index),
        _ if index >= is_middle => Some(index - is_middle + was_middle),
        _ => Some(index).filter(|index| *index < was_middle),
    };
    (0..is.len()).map(place).collect()
}

/// Puts the steps of a table next to each other, row by row, from where the first of them stands.
pub fn gather_table(draft: &mut Draft, index: usize) {
    let ids = ids_of(draft, index);
    let places = ids.iter().filter_map(|id| place_of(draft, id));
    let Some((section, place)) = places.min() else {
        return;
    };
    let mut steps: Vec<DraftStep> = Vec::new();
    for part in &mut draft.sections {
        let (of_table, others) = std::mem::take(&mut part.steps)
            .into_iter()
            .partition(|step| ids.contains(&step.id));
        part.steps = others;
        steps.extend(of_table);
    }
    let order = |step: &DraftStep| ids.iter().position(|id| *id == step.id);
    steps.sort_by_key(order);
    // Before the first of them stood none of them, so its place is the same without them.
    draft.sections[section].steps.splice(place..place, steps);
}
