//! A job: the procedure it was started with, and its log.

use crate::job::admission::{check, check_end};
use crate::job::entries::event::{Deed, Event, Header, Stamp};
use crate::job::entries::log::Log;
use crate::job::entries::refusal::Refusal;
use crate::job::fold::course::Course;
use crate::job::fold::standing::whole::Progress;
use crate::job::records::papers;
use crate::procedure::Paper;
use crate::procedure::{Id, PictureDigest, Procedure};
use std::collections::BTreeSet;
use std::sync::Arc;

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
        check(self, progress, &deed)?;
        // Only these can leave a job finished that was not.
        let ends = matches!(deed, Deed::SignedOff { .. } | Deed::Undone { .. });
        let mut log = self.log.clone();
        let id = log.append(stamp, deed);
        if ends {
            check_end(&progress.after(&self.procedure, &log))?;
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

    /// The papers of its procedures and its own, without all else that follows from its log.
    pub fn papers(&self) -> Vec<Paper> {
        papers::fold(self.course().procedure.papers.clone(), &self.log)
    }
}
