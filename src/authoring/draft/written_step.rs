//! One step as it is written: texts as typed.

use crate::authoring::draft::kinds::{ConfirmedBy, Kind, TargetKind, UntilKind};
use crate::procedure::{Direction, Holds, Id, Setting, Signal};
use crate::quantity::{Prefix, Scale, Unit};
use crate::radio::limits::Known;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

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

    /// Whether it states a limit of its own, which rests on something; a published one carries its
    /// document.
    pub fn states_limit(&self) -> bool {
        self.reads() && !matches!(self.target.kind, TargetKind::None | TargetKind::Limit)
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

/// How a second figure is compared.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ComparisonKind {
    /// It is the same quantity.
    #[default]
    Same,
    /// Power in a load from the voltage across it.
    PowerInto,
    /// Current through a resistor from the drop across it.
    CurrentThrough,
    /// It only has to be plausible in itself.
    Plausible,
}

/// A second route as typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct DraftCrossCheck {
    /// What to do.
    pub text: String,
    /// The test point.
    pub at: String,
    /// The instrument's role.
    pub with: String,
    /// The scale of a bare number.
    pub scale: Scale,
    /// How it is compared.
    pub kind: ComparisonKind,
    /// The load or the resistor; where the figure must lie.
    pub figure: String,
}
