//! What can't be done now, and why.

use crate::procedure::{Id, JoinFault, MOST_STAGES, PathFault};
use crate::quantity::Unit;
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
    /// There is no such sound in the job.
    NoSound,
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
            Refusal::NoSound => write!(f, "That sound is not in this job, or was removed already"),
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
