//! The events of a job.

mod change;
pub mod fault;
mod header;
pub mod look;
pub mod paper;
pub mod part;
mod work;

pub use self::change::{Change, Reply};
pub use self::header::{Charge, Header, SetIdentity, UsedInstrument};
pub use self::work::{Finding, Moment, OwnStep, Phase, Tool};

use crate::job::{FaultRecord, Heard, Look, PaperChange, PartRecord};
use crate::procedure::{Id, Paper, PictureDigest, Procedure, Removable, SignalPath};
use crate::quantity::Quantity;
use serde::{Deserialize, Serialize};

/// Something that happened on the bench.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Event {
    /// Unlike any other event's, in any copy of any job.
    pub id: Id,
    /// One more than the highest that was known when it was written. Events are ordered by
    /// this and then by id, never by the clock, which may be wrong.
    pub seq: u64,
    /// Milliseconds since 1970 UTC by the device's clock; for people only.
    pub at: i64,
    /// What happened.
    pub did: Deed,
}

/// The id and time of an event that is about to be written, handed in by the browser side.
#[derive(Clone, Debug)]
pub struct Stamp {
    /// A fresh id.
    pub id: Id,
    /// Milliseconds since 1970 UTC.
    pub at: i64,
}

/// The kinds of events.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Deed {
    /// The job was started.
    Opened(Box<Header>),
    /// The header was changed; the whole new one.
    Amended(Box<Header>),
    /// From here on another instrument plays its role; one without a name leaves that to nobody.
    MeasuredWith {
        /// The instrument, with its role.
        instrument: Box<UsedInstrument>,
    },
    /// The job is worked by one more procedure, from here on.
    TookOn {
        /// The procedure, in the revision that it has then and keeps.
        procedure: Box<Procedure>,
    },
    /// The job has a step that no procedure foresaw; the whole, in place of an earlier entry with a
    /// step of its name.
    AddedStep {
        /// The step.
        added: Box<OwnStep>,
    },
    /// An instrument was read.
    Reading {
        /// In which step.
        step: Id,
        /// Before, during or after adjusting.
        phase: Phase,
        /// What it showed, as typed.
        value: Quantity,
        /// Whether the tool was in the adjuster, where that was said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tool: Option<Tool>,
        /// Whether it is the last reading taken once more, with nothing changed in between.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        repeat: bool,
        /// How the device took it itself, where it did.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        heard: Option<Box<Heard>>,
    },
    /// A reading was a slip and no longer counts; it stays visible.
    Struck {
        /// In which step.
        step: Id,
        /// The reading's event.
        reading: Id,
        /// Why.
        reason: String,
    },
    /// The step's thing was found by its other route.
    CrossRead {
        /// In which step.
        step: Id,
        /// What the instrument showed.
        value: Quantity,
    },
    /// A pin of a socket was measured.
    PinRead {
        /// In which step.
        step: Id,
        /// The pin.
        pin: Id,
        /// The state of the set.
        state: Id,
        /// What the instrument showed.
        value: Quantity,
    },
    /// The wait of a step began.
    WaitBegun {
        /// In which step.
        step: Id,
    },
    /// The steps that a step repeats are gone through once more.
    PassBegun {
        /// The step that repeats them.
        step: Id,
    },
    /// The bench was left, which ends every stop but those that hold for the whole job.
    Paused,
    /// Something came off, was opened, unplugged or fitted for a while.
    TakenOff {
        /// In which step, if in one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        step: Option<Id>,
        /// What.
        item: Removable,
    },
    /// Something that was off is back.
    PutBack {
        /// Its name on the put-back list.
        item: String,
    },
    /// Something stays off on purpose.
    StaysOff {
        /// Its name on the put-back list.
        item: String,
        /// Why.
        reason: String,
    },
    /// A part was changed; the whole, in place of an earlier entry of its name.
    Changed {
        /// The entry that it was first written with; none in that entry itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first: Option<Id>,
        /// In which step, if in one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        step: Option<Id>,
        /// What was changed.
        change: Box<Change>,
    },
    /// What is known of a fault now; the whole record, in place of an earlier one of its name.
    FaultNoted {
        /// The entry that it was first written with; none in that entry itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first: Option<Id>,
        /// The record.
        record: Box<FaultRecord>,
    },
    /// A path along which a fault is looked for, as it is now; the whole, in place of an earlier entry
    /// of its name.
    PathNoted {
        /// The entry that it was first written with; none in that entry itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first: Option<Id>,
        /// The stop that has to hold before anything is looked at along it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        stop: Option<Id>,
        /// The path.
        path: Box<SignalPath>,
    },
    /// Something was looked at along a path.
    Looked {
        /// Where, and what it showed.
        look: Box<Look>,
    },
    /// What is known of a wanted part now; the whole, in place of an earlier entry of its name.
    PartNoted {
        /// The entry that it was first written with; none in that entry itself.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first: Option<Id>,
        /// The part.
        part: Box<PartRecord>,
    },
    /// The owner was asked something, and the work waits for the answer.
    OwnerAsked {
        /// What.
        question: String,
    },
    /// The owner answered.
    OwnerAnswered {
        /// The entry with the question.
        asked: Id,
        /// In words.
        answer: String,
    },
    /// The set went home.
    Collected {
        /// Who took it.
        by: String,
    },
    /// Something was done as the step says, or a stop was confirmed.
    Ticked {
        /// In which step.
        step: Id,
    },
    /// An inspection was answered.
    Answered {
        /// In which step.
        step: Id,
        /// What was found.
        answer: Finding,
        /// In words.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        note: String,
    },
    /// A remark.
    Noted {
        /// In which step; the job as a whole where there is none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        step: Option<Id>,
        /// In words.
        text: String,
    },
    /// A photo was taken.
    Photographed {
        /// The name of its bytes, which are kept and carried beside the log.
        picture: PictureDigest,
        /// The state of the set that it shows.
        when: Moment,
        /// In words.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        note: String,
        /// At which step, if at one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        step: Option<Id>,
    },
    /// A photo is no longer to be shown. Its entry stays in the log.
    PhotoRemoved {
        /// The photo's event.
        photo: Id,
    },
    /// What was heard while a reading was taken was kept.
    SoundKept {
        /// The name of its bytes, which are kept and carried beside the log.
        sound: PictureDigest,
        /// In which step.
        step: Id,
        /// The reading's event.
        reading: Id,
    },
    /// A sound is no longer to be played. Its entry stays in the log.
    SoundRemoved {
        /// The sound's event.
        sound: Id,
    },
    /// A paper of the set was kept: a circuit diagram, a layout, a service sheet.
    PaperKept {
        /// The paper; its bytes are kept and carried beside the log.
        paper: Box<Paper>,
    },
    /// Something about a paper changed.
    PaperChanged {
        /// The name of its bytes.
        paper: PictureDigest,
        /// What.
        change: PaperChange,
    },
    /// A step was left out or left outside on purpose.
    Waived {
        /// Which step.
        step: Id,
        /// Why.
        reason: String,
    },
    /// An earlier event no longer counts. It stays in the log.
    Undone {
        /// The earlier event.
        event: Id,
    },
    /// A damaged entry no longer keeps the job from being finished. It stays as it is, and counts
    /// for nothing.
    SetAside {
        /// Its text.
        entry: String,
        /// Who answers for that.
        by: String,
        /// Why.
        reason: String,
    },
    /// The job was finished.
    SignedOff {
        /// Who answers for it.
        by: String,
        /// In words.
        #[serde(default, skip_serializing_if = "String::is_empty")]
        remarks: String,
    },
    /// A finished job was taken up again.
    Reopened {
        /// Why.
        reason: String,
    },
}

impl Deed {
    /// The step that it belongs to.
    pub fn step(&self) -> Option<&Id> {
        match self {
            Deed::Reading { step, .. }
            | Deed::Ticked { step }
            | Deed::Answered { step, .. }
            | Deed::Struck { step, .. }
            | Deed::CrossRead { step, .. }
            | Deed::PinRead { step, .. }
            | Deed::WaitBegun { step }
            | Deed::PassBegun { step }
            | Deed::SoundKept { step, .. }
            | Deed::Waived { step, .. } => Some(step),
            Deed::Noted { step, .. }
            | Deed::TakenOff { step, .. }
            | Deed::Changed { step, .. }
            | Deed::Photographed { step, .. } => step.as_ref(),
            Deed::Paused
            | Deed::PhotoRemoved { .. }
            | Deed::SoundRemoved { .. }
            | Deed::PaperKept { .. }
            | Deed::PaperChanged { .. }
            | Deed::PutBack { .. }
            | Deed::StaysOff { .. }
            | Deed::Opened(_)
            | Deed::Amended(_)
            | Deed::MeasuredWith { .. }
            | Deed::TookOn { .. }
            | Deed::AddedStep { .. }
            | Deed::FaultNoted { .. }
            | Deed::PathNoted { .. }
            | Deed::Looked { .. }
            | Deed::PartNoted { .. }
            | Deed::OwnerAsked { .. }
            | Deed::OwnerAnswered { .. }
            | Deed::Collected { .. }
            | Deed::Undone { .. }
            | Deed::SetAside { .. }
            | Deed::SignedOff { .. }
            | Deed::Reopened { .. } => None,
        }
    }

    /// The event that it takes back, if it is an undo.
    pub fn takes_back(&self) -> Option<&Id> {
        match self {
            Deed::Undone { event } => Some(event),
            _ => None,
        }
    }

    /// Whether it is work on the set in a step, which a stop above keeps closed.
    pub const fn is_work(&self) -> bool {
        matches!(
            self,
            Deed::Reading { .. }
                | Deed::CrossRead { .. }
                | Deed::PinRead { .. }
                | Deed::Ticked { .. }
                | Deed::Answered { .. }
        )
    }

    /// Whether an undo may take it back.
    pub fn can_be_undone(&self) -> bool {
        !matches!(self, Deed::Opened(_) | Deed::Undone { .. } | Deed::Paused)
    }
}
