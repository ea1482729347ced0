//! What is wrong with a table of readings.

use crate::procedure::fault::{Fault, twice};
use crate::procedure::several::{Axis, ReadingTable, Sets, state_of};
use crate::procedure::{Field, Id, Place, Procedure, Work};
use std::collections::HashSet;

/// What is wrong with the tables of readings.
pub(in crate::procedure) fn table_faults(procedure: &Procedure) -> Vec<Fault> {
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
