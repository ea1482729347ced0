//! What is done in a step.

use crate::procedure::step::gauge::Gauge;
use crate::procedure::step::repeat::Repeat;
use crate::procedure::step::set_up::{Alteration, Lead};
use crate::procedure::{Id, Socket, Target};
use serde::{Deserialize, Serialize};

/// The kinds of steps.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Work {
    /// Look for what earlier hands or years did: sound, altered, worn or damaged.
    Inspect,
    /// Read an instrument.
    Read {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// Where the reading must lie; a reading for the record has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        target: Option<Target>,
    },
    /// Turn an adjuster until the reading meets its target.
    Set {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the reading must lie.
        target: Target,
    },
    /// Turn an adjuster until the reading is as large as it gets.
    Peak {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the peak must lie, if that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<Target>,
    },
    /// Turn an adjuster until the reading is as small as it gets.
    Dip {
        /// Where, with what, in which unit.
        gauge: Gauge,
        /// What is turned.
        adjuster: Id,
        /// Where the dip must lie, if that is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<Target>,
    },
    /// Fit a part or make a change.
    Fit(Alteration),
    /// Wire a lead.
    Wire(Lead),
    /// Wire a socket and measure its pins.
    Socket(Socket),
    /// Do it and tick it.
    Tick,
    /// Go through earlier steps again until their readings hold.
    Repeat(Repeat),
    /// A safety gate: nothing after it opens until it is confirmed.
    Stop {
        /// What the technician confirms, in the first person.
        confirm: String,
        /// How long the confirmation holds.
        #[serde(default, skip_serializing_if = "Holds::is_until_a_break")]
        holds: Holds,
        /// The reading that alone confirms it, where a hand doesn't.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reads: Option<HoldPoint>,
    },
}

/// The reading that a stop waits for, such as below 10 V at TP1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct HoldPoint {
    /// Where, with what, in which unit.
    pub gauge: Gauge,
    /// Where the reading must lie: a figure of its own, since nothing else may keep a stop closed.
    pub target: Target,
}

/// How long a confirmed stop holds. Breaks are counted, not minutes: a log says in which order
/// things happened, but a device's clock may be wrong.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Holds {
    /// Until the bench is left: who comes back confirms it again.
    #[default]
    UntilABreak,
    /// For the whole job: what it confirms stays so, as a lead that was cut off does.
    WholeJob,
}

impl Holds {
    /// Both, in the order in which they are offered.
    pub const ALL: [Holds; 2] = [Holds::UntilABreak, Holds::WholeJob];

    /// Whether a break ends it.
    pub fn is_until_a_break(&self) -> bool {
        *self == Holds::UntilABreak
    }

    /// In words.
    pub const fn name(self) -> &'static str {
        match self {
            Holds::UntilABreak => "until a break",
            Holds::WholeJob => "for the whole job",
        }
    }
}

impl Work {
    /// The kind in a word.
    pub const fn kind(&self) -> &'static str {
        match self {
            Work::Inspect => "inspect",
            Work::Read { .. } => "read",
            Work::Set { .. } => "set to target",
            Work::Peak { .. } => "peak",
            Work::Dip { .. } => "dip",
            Work::Fit(_) => "fit",
            Work::Wire(_) => "wire",
            Work::Socket(_) => "socket",
            Work::Tick => "tick",
            Work::Repeat(_) => "repeat",
            Work::Stop { .. } => "stop",
        }
    }

    /// How the reading is taken, where the step takes one.
    pub fn gauge(&self) -> Option<&Gauge> {
        match self {
            Work::Read { gauge, .. }
            | Work::Set { gauge, .. }
            | Work::Peak { gauge, .. }
            | Work::Dip { gauge, .. } => Some(gauge),
            Work::Stop { reads, .. } => reads.as_ref().map(|reads| &reads.gauge),
            _ => None,
        }
    }

    /// Whether it is a safety gate.
    pub const fn is_stop(&self) -> bool {
        matches!(self, Work::Stop { .. })
    }

    /// Whether its reading says something of the set. That of a stop says that work may go on.
    pub fn measures(&self) -> bool {
        self.gauge().is_some() && !self.is_stop()
    }

    /// What is turned, where something is.
    pub fn adjuster(&self) -> Option<&Id> {
        match self {
            Work::Set { adjuster, .. }
            | Work::Peak { adjuster, .. }
            | Work::Dip { adjuster, .. } => Some(adjuster),
            _ => None,
        }
    }

    /// Where the reading must lie, where that is stated.
    pub fn target(&self) -> Option<&Target> {
        match self {
            Work::Set { target, .. } => Some(target),
            Work::Read { target, .. } => target.as_ref(),
            Work::Peak { bound, .. } | Work::Dip { bound, .. } => bound.as_ref(),
            Work::Stop { reads, .. } => reads.as_ref().map(|reads| &reads.target),
            _ => None,
        }
    }
}
