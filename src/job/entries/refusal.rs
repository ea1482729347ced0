//! What can't be done now, and why.

use crate::job::fold::way;
use crate::job::{
    Deed, Event, Job, PaperChange, Phase, Progress, Shows, StepProgress, Tool, Unsaid,
};
use crate::procedure::{Id, JoinFault, MOST_STAGES, PathFault, Step, Work};
use crate::quantity::{Quantity, Unit};
use crate::radio::conversion::NoConversion;
use std::fmt;

/// Why a deed was not written to the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The job is finished.
    SignedOff,
    /// The job is not finished.
    NotSignedOff,
    /// The set can't go home before the job is finished.
    NotFinished,
    /// An earlier stop is not confirmed.
    Behind(usize),
    /// A break has ended an earlier stop.
    BehindLapsed(usize),
    /// A break has ended a stop, so the job can't be signed off.
    Lapsed(usize),
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
    /// The reading is of the step's kind, but can't be given in its unit.
    NoLevel {
        /// The reading's unit.
        typed: Unit,
        /// The step's unit.
        due: Unit,
        /// Why not.
        why: NoConversion,
    },
    /// A stop can't be waived.
    StopWaived,
    /// A stop waits for a reading and can't be ticked.
    StopReads,
    /// A reason, a note or a name is missing.
    Blank(&'static str),
    /// Steps are still open.
    Owed(usize),
    /// Things are still off.
    StillOff(usize),
    /// Entries are damaged and not set aside: how many, and the step of the first, where that is
    /// known.
    Damaged(usize, Option<usize>),
    /// There is no such damaged entry that could be set aside.
    NotDamaged,
    /// There is no such thing on the put-back list.
    NotOff,
    /// There is no record of such a fault in the job.
    NoFault,
    /// A fault that did not show has no cause and no cure.
    NotSeen,
    /// What an entry goes on from is not in the job.
    NoEntry,
    /// There is no such paper.
    NoPaper,
    /// There is no such photo in the job.
    NoPhoto,
    /// A pass is not through yet: the number of a step that is still to be done in it.
    PassOpen(usize),
    /// There were as many passes as there may be.
    NoMorePasses(usize),
    /// There is no such reading, pin or wait in the step.
    NotInStep(&'static str),
    /// A reading as left is taken with the tool away.
    ToolIn,
    /// The event to be undone isn't there, is undone already, or can't be undone.
    NothingToUndo,
    /// The log takes no more entries.
    NoRoom,
    /// A procedure can't be worked together with what is there.
    NotTakenOn(JoinFault),
    /// What a path asks to be confirmed is not.
    PathNotConfirmed,
    /// A path can't be looked along.
    Path(PathFault),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::SignedOff => write!(f, "This job is finished: reopen it to change anything"),
            Refusal::NotSignedOff => {
                write!(f, "This job is still in hand: there is nothing to reopen")
            }
            Refusal::NotFinished => write!(
                f,
                "This job is still in hand: sign it off before the set is collected"
            ),
            Refusal::Behind(stop) => write!(
                f,
                "Locked until hold point {stop} is confirmed: go there first"
            ),
            Refusal::BehindLapsed(stop) => write!(
                f,
                "Paused: re-confirm hold point {stop} first"
            ),
            Refusal::Lapsed(stop) => write!(
                f,
                "Paused: re-confirm hold point {stop} before you sign off"
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
            Refusal::NoLevel { typed, due, why } => {
                let (typed, due) = (typed.symbol(), due.symbol());
                let what_to_do = match why {
                    NoConversion::NoImpedance => format!("type it in {due}"),
                    NoConversion::MeanOrPep => format!("read it with what shows {due}"),
                    NoConversion::EmfOrPd => format!("type {typed} with EMF or PD behind it"),
                    _ => "check the instrument and its range".to_owned(),
                };
                write!(
                    f,
                    "The reading is in {typed}, the step judges in {due}, and {why}: {what_to_do}"
                )
            }
            Refusal::StopWaived => write!(
                f,
                "A hold point is there for safety and can't be waived: confirm it"
            ),
            Refusal::StopReads => write!(
                f,
                "This hold point opens by its reading alone: take one that is inside its limits"
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
            Refusal::StillOff(1) => write!(
                f,
                "One thing is still off: put it back, or say why it stays off"
            ),
            Refusal::StillOff(count) => write!(
                f,
                "{count} things are still off: put them back, or say why each stays off"
            ),
            Refusal::Damaged(count, step) => {
                let place = step.map(|step| format!("at step {step}"));
                match (count, place) {
                    (1, place) => {
                        let place = place.map_or(String::new(), |place| format!(" {place}"));
                        write!(
                            f,
                            "An entry{place} is damaged: bring in a file that has it sound, or set it aside with a reason"
                        )
                    }
                    (count, place) => {
                        let place = place.map_or(String::new(), |it| format!(", the first {it}"));
                        write!(
                            f,
                            "{count} entries are damaged{place}: bring in a file that has them sound, or set each aside with a reason"
                        )
                    }
                }
            }
            Refusal::NotDamaged => write!(
                f,
                "That entry is not damaged any more, or is set aside already"
            ),
            Refusal::NotOff => write!(f, "That is not among the removed parts"),
            Refusal::NoFault => write!(
                f,
                "That fault is not in this job, or was taken back: record it anew"
            ),
            Refusal::NotSeen => write!(
                f,
                "A fault that does not show has no cause and no cure: take them out, or choose how far it came"
            ),
            Refusal::NoEntry => write!(
                f,
                "What this goes on from is not in the job, or was taken back: write it anew"
            ),
            Refusal::NoPaper => write!(f, "That paper is not in this job, or was taken out already"),
            Refusal::NoPhoto => write!(f, "That photo is not in this job, or was removed already"),
            Refusal::PassOpen(step) => write!(
                f,
                "This pass is not through: step {step} is still to be done in it"
            ),
            Refusal::NoMorePasses(1) => write!(
                f,
                "There may be no second pass: waive the step with a reason"
            ),
            Refusal::NoMorePasses(most) => write!(
                f,
                "There were {most} passes, and there may be no more: waive the step with a reason"
            ),
            Refusal::NotInStep(what) => write!(f, "This step has no such {what}"),
            Refusal::ToolIn => write!(
                f,
                "A reading as left is taken with the tool away: take the tool out and read again"
            ),
            Refusal::NothingToUndo => write!(f, "There is nothing left to undo"),
            Refusal::NotTakenOn(why) => f.write_str(match why {
                JoinFault::Empty => "That procedure has no steps: take on another",
                JoinFault::Twice => "This job is worked by that procedure already: go on in its steps",
                JoinFault::OtherPlan => {
                    "That procedure has another frequency plan than this job: start a job of its own for it"
                }
                JoinFault::OtherChannels => {
                    "That procedure has other channels than this job: start a job of its own for it"
                }
                JoinFault::TooMany => {
                    "This job would have too many steps: start a job of its own for that procedure"
                }
            }),
            Refusal::PathNotConfirmed => {
                write!(f, "Confirm first what this path asks for, before anything is looked at")
            }
            Refusal::Path(fault) => match fault {
                PathFault::Untitled => write!(f, "Name the path first"),
                PathFault::TooShort => write!(f, "A path has two stages at least: add one"),
                PathFault::TooLong => write!(f, "A path has {MOST_STAGES} stages at most: take one out"),
                PathFault::Nameless(stage) => write!(f, "Stage {stage} has no name: type it"),
                PathFault::Twice(stage) => write!(
                    f,
                    "Stage {stage} is called like another: give it a name of its own"
                ),
                PathFault::NoCheck => write!(
                    f,
                    "Nothing can be looked at along this path: say at one stage what to look at"
                ),
                PathFault::SameCheck(stage) => write!(
                    f,
                    "Stage {stage} has two places that show the same: take one out"
                ),
                PathFault::NothingSaid(stage) => {
                    write!(f, "Say what is looked at behind stage {stage}")
                }
            },
            Refusal::NoRoom => write!(
                f,
                "This job's log takes no more entries, since it is full: save it as a file and start a new job"
            ),
        }
    }
}

impl std::error::Error for Refusal {}

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
