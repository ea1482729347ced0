//! Breaks: when the bench was left, which stops that ended, and what the log holds of them since.

use crate::job::StepProgress;
use crate::procedure::{Step, Work};

/// How long a job may rest before it counts as left, in milliseconds: half an hour. Longer
/// than any soldering takes, shorter than it takes to forget what is charged or connected.
pub const BREAK_AFTER: i64 = 30 * 60 * 1000;

/// Whether a step does nothing but wait, for what follows: a break undoes that. What was read or
/// fitted after a wait stays so.
pub(in crate::job) fn is_warm_up(step: &Step) -> bool {
    step.wait.is_some() && matches!(step.work, Work::Tick)
}

/// When a step's wait is over, where one was begun.
pub(in crate::job) fn wait_ends(step: &Step, standing: &StepProgress) -> Option<i64> {
    let minutes = i64::from(step.wait?);
    Some(standing.wait_begun?.saturating_add(minutes * 60_000))
}

impl StepProgress {
    /// The minutes that the step waits, where it was ticked before they were over or without that
    /// they were begun.
    pub fn unwaited(&self, step: &Step) -> Option<u32> {
        let ticked = self.ticked?;
        let is_over = wait_ends(step, self).is_some_and(|ends| ends <= ticked);
        step.wait.filter(|_| !is_over)
    }
}

/// Whether a moment lies so long after the end of a wait that the wait no longer explains that
/// nothing was entered.
pub(in crate::job) fn is_past_wait(ends: i64, now: i64) -> bool {
    now.saturating_sub(ends) > BREAK_AFTER
}
