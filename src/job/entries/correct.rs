//! Entries that read otherwise in another copy of a job, taken from there.

use crate::job::{Deed, Event, Job, Refusal, Stamp};

/// An entry as another copy of the job has it, and what a note says of its being taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Correction {
    /// The other copy's form of an entry that is here.
    pub event: Event,
    /// Where it comes from and what it stands for, in words.
    pub note: String,
}

impl Job {
    /// Takes entries of another copy: those here are undone, the others written behind them,
    /// each with a note. Nothing is taken out of the log.
    pub fn correct(
        &mut self,
        corrections: &[Correction],
        mut stamp: impl FnMut() -> Stamp,
    ) -> Result<(), Refusal> {
        if self.log.is_signed_off() {
            return Err(Refusal::SignedOff);
        }
        for Correction { event, note } in corrections {
            let undone = self.log.undone();
            let counts = |e: &&Event| e.id == event.id && !undone.contains(&e.id);
            let here = self.log.events().find(counts);
            let undo = here.filter(|here| here.did.can_be_undone()).map(|here| {
                let event = here.id.clone();
                Deed::Undone { event }
            });
            let note = Deed::Noted {
                step: event.did.step().cloned(),
                text: note.clone(),
            };
            for deed in undo.into_iter().chain([again(&event.did), note]) {
                if !self.log.has_room() {
                    return Err(Refusal::NoRoom);
                }
                self.log.append(stamp(), deed);
            }
        }
        Ok(())
    }
}

/// A job is opened once; what another copy says of its beginning amends that.
fn again(deed: &Deed) -> Deed {
    match deed {
        Deed::Opened(header) => Deed::Amended(header.clone()),
        other => other.clone(),
    }
}
