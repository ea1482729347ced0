//! What a table would become.

use crate::authoring::draft::{Draft, DraftStep};
use crate::authoring::edit::List;
use crate::authoring::table::columns::Column;
use crate::authoring::table::layout::Line;
use crate::authoring::table::meaning::Meaning;
use crate::authoring::table::row::one_line;
use crate::authoring::table::size::TooMuch;
use crate::authoring::table::why::Why;
use crate::quantity::Scale;
use serde::{Deserialize, Serialize};

/// What a pasted table would become.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Preview {
    /// The columns, and what each is taken for.
    pub columns: Vec<Column>,
    /// The lines below the first headings that have something in them.
    pub rows: Vec<Row>,
    /// Why none of it was looked at, if it was too much.
    pub too_much: Option<TooMuch>,
}

/// What one line would become.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The cells as pasted.
    pub cells: Vec<String>,
    /// What the line is.
    pub line: Line,
    /// The section that begins with it.
    pub section: Option<String>,
    /// Its steps: one a reading, and one an adjuster where it peaks or dips several. [`take`]
    /// gives each an id of its own.
    pub steps: Vec<DraftStep>,
    /// What was not understood; empty for a line that was understood wholly.
    pub unclear: Vec<Unclear>,
    /// Its printed number, or else its place among the rows.
    pub(super) number: String,
    /// The printed numbers of the first and the last row that it repeats.
    pub(super) repeats: Option<(String, String)>,
    /// The marks of the footnotes that it refers to, or the one that it is.
    pub(super) marks: Vec<String>,
}

/// A cell that was not understood, or something that the row doesn't say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unclear {
    /// The heading of its column.
    pub column: String,
    /// The cell as pasted; empty for something missing.
    pub cell: String,
    /// Why.
    pub why: Why,
}

impl Unclear {
    /// What stays open in the draft: the cell under its heading, or what isn't stated.
    pub(super) fn line(&self) -> String {
        match self.cell.as_str() {
            // Nothing in the row itself: what it is stands in the reason alone.
            "" if self.column.is_empty() => self.why.to_string(),
            "" => self.column.clone(),
            cell => format!("{}: {}", self.column, one_line(cell)),
        }
    }
}

/// What the user has said of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answers {
    /// Of columns, by their headings.
    pub columns: Vec<(String, Meaning)>,
    /// The unit of what states none.
    pub unit: Option<Scale>,
    /// Which volts a level is in that doesn't say it.
    #[serde(default)]
    pub volts: Option<Scale>,
}

impl Preview {
    /// Whether a column is taken for this.
    pub fn has(&self, meaning: Meaning) -> bool {
        self.columns.iter().any(|c| c.meaning == Some(meaning))
    }

    /// The columns that someone has to say something of before anything becomes a step.
    pub fn asked(&self) -> impl Iterator<Item = &Column> {
        self.columns.iter().filter(|column| column.is_asked())
    }

    /// Whether a unit is asked for that nothing in the table states.
    pub fn asks_unit(&self) -> bool {
        let mut all = self.rows.iter().flat_map(|row| &row.unclear);
        all.any(|unclear| matches!(unclear.why, Why::NoUnit(_) | Why::NoUnitAtAll))
    }

    /// Whether it is asked which volts a level is in.
    pub fn asks_volts(&self) -> bool {
        let mut all = self.rows.iter().flat_map(|row| &row.unclear);
        all.any(|unclear| unclear.why == Why::WhichVolts)
    }

    /// The steps of all rows.
    pub fn steps(&self) -> impl Iterator<Item = &DraftStep> {
        self.rows.iter().flat_map(|row| &row.steps)
    }

    /// The names in the steps that are not in a list of the draft yet.
    pub fn new_names(&self, list: List, draft: &Draft) -> Vec<String> {
        let known = list.names(draft);
        let mut fresh: Vec<String> = Vec::new();
        for name in self.steps().filter_map(|step| name_in(list, step)) {
            if !known.contains(name) && !fresh.contains(name) {
                fresh.push(name.clone());
            }
        }
        fresh
    }
}

/// The name of a list that a step refers to.
fn name_in(list: List, step: &DraftStep) -> Option<&String> {
    let (name, due) = match list {
        List::Adjusters => (&step.adjuster, step.kind.turns()),
        List::TestPoints => (&step.at, step.reads()),
        List::Instruments => (&step.with, step.reads()),
    };
    Some(name).filter(|name| due && !name.is_empty())
}
