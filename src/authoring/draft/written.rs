//! What a procedure is written in: texts as typed.

use crate::authoring::draft::written_step::DraftStep;
use crate::procedure::Sets;
use crate::procedure::{AdjusterKind, BoardPicture, Chase, Id, Paper, Sense};
use crate::radio::channels::ChannelTable;
use crate::radio::plan::Factor;
use serde::{Deserialize, Serialize};

/// A procedure as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Draft {
    /// The procedure's id, through all revisions.
    pub id: Id,
    /// The revision that it goes on from; 0 for a new procedure.
    pub from: u32,
    /// What it is called.
    pub title: String,
    /// Which sets it is for.
    pub covers: String,
    /// What must be known before the set is opened, one a line.
    pub cautions: String,
    /// What is turned.
    pub adjusters: Vec<DraftAdjuster>,
    /// Where is probed.
    pub test_points: Vec<DraftPoint>,
    /// What it is measured with.
    pub instruments: Vec<DraftInstrument>,
    /// Pictures of the board with their pins.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<BoardPicture>,
    /// Circuit diagrams, layouts and service sheets with their pins.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub papers: Vec<Paper>,
    /// The frequency plan.
    pub plan: Option<DraftPlan>,
    /// The channels, as a table picked whole.
    pub channels: Option<ChannelTable>,
    /// Steps whose adjusters pull each other's readings.
    pub chases: Vec<Chase>,
    /// Steps that read one thing in rows and columns.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tables: Vec<DraftTable>,
    /// The steps, in sections.
    pub sections: Vec<DraftSection>,
}

/// An adjuster as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftAdjuster {
    /// Its designator.
    pub name: String,
    /// What kind of thing it is.
    pub kind: AdjusterKind,
    /// What it does or where it sits.
    pub note: String,
    /// What it is turned with.
    pub tool: String,
    /// What clockwise does to the reading.
    pub clockwise: Option<Sense>,
    /// The steps whose readings move when it is turned.
    pub disturbs: Vec<Id>,
}

/// A test point as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftPoint {
    /// Its designator.
    pub name: String,
    /// Where it is found.
    pub place: String,
    /// Other names, one a line.
    pub also: String,
}

/// An instrument as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftInstrument {
    /// Its role.
    pub name: String,
    /// What it must be able to do.
    pub needs: String,
}

/// A section as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftSection {
    /// The title.
    pub title: String,
    /// The steps in order.
    pub steps: Vec<DraftStep>,
}

/// A frequency plan as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftPlan {
    /// Its name.
    pub name: String,
    /// Its modes.
    pub modes: Vec<DraftMode>,
}

/// A mode of a plan as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftMode {
    /// Such as AM or USB.
    pub name: String,
    /// What adds up to the frequency on the air.
    pub terms: Vec<DraftTerm>,
    /// Parts of the first injection that name no oscillator of the sum, kept as they are.
    pub other_injection: Vec<Factor>,
}

/// An oscillator in the sum of a mode as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftTerm {
    /// Its name.
    pub oscillator: String,
    /// How often it counts in the sum.
    pub factor: String,
    /// Its frequency; nothing where it follows the channel; for crystals by channel one line
    /// each, such as `19: 11.2 MHz`.
    pub frequency: String,
    /// What sets it in this mode.
    pub adjuster: String,
    /// How often it counts in the receiver's first injection; nothing where it isn't part of it.
    pub injection: String,
}

/// A table of readings as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftTable {
    /// Its name within the procedure.
    pub id: Id,
    /// What is read.
    pub title: String,
    /// The columns.
    pub columns: DraftAxis,
    /// The rows.
    pub rows: DraftAxis,
    /// The limit of all cells for which no heading states one.
    pub limit: String,
    /// The cell from whose reading the limits are counted.
    pub from: Option<Id>,
    /// The steps, row by row, as many as there are headings.
    pub cells: Vec<Vec<Option<Id>>>,
}

/// The rows or columns of a table as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftAxis {
    /// What the headings set.
    pub sets: Sets,
    /// The headings, one a line or between commas, each with the limit of its own behind `=`
    /// where it has one.
    pub headings: String,
}

/// A heading as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Heading {
    /// What stands at its row or column.
    pub name: String,
    /// The limit of its cells.
    pub limit: String,
}

/// A limit as typed for a cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    pub(super) text: String,
    pub(super) from: Option<Id>,
}
