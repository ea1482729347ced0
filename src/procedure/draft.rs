//! A procedure as it is being written: texts as typed, so that what is not right yet is kept too.

mod cells;
mod cross_check;
mod plan;
mod several;

pub use cells::{cells, line_of};
pub use cross_check::{ComparisonKind, DraftCrossCheck};
pub use plan::{DraftMode, DraftPlan, DraftTerm};
pub use several::{DraftAxis, DraftTable, Heading, Limit};

use super::{
    Adjuster, AdjusterKind, Alteration, Basis, BoardPicture, Chase, Control, Direction,
    Expectation, Field, Gauge, HoldPoint, Holds, Id, Instrument, Lead, Paper, Path, PictureDigest,
    Pin, Procedure, Removable, Repeat, Section, Sense, SetUp, Setting, Settling, Signal, Socket,
    Step, Target, TestPoint, Until, Work, goes_by_power,
};
use crate::metrology::{Margin, Tolerance};
use crate::quantity::{DecimalSign, Prefix, Quantity, ReadError, Scale, Unit, read, read_number};
use crate::radio::channels::ChannelTable;
use crate::radio::limits::Known;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

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

/// The kinds of steps to choose from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Turn an adjuster until the reading meets its target.
    Set,
    /// Read an instrument.
    Read,
    /// Turn an adjuster to the largest reading.
    Peak,
    /// Turn an adjuster to the smallest reading.
    Dip,
    /// Look for what earlier hands or years did.
    Inspect,
    /// Do it and tick it.
    #[default]
    Tick,
    /// A safety gate.
    Stop,
    /// Go through earlier steps again until they hold.
    Repeat,
    /// Fit a part.
    Fit,
    /// Wire a lead.
    Wire,
    /// Wire a socket and measure its pins.
    Socket,
}

impl Kind {
    /// All kinds, in the order in which they are offered.
    pub const ALL: [Kind; 11] = [
        Kind::Set,
        Kind::Read,
        Kind::Peak,
        Kind::Dip,
        Kind::Inspect,
        Kind::Tick,
        Kind::Stop,
        Kind::Repeat,
        Kind::Fit,
        Kind::Wire,
        Kind::Socket,
    ];

    /// The kind in a few words.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::Set => "Set to target",
            Kind::Read => "Read",
            Kind::Peak => "Peak",
            Kind::Dip => "Dip",
            Kind::Inspect => "Inspect",
            Kind::Tick => "Tick",
            Kind::Stop => "Stop",
            Kind::Repeat => "Repeat",
            Kind::Fit => "Fit",
            Kind::Wire => "Wire",
            Kind::Socket => "Socket",
        }
    }

    /// Whether an instrument is read.
    pub const fn reads(self) -> bool {
        matches!(self, Kind::Set | Kind::Read | Kind::Peak | Kind::Dip)
    }

    /// Whether something is turned.
    pub const fn turns(self) -> bool {
        matches!(self, Kind::Set | Kind::Peak | Kind::Dip)
    }
}

/// What confirms a stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ConfirmedBy {
    /// The technician, by a key.
    #[default]
    Hand,
    /// A reading inside its target, and nothing else.
    Reading,
}

impl ConfirmedBy {
    /// Both, in the order in which they are offered.
    pub const ALL: [ConfirmedBy; 2] = [ConfirmedBy::Hand, ConfirmedBy::Reading];

    /// Whether it is the technician.
    pub fn is_hand(&self) -> bool {
        *self == ConfirmedBy::Hand
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            ConfirmedBy::Hand => "by hand",
            ConfirmedBy::Reading => "by a reading inside",
        }
    }
}

/// What is repeated, as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftRepeat {
    /// The first of the steps.
    pub from: Option<Id>,
    /// The last of them.
    pub to: Option<Id>,
    /// What ends it.
    pub until: UntilKind,
    /// The largest change from one pass to the next.
    pub change: String,
    /// The most passes.
    pub passes: String,
}

impl DraftRepeat {
    /// Whether nothing is typed.
    pub fn is_blank(&self) -> bool {
        *self == DraftRepeat::default()
    }
}

/// What ends the passes over some steps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UntilKind {
    /// All are inside in one pass.
    #[default]
    Inside,
    /// No reading changes by more than so much.
    Steady,
}

impl UntilKind {
    /// Both, in the order in which they are offered.
    pub const ALL: [UntilKind; 2] = [UntilKind::Inside, UntilKind::Steady];

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            UntilKind::Inside => "all are inside in one pass",
            UntilKind::Steady => "no reading changes by more than",
        }
    }
}

/// The ways to state where a reading must lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TargetKind {
    /// Not at all.
    #[default]
    None,
    /// A figure with a tolerance.
    Around,
    /// At least a figure.
    AtLeast,
    /// At most a figure.
    AtMost,
    /// Between two figures.
    Between,
    /// From another step's reading.
    Relative,
    /// By the frequency plan.
    Oscillator,
    /// The channel's frequency.
    Channel,
    /// A published limit.
    Limit,
}

impl TargetKind {
    /// All ways, in the order in which they are offered.
    pub const ALL: [TargetKind; 9] = [
        TargetKind::Around,
        TargetKind::AtLeast,
        TargetKind::AtMost,
        TargetKind::Between,
        TargetKind::Relative,
        TargetKind::Oscillator,
        TargetKind::Channel,
        TargetKind::Limit,
        TargetKind::None,
    ];

    /// The way in a few words.
    pub const fn name(self) -> &'static str {
        match self {
            TargetKind::None => "No target",
            TargetKind::Around => "A figure ±",
            TargetKind::AtLeast => "At least",
            TargetKind::AtMost => "At most",
            TargetKind::Between => "Between",
            TargetKind::Relative => "From another step",
            TargetKind::Oscillator => "By the plan",
            TargetKind::Channel => "The channel",
            TargetKind::Limit => "A published limit",
        }
    }

    /// Whether it has a tolerance to type.
    pub const fn has_margin(self) -> bool {
        matches!(
            self,
            TargetKind::Around
                | TargetKind::Relative
                | TargetKind::Oscillator
                | TargetKind::Channel
        )
    }
}

/// A target as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftTarget {
    /// How it is stated.
    pub kind: TargetKind,
    /// The figure; the lower one of two; the offset from another step.
    pub value: String,
    /// The upper one of two figures.
    pub high: String,
    /// The tolerance to both sides, or above where the one below differs.
    pub margin: String,
    /// The tolerance below, where it differs.
    pub below: String,
    /// The other step.
    pub other: Option<Id>,
    /// The oscillator of the plan.
    pub oscillator: String,
    /// The set of limits.
    pub set: String,
    /// The limit in it.
    pub limit: String,
}

/// A step as typed. What only other kinds need is kept, so that a change of kind loses nothing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftStep {
    /// Its name within the procedure.
    pub id: Id,
    /// A few words.
    pub title: String,
    /// What to do.
    pub text: String,
    /// What can hurt or break here, one a line.
    pub cautions: String,
    /// The mode.
    pub mode: String,
    /// The channel.
    pub channel: String,
    /// Receiving or transmitting.
    pub signal: Option<Signal>,
    /// The supply.
    pub supply: String,
    /// What is set around the set.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub settings: BTreeMap<Setting, String>,
    /// Controls, one a line, such as `Clarifier: centre`.
    pub controls: String,
    /// The kind.
    pub kind: Kind,
    /// The test point.
    pub at: String,
    /// The instrument's role.
    pub with: String,
    /// The scale of a bare number.
    pub scale: Scale,
    /// The impedance in which a voltage is a power.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub into: String,
    /// The roles of what stands in the path, with commas between.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub path: String,
    /// Which way the signal goes there.
    #[serde(default, skip_serializing_if = "Direction::is_from_set")]
    pub direction: Direction,
    /// What is turned.
    pub adjuster: String,
    /// Where the reading must lie.
    pub target: DraftTarget,
    /// What comes out.
    pub out: String,
    /// What is fitted.
    pub fitted: String,
    /// Why.
    pub why: String,
    /// Where a lead starts.
    pub wire_from: String,
    /// Where it ends.
    pub wire_to: String,
    /// Its colour.
    pub colour: String,
    /// What a stop asks to confirm.
    pub confirm: String,
    /// How long that holds.
    #[serde(default, skip_serializing_if = "Holds::is_until_a_break")]
    pub holds: Holds,
    /// What confirms a stop.
    #[serde(default, skip_serializing_if = "ConfirmedBy::is_hand")]
    pub confirmed_by: ConfirmedBy,
    /// What is repeated.
    #[serde(default, skip_serializing_if = "DraftRepeat::is_blank")]
    pub repeat: DraftRepeat,
    /// What a socket is called.
    pub socket: String,
    /// Its pins, one a line: pin; signal; from; colour; state = tolerance; …
    pub pins: String,
    /// Minutes to wait.
    pub wait: String,
    /// The largest drift per minute of a settled reading.
    pub settles: String,
    /// Stops that must hold.
    pub needs: Vec<Id>,
    /// What comes off, one a line: what; where; orientation; note.
    pub takes_off: String,
    /// What goes back, one a line.
    pub puts_back: String,
    /// The other step of a shared null.
    pub shares_null_with: Option<Id>,
    /// A second route to the figure.
    pub cross_check: Option<DraftCrossCheck>,
    /// How the figures of the limit are known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known: Option<Known>,
    /// The document that they come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// What is still to be settled of the table that the step comes from, one a line; a
    /// procedure is not published with any of it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub open: String,
}

/// What can't be read of a draft, and where.
pub type Unread = (super::Place, Field, String);

/// Says what can't be read of a field.
type Say<'a> = &'a mut dyn FnMut(Field, String);

impl DraftStep {
    /// A step with nothing in it.
    pub fn blank(id: Id) -> Self {
        DraftStep {
            id,
            title: String::new(),
            text: String::new(),
            cautions: String::new(),
            mode: String::new(),
            channel: String::new(),
            signal: None,
            supply: String::new(),
            settings: BTreeMap::new(),
            controls: String::new(),
            kind: Kind::Tick,
            at: String::new(),
            with: String::new(),
            scale: Scale::new(Prefix::Mega, Unit::Hertz),
            into: String::new(),
            path: String::new(),
            direction: Direction::default(),
            adjuster: String::new(),
            target: DraftTarget::default(),
            out: String::new(),
            fitted: String::new(),
            why: String::new(),
            wire_from: String::new(),
            wire_to: String::new(),
            colour: String::new(),
            confirm: String::new(),
            holds: Holds::default(),
            confirmed_by: ConfirmedBy::default(),
            repeat: DraftRepeat::default(),
            socket: String::new(),
            pins: String::new(),
            wait: String::new(),
            settles: String::new(),
            needs: Vec::new(),
            takes_off: String::new(),
            puts_back: String::new(),
            shares_null_with: None,
            cross_check: None,
            known: None,
            source: String::new(),
            open: String::new(),
        }
    }

    /// Whether an instrument is read.
    pub fn reads(&self) -> bool {
        self.kind.reads() || (self.kind == Kind::Stop && !self.confirmed_by.is_hand())
    }

    /// A blank step that goes on from this one: the set as it stands, the instrument in hand;
    /// after a reading mostly comes another one of the kind.
    pub fn follow_on(&self, id: Id) -> Self {
        let (kind, target) = match self.kind.reads() {
            true => (self.kind, self.target.kind),
            false => (Kind::Tick, TargetKind::None),
        };
        // What another step's reading or the plan says is this step's own matter.
        let target = match target {
            TargetKind::Relative | TargetKind::Oscillator | TargetKind::Limit => TargetKind::Around,
            kind => kind,
        };
        DraftStep {
            kind,
            target: DraftTarget {
                kind: target,
                ..DraftTarget::default()
            },
            mode: self.mode.clone(),
            channel: self.channel.clone(),
            signal: self.signal,
            supply: self.supply.clone(),
            settings: self.settings.clone(),
            controls: self.controls.clone(),
            at: self.at.clone(),
            with: self.with.clone(),
            scale: self.scale,
            into: self.into.clone(),
            path: self.path.clone(),
            direction: self.direction,
            needs: self.needs.clone(),
            ..DraftStep::blank(id)
        }
    }
}

impl Draft {
    /// A procedure with nothing in it but a first section.
    pub fn blank(id: Id) -> Self {
        Draft {
            id,
            from: 0,
            title: String::new(),
            covers: String::new(),
            cautions: String::new(),
            adjusters: Vec::new(),
            test_points: Vec::new(),
            instruments: Vec::new(),
            pictures: Vec::new(),
            papers: Vec::new(),
            plan: None,
            channels: None,
            chases: Vec::new(),
            tables: Vec::new(),
            sections: vec![DraftSection {
                title: "Alignment".to_owned(),
                steps: Vec::new(),
            }],
        }
    }

    /// All steps in order.
    pub fn steps(&self) -> impl Iterator<Item = &DraftStep> {
        self.sections.iter().flat_map(|section| &section.steps)
    }

    /// All steps in order, to be changed.
    pub fn steps_mut(&mut self) -> impl Iterator<Item = &mut DraftStep> {
        self.sections
            .iter_mut()
            .flat_map(|section| &mut section.steps)
    }

    /// The step with this id.
    pub fn step(&self, id: &Id) -> Option<&DraftStep> {
        self.steps().find(|step| step.id == *id)
    }

    /// The step's place in the whole, from 1.
    pub fn number_of(&self, id: &Id) -> Option<usize> {
        self.steps().position(|step| step.id == *id).map(|i| i + 1)
    }

    /// The table with a step among its cells, by its place among the tables.
    pub fn table_of(&self, id: &Id) -> Option<usize> {
        let has = |table: &DraftTable| {
            table
                .cells
                .iter()
                .flatten()
                .flatten()
                .any(|cell| cell == id)
        };
        self.tables.iter().position(has)
    }

    /// In what the first cell of a table is read.
    pub fn scale_of(&self, table: &DraftTable) -> Scale {
        let mut cells = table.cells.iter().flatten().flatten();
        let step = cells.find_map(|id| self.step(id));
        step.map_or(Scale::plain(Unit::VoltDc), |step| step.scale)
    }

    /// A procedure as it would be typed.
    pub fn of(procedure: &Procedure, sign: DecimalSign) -> Self {
        Draft {
            id: procedure.id.clone(),
            from: procedure.revision,
            title: procedure.title.clone(),
            covers: procedure.covers.clone(),
            cautions: procedure.cautions.join("\n"),
            adjusters: procedure.adjusters.iter().map(typed_adjuster).collect(),
            test_points: procedure
                .test_points
                .iter()
                .map(|point| DraftPoint {
                    name: point.id.to_string(),
                    place: point.place.clone(),
                    also: point.also.join("\n"),
                })
                .collect(),
            instruments: procedure
                .instruments
                .iter()
                .map(|instrument| DraftInstrument {
                    name: instrument.role.to_string(),
                    needs: instrument.needs.clone(),
                })
                .collect(),
            pictures: procedure.pictures.clone(),
            papers: procedure.papers.clone(),
            plan: procedure
                .plan
                .as_ref()
                .map(|plan| DraftPlan::of(plan, sign)),
            channels: procedure.channels.clone(),
            chases: procedure.chases.clone(),
            tables: procedure
                .tables
                .iter()
                .map(|table| DraftTable::of(table, procedure, sign))
                .collect(),
            sections: procedure
                .sections
                .iter()
                .map(|section| DraftSection {
                    title: section.title.clone(),
                    steps: section
                        .steps
                        .iter()
                        .map(|step| DraftStep {
                            title: own_title(procedure, step),
                            ..typed_step(step, sign)
                        })
                        .collect(),
                })
                .collect(),
        }
    }

    /// What a step is called: by its title, or by what it repeats, whose numbers change with the
    /// draft.
    pub fn title_of(&self, step: &DraftStep) -> String {
        let repeat = &step.repeat;
        match repeat.from.clone().zip(repeat.to.clone()) {
            Some((from, to)) if step.kind == Kind::Repeat && step.title.trim().is_empty() => {
                let repeat = Repeat {
                    from,
                    to,
                    until: Until::default(),
                    passes: None,
                };
                repeat.title(|id| self.number_of(id))
            }
            _ => step.title.clone(),
        }
    }

    /// The procedure, and what can't be read of it. A step that can't be read wholly stands in
    /// it with what can.
    pub fn read(&self, sign: DecimalSign) -> (Procedure, Vec<Unread>) {
        let mut unread = Vec::new();
        let adjusters = named(&self.adjusters, &mut unread, LISTS[0], |a, id| Adjuster {
            id,
            kind: a.kind,
            note: a.note.trim().to_owned(),
            tool: a.tool.trim().to_owned(),
            clockwise: a.clockwise,
            disturbs: a.disturbs.clone(),
        });
        let test_points = named(&self.test_points, &mut unread, LISTS[1], |p, id| {
            TestPoint {
                id,
                place: p.place.trim().to_owned(),
                also: lines(&p.also),
            }
        });
        let instruments = named(&self.instruments, &mut unread, LISTS[2], |i, role| {
            Instrument {
                role,
                needs: i.needs.trim().to_owned(),
            }
        });
        let plan = self.plan.as_ref().map(|plan| plan.read(sign));
        let plan = plan.map(|(plan, sentences)| {
            let place = |sentence| (super::Place::Whole, Field::Plan, sentence);
            unread.extend(sentences.into_iter().map(place));
            plan
        });
        let mut number = 0;
        let mut section = |section: &DraftSection| Section {
            title: section.title.trim().to_owned(),
            steps: section
                .steps
                .iter()
                .map(|step| {
                    number += 1;
                    let mut say =
                        |field, what| unread.push((super::Place::Step(number), field, what));
                    let title = self.title_of(step).trim().to_owned();
                    Step {
                        title,
                        ..read_step(step, sign, &mut say)
                    }
                })
                .collect(),
        };
        let sections = self.sections.iter().map(&mut section).collect();
        for (index, table) in self.tables.iter().enumerate() {
            let place = super::Place::Table(index + 1);
            let wrong = table.unread(self.scale_of(table), sign).into_iter();
            unread.extend(wrong.map(|(field, sentence)| (place.clone(), field, sentence)));
        }
        let revision = revision_behind(self.from).unwrap_or_else(|sentence| {
            unread.push((super::Place::Whole, Field::Revision, sentence));
            self.from
        });
        let procedure = Procedure {
            id: self.id.clone(),
            title: self.title.trim().to_owned(),
            revision,
            covers: self.covers.trim().to_owned(),
            cautions: lines(&self.cautions),
            adjusters,
            test_points,
            instruments,
            pictures: self.pictures.iter().map(read_picture).collect(),
            papers: self.papers.iter().map(read_paper).collect(),
            plan,
            channels: self.channels.clone(),
            chases: self.chases.clone(),
            tables: self.tables.iter().map(|table| table.read(sign)).collect(),
            sections,
        };
        (procedure, unread)
    }
}

/// The number of the revision that goes on from this one, or why there is none.
pub fn revision_behind(revision: u32) -> Result<u32, String> {
    revision.checked_add(1).ok_or_else(|| {
        format!(
            "No revision can follow {revision}, the highest number there is: make a copy, which counts from 1 again"
        )
    })
}

/// Something that goes by a name.
pub(super) trait Named {
    /// The name as typed.
    fn name(&self) -> &str;
    /// The name, to be changed.
    fn name_mut(&mut self) -> &mut String;
}

macro_rules! named {
    ($($kind:ty),*) => {$(
        impl Named for $kind {
            fn name(&self) -> &str {
                &self.name
            }
            fn name_mut(&mut self) -> &mut String {
                &mut self.name
            }
        }
    )*};
}
named!(DraftAdjuster, DraftPoint, DraftInstrument);

/// The lists, and what one entry of each is.
const LISTS: [(Field, &str); 3] = [
    (Field::Adjusters, "adjuster"),
    (Field::TestPoints, "test point"),
    (Field::Instruments, "instrument"),
];

/// The entries of a list whose names can be names; the others are told.
fn named<T: Named, U>(
    list: &[T],
    unread: &mut Vec<Unread>,
    (field, what): (Field, &str),
    make: impl Fn(&T, Id) -> U,
) -> Vec<U> {
    list.iter()
        .filter_map(|entry| match entry.name().trim().parse() {
            Ok(id) => Some(make(entry, id)),
            Err(error) => {
                let sentence = format!("In the list of {what}s: {error}");
                unread.push((super::Place::Parts, field, sentence));
                None
            }
        })
        .collect()
}

/// The lines of a text that have something in them.
pub(super) fn lines(text: &str) -> Vec<String> {
    text.lines()
        .map(|line| line.trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect()
}

/// The lines that have more in them than what separates their parts.
fn rows(text: &str, separator: char) -> Vec<String> {
    let mut rows = lines(text);
    rows.retain(|line| line.chars().any(|c| c != separator && !c.is_whitespace()));
    rows
}

/// The cells of a line without what surrounds them.
fn parts<const COUNT: usize>(line: &str, separator: char) -> [String; COUNT] {
    let mut parts = cells(line, separator, COUNT).into_iter();
    std::array::from_fn(|_| parts.next().unwrap_or_default().trim().to_owned())
}

impl Draft {
    /// The names of its pictures and papers.
    pub fn picture_names(&self) -> Vec<PictureDigest> {
        let boards = self.pictures.iter().map(|board| &board.picture);
        let papers = self.papers.iter().map(|paper| &paper.paper);
        boards.chain(papers).cloned().collect()
    }

    /// What its sockets are called, each once.
    pub fn sockets(&self) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for step in self.steps().filter(|step| step.kind == Kind::Socket) {
            let name = step.socket.trim().to_owned();
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }
}

fn read_paper(paper: &Paper) -> Paper {
    Paper {
        title: paper.title.trim().to_owned(),
        ..paper.clone()
    }
}

fn read_picture(picture: &BoardPicture) -> BoardPicture {
    BoardPicture {
        title: picture.title.trim().to_owned(),
        ..picture.clone()
    }
}

fn typed_adjuster(adjuster: &Adjuster) -> DraftAdjuster {
    DraftAdjuster {
        name: adjuster.id.to_string(),
        kind: adjuster.kind,
        note: adjuster.note.clone(),
        tool: adjuster.tool.clone(),
        clockwise: adjuster.clockwise,
        disturbs: adjuster.disturbs.clone(),
    }
}

/// A quantity or number of a document as it is typed here.
pub(super) fn typed(what: &impl ToString, sign: DecimalSign) -> String {
    what.to_string().replace('.', sign.symbol())
}

/// The title of a step, but for one that follows from what it repeats.
fn own_title(procedure: &Procedure, step: &Step) -> String {
    match &step.work {
        Work::Repeat(repeat) if step.title == repeat.title(|id| procedure.number_of(id)) => {
            String::new()
        }
        _ => step.title.clone(),
    }
}

fn typed_step(step: &Step, sign: DecimalSign) -> DraftStep {
    let mut draft = DraftStep {
        title: step.title.clone(),
        text: step.text.clone(),
        cautions: step.cautions.join("\n"),
        mode: step.set_up.mode.clone().unwrap_or_default(),
        channel: step.set_up.channel.clone().unwrap_or_default(),
        signal: step.set_up.signal,
        supply: step.set_up.supply.clone().unwrap_or_default(),
        settings: step.set_up.settings.clone(),
        controls: joined(&step.set_up.controls, |c| {
            line_of(&[c.name.clone(), c.to.clone()], ':')
        }),
        wait: step.wait.map_or(String::new(), |m| m.to_string()),
        settles: match &step.settles {
            Some(settling) => typed(&settling.per_minute, sign),
            None => String::new(),
        },
        needs: step.needs.clone(),
        takes_off: joined(&step.takes_off, |r| {
            let parts = [&r.what, &r.place, &r.orientation, &r.note];
            line_of(&parts.map(String::clone), ';')
        }),
        puts_back: step.puts_back.join("\n"),
        shares_null_with: step.shares_null_with.clone(),
        cross_check: step
            .cross_check
            .as_ref()
            .map(|check| DraftCrossCheck::of(check, sign)),
        known: step.basis.as_ref().map(|basis| basis.known),
        source: step
            .basis
            .as_ref()
            .map_or(String::new(), |basis| basis.source.clone()),
        ..DraftStep::blank(step.id.clone())
    };
    if let Some(gauge) = step.work.gauge() {
        draft.at = gauge.at.to_string();
        draft.with = gauge.with.to_string();
        draft.scale = gauge.scale;
        draft.into = gauge
            .into
            .as_ref()
            .map_or(String::new(), |into| typed(into, sign));
        draft.path = typed_path(gauge.through());
        let path = gauge.path.as_ref();
        draft.direction = path.map_or(Direction::default(), |path| path.direction);
    }
    draft.adjuster = step.work.adjuster().map_or(String::new(), Id::to_string);
    if let Some(target) = step.work.target() {
        draft.target = typed_target(target, draft.scale.unit, sign);
    }
    type_work(&mut draft, &step.work, sign);
    draft
}

fn type_work(draft: &mut DraftStep, work: &Work, sign: DecimalSign) {
    draft.kind = match work {
        Work::Inspect => Kind::Inspect,
        Work::Read { .. } => Kind::Read,
        Work::Set { .. } => Kind::Set,
        Work::Peak { .. } => Kind::Peak,
        Work::Dip { .. } => Kind::Dip,
        Work::Tick => Kind::Tick,
        Work::Repeat(repeat) => {
            draft.repeat = typed_repeat(repeat, sign);
            Kind::Repeat
        }
        Work::Fit(alteration) => {
            draft.out = alteration.out.clone();
            draft.fitted = alteration.fitted.clone();
            draft.why = alteration.why.clone();
            Kind::Fit
        }
        Work::Wire(lead) => {
            draft.wire_from = lead.from.clone();
            draft.wire_to = lead.to.clone();
            draft.colour = lead.colour.clone();
            Kind::Wire
        }
        Work::Socket(socket) => {
            draft.socket = socket.name.clone();
            draft.with = socket.with.to_string();
            draft.pins = joined(&socket.pins, |pin| typed_pin(pin, sign));
            Kind::Socket
        }
        Work::Stop {
            confirm,
            holds,
            reads,
        } => {
            draft.confirm = confirm.clone();
            draft.holds = *holds;
            draft.confirmed_by = match reads {
                Some(_) => ConfirmedBy::Reading,
                None => ConfirmedBy::Hand,
            };
            Kind::Stop
        }
    };
}

fn typed_repeat(repeat: &Repeat, sign: DecimalSign) -> DraftRepeat {
    let (until, change) = match &repeat.until {
        Until::Inside => (UntilKind::Inside, String::new()),
        Until::Steady(most) => (UntilKind::Steady, typed(most, sign)),
    };
    DraftRepeat {
        from: Some(repeat.from.clone()),
        to: Some(repeat.to.clone()),
        until,
        change,
        passes: repeat.passes.map_or(String::new(), |most| most.to_string()),
    }
}

fn joined<T>(parts: &[T], line: impl Fn(&T) -> String) -> String {
    parts.iter().map(line).collect::<Vec<_>>().join("\n")
}

fn typed_pin(pin: &Pin, sign: DecimalSign) -> String {
    let expects = pin.expects.iter().map(|expects| {
        let tolerance = typed_tolerance(&expects.tolerance, sign);
        format!("{} = {tolerance}", expects.state)
    });
    let expects = expects.collect::<Vec<_>>().join("; ");
    let parts = [
        pin.pin.as_str(),
        &pin.signal,
        &pin.from,
        &pin.colour,
        &expects,
    ];
    line_of(&parts.map(str::to_owned), ';')
}

/// A tolerance as one text.
pub fn typed_tolerance(tolerance: &Tolerance, sign: DecimalSign) -> String {
    let q = |quantity: &Quantity| typed(quantity, sign);
    match tolerance {
        Tolerance::Around {
            nominal,
            below,
            above,
        } => {
            let margin = |margin| typed_margin(margin, nominal.unit(), sign);
            match below == above {
                true => format!("{} ± {}", q(nominal), margin(above)),
                false => format!("{} + {} - {}", q(nominal), margin(above), margin(below)),
            }
        }
        Tolerance::AtLeast(low) => format!("at least {}", q(low)),
        Tolerance::AtMost(high) => format!("at most {}", q(high)),
        Tolerance::Between { low, high } => format!("{} to {}", q(low), q(high)),
    }
}

/// What a share of the target is called where the reading itself is in such shares.
const OF_IT: &str = " of it";

fn typed_margin(margin: &Margin, unit: Unit, sign: DecimalSign) -> String {
    let share = |number, symbol: &str, of: Unit| {
        let of_it = if unit == of { OF_IT } else { "" };
        format!("{} {symbol}{of_it}", typed(number, sign))
    };
    match margin {
        Margin::Absolute(quantity) => typed(quantity, sign),
        Margin::Percent(number) => share(number, "%", Unit::Percent),
        Margin::Ppm(number) => share(number, "ppm", Unit::PartsPerMillion),
    }
}

pub(super) fn typed_target(target: &Target, unit: Unit, sign: DecimalSign) -> DraftTarget {
    let mut draft = DraftTarget::default();
    let q = |quantity: &Quantity| typed(quantity, sign);
    let margins = |draft: &mut DraftTarget, below: &Margin, above: &Margin| {
        draft.margin = typed_margin(above, unit, sign);
        if below != above {
            draft.below = typed_margin(below, unit, sign);
        }
    };
    draft.kind = match target {
        Target::Fixed(Tolerance::Around {
            nominal,
            below,
            above,
        }) => {
            draft.value = q(nominal);
            margins(&mut draft, below, above);
            TargetKind::Around
        }
        Target::Fixed(Tolerance::AtLeast(low)) => {
            draft.value = q(low);
            TargetKind::AtLeast
        }
        Target::Fixed(Tolerance::AtMost(high)) => {
            draft.value = q(high);
            TargetKind::AtMost
        }
        Target::Fixed(Tolerance::Between { low, high }) => {
            draft.value = q(low);
            draft.high = q(high);
            TargetKind::Between
        }
        Target::Relative {
            to,
            offset,
            below,
            above,
        } => {
            draft.other = Some(to.clone());
            draft.value = q(offset);
            margins(&mut draft, below, above);
            TargetKind::Relative
        }
        Target::Oscillator { name, below, above } => {
            draft.oscillator = name.clone();
            margins(&mut draft, below, above);
            TargetKind::Oscillator
        }
        Target::Channel { below, above } => {
            margins(&mut draft, below, above);
            TargetKind::Channel
        }
        Target::Limit { set, limit, power } => {
            draft.set = set.clone();
            draft.limit = limit.clone();
            draft.other = power.clone();
            TargetKind::Limit
        }
    };
    draft
}

fn read_step(step: &DraftStep, sign: DecimalSign, say: Say) -> Step {
    let optional = |text: &str| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    let mut controls = Vec::new();
    for line in rows(&step.controls, ':') {
        let [name, to] = parts(&line, ':');
        match !name.is_empty() && line.contains(':') {
            true => controls.push(Control { name, to }),
            false => say(
                Field::Controls,
                format!("the control “{line}” has no colon: write it like “Clarifier: centre”"),
            ),
        }
    }
    let wait = match step.wait.trim() {
        "" => None,
        text => match text.parse() {
            Ok(minutes) => Some(minutes),
            Err(_) => {
                let sentence = format!("the wait “{text}” is not a whole number of minutes");
                say(Field::Wait, sentence);
                None
            }
        },
    };
    let settles = optional(&step.settles).and_then(|text| {
        let read = difference(&text, step.scale, sign, "drift per minute");
        read.map_err(|sentence| say(Field::Settles, sentence))
            .ok()
            .map(|per_minute| Settling { per_minute })
    });
    Step {
        id: step.id.clone(),
        title: step.title.trim().to_owned(),
        text: step.text.trim().to_owned(),
        cautions: lines(&step.cautions),
        set_up: SetUp {
            mode: optional(&step.mode),
            channel: optional(&step.channel),
            signal: step.signal,
            supply: optional(&step.supply),
            settings: step
                .settings
                .iter()
                .filter_map(|(setting, text)| Some((*setting, optional(text)?)))
                .collect(),
            controls,
        },
        needs: step.needs.clone(),
        takes_off: rows(&step.takes_off, ';')
            .iter()
            .map(|line| read_removable(line))
            .collect(),
        puts_back: lines(&step.puts_back),
        wait,
        settles,
        shares_null_with: step.shares_null_with.clone(),
        cross_check: step
            .cross_check
            .as_ref()
            .and_then(|check| check.read(sign, say)),
        basis: read_basis(step, say),
        work: read_work(step, sign, say),
    }
}

/// What the limit rests on.
fn read_basis(step: &DraftStep, say: Say) -> Option<Basis> {
    let source = step.source.trim().to_owned();
    match (step.known, source.is_empty()) {
        (None, true) => return None,
        (None, false) => {
            let sentence = "how the figures of its limit are known is not said: choose it";
            say(Field::Basis, sentence.to_owned());
        }
        (Some(known), true) if known != Known::CommonPractice => {
            let sentence =
                "what its limit rests on is not named: write the document and its clause";
            say(Field::Basis, sentence.to_owned());
        }
        _ => {}
    }
    step.known.map(|known| Basis { known, source })
}

fn read_removable(line: &str) -> Removable {
    let [what, place, orientation, note] = parts(line, ';');
    Removable {
        what,
        place,
        orientation,
        note,
    }
}

fn read_work(step: &DraftStep, sign: DecimalSign, say: Say) -> Work {
    let text = |text: &str| text.trim().to_owned();
    match step.kind {
        Kind::Inspect => Work::Inspect,
        Kind::Tick => Work::Tick,
        Kind::Repeat => read_repeat(&step.repeat, sign, say),
        Kind::Stop => {
            if step.confirm.trim().is_empty() {
                let sentence = "nothing to confirm yet: write it in the first person";
                say(Field::Confirm, sentence.to_owned());
            }
            Work::Stop {
                confirm: text(&step.confirm),
                holds: step.holds,
                reads: match step.confirmed_by {
                    ConfirmedBy::Hand => None,
                    ConfirmedBy::Reading => read_hold_point(step, sign, say),
                },
            }
        }
        Kind::Fit => {
            if step.fitted.trim().is_empty() {
                say(Field::Fitted, "it does not say what goes in".to_owned());
            }
            Work::Fit(Alteration {
                out: text(&step.out),
                fitted: text(&step.fitted),
                why: text(&step.why),
            })
        }
        Kind::Wire => {
            if step.wire_from.trim().is_empty() || step.wire_to.trim().is_empty() {
                say(Field::Ends, "the lead needs both its ends".to_owned());
            }
            Work::Wire(Lead {
                from: text(&step.wire_from),
                to: text(&step.wire_to),
                colour: text(&step.colour),
            })
        }
        Kind::Socket => read_socket(step, sign, say),
        Kind::Set | Kind::Read | Kind::Peak | Kind::Dip => read_measured(step, sign, say),
    }
}

fn read_repeat(repeat: &DraftRepeat, sign: DecimalSign, say: Say) -> Work {
    let until = match repeat.until {
        UntilKind::Inside => Some(Until::Inside),
        UntilKind::Steady => read_with_unit(&repeat.change, sign).map(Until::Steady),
    };
    if until.is_none() {
        let sentence = "its largest change is no figure with a unit: type it like 20 mV";
        say(Field::Until, sentence.to_owned());
    }
    let passes = match repeat.passes.trim() {
        "" => None,
        text => text
            .parse()
            .map_err(|_| {
                let sentence = format!("its most passes “{text}” are not a whole number");
                say(Field::Passes, sentence);
            })
            .ok(),
    };
    let Some((from, to)) = repeat.from.clone().zip(repeat.to.clone()) else {
        let sentence =
            "the steps that it repeats are not chosen yet: choose the first and the last";
        say(Field::Repeats, sentence.to_owned());
        return Work::Tick;
    };
    Work::Repeat(Repeat {
        from,
        to,
        until: until.unwrap_or_default(),
        passes,
    })
}

/// A name picked from a list.
fn picked(name: &str, (field, what): (Field, &str), say: Say) -> Option<Id> {
    if name.trim().is_empty() {
        say(field, format!("no {what} is chosen yet"));
        return None;
    }
    name.trim()
        .parse()
        .map_err(|error| say(field, format!("its {what}: {error}")))
        .ok()
}

fn read_gauge(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<Gauge> {
    let into = read_impedance(step, sign, say);
    let path = read_path(step, say);
    let at = picked(&step.at, (Field::At, "test point"), say);
    let with = picked(&step.with, (Field::With, "instrument"), say);
    Some(Gauge {
        into,
        path,
        ..Gauge::new(at?, with?, step.scale)
    })
}

/// What a target that has to be stated says; what is wrong with it is said.
fn stated_target(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<Target> {
    match read_target(step, sign) {
        Ok(Some(target)) => Some(target),
        Ok(None) => {
            say(Field::Target, NO_TARGET.to_owned());
            None
        }
        Err((field, sentence)) => {
            say(field, sentence);
            None
        }
    }
}

const NO_TARGET: &str = "it has no target: choose how it is stated";

fn read_hold_point(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<HoldPoint> {
    let gauge = read_gauge(step, sign, say);
    let target = stated_target(step, sign, say);
    Some(HoldPoint {
        gauge: gauge?,
        target: target?,
    })
}

fn read_measured(step: &DraftStep, sign: DecimalSign, say: Say) -> Work {
    let gauge = read_gauge(step, sign, say);
    let adjuster = match step.kind.turns() {
        true => picked(&step.adjuster, (Field::Adjuster, "adjuster"), say),
        false => None,
    };
    let Some(gauge) = gauge else {
        // What else is wrong is said all the same.
        let _ = read_target(step, sign).map_err(|(field, sentence)| say(field, sentence));
        return Work::Tick;
    };
    let target = match read_target(step, sign) {
        Ok(target) => target,
        Err((field, sentence)) => {
            say(field, sentence);
            return Work::Read {
                gauge,
                target: None,
            };
        }
    };
    match (step.kind, adjuster, target) {
        (Kind::Set, Some(adjuster), Some(target)) => Work::Set {
            gauge,
            adjuster,
            target,
        },
        (Kind::Set, _, None) => {
            say(Field::Target, NO_TARGET.to_owned());
            Work::Read {
                gauge,
                target: None,
            }
        }
        (Kind::Peak, Some(adjuster), bound) => Work::Peak {
            gauge,
            adjuster,
            bound,
        },
        (Kind::Dip, Some(adjuster), bound) => Work::Dip {
            gauge,
            adjuster,
            bound,
        },
        (_, _, target) => Work::Read { gauge, target },
    }
}

/// The impedance in which a voltage is a power, where one is stated.
fn read_impedance(step: &DraftStep, sign: DecimalSign, say: Say) -> Option<Quantity> {
    if step.into.trim().is_empty() {
        return None;
    }
    read(&step.into, Scale::plain(Unit::Ohm), sign)
        .map_err(|error| say(Field::Impedance, format!("its impedance: {error}")))
        .ok()
}

/// The pads, couplers and probes in the path, one after the other with commas between.
fn read_path(step: &DraftStep, say: Say) -> Option<Path> {
    let names = step.path.split(',').map(str::trim);
    let mut through = Vec::new();
    for name in names.filter(|name| !name.is_empty()) {
        match name.parse::<Id>() {
            Ok(role) => through.push(role),
            Err(error) => say(Field::Path, format!("its path: {error}")),
        }
    }
    (!through.is_empty()).then_some(Path {
        through,
        direction: step.direction,
    })
}

/// The roles of a path as they are typed.
pub fn typed_path(path: &[Id]) -> String {
    let names: Vec<&str> = path.iter().map(Id::as_str).collect();
    names.join(", ")
}

/// What a field says wrong.
type Wrong = (Field, String);

fn read_target(step: &DraftStep, sign: DecimalSign) -> Result<Option<Target>, Wrong> {
    let target = &step.target;
    let wrong = |sentence: &str| (Field::Target, sentence.to_owned());
    let figure = |text: &str, what: &str| {
        read(text, step.scale, sign).map_err(|error| {
            let why = match error {
                ReadError::Empty => format!("its {what} is missing: type the figure"),
                error => format!("its {what}: {error}"),
            };
            (Field::Target, why)
        })
    };
    let margin =
        |text: &str| read_margin(text, step.scale, sign).map_err(|error| (Field::Margin, error));
    let margins = || {
        let above = margin(&target.margin)?;
        let below = match target.below.trim().is_empty() {
            true => above.clone(),
            false => margin(&target.below)?,
        };
        Ok::<_, Wrong>((below, above))
    };
    Ok(Some(match target.kind {
        TargetKind::None => return Ok(None),
        TargetKind::Around => {
            let nominal = figure(&target.value, "target")?;
            let (below, above) = margins()?;
            Target::Fixed(Tolerance::Around {
                nominal,
                below,
                above,
            })
        }
        TargetKind::AtLeast => {
            Target::Fixed(Tolerance::AtLeast(figure(&target.value, "lowest figure")?))
        }
        TargetKind::AtMost => {
            Target::Fixed(Tolerance::AtMost(figure(&target.value, "highest figure")?))
        }
        TargetKind::Between => Target::Fixed(Tolerance::Between {
            low: figure(&target.value, "lower figure")?,
            high: figure(&target.high, "upper figure")?,
        }),
        TargetKind::Relative => {
            let Some(to) = target.other.clone() else {
                return Err(wrong(
                    "the step that its target is counted from is not chosen yet",
                ));
            };
            let offset = match read(&target.value, Scale::plain(Unit::Decibel), sign) {
                // A bare number is no decibels unless decibels are what is read.
                Ok(decibels) if spells_unit(&target.value) => decibels,
                _ => difference(&target.value, step.scale, sign, "offset")
                    .map_err(|error| (Field::Target, error))?,
            };
            let (below, above) = margins()?;
            Target::Relative {
                to,
                offset,
                below,
                above,
            }
        }
        TargetKind::Oscillator => {
            if target.oscillator.is_empty() {
                return Err(wrong("the oscillator of its target is not chosen yet"));
            }
            let (below, above) = margins()?;
            Target::Oscillator {
                name: target.oscillator.clone(),
                below,
                above,
            }
        }
        TargetKind::Channel => {
            let (below, above) = margins()?;
            Target::Channel { below, above }
        }
        TargetKind::Limit => {
            if target.limit.is_empty() {
                return Err(wrong("the published limit of its target is not chosen yet"));
            }
            Target::Limit {
                set: target.set.clone(),
                limit: target.limit.clone(),
                power: match goes_by_power(&target.set, &target.limit) {
                    true => target.other.clone(),
                    false => None,
                },
            }
        }
    }))
}

fn spells_unit(text: &str) -> bool {
    text.chars().any(char::is_alphabetic)
}

/// An amount in the unit of a difference. A bare number is refused where the unit has several
/// scales: 20 beside a target in MHz is hardly meant as 20 MHz.
fn difference(text: &str, scale: Scale, sign: DecimalSign, what: &str) -> Result<Quantity, String> {
    let unit = scale.unit.of_difference();
    let bare = read_number(text, sign).is_ok();
    if bare && unit.prefixes().len() > 1 {
        return Err(format!(
            "its {what} has no unit: type it with one, such as {text} {}",
            Scale::plain(unit).symbol(),
        ));
    }
    read(text, Scale::plain(unit), sign).map_err(|error| format!("its {what}: {error}"))
}

/// A tolerance to one side: an amount, percent or parts per million; of a power, a voltage or a
/// current decibels as well.
pub fn read_margin(text: &str, scale: Scale, sign: DecimalSign) -> Result<Margin, String> {
    let text = text.trim().trim_start_matches('±').trim();
    let (share, of_it) = match text.strip_suffix(OF_IT) {
        Some(rest) => (rest, true),
        None => (text, false),
    };
    let number =
        |digits: &str| read_number(digits, sign).map_err(|error| format!("its tolerance: {error}"));
    if let Some(digits) = share.strip_suffix('%')
        && (of_it || scale.unit != Unit::Percent)
    {
        return number(digits).map(Margin::Percent);
    }
    if let Some(digits) = share.strip_suffix("ppm")
        && (of_it || scale.unit != Unit::PartsPerMillion)
    {
        return number(digits).map(Margin::Ppm);
    }
    if text.is_empty() {
        return Err("its tolerance is missing: type one, such as 20 Hz, 5 % or 10 ppm".to_owned());
    }
    let decibels = read(text, Scale::plain(Unit::Decibel), sign).ok();
    let decibels = decibels.filter(|_| spells_unit(text) && scale.unit.decibels_of_ten().is_some());
    match decibels {
        Some(decibels) => Ok(Margin::Absolute(decibels)),
        None => difference(text, scale, sign, "tolerance").map(Margin::Absolute),
    }
}

/// A tolerance written as one text: `7.5 V ± 0.2 V`, `at least 4 W`, `3 V to 5 V`.
pub fn read_tolerance(text: &str, scale: Scale, sign: DecimalSign) -> Result<Tolerance, String> {
    let text = text.trim();
    let figure = |text: &str| read(text, scale, sign).map_err(|error| error.to_string());
    let margin = |text: &str, nominal: &Quantity| read_margin(text, nominal.scale, sign);
    if let Some(low) = text.strip_prefix("at least ") {
        return figure(low).map(Tolerance::AtLeast);
    }
    if let Some(high) = text.strip_prefix("at most ") {
        return figure(high).map(Tolerance::AtMost);
    }
    if let Some((nominal, both)) = text.split_once('±') {
        let nominal = figure(nominal)?;
        let both = margin(both, &nominal)?;
        return Ok(Tolerance::plus_minus(nominal, both));
    }
    if let Some((nominal, rest)) = text.split_once(" + ")
        && let Some((above, below)) = rest.split_once(" - ")
    {
        let nominal = figure(nominal)?;
        return Ok(Tolerance::Around {
            below: margin(below, &nominal)?,
            above: margin(above, &nominal)?,
            nominal,
        });
    }
    if let Some((low, high)) = text.split_once(" to ") {
        return Ok(Tolerance::Between {
            low: figure(low)?,
            high: figure(high)?,
        });
    }
    Err(format!(
        "“{text}” is no target: write it like “7.5 V ± 0.2 V”, “at least 4 W” or “3 V to 5 V”"
    ))
}

fn read_socket(step: &DraftStep, sign: DecimalSign, say: Say) -> Work {
    let Some(with) = picked(&step.with, (Field::With, "instrument"), say) else {
        return Work::Tick;
    };
    let mut pins = Vec::new();
    let lines = rows(&step.pins, ';');
    if lines.is_empty() {
        say(Field::Pins, "the socket has no pins yet".to_owned());
    }
    for line in lines {
        match read_pin(&line, sign) {
            Ok(pin) => pins.push(pin),
            Err(sentence) => say(Field::Pins, format!("in the pin “{line}”: {sentence}")),
        }
    }
    Work::Socket(Socket {
        name: step.socket.trim().to_owned(),
        with,
        pins,
    })
}

fn read_pin(line: &str, sign: DecimalSign) -> Result<Pin, String> {
    let [pin, signal, from, colour, states] = parts(line, ';');
    let id = |text: &str| text.parse::<Id>().map_err(|error| error.to_string());
    let mut expects = Vec::new();
    for part in states
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
    {
        let Some((state, tolerance)) = part.split_once('=') else {
            return Err(format!("“{part}” should read like “RX = 7.5 V ± 0.2 V”"));
        };
        expects.push(Expectation {
            state: id(state.trim())?,
            tolerance: pin_tolerance(tolerance, sign)?,
        });
    }
    Ok(Pin {
        pin: id(&pin)?,
        signal,
        from,
        colour,
        expects,
    })
}

/// A tolerance that brings its own unit; volts where it brings none.
fn pin_tolerance(text: &str, sign: DecimalSign) -> Result<Tolerance, String> {
    let units = Unit::ALL.iter().filter(|&&unit| unit != Unit::VoltDc);
    let volts = read_tolerance(text, Scale::plain(Unit::VoltDc), sign);
    units.fold(volts, |found, &unit| {
        found.or_else(|error| read_tolerance(text, Scale::plain(unit), sign).map_err(|_| error))
    })
}

/// A quantity that brings its own unit, whatever it is.
pub fn read_with_unit(text: &str, sign: DecimalSign) -> Option<Quantity> {
    let text = text.trim();
    if read_number(text, sign).is_ok() {
        return None;
    }
    // A lone prefix is no unit: nobody knows 50m of what.
    let ends = |unit: Unit| {
        let lower = text.to_lowercase();
        let scales = unit.prefixes().iter().map(move |&p| Scale::new(p, unit));
        scales
            .clone()
            .any(|s| lower.ends_with(&s.symbol().to_lowercase()))
    };
    let read_in = |unit: Unit| read(text, Scale::plain(unit), sign).ok();
    let all = || Unit::ALL.iter().copied();
    all()
        .filter(|&unit| ends(unit))
        .find_map(read_in)
        .or_else(|| all().find_map(read_in))
}
