//! The frequency plan as it is shown.

use crate::job::Status;
use crate::job::fold::standing::unproved::Unproved;
use crate::metrology::uncertainty::Budget;
use crate::procedure::Id;
use crate::quantity::{Fault, Quantity};
use crate::radio::channels::Channel;
use crate::radio::plan::Responses;

/// A channel on which the procedure reads an oscillator of its plan or the frequency on the air.
#[derive(Clone, Debug, PartialEq)]
pub struct ChannelView {
    /// The channel.
    pub channel: Channel,
    /// The modes that have a step of that kind on this channel, in the plan's order.
    pub modes: Vec<ModeView>,
    /// How far apart the predicted errors are, largest less smallest; `None` before two modes
    /// have theirs.
    pub spread: Option<Quantity>,
}

/// One mode on one channel.
#[derive(Clone, Debug, PartialEq)]
pub struct ModeView {
    /// The mode's name.
    pub mode: String,
    /// The oscillators that make up its sum, in the plan's order.
    pub oscillators: Vec<OscillatorView>,
    /// What the readings predict for the air; `None` until every oscillator has its reading.
    pub predicted: Option<Predicted>,
    /// What was read on the air itself.
    pub measured: Option<Measured>,
    /// Where the last open oscillator would land the sum on the channel; `None` while more than
    /// one is open, and when none is.
    pub last: Option<LastTarget>,
    /// Where the receiver also listens; `None` where the plan has no injection.
    pub responses: Option<Responses>,
}

/// One oscillator of a mode's sum.
#[derive(Clone, Debug, PartialEq)]
pub struct OscillatorView {
    /// Its name in the plan.
    pub name: String,
    /// How often it counts in the sum.
    pub factor: i32,
    /// What sets it in this mode; empty where the plan doesn't say.
    pub adjuster: String,
    /// What the plan asks of it on this channel.
    pub target: Result<Quantity, Fault>,
    /// The step that reads it in this mode on this channel, where there is one.
    pub step: Option<StepRef>,
    /// Its reading as left, put right by the instrument's corrections; the mean of several.
    pub reading: Option<Quantity>,
    /// The reading less the target.
    pub error: Option<Quantity>,
}

impl OscillatorView {
    /// Whether it is still to be set: not read, or left where its step does not settle for it.
    pub fn is_open(&self) -> bool {
        let owed = self.step.as_ref().is_some_and(|step| step.status.is_owed());
        self.reading.is_none() || owed
    }
}

/// A step that is spoken of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepRef {
    /// The step.
    pub id: Id,
    /// Its place in the whole, from 1.
    pub number: usize,
    /// Where it stands.
    pub status: Status,
}

/// The frequency on the air as the oscillators' readings add up.
#[derive(Clone, Debug, PartialEq)]
pub struct Predicted {
    /// The sum, exact, in the channel's scale and with the digits of the finest reading.
    pub frequency: Quantity,
    /// The sum less the channel.
    pub error: Quantity,
    /// The same in parts per million of the channel.
    pub ppm: f64,
    /// What its uncertainty comes from, in Hz: a line for each oscillator and one for the time
    /// base of each counter.
    pub uncertainty: Result<Budget, Unproved>,
    /// The expanded uncertainty as it is stated; `None` where it isn't known, or is zero.
    pub expanded: Option<Quantity>,
}

/// A reading on the air.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The step that took it.
    pub step: StepRef,
    /// The reading, put right by the instrument's corrections; the mean of several.
    pub frequency: Quantity,
    /// The reading less the channel.
    pub error: Quantity,
    /// The same in parts per million of the channel.
    pub ppm: f64,
    /// Its expanded uncertainty as it is stated, or why it isn't known.
    pub expanded: Result<Quantity, Unproved>,
}

/// Where the last oscillator would make up for what the others lack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LastTarget {
    /// The oscillator's name in the plan.
    pub oscillator: String,
    /// The frequency that lands the sum on the channel whatever the others read.
    pub target: Quantity,
    /// Whether that lies inside the tolerance of the oscillator's own step, where it has one.
    pub inside: Option<bool>,
}
