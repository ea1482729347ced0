//! Breaks: when a job was left alone for so long that what was made safe may not be safe now.

use super::{Deed, Job, Progress};

/// How long a job may rest before it counts as left, in milliseconds: half an hour. Longer
/// than any soldering takes, shorter than it takes to forget what is charged or connected.
pub const BREAK_AFTER: i64 = 30 * 60 * 1000;

/// Whether a break has to be put into the log now: the job has rested, and there is a
/// confirmed stop that a break ends. A clock that was set back says nothing.
pub fn is_break_due(job: &Job, progress: &Progress, now: i64) -> bool {
    let rested = job
        .log
        .events()
        .next_back()
        .is_some_and(|last| now.saturating_sub(last.at) > BREAK_AFTER);
    rested && progress.signed_off.is_none() && progress.steps.iter().any(|step| step.holds)
}

/// When the bench was left, by the device's clock.
pub fn breaks(job: &Job) -> Vec<i64> {
    let undone = job.log.undone();
    job.log
        .events()
        .filter(|event| matches!(event.did, Deed::Paused) && !undone.contains(&event.id))
        .map(|event| event.at)
        .collect()
}
