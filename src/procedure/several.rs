//! Several readings of one kind in rows and columns: channels by modes, the levels of harmonics,
//! an audio response. Each cell is a step that reads.

use super::fault::{Fault, twice};
use super::{Field, Id, Place, Procedure, Setting, Signal, Step, Target, Work};
use crate::quantity::{DecimalSign, Quantity, Scale, Unit, read_with_unit};
use serde::{Deserialize, Serialize};
use std::collections::HashSet;

/// Readings in rows and columns.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ReadingTable {
    /// Its name within the procedure.
    pub id: Id,
    /// What is read.
    pub title: String,
    /// What the columns differ in.
    pub columns: Axis,
    /// What the rows differ in.
    pub rows: Axis,
    /// The steps that read, row by row; none where nothing is read.
    pub cells: Vec<Vec<Option<Id>>>,
}

/// What the rows or the columns of a table differ in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Axis {
    /// What its headings set.
    pub sets: Sets,
    /// The headings in order.
    pub names: Vec<String>,
}

/// What the headings of rows or columns set in the set-up of their steps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Sets {
    /// The mode.
    Mode,
    /// The channel.
    Channel,
    /// Receiving or transmitting.
    State,
    /// The supply.
    Supply,
    /// The load, or what is set on generator or analyser.
    Setting(Setting),
    /// A control.
    Control(String),
    /// Nothing: they say what is read.
    Reading,
}

impl Sets {
    /// What is set, in a word.
    pub fn name(&self) -> &str {
        match self {
            Sets::Mode => "Mode",
            Sets::Channel => "Channel",
            Sets::State => "State",
            Sets::Supply => "Supply",
            Sets::Setting(setting) => setting.name(),
            Sets::Control(name) => name,
            Sets::Reading => "Reading",
        }
    }

    /// A heading as it is said within a title.
    pub fn said(&self, name: &str) -> String {
        match self {
            _ if name.is_empty() => String::new(),
            Sets::Channel => format!("channel {name}"),
            Sets::Supply => format!("at {name}"),
            Sets::Reading => bare(name).to_owned(),
            Sets::Mode | Sets::State | Sets::Setting(_) | Sets::Control(_) => name.to_owned(),
        }
    }
}

/// The unit in brackets behind what a heading says is read, such as of `Level (dBc)`.
pub fn unit_in_brackets(name: &str) -> Option<Scale> {
    let (_, unit) = name.trim().strip_suffix(')')?.rsplit_once('(')?;
    unit.trim().parse().ok()
}

/// What a heading says is read, without its unit.
fn bare(name: &str) -> &str {
    match unit_in_brackets(name) {
        Some(_) => name.rsplit_once('(').map_or(name, |(name, _)| name.trim()),
        None => name,
    }
}

/// What a cell is called, from the title of its table and its two headings.
pub fn cell_title(
    title: &str,
    (row_sets, row): (&Sets, &str),
    (sets, column): (&Sets, &str),
) -> String {
    let parts = [row_sets.said(row), sets.said(column)];
    let parts: Vec<&str> = parts
        .iter()
        .map(|part| part.trim())
        .filter(|part| !part.is_empty())
        .collect();
    let headings = parts.join(", ");
    match (title.trim(), headings.is_empty()) {
        ("", _) => headings,
        (title, true) => title.to_owned(),
        (title, false) => format!("{title}: {headings}"),
    }
}

impl Axis {
    /// The headings as numbers in one unit, where all are.
    pub fn numbers(&self) -> Option<Vec<Quantity>> {
        let read = |name: &String| {
            read_with_unit(name, DecimalSign::Point)
                .or_else(|| read_with_unit(name, DecimalSign::Comma))
        };
        let numbers: Vec<Quantity> = self.names.iter().map(read).collect::<Option<_>>()?;
        let unit = numbers.first()?.unit();
        let is_one_unit = numbers.iter().all(|number| number.unit() == unit);
        (is_one_unit && numbers.len() > 1).then_some(numbers)
    }

    /// The unit of the headings, where all are numbers in one.
    pub fn unit(&self) -> Option<Unit> {
        Some(self.numbers()?.first()?.unit())
    }

    /// A heading as it stands at its row or column.
    pub fn heading(&self, index: usize) -> &str {
        match self.names.get(index).map(|name| name.as_str()) {
            None | Some("") => self.sets.name(),
            Some(name) => name,
        }
    }

    /// Whether it is a single row or column that needs no name.
    pub fn is_plain(&self) -> bool {
        self.sets == Sets::Reading && self.names.len() < 2
    }
}

impl ReadingTable {
    /// The steps in the order in which they are read.
    pub fn steps(&self) -> impl Iterator<Item = &Id> {
        self.cells.iter().flatten().flatten()
    }

    /// The row and the column of a step.
    pub fn place_of(&self, id: &Id) -> Option<(usize, usize)> {
        self.cells.iter().enumerate().find_map(|(row, cells)| {
            let column = cells.iter().position(|cell| cell.as_ref() == Some(id))?;
            Some((row, column))
        })
    }

    /// The step in a row and a column.
    pub fn cell(&self, row: usize, column: usize) -> Option<&Id> {
        self.cells.get(row)?.get(column)?.as_ref()
    }
}

impl Procedure {
    /// The table that a step is a cell of.
    pub fn table_of(&self, id: &Id) -> Option<&ReadingTable> {
        self.tables
            .iter()
            .find(|table| table.steps().any(|step| step == id))
    }

    /// Whether a target may be worked out from a step that is read later: both are cells of one
    /// table, and that other one does not wait for a third.
    pub(super) fn may_wait_for(&self, step: &Step, other: &Id) -> bool {
        let Some(table) = self.table_of(&step.id) else {
            return false;
        };
        let leans = |id: &Id| self.step(id)?.work.target().and_then(Target::leans_on);
        let is_cell = |id: &Id| table.place_of(id).is_some();
        *other != step.id && is_cell(other) && !leans(other).is_some_and(is_cell)
    }
}

/// What is wrong with the tables of readings.
pub(super) fn table_faults(procedure: &Procedure) -> Vec<Fault> {
    let tables = procedure.tables.iter().enumerate();
    let mut found: Vec<Fault> = tables
        .flat_map(|(index, table)| {
            let fault = move |(field, sentence)| Fault {
                place: Place::Table(index + 1),
                field,
                sentence,
            };
            faults_of(procedure, table).into_iter().map(fault)
        })
        .collect();
    let ids = twice(procedure.tables.iter().map(|table| &table.id));
    found.extend(ids.into_iter().map(|id| Fault {
        place: Place::Whole,
        field: Field::Cells,
        sentence: format!("Two tables of readings are called “{id}”: rename one"),
    }));
    found
}

type Wrong = (Field, String);

fn faults_of(procedure: &Procedure, table: &ReadingTable) -> Vec<Wrong> {
    let mut found = Vec::new();
    if table.title.trim().is_empty() {
        let sentence = "it has no title: say what is read";
        found.push((Field::Title, sentence.to_owned()));
    }
    found.extend(axis_fault(&table.columns, Field::Columns, "column"));
    found.extend(axis_fault(&table.rows, Field::Rows, "row"));
    let cells = cell_faults(procedure, table);
    found.extend(cells.into_iter().map(|sentence| (Field::Cells, sentence)));
    found
}

fn axis_fault(axis: &Axis, field: Field, what: &str) -> Option<Wrong> {
    let mut seen = HashSet::new();
    let odd_state = |name: &&String| axis.sets == Sets::State && state_of(name).is_none();
    let is_nameless = axis.names.iter().any(|name| name.trim().is_empty());
    let sentence = if axis.names.is_empty() || (is_nameless && !axis.is_plain()) {
        format!("a {what} has no heading: give each one")
    } else if matches!(&axis.sets, Sets::Control(name) if name.trim().is_empty()) {
        format!("what its {what}s set has no name: name the control")
    } else if let Some(name) = axis.names.iter().find(|name| !seen.insert(*name)) {
        format!("two {what}s are called “{name}”: rename one")
    } else {
        let name = axis.names.iter().find(odd_state)?;
        format!("the {what} “{name}” is no state: it is RX or TX")
    };
    Some((field, sentence))
}

/// The state of a set that a heading names.
pub fn state_of(name: &str) -> Option<Signal> {
    [Signal::Rx, Signal::Tx]
        .into_iter()
        .find(|state| state.to_string().eq_ignore_ascii_case(name.trim()))
}

/// What is wrong with the cells, as sentences.
fn cell_faults(procedure: &Procedure, table: &ReadingTable) -> Vec<String> {
    let (rows, columns) = (table.rows.names.len(), table.columns.names.len());
    let fits = table.cells.len() == rows && table.cells.iter().all(|row| row.len() == columns);
    if !fits {
        return vec![format!(
            "its cells don't fit its {rows} rows and {columns} columns: let each row have {columns} cells"
        )];
    }
    if table.steps().next().is_none() {
        return vec!["nothing is read in it: take it away".to_owned()];
    }
    let mut found: Vec<String> = twice(table.steps())
        .into_iter()
        .map(|id| format!("two of its cells are the step “{id}”: let each be a step of its own"))
        .collect();
    for id in table.steps() {
        match (procedure.step(id), procedure.number_of(id)) {
            (Some(step), Some(number)) if !matches!(step.work, Work::Read { .. }) => {
                found.push(format!(
                    "its cell is step {number}, which takes no plain reading: let it read"
                ));
            }
            (Some(_), _) => {}
            (None, _) => found.push(format!(
                "its cell “{id}” is a step that isn't there: choose another"
            )),
        }
        if procedure
            .table_of(id)
            .is_some_and(|other| other.id != table.id)
        {
            found.push(format!(
                "its cell “{id}” is one of another table too: let each be a step of its own"
            ));
        }
    }
    if found.is_empty() && !stand_in_order(procedure, table) {
        found.push("its steps don't stand next to each other in one section, row by row: put them in order".to_owned());
    }
    found
}

/// Whether the steps stand next to each other in one section, row by row.
fn stand_in_order(procedure: &Procedure, table: &ReadingTable) -> bool {
    let cells: Vec<&Id> = table.steps().collect();
    procedure.sections.iter().any(|section| {
        let ids: Vec<&Id> = section.steps.iter().map(|step| &step.id).collect();
        ids.windows(cells.len().max(1)).any(|run| run == cells)
    })
}
