//! What settles a step of each kind.

use crate::job::fold::judging::socket;
use crate::job::fold::proof;
use crate::job::fold::standing::status::Status;
use crate::job::fold::standing::step::StepProgress;
use crate::metrology::decision::Rule;
use crate::procedure::Work;

impl StepProgress {
    pub(super) fn status_of(&self, work: &Work, rule: &Rule) -> Status {
        // A stop is there for safety: a reason given for it, which only a file can bring, does
        // not settle it.
        let waived = self.waived.is_some() && !matches!(work, Work::Stop { .. });
        let is_ticked = self.ticked.is_some();
        let done_if = |it: bool| if it { Status::Done } else { Status::Open };
        // Every kind says here what settles it.
        let judged = match work {
            Work::Inspect => done_if(self.answer.is_some()),
            Work::Fit(_) | Work::Wire(_) | Work::Tick => done_if(is_ticked),
            Work::Socket(_) => socket::status(&self.wiring, &self.pins, rule, is_ticked),
            Work::Read { .. } | Work::Set { .. } | Work::Peak { .. } | Work::Dip { .. } => {
                self.status_of_reading(rule)
            }
            Work::Stop { .. } if is_ticked => Status::Done,
            Work::Stop { reads: None, .. } => Status::Open,
            Work::Stop { reads: Some(_), .. } => match &self.left {
                Some(left) => match &left.verdict {
                    Some(verdict) if verdict.is_inside() => Status::Unproved,
                    Some(_) => Status::Outside,
                    None => Status::Open,
                },
                None => Status::Open,
            },
            // The steps that it repeats settle it, all passes together.
            Work::Repeat(_) => Status::Open,
        };
        match (judged, waived) {
            (Status::Done, _) => Status::Done,
            (_, true) => Status::Waived,
            (owed, false) => owed,
        }
    }

    fn status_of_reading(&self, rule: &Rule) -> Status {
        match (&self.left, &self.tolerance) {
            (None, _) => Status::Open,
            (Some(_), None) if self.is_drifting() => Status::Unsettled,
            (Some(_), None) => Status::Done,
            (Some(left), Some(_)) => match &left.verdict {
                Some(_) if proof::accepts(rule, left) => match self.is_drifting() {
                    true => Status::Unsettled,
                    false => Status::Done,
                },
                Some(verdict) if verdict.is_inside() => Status::Unproved,
                Some(_) => Status::Outside,
                None => Status::Open,
            },
        }
    }
}
