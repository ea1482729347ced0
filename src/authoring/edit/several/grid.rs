//! What a table sets in each of its cells.

use crate::authoring::draft::{Draft, DraftStep, DraftTable, DraftTarget, Heading, cells, line_of};
use crate::authoring::edit::fresh_step_id;
use crate::authoring::edit::place::place_of;
use crate::procedure::{Id, Sets, cell_title, state_of, unit_in_brackets};
use crate::quantity::DecimalSign;

/// The headings of a table, read.
pub(super) struct Grid {
    pub(super) rows: Vec<Heading>,
    pub(super) columns: Vec<Heading>,
}

/// What a table says of one cell.
pub(super) struct Cell {
    pub(super) title: String,
    /// What is set, and to what.
    pub(super) sets: [(Sets, String); 2],
    pub(super) limit: Option<crate::authoring::draft::Limit>,
}

impl Grid {
    pub(super) fn of(table: &DraftTable, sign: DecimalSign) -> Self {
        Grid {
            rows: table.rows.read(sign),
            columns: table.columns.read(sign),
        }
    }

    pub(super) fn cell(&self, table: &DraftTable, row: usize, column: usize, id: &Id) -> Cell {
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

/// A step for a new cell, made as its neighbour in the same row or column, or as the first.
pub(super) fn new_cell(
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
pub(super) fn rewrite(step: &mut DraftStep, old: Option<&Cell>, new: &Cell, sign: DecimalSign) {
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
pub(super) fn set(step: &mut DraftStep, sets: &Sets, old: Option<&str>, name: &str) {
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
