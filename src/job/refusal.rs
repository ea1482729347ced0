//! What can't be done now, and why.

use super::{Deed, Job, Progress, StepProgress};
use crate::procedure::{Id, Step, Work};
use crate::quantity::Unit;
use std::fmt;

/// Why a deed was not written to the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The job is finished.
    SignedOff,
    /// The job is not finished.
    NotSignedOff,
    /// An earlier stop is not confirmed.
    Behind(usize),
    /// There is no such step.
    NoStep(Id),
    /// The step is of another kind.
    Kind(&'static str),
    /// The reading is in another unit than the step's.
    Unit {
        /// The reading's unit.
        typed: Unit,
        /// The step's unit.
        due: Unit,
    },
    /// A stop can't be waived.
    StopWaived,
    /// A reason, a note or a name is missing.
    Blank(&'static str),
    /// Steps are still open.
    Owed(usize),
    /// The event to be undone isn't there, or is undone already.
    NothingToUndo,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::SignedOff => write!(f, "This job is finished: reopen it to change anything"),
            Refusal::NotSignedOff => {
                write!(f, "This job is still in hand: there is nothing to reopen")
            }
            Refusal::Behind(stop) => write!(
                f,
                "This step opens when the stop at step {stop} is confirmed: go there first"
            ),
            Refusal::NoStep(id) => write!(f, "There is no step “{id}” in this job's procedure"),
            Refusal::Kind(kind) => write!(
                f,
                "This is a step of the kind “{kind}”: it takes another answer"
            ),
            Refusal::Unit { typed, due } => write!(
                f,
                "The reading is in {}, but the step wants {}: check the instrument and its range",
                typed.symbol(),
                due.symbol()
            ),
            Refusal::StopWaived => write!(
                f,
                "A stop is there for safety and can't be waived: confirm it"
            ),
            Refusal::Blank(what) => write!(f, "Type {what} first"),
            Refusal::Owed(1) => write!(
                f,
                "One step is still open: do it, or waive it with a reason"
            ),
            Refusal::Owed(count) => write!(
                f,
                "{count} steps are still open: do them, or waive each with a reason"
            ),
            Refusal::NothingToUndo => write!(f, "There is nothing left to undo"),
        }
    }
}

impl std::error::Error for Refusal {}

/// Whether a deed may be written now.
pub(super) fn check(job: &Job, progress: &Progress, deed: &Deed) -> Result<(), Refusal> {
    let finished = progress.signed_off.is_some();
    let takes_up_again = matches!(deed, Deed::Reopened { .. });
    let undoes = matches!(deed, Deed::Undone { .. });
    match (finished, takes_up_again) {
        (true, false) if !undoes => return Err(Refusal::SignedOff),
        (false, true) => return Err(Refusal::NotSignedOff),
        _ => {}
    }
    check_words(deed)?;
    match deed {
        Deed::Undone { event } => check_undo(job, event, finished),
        _ => match deed.step() {
            Some(id) => check_step(job, progress, id, deed),
            None => Ok(()),
        },
    }
}

/// Whether a job may stand like this: finished only with nothing owed. An undo can bring a
/// sign-off back just as well as a new one.
pub(super) fn check_end(progress: &Progress) -> Result<(), Refusal> {
    match (&progress.signed_off, progress.owed().count()) {
        (None, _) | (_, 0) => Ok(()),
        (Some(_), count) => Err(Refusal::Owed(count)),
    }
}

fn check_words(deed: &Deed) -> Result<(), Refusal> {
    let (text, what) = match deed {
        Deed::Noted { text, .. } => (text, "the note"),
        Deed::Waived { reason, .. } | Deed::Reopened { reason } => (reason, "the reason"),
        Deed::SignedOff { by, .. } => (by, "the name of who signs off"),
        _ => return Ok(()),
    };
    match text.trim().is_empty() {
        true => Err(Refusal::Blank(what)),
        false => Ok(()),
    }
}

fn check_undo(job: &Job, id: &Id, finished: bool) -> Result<(), Refusal> {
    let undone = job.log.undone();
    let target = job.log.events().find(|event| event.id == *id);
    match target {
        Some(event) if undone.contains(id) || matches!(event.did, Deed::Opened(_)) => {
            Err(Refusal::NothingToUndo)
        }
        // In a finished job only the finishing itself can be taken back.
        Some(event) if finished && !matches!(event.did, Deed::SignedOff { .. }) => {
            Err(Refusal::SignedOff)
        }
        Some(_) => Ok(()),
        None => Err(Refusal::NothingToUndo),
    }
}

fn check_step(job: &Job, progress: &Progress, id: &Id, deed: &Deed) -> Result<(), Refusal> {
    let step = job.procedure.step(id);
    let (Some(step), Some(standing)) = (step, progress.step(id)) else {
        return Err(Refusal::NoStep(id.clone()));
    };
    match deed {
        Deed::Noted { .. } => Ok(()),
        Deed::Waived { .. } => match step.work {
            Work::Stop { .. } => Err(Refusal::StopWaived),
            _ => Ok(()),
        },
        _ => check_open(standing).and_then(|()| check_kind(step, deed)),
    }
}

fn check_open(standing: &StepProgress) -> Result<(), Refusal> {
    match standing.behind {
        Some(stop) => Err(Refusal::Behind(stop)),
        None => Ok(()),
    }
}

fn check_kind(step: &Step, deed: &Deed) -> Result<(), Refusal> {
    match (&step.work, deed) {
        (work, Deed::Reading { value, .. }) => match work.gauge() {
            None => Err(Refusal::Kind(work.kind())),
            Some(gauge) if gauge.scale.unit != value.unit() => Err(Refusal::Unit {
                typed: value.unit(),
                due: gauge.scale.unit,
            }),
            Some(_) => Ok(()),
        },
        (Work::Inspect, Deed::Answered { .. }) => Ok(()),
        (Work::Fit(_) | Work::Wire(_) | Work::Tick | Work::Stop { .. }, Deed::Ticked { .. }) => {
            Ok(())
        }
        (work, _) => Err(Refusal::Kind(work.kind())),
    }
}
