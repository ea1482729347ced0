//! What was done: an append-only log, and everything else derived from it by a pure fold.

pub mod entries;
mod fold;
pub mod guidance;
mod records;

pub use entries::bounded::{Bounded, MAX_EVENTS, too_many};
pub use entries::correct::Correction;
pub use entries::event::{
    Change, Charge, Deed, Event, Finding, Header, Moment, OwnStep, Phase, Reply, SetIdentity,
    Stamp, Tool, UsedInstrument,
};
pub use entries::header::HeaderPart;
pub use entries::log::{Clash, Log, LogFault};
pub use entries::refusal::Refusal;
pub use entries::remains::{Remains, SetAside, remains};
pub use entries::written::{Damaged, EventFault, ReadEvent, check_of, torn};
pub use fold::course::{Course, LeftOut, Origin, Part};
pub use fold::in_force::{Counts, InForce, Measuring, Present, Restated};
pub use fold::passes::{Pass, PassRead, Passes, Shows};
pub use fold::pause::{BREAK_AFTER, Break, Ended, breaks, is_break_due, stops_brought};
pub use fold::progress::{
    Answer, Changed, CrossReading, LookAgain, Note, Progress, SignOff, Status, StepProgress,
    Struck, Taken,
};
pub use fold::proof::{Group, KitLine, Proof, Read, Unproved, kit_check};
pub use fold::put_back::{Off, OffState};
pub use fold::settling::Settled;
pub use fold::several::TableStanding;
pub use fold::socket::{PinReading, SocketFault};
pub use fold::wait::{Wait, minutes_and_seconds, waits};
pub use fold::way::{Way, takes, unit_read};
pub use guidance::before::{Before, Found, before};
pub use guidance::kindred::{MOST_JOBS, MOST_SETS, kindred, may_teach};
pub use guidance::plan_view::{
    ChannelView, LastTarget, Measured, ModeView, OscillatorView, Predicted, StepRef, plan_view,
};
pub use guidance::trace::{
    Look, LookAt, Seen, Showed, Trace, Tracing, begins, paths_of, reading_step,
};
pub use guidance::unfinished::{Unfinished, good_to_leave};
pub use records::fault_record::{CureShown, Fault, FaultOf, FaultRecord, Outcome, Unsaid};
pub use records::find::{Search, Shown};
pub use records::heard::Heard;
pub use records::line::{Line, ProcedureName, Standing, StepReached};
pub use records::own::{OwnFault, OwnField, OwnKind, TypedStep, typed_limit};
pub use records::papers::PaperChange;
pub use records::part::{
    Asked, Awaits, Collected, Dealings, OrderedTogether, Part as WantedPart, PartDue, PartRecord,
    PartState, ordered_together,
};
pub use records::photos::{Photo, photos};
pub use records::plate::{SetKey, is_same_set, set_key};

use crate::procedure::{Id, PictureDigest, Procedure};
use crate::quantity::{DecimalSign, Number};
use entries::refusal;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What the technician has set for every job on this device.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Preferences {
    /// How numbers are typed and shown.
    pub decimal_sign: DecimalSign,
    /// Who works here, offered at intake and at sign-off.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub technician: String,
    /// Whether a quiet tone tells inside from outside.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub tone: bool,
    /// Whether a report says how long the work took.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub show_time: bool,
    /// The currency of prices; a report shows none where it is empty.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub currency: String,
    /// What an hour of work costs, for new jobs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate: Option<Number>,
}

/// One set on the bench: the exact revision of the procedure it was started with, and the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// The same in every copy of the job.
    pub id: Id,
    /// The revision that the job was started with; later revisions do not change it. What else it
    /// is worked by stands in the log: see [`Course`].
    pub procedure: Arc<Procedure>,
    /// What was done.
    pub log: Log,
}

impl Job {
    /// Starts a job. The stamp is that of its first event.
    pub fn open(
        id: Id,
        procedure: impl Into<Arc<Procedure>>,
        header: Header,
        stamp: Stamp,
    ) -> Self {
        let procedure = procedure.into();
        let mut log = Log::default();
        log.append(stamp, Deed::Opened(header.into()));
        Job { id, procedure, log }
    }

    /// All that the job is worked by.
    pub fn course(&self) -> Course {
        Course::of(&self.procedure, &self.log)
    }

    /// Everything that follows from the log.
    pub fn progress(&self) -> Progress {
        Progress::of(&self.procedure, &self.log)
    }

    /// The same, where it is known what followed before something was added.
    pub fn progress_after(&self, before: Option<&Progress>) -> Progress {
        match before {
            Some(before) => before.after(&self.procedure, &self.log),
            None => self.progress(),
        }
    }

    /// Adds a deed to the log, or says why it can't be done now. Gives the new event's id.
    pub fn record(&mut self, stamp: Stamp, deed: Deed) -> Result<Id, Refusal> {
        self.record_at(&self.progress(), stamp, deed)
    }

    /// The same where the job's progress is known already.
    pub fn record_at(
        &mut self,
        progress: &Progress,
        stamp: Stamp,
        deed: Deed,
    ) -> Result<Id, Refusal> {
        refusal::check(self, progress, &deed)?;
        // Only these can leave a job finished that was not.
        let ends = matches!(deed, Deed::SignedOff { .. } | Deed::Undone { .. });
        let mut log = self.log.clone();
        let id = log.append(stamp, deed);
        if ends {
            refusal::check_end(&progress.after(&self.procedure, &log))?;
        }
        self.log = log;
        Ok(id)
    }

    /// Adds several deeds to the log in their order: all of them, or none where one of them can't
    /// be done then. `progress` is the job's, as it is known already.
    pub fn record_all(
        &mut self,
        progress: &Progress,
        deeds: impl IntoIterator<Item = (Stamp, Deed)>,
    ) -> Result<(), Refusal> {
        let mut job = self.clone();
        for (index, (stamp, deed)) in deeds.into_iter().enumerate() {
            match index {
                0 => job.record_at(progress, stamp, deed)?,
                _ => job.record(stamp, deed)?,
            };
        }
        *self = job;
        Ok(())
    }

    /// The pictures that belong to the job: those of its procedures, its photos and its papers.
    pub fn pictures(&self) -> BTreeSet<PictureDigest> {
        let boards = self.procedure.picture_names().cloned();
        boards.chain(self.log.pictures()).collect()
    }

    /// The event that an undo would take back: the last one that still counts.
    pub fn last_undoable(&self) -> Option<&Event> {
        let undone = self.log.undone();
        self.log
            .events()
            .rev()
            .find(|event| event.did.can_be_undone() && !undone.contains(&event.id))
    }
}
