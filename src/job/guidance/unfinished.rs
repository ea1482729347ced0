//! What stays open when one goes away from a step.

use crate::job::fold::standing::step::adjusts;
use crate::job::{Phase, SocketFault, Status, StepProgress, Taken, Tool};
use crate::procedure::{Step, Work};

/// Something that was begun in a step, or is to be done in it before what follows, and is not
/// in the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unfinished {
    /// Something is typed and not entered.
    Typed(String),
    /// The last reading is good to leave, and not recorded as left.
    NotLeft(Box<Taken>),
    /// The step was begun, and its last reading is none to leave.
    Begun {
        /// That reading.
        last: Box<Taken>,
        /// What keeps the step open.
        status: Status,
    },
    /// A socket was begun, and not all of it is measured, right and ticked.
    Socket {
        /// What is wrong or not measured.
        wiring: Vec<SocketFault>,
        /// What keeps the step open.
        status: Status,
    },
    /// A stop is not confirmed.
    Unconfirmed {
        /// Whether it was, before a break.
        lapsed: bool,
    },
}

impl Unfinished {
    /// What stays open of a step that takes entries.
    pub fn of(step: &Step, standing: &StepProgress, typed: &str) -> Option<Self> {
        let typed = typed.trim();
        if !typed.is_empty() {
            return Some(Unfinished::Typed(typed.to_owned()));
        }
        if step.work.is_stop() && !standing.holds {
            let lapsed = standing.status == Status::Lapsed;
            return Some(Unfinished::Unconfirmed { lapsed });
        }
        let status = standing.status;
        let is_begun = !standing.pins.is_empty() || standing.ticked.is_some();
        if matches!(step.work, Work::Socket(_)) && is_begun && status.is_owed() {
            return Some(Unfinished::Socket {
                wiring: standing.wiring.clone(),
                status,
            });
        }
        let last = standing.readings.last()?;
        status
            .is_owed()
            .then(|| match good_to_leave(&step.work, standing) {
                Some(good) => Unfinished::NotLeft(Box::new(good.clone())),
                None => Unfinished::Begun {
                    last: Box::new(Taken::clone(last)),
                    status,
                },
            })
    }
}

/// The last reading of an adjustment, where it may be the one that is left: inside where that
/// can be said, and read with the tool away.
pub fn good_to_leave<'a>(work: &Work, standing: &'a StepProgress) -> Option<&'a Taken> {
    let last = standing.readings.last()?;
    let verdict = last.verdict.as_ref();
    let is_good = verdict.is_none_or(|verdict| verdict.is_inside());
    let is_new = last.phase != Phase::AsLeft && last.tool != Some(Tool::In);
    (adjusts(work) && is_good && is_new).then_some(last)
}
