//! What is to be done: a procedure with its sections and steps, and what is wrong with one.

mod companions;
mod digest;
mod fault;
mod field;
mod id;
mod join;
mod pages;
mod several;
mod shelf;
mod signal_path;
mod socket;
mod spoken;
mod step;
mod target;

pub use companions::{Chase, Comparison, CrossCheck, Removable, Settling};
pub use digest::{digest_of, hexadecimal};
pub use fault::{Fault, Place, faults};
pub use field::Field;
pub use id::{Id, IdError, OPEN};
pub use join::{JoinFault, joined};
pub use pages::paper::{MAX_PAGES, Paper, PaperPin, PaperSpot, part_of_page};
pub use pages::picture::{BoardPicture, BoardPin, Crop, NoDigest, PictureDigest, Spot, WHOLE};
pub use several::{Axis, ReadingTable, Sets, cell_title, state_of, unit_in_brackets};
pub use shelf::{Listed, latest};
pub use signal_path::{
    Chance, CheckName, CheckPoint, Effort, MOST_STAGES, PathFault, SignalPath, Stage,
};
pub use socket::{Expectation, Pin, Socket};
pub use spoken::spoken;
pub use step::{
    Alteration, Basis, Control, Direction, Gauge, HoldPoint, Holds, Lead, Path, Repeat, SetUp,
    SetUpChange, SetUpItem, Setting, Signal, Step, Until, Work, is_level,
};
pub use target::{Target, TargetFault, cited, goes_by_power};

use crate::radio::channels::ChannelTable;
use crate::radio::plan::Plan;

use serde::{Deserialize, Serialize};
use std::ops::RangeInclusive;

/// A procedure: everything that is to be done to a set of one kind, in order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Procedure {
    /// The same through all revisions.
    pub id: Id,
    /// What it is called.
    pub title: String,
    /// Counts up from 1 with each published change.
    pub revision: u32,
    /// Which sets it is for.
    pub covers: String,
    /// What must be known before the set is opened.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// What is turned.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub adjusters: Vec<Adjuster>,
    /// Where is probed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub test_points: Vec<TestPoint>,
    /// What it is measured with, by role.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub instruments: Vec<Instrument>,
    /// Pictures of the board, with the places of adjusters and test points on them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pictures: Vec<BoardPicture>,
    /// Circuit diagrams, layouts and service sheets.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub papers: Vec<Paper>,
    /// How the set makes its on-air frequency in each mode.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plan: Option<Plan>,
    /// The channels of the set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub channels: Option<ChannelTable>,
    /// Steps whose adjusters pull each other's readings.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub chases: Vec<Chase>,
    /// Steps that read one thing in rows and columns.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tables: Vec<ReadingTable>,
    /// The steps, in sections.
    pub sections: Vec<Section>,
}

/// Something that is turned, bent or linked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Adjuster {
    /// Its designator on the board, such as `L4`.
    #[serde(rename = "ref")]
    pub id: Id,
    /// What kind of thing it is.
    pub kind: AdjusterKind,
    /// What it does or where it sits.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// What it is turned with.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub tool: String,
    /// What clockwise does to the reading, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clockwise: Option<Sense>,
    /// The steps whose readings move when it is turned.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub disturbs: Vec<Id>,
}

/// The kinds of adjusters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AdjusterKind {
    /// A coil's core.
    Core,
    /// A trimmer capacitor.
    Trimmer,
    /// A preset potentiometer.
    Pot,
    /// A link that is opened or closed.
    Link,
}

impl AdjusterKind {
    /// The kind in words.
    pub const fn name(self) -> &'static str {
        match self {
            AdjusterKind::Core => "core",
            AdjusterKind::Trimmer => "trimmer",
            AdjusterKind::Pot => "pot",
            AdjusterKind::Link => "link",
        }
    }
}

/// What turning clockwise does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sense {
    /// The reading goes up.
    Raises,
    /// The reading goes down.
    Lowers,
}

/// A place where a probe goes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct TestPoint {
    /// Its designator, such as `TP3`.
    #[serde(rename = "ref")]
    pub id: Id,
    /// Where it is found.
    #[serde(rename = "where")]
    pub place: String,
    /// Other names for the same point.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<String>,
}

/// An instrument by the part that it plays, not by make.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Instrument {
    /// The role, such as `counter`.
    pub role: Id,
    /// What it must be able to do.
    pub needs: String,
}

/// A part of a procedure with a title of its own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Section {
    /// The title.
    pub title: String,
    /// The steps in order.
    pub steps: Vec<Step>,
}

impl TestPoint {
    /// One of which nothing but its name is known.
    pub fn named(id: Id) -> Self {
        TestPoint {
            id,
            place: String::new(),
            also: Vec::new(),
        }
    }
}

impl Instrument {
    /// A role of which nothing but its name is known.
    pub fn named(role: Id) -> Self {
        Instrument {
            role,
            needs: String::new(),
        }
    }
}

impl Procedure {
    /// A first revision with nothing in it.
    pub fn new(id: Id, title: impl Into<String>) -> Self {
        Procedure {
            id,
            title: title.into(),
            revision: 1,
            covers: String::new(),
            cautions: Vec::new(),
            adjusters: Vec::new(),
            test_points: Vec::new(),
            instruments: Vec::new(),
            pictures: Vec::new(),
            papers: Vec::new(),
            plan: None,
            channels: None,
            chases: Vec::new(),
            tables: Vec::new(),
            sections: Vec::new(),
        }
    }

    /// All steps in order, without their sections.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.sections.iter().flat_map(|section| &section.steps)
    }

    /// The step with this id.
    pub fn step(&self, id: &Id) -> Option<&Step> {
        self.steps().find(|step| step.id == *id)
    }

    /// The step's place in the whole, from 1.
    pub fn number_of(&self, id: &Id) -> Option<usize> {
        self.steps().position(|step| step.id == *id).map(|i| i + 1)
    }

    /// The places, from 0, of the steps that a step repeats, where they are there.
    pub fn range_of(&self, repeat: &Repeat) -> Option<RangeInclusive<usize>> {
        let place = |id| self.number_of(id).map(|number| number - 1);
        Some(place(&repeat.from)?..=place(&repeat.to)?)
    }

    /// The same of each step that repeats others.
    pub fn ranges(&self) -> impl Iterator<Item = RangeInclusive<usize>> {
        self.steps().filter_map(|step| match &step.work {
            Work::Repeat(repeat) => self.range_of(repeat),
            _ => None,
        })
    }

    /// The section that holds the step.
    pub fn section_of(&self, id: &Id) -> Option<&Section> {
        self.sections
            .iter()
            .find(|section| section.steps.iter().any(|step| step.id == *id))
    }

    /// A fingerprint of the whole content: SHA-256 (FIPS 180-4) over the compact JSON text,
    /// in hexadecimal. Two procedures with the same digest are the same.
    pub fn digest(&self) -> String {
        // A procedure holds nothing that JSON can't, so this does not fail.
        let text = serde_json::to_vec(self).unwrap_or_default();
        digest_of(&text)
    }

    /// The group of steps that chase each other to which a step belongs.
    pub fn chase_of(&self, id: &Id) -> Option<&Chase> {
        self.chases.iter().find(|chase| chase.steps.contains(id))
    }

    /// The adjuster with this designator.
    pub fn adjuster(&self, id: &Id) -> Option<&Adjuster> {
        self.adjusters.iter().find(|adjuster| adjuster.id == *id)
    }

    /// The test point with this designator.
    pub fn test_point(&self, id: &Id) -> Option<&TestPoint> {
        self.test_points.iter().find(|point| point.id == *id)
    }

    /// The instrument in this role.
    pub fn instrument(&self, role: &Id) -> Option<&Instrument> {
        self.instruments.iter().find(|i| i.role == *role)
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
    pub(in crate::procedure) fn may_wait_for(&self, step: &Step, other: &Id) -> bool {
        let Some(table) = self.table_of(&step.id) else {
            return false;
        };
        let leans = |id: &Id| self.step(id)?.work.target().and_then(Target::leans_on);
        let is_cell = |id: &Id| table.place_of(id).is_some();
        *other != step.id && is_cell(other) && !leans(other).is_some_and(is_cell)
    }
}
