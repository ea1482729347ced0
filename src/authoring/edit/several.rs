//! Changes of a table of readings: what is typed for its headings and limits becomes steps.

use crate::authoring::Kind;
use crate::authoring::draft::{
    Draft, DraftAxis, DraftStep, DraftTable, DraftTarget, Heading, cells, line_of,
};
use crate::authoring::edit::{add_step, fresh_step_id, place_of, remove_step};
use crate::procedure::{Id, Sets, cell_title, state_of, unit_in_brackets};
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

/// The headings of a table, read.
struct Grid {
    rows: Vec<Heading>,
    columns: Vec<Heading>,
}

/// What a table says of one cell.
struct Cell {
    title: String,
    /// What is set, and to what.
    sets: [(Sets, String); 2],
    limit: Option<crate::authoring::draft::Limit>,
}

impl Grid {
    fn of(table: &DraftTable, sign: DecimalSign) -> Self {
        Grid {
            rows: table.rows.read(sign),
            columns: table.columns.read(sign),
        }
    }

    fn cell(&self, table: &DraftTable, row: usize, column: usize, id: &Id) -> Cell {
        let (row, column) = (&self.rows[row], &self.columns[column]);
        let (by_row, by_column) = (&table.rows.sets, &table.columns.sets);
        Cell {
            title: cell_title(&table.title, (by_row, &row.name), (by_column, &column.name)),
            sets: [
                (by_row.clone(), row.name.clone()),
                (by_column.clone(), column.name.clone()),
            ],
            limit: table.stated(row, column, Some(id)),
        }
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

/// A step for a new cell, made as its neighbour in the same row or column, or as the first.
fn new_cell(
    draft: &mut Draft,
    table: &DraftTable,
    (row, column): (Option<usize>, Option<usize>),
) -> Option<Id> {
    let beside = |id: &&Option<Id>| id.is_some();
    let in_row = row.and_then(|row| table.cells.get(row)?.iter().rev().find(beside));
    let in_column = || {
        let column = column?;
        table
            .cells
            .iter()
            .rev()
            .filter_map(|cells| cells.get(column))
            .find(beside)
    };
    let any = || table.cells.iter().flatten().find(beside);
    let model = in_row.or_else(in_column).or_else(any)?.clone()?;
    let (section, place) = place_of(draft, &model)?;
    let id = fresh_step_id(draft);
    let step = DraftStep {
        id: id.clone(),
        takes_off: String::new(),
        puts_back: String::new(),
        shares_null_with: None,
        // Its headings say what is asked of it.
        target: DraftTarget::default(),
        known: None,
        source: String::new(),
        ..draft.sections[section].steps[place].clone()
    };
    draft.sections[section].steps.insert(place + 1, step);
    Some(id)
}

/// Writes into a step what its table says of it now and did not say before.
fn rewrite(step: &mut DraftStep, old: Option<&Cell>, new: &Cell, sign: DecimalSign) {
    if old.is_none_or(|old| step.title == old.title) {
        step.title.clone_from(&new.title);
    }
    for (index, (sets, name)) in new.sets.iter().enumerate() {
        let before = old.map(|old| &old.sets[index]);
        if let Some((was, old)) = before.filter(|(was, _)| was != sets) {
            set(step, was, Some(old), "");
        }
        let only_if = before
            .filter(|(was, _)| was == sets)
            .map(|(_, old)| old.as_str());
        if before.is_none_or(|before| before != &(sets.clone(), name.clone())) {
            set(step, sets, only_if, name);
        }
    }
    let limit = |cell: &Cell| cell.limit.clone();
    if old.is_none_or(|old| limit(old) != limit(new)) && (old.is_some() || new.limit.is_some()) {
        let target = new
            .limit
            .as_ref()
            .map(|limit| limit.target(step.scale, sign));
        step.target = target.unwrap_or_default();
    }
}

/// Puts what a heading says into the set-up; only in the place of `old` where that is given.
fn set(step: &mut DraftStep, sets: &Sets, old: Option<&str>, name: &str) {
    let text = match sets {
        Sets::Mode => &mut step.mode,
        Sets::Channel => &mut step.channel,
        Sets::Supply => &mut step.supply,
        Sets::State => {
            step.signal = state_of(name);
            return;
        }
        Sets::Setting(setting) => {
            let stands = step.settings.get(setting).map_or("", String::as_str);
            if old.is_none_or(|old| stands == old) {
                step.settings.insert(*setting, name.to_owned());
                step.settings.retain(|_, text| !text.is_empty());
            }
            return;
        }
        Sets::Control(control) => {
            step.controls = with_control(&step.controls, control, name);
            return;
        }
        Sets::Reading => {
            if let Some(scale) = unit_in_brackets(name) {
                step.scale = scale;
            }
            return;
        }
    };
    if old.is_none_or(|old| text == old) {
        name.clone_into(text);
    }
}

/// The controls of a step with one of them elsewhere; without it where it stands nowhere.
fn with_control(controls: &str, control: &str, to: &str) -> String {
    let control = control.trim();
    let is_it = |line: &str| {
        cells(line, ':', 2)
            .first()
            .is_some_and(|name| name.trim() == control)
    };
    let mut lines: Vec<String> = controls.lines().map(str::to_owned).collect();
    let line = line_of(&[control.to_owned(), to.to_owned()], ':');
    match (
        lines.iter().position(|line| is_it(line)),
        to.is_empty() || control.is_empty(),
    ) {
        (Some(place), true) => drop(lines.remove(place)),
        (Some(place), false) => lines[place] = line,
        (None, true) => {}
        (None, false) => lines.push(line),
    }
    lines.join("\n")
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
