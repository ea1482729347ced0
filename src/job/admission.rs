//! Whether a deed may be entered now.

use crate::job::entries::refusal::Refusal;
use crate::job::fold::way;
use crate::job::{
    Deed, Event, Job, PaperChange, Phase, Progress, Shows, StepProgress, Taken, Tool, Unsaid,
};
use crate::procedure::{Id, JoinFault, Step, Work};
use crate::quantity::{Quantity, Unit};
use std::sync::Arc;

/// Whether a deed may be written now.
pub(in crate::job) fn check(job: &Job, progress: &Progress, deed: &Deed) -> Result<(), Refusal> {
    let finished = progress.signed_off.is_some();
    let takes_up_again = matches!(deed, Deed::Reopened { .. });
    let goes_home = matches!(deed, Deed::Collected { .. });
    let undoes = matches!(deed, Deed::Undone { .. });
    match (finished, takes_up_again) {
        (true, false) if !undoes && !goes_home => return Err(Refusal::SignedOff),
        (false, false) if goes_home => return Err(Refusal::NotFinished),
        (false, true) => return Err(Refusal::NotSignedOff),
        _ => {}
    }
    check_words(deed)?;
    if !job.log.has_room() {
        return Err(Refusal::NoRoom);
    }
    match deed {
        Deed::TookOn { procedure } => {
            let taken = progress.course.can_take_on(procedure);
            taken.map_err(Refusal::NotTakenOn)
        }
        Deed::PartNoted { first, .. } => {
            let is_known = |name: &Id| progress.dealings.parts.iter().any(|it| it.name == *name);
            match first.as_ref().is_none_or(is_known) {
                true => Ok(()),
                false => Err(Refusal::NoEntry),
            }
        }
        Deed::OwnerAnswered { asked, .. } => {
            match progress.dealings.asked.iter().any(|it| it.name == *asked) {
                true => Ok(()),
                false => Err(Refusal::NoEntry),
            }
        }
        Deed::Changed {
            first: Some(first), ..
        } => match progress.changes.iter().any(|it| it.name == *first) {
            true => Ok(()),
            false => Err(Refusal::NoEntry),
        },
        Deed::FaultNoted { first, record } => {
            let is_known = |name: &Id| progress.faults.iter().any(|fault| fault.name == *name);
            match record.unsaid() {
                _ if !first.as_ref().is_none_or(is_known) => Err(Refusal::NoFault),
                Some(Unsaid::Cause) => Err(Refusal::Blank("the cause that was found")),
                Some(Unsaid::Cure) => Err(Refusal::Blank("what cured it")),
                Some(Unsaid::Contradicts) => Err(Refusal::NotSeen),
                Some(Unsaid::All) => Err(Refusal::Blank("what is seen")),
                None => Ok(()),
            }
        }
        Deed::PathNoted { .. } | Deed::Looked { .. } => progress.check_trace(deed),
        Deed::AddedStep { added } => match progress.course.procedure.step(&added.step.id) {
            Some(known) if *known == added.step || !progress.course.can_change(added) => {
                Err(Refusal::NotTakenOn(JoinFault::Twice))
            }
            _ => Ok(()),
        },
        Deed::Undone { event } => check_undo(job, event, finished),
        Deed::PutBack { item } | Deed::StaysOff { item, .. } => {
            match progress.off.iter().any(|off| off.key == *item) {
                true => Ok(()),
                false => Err(Refusal::NotOff),
            }
        }
        Deed::SignedOff { .. } => {
            check_lapsed(progress)?;
            check_damaged(progress)
        }
        Deed::SetAside { entry, .. } => {
            match progress.unsettled().any(|left| left.text() == *entry) {
                true => Ok(()),
                false => Err(Refusal::NotDamaged),
            }
        }
        Deed::PaperChanged { paper, .. } => {
            match progress.papers.iter().any(|kept| kept.paper == *paper) {
                true => Ok(()),
                false => Err(Refusal::NoPaper),
            }
        }
        Deed::PhotoRemoved { photo } => {
            match progress.photos.iter().any(|taken| taken.event == *photo) {
                true => Ok(()),
                false => Err(Refusal::NoPhoto),
            }
        }
        Deed::SoundRemoved { sound } => {
            match progress.sounds.iter().any(|kept| kept.event == *sound) {
                true => Ok(()),
                false => Err(Refusal::NoSound),
            }
        }
        _ => match deed.step() {
            Some(id) => check_step(progress, id, deed),
            None => Ok(()),
        },
    }
}

/// Whether a job may stand like this: finished only with nothing owed. An undo can bring a
/// sign-off back just as well as a new one.
pub(in crate::job) fn check_end(progress: &Progress) -> Result<(), Refusal> {
    if progress.signed_off.is_none() {
        return Ok(());
    }
    check_lapsed(progress)?;
    check_damaged(progress)?;
    match (progress.owed().count(), progress.still_off().count()) {
        (0, 0) => Ok(()),
        (0, off) => Err(Refusal::StillOff(off)),
        (owed, _) => Err(Refusal::Owed(owed)),
    }
}

fn check_lapsed(progress: &Progress) -> Result<(), Refusal> {
    match progress.lapsed().next() {
        Some(stop) => Err(Refusal::Lapsed(stop.number)),
        None => Ok(()),
    }
}

fn check_damaged(progress: &Progress) -> Result<(), Refusal> {
    let mut left = progress.unsettled();
    let Some(first) = left.next() else {
        return Ok(());
    };
    let step = first.event().and_then(|event| event.did.step());
    let number = step.and_then(|step| progress.course.procedure.number_of(step));
    Err(Refusal::Damaged(1 + left.count(), number))
}

fn check_words(deed: &Deed) -> Result<(), Refusal> {
    let (text, what) = match deed {
        Deed::Noted { text, .. } => (text, "the note"),
        Deed::Waived { reason, .. }
        | Deed::Struck { reason, .. }
        | Deed::StaysOff { reason, .. }
        | Deed::Reopened { reason } => (reason, "the reason"),
        Deed::TakenOff { item, .. } => (&item.what, "what came off"),
        Deed::Changed { change, .. } => (&change.fitted, "what went in"),
        Deed::SetAside { by, .. } if by.trim().is_empty() => (by, "the name of who sets it aside"),
        Deed::SetAside { reason, .. } => (reason, "the reason"),
        Deed::SignedOff { by, .. } => (by, "the name of who signs off"),
        Deed::PartNoted { part, .. } => (&part.what, "what is wanted"),
        Deed::PaperKept { paper } => (&paper.title, "what the paper is"),
        Deed::PaperChanged {
            change: PaperChange::Titled(title),
            ..
        } => (title, "what the paper is"),
        Deed::OwnerAsked { question } => (question, "what is asked"),
        Deed::OwnerAnswered { answer, .. } => (answer, "the answer"),
        Deed::Collected { by } => (by, "the name of who takes it"),
        _ => return Ok(()),
    };
    match text.trim().is_empty() {
        true => Err(Refusal::Blank(what)),
        false => Ok(()),
    }
}

fn check_undo(job: &Job, id: &Id, finished: bool) -> Result<(), Refusal> {
    let undone = job.log.undone();
    match find(job, id) {
        None => Err(Refusal::NothingToUndo),
        Some(event) if undone.contains(id) || !event.did.can_be_undone() => {
            Err(Refusal::NothingToUndo)
        }
        Some(event)
            if finished
                && !matches!(event.did, Deed::SignedOff { .. } | Deed::Collected { .. }) =>
        {
            Err(Refusal::SignedOff)
        }
        Some(_) => Ok(()),
    }
}

fn find<'a>(job: &'a Job, id: &Id) -> Option<&'a Event> {
    job.log.events().find(|event| event.id == *id)
}

fn check_step(progress: &Progress, id: &Id, deed: &Deed) -> Result<(), Refusal> {
    let step = progress.course.procedure.step(id);
    let (Some(step), Some(standing)) = (step, progress.step(id)) else {
        return Err(Refusal::NoStep(id.clone()));
    };
    match deed {
        Deed::Noted { .. }
        | Deed::TakenOff { .. }
        | Deed::Changed { .. }
        | Deed::Photographed { .. } => Ok(()),
        Deed::Struck { reading, .. } => {
            match standing
                .readings
                .iter()
                .any(|taken| taken.event == *reading)
            {
                true => Ok(()),
                false => Err(Refusal::NotInStep("reading")),
            }
        }
        Deed::SoundKept { reading, .. } => {
            let is_its = |taken: &Arc<Taken>| taken.event == *reading && taken.heard.is_some();
            match standing.readings.iter().any(is_its) {
                true => Ok(()),
                false => Err(Refusal::NotInStep("reading by sound")),
            }
        }
        Deed::WaitBegun { .. } => match step.wait {
            Some(_) => Ok(()),
            None => Err(Refusal::NotInStep("wait")),
        },
        Deed::Waived { .. } => match step.work {
            Work::Stop { .. } => Err(Refusal::StopWaived),
            _ => Ok(()),
        },
        Deed::PassBegun { .. } => {
            check_open(progress, standing).and_then(|()| check_pass(standing))
        }
        _ => check_open(progress, standing).and_then(|()| check_kind(step, deed)),
    }
}

fn check_pass(standing: &StepProgress) -> Result<(), Refusal> {
    let passes = standing.passes.as_ref();
    let passes = passes.ok_or(Refusal::NotInStep("pass"))?;
    match &passes.shows {
        Shows::Open(open) => Err(Refusal::PassOpen(open.first().copied().unwrap_or_default())),
        _ if passes.is_last() => Err(Refusal::NoMorePasses(passes.number())),
        _ => Ok(()),
    }
}

fn check_open(progress: &Progress, standing: &StepProgress) -> Result<(), Refusal> {
    let Some(stop) = standing.behind else {
        return Ok(());
    };
    match progress.lapsed().any(|lapsed| lapsed.number == stop) {
        true => Err(Refusal::BehindLapsed(stop)),
        false => Err(Refusal::Behind(stop)),
    }
}

fn check_kind(step: &Step, deed: &Deed) -> Result<(), Refusal> {
    match (&step.work, deed) {
        (
            _,
            Deed::Reading {
                phase: Phase::AsLeft,
                tool: Some(Tool::In),
                ..
            },
        ) => Err(Refusal::ToolIn),
        (work, Deed::Reading { value, .. }) => match work.gauge() {
            None => Err(Refusal::Kind(work.kind())),
            Some(gauge) => way::takes(gauge, value),
        },
        (_, Deed::CrossRead { value, .. }) => match &step.cross_check {
            None => Err(Refusal::NotInStep("cross-check")),
            Some(check) => check_unit(value, check.gauge.scale.unit),
        },
        (
            Work::Socket(socket),
            Deed::PinRead {
                pin, state, value, ..
            },
        ) => match socket.expected(pin, state) {
            None => Err(Refusal::NotInStep("pin")),
            Some(tolerance) => check_unit(value, tolerance.unit()),
        },
        (Work::Inspect, Deed::Answered { .. }) => Ok(()),
        (Work::Stop { reads: Some(_), .. }, Deed::Ticked { .. }) => Err(Refusal::StopReads),
        (
            Work::Fit(_) | Work::Wire(_) | Work::Tick | Work::Stop { .. } | Work::Socket(_),
            Deed::Ticked { .. },
        ) => Ok(()),
        (work, _) => Err(Refusal::Kind(work.kind())),
    }
}

fn check_unit(value: &Quantity, due: Unit) -> Result<(), Refusal> {
    match value.unit() {
        typed if typed == due => Ok(()),
        typed => Err(Refusal::Unit { typed, due }),
    }
}
