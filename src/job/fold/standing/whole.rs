//! Where a job stands.

use crate::job::entries::remains::Remains;
use crate::job::fold::standing::noted::{Changed, Note, SignOff};
use crate::job::fold::standing::noted::{Off, OffState};
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::step::StepProgress;
use crate::job::records::heard::sounds::Sound;
use crate::job::records::photos::Photo;
use crate::job::{Course, Damaged, Dealings, Fault, Header, InForce, Trace};
use crate::procedure::{Id, Paper};

/// Where a job stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// The header as last amended.
    pub header: Header,
    /// Which instrument played which role when.
    pub instruments: InForce,
    /// All that it is worked by.
    pub course: Course,
    /// One for each step of it, in order.
    pub steps: Vec<StepProgress>,
    /// Remarks on the job as a whole.
    pub notes: Vec<Note>,
    /// Who finished it, while it is finished.
    pub signed_off: Option<SignOff>,
    /// Who finished it before it was taken up again.
    pub ended_before: Vec<SignOff>,
    /// Why it was taken up again.
    pub reopened: Vec<Note>,
    /// When it was started and last touched, by the device's clock.
    pub span: Option<(i64, i64)>,
    /// Everything that came off, in the order in which it did.
    pub off: Vec<Off>,
    /// Parts that were changed.
    pub changes: Vec<Changed>,
    /// Parts that are wanted, what the owner was asked, and who took the set home.
    pub dealings: Dealings,
    /// What was wrong with the set.
    pub faults: Vec<Fault>,
    /// The paths along which a fault was looked for.
    pub traces: Vec<Trace>,
    /// Where in the log a part was changed or a cure recorded last.
    pub(in crate::job) mended: Option<usize>,
    /// Photos that were taken and not removed.
    pub photos: Vec<Photo>,
    /// The sounds that were kept.
    pub sounds: Vec<Sound>,
    /// The papers, those of its procedures first.
    pub papers: Vec<Paper>,
    /// What is left of damaged entries.
    pub damaged: Vec<Remains>,
    /// The breaks: where in the log, and when by the device's clock.
    pub(in crate::job::fold) paused: Vec<(usize, i64)>,
}

impl Progress {
    /// The stops that a break has ended and that are not confirmed again.
    pub fn lapsed(&self) -> impl Iterator<Item = &StepProgress> {
        self.steps
            .iter()
            .filter(|step| step.status == Status::Lapsed)
    }

    /// What is still off, with no reason given for it.
    pub fn still_off(&self) -> impl Iterator<Item = &Off> {
        self.off.iter().filter(|off| off.state == OffState::Off)
    }

    /// The damaged entries that are not set aside.
    pub fn unsettled(&self) -> impl Iterator<Item = &Damaged> {
        let open = self.damaged.iter().filter(|it| it.set_aside.is_none());
        open.map(|it| &it.left)
    }

    /// The step with this id.
    pub fn step(&self, id: &Id) -> Option<&StepProgress> {
        self.steps.iter().find(|step| step.id == *id)
    }

    /// The steps that keep the job from being finished.
    pub fn owed(&self) -> impl Iterator<Item = &StepProgress> {
        self.steps.iter().filter(|step| step.status.is_owed())
    }

    /// Whether nothing keeps the job from being finished. It may be signed off all the same where
    /// a copy of it was merged that holds more.
    pub fn is_closed(&self) -> bool {
        let is_settled = self.owed().next().is_none() && self.still_off().next().is_none();
        is_settled && self.unsettled().next().is_none()
    }

    /// The first step that keeps the job from being finished.
    pub fn current(&self) -> Option<&StepProgress> {
        self.owed().next()
    }

    /// How many steps are done or waived.
    pub fn settled(&self) -> usize {
        self.steps.len() - self.owed().count()
    }
}
