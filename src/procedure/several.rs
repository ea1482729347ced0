//! Several readings of one kind in rows and columns: channels by modes, the levels of harmonics,
//! an audio response. Each cell is a step that reads.

use super::{Id, Setting, Signal};
use crate::quantity::{DecimalSign, Quantity, Scale, Unit, read_with_unit};
use serde::{Deserialize, Serialize};

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

/// The state of a set that a heading names.
pub fn state_of(name: &str) -> Option<Signal> {
    [Signal::Rx, Signal::Tx]
        .into_iter()
        .find(|state| state.to_string().eq_ignore_ascii_case(name.trim()))
}
