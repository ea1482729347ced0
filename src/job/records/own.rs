//! A step that no procedure foresaw, as it is typed at the bench.

use crate::authoring::draft::{read_tolerance, typed_tolerance};
use crate::authoring::table::read_limit;
use crate::authoring::usual_instrument;
use crate::job::{Course, OwnStep};
use crate::metrology::Tolerance;
use crate::procedure::{
    Gauge, Id, IdError, Instrument, SetUp, Signal, Step, Target, TestPoint, Work,
};
use crate::quantity::{DecimalSign, Scale};
use serde::{Deserialize, Serialize};

/// What is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct TypedStep {
    /// What it is.
    pub kind: OwnKind,
    /// What it is called.
    pub title: String,
    /// Where is probed.
    pub at: String,
    /// What it is read with: a role, such as `voltmeter`.
    pub with: String,
    /// In what it is read, where that was chosen.
    pub scale: Option<Scale>,
    /// Where the reading must lie; nothing where it is only to be known.
    pub limit: String,
    /// What the set stands at.
    pub mode: String,
    /// The channel or frequency.
    pub channel: String,
    /// Receiving or transmitting.
    pub signal: Option<Signal>,
    /// The supply.
    pub supply: String,
    /// Anything else.
    pub note: String,
}

/// The kinds of such steps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OwnKind {
    /// An instrument is read.
    #[default]
    Read,
    /// Something is looked at.
    Inspect,
    /// Something is done.
    Tick,
}

impl OwnKind {
    /// All of them, in the order in which they are offered.
    pub const ALL: [OwnKind; 3] = [OwnKind::Read, OwnKind::Inspect, OwnKind::Tick];
}

/// A field of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OwnField {
    /// What it is called.
    Title,
    /// Where is probed.
    At,
    /// What it is read with.
    With,
    /// In what it is read.
    Scale,
    /// Where the reading must lie.
    Limit,
}

/// Why it can't be added yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OwnFault {
    /// Nothing stands in the field.
    Blank(OwnField),
    /// It is no name.
    Name(OwnField, IdError),
    /// It is no limit in the unit that was chosen.
    Limit(Scale),
    /// A comma in the limit, where the decimal sign is a point: it may group digits or be one.
    Comma,
}

impl OwnFault {
    /// The field.
    pub fn field(self) -> OwnField {
        match self {
            OwnFault::Blank(field) | OwnFault::Name(field, _) => field,
            OwnFault::Limit(_) | OwnFault::Comma => OwnField::Limit,
        }
    }
}

impl TypedStep {
    /// A blank one with the set as it stands at a step.
    pub fn at_step(step: &Step) -> Self {
        let SetUp {
            mode,
            channel,
            signal,
            supply,
            ..
        } = step.set_up.clone();
        TypedStep {
            mode: mode.unwrap_or_default(),
            channel: channel.unwrap_or_default(),
            // That it is keyed is for the hand to say.
            signal: signal.filter(|signal| *signal == Signal::Rx),
            supply: supply.unwrap_or_default(),
            ..TypedStep::default()
        }
    }

    /// What would have to be typed for a step that was added.
    pub fn of(step: &Step, sign: DecimalSign) -> Self {
        let kind = match step.work {
            Work::Read { .. } => OwnKind::Read,
            Work::Inspect => OwnKind::Inspect,
            _ => OwnKind::Tick,
        };
        let gauge = step.work.gauge();
        let limit = match &step.work {
            Work::Read {
                target: Some(Target::Fixed(tolerance)),
                ..
            } => typed_tolerance(tolerance, sign),
            _ => String::new(),
        };
        TypedStep {
            kind,
            title: step.title.clone(),
            at: gauge.map_or(String::new(), |gauge| gauge.at.to_string()),
            with: gauge.map_or(String::new(), |gauge| gauge.with.to_string()),
            scale: gauge.map(|gauge| gauge.scale),
            limit,
            note: step.text.clone(),
            signal: step.set_up.signal,
            ..TypedStep::at_step(step)
        }
    }

    /// The limits, as far as they can be read; `None` where there are none.
    pub fn tolerance(&self, sign: DecimalSign) -> Result<Option<Tolerance>, OwnFault> {
        let scale = self.scale.filter(|_| !self.limit.trim().is_empty());
        let read = scale.map(|scale| typed_limit(&self.limit, scale, sign));
        read.transpose()
    }

    /// The step, under a name that nothing else has. The stops that the step in hand stands
    /// behind must hold for it as well.
    pub fn read(&self, id: Id, needs: Vec<Id>, sign: DecimalSign) -> Result<OwnStep, OwnFault> {
        let title = filled(&self.title).ok_or(OwnFault::Blank(OwnField::Title))?;
        let (work, point, role) = match self.kind {
            OwnKind::Inspect => (Work::Inspect, None, None),
            OwnKind::Tick => (Work::Tick, None, None),
            OwnKind::Read => {
                let at = name(&self.at, OwnField::At)?;
                let scale = self.scale.ok_or(OwnFault::Blank(OwnField::Scale))?;
                let with = match filled(&self.with) {
                    Some(with) => name(with, OwnField::With)?,
                    None => name(usual_instrument(scale.unit), OwnField::With)?,
                };
                let target = self.tolerance(sign)?.map(Target::Fixed);
                let work = Work::Read {
                    gauge: Gauge::new(at.clone(), with.clone(), scale),
                    target,
                };
                (
                    work,
                    Some(TestPoint::named(at)),
                    Some(Instrument::named(with)),
                )
            }
        };
        let step = Step {
            text: self.note.trim().to_owned(),
            set_up: self.set_up(),
            needs,
            ..Step::new(id, title, work)
        };
        Ok(OwnStep {
            step,
            point,
            role,
            look: None,
        })
    }

    fn set_up(&self) -> SetUp {
        let stated = |text: &str| filled(text).map(str::to_owned);
        SetUp {
            mode: stated(&self.mode),
            channel: stated(&self.channel),
            signal: self.signal,
            supply: stated(&self.supply),
            ..SetUp::default()
        }
    }
}

impl Course {
    /// The stops that what is added at a step has to wait for: those above it in its own procedure,
    /// the step itself where it is one, and those that it names.
    pub fn stops_above(&self, step: &Id) -> Vec<Id> {
        let place = self.procedure.steps().position(|it| it.id == *step);
        let Some((place, part)) = place.and_then(|it| Some((it, self.part_of(it)?))) else {
            return Vec::new();
        };
        let above = self
            .procedure
            .steps()
            .take(place + 1)
            .skip(part.steps.start);
        let goes_down = part.is_of_a_procedure();
        let closes = |it: &&Step| it.work.is_stop() && (goes_down || it.id == *step);
        let stops = above.filter(closes).map(|it| &it.id);
        let named = self.procedure.step(step).map_or(&[][..], |it| &it.needs);
        let mut all: Vec<Id> = stops.cloned().collect();
        all.extend(
            named
                .iter()
                .filter(|it| !all.contains(it))
                .cloned()
                .collect::<Vec<_>>(),
        );
        all
    }
}

/// A limit as it is typed at the bench. A comma that may mean two things is asked about.
pub fn typed_limit(text: &str, scale: Scale, sign: DecimalSign) -> Result<Tolerance, OwnFault> {
    if sign == DecimalSign::Point && has_comma_in_figure(text) {
        return Err(OwnFault::Comma);
    }
    let read = read_tolerance(text, scale, sign).ok();
    let read = read.or_else(|| read_limit(text, scale, sign));
    let read = read.filter(|limit| limit.unit() == scale.unit);
    read.ok_or(OwnFault::Limit(scale))
}

fn has_comma_in_figure(text: &str) -> bool {
    let bytes = text.as_bytes();
    bytes
        .windows(3)
        .any(|it| it[0].is_ascii_digit() && it[1] == b',' && it[2].is_ascii_digit())
}

fn filled(text: &str) -> Option<&str> {
    Some(text.trim()).filter(|text| !text.is_empty())
}

fn name(text: &str, field: OwnField) -> Result<Id, OwnFault> {
    let text = filled(text).ok_or(OwnFault::Blank(field))?;
    text.parse().map_err(|fault| OwnFault::Name(field, fault))
}
