//! Waits: how much of one is left, from when it began and the clock.

use crate::job::Progress;
use crate::job::fold::pause;
use crate::procedure::{Id, Procedure};

/// A wait that was begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    /// The step that asks for it.
    pub step: Id,
    /// The step's number.
    pub number: usize,
    /// The step's title.
    pub title: String,
    /// When it is over, in milliseconds since 1970 UTC by the device's clock.
    pub ends: i64,
    /// Whether the step is settled, so that its end is of no interest any more.
    pub settled: bool,
}

/// The waits that were begun, in the order of the steps.
pub fn waits(procedure: &Procedure, progress: &Progress) -> Vec<Wait> {
    procedure
        .steps()
        .zip(&progress.steps)
        .filter_map(|(step, standing)| {
            Some(Wait {
                step: step.id.clone(),
                number: standing.number,
                title: step.title.clone(),
                ends: pause::wait_ends(step, standing)?,
                settled: !standing.status.is_owed(),
            })
        })
        .collect()
}

impl Wait {
    /// The whole seconds left, rounded up so that nought means over.
    pub fn seconds_left(&self, now: i64) -> u64 {
        let left = self.ends.saturating_sub(now).max(0);
        u64::try_from(left).unwrap_or(0).div_ceil(1000)
    }

    /// Whether it is over.
    pub fn is_over(&self, now: i64) -> bool {
        self.seconds_left(now) == 0
    }
}

/// Seconds as a clock shows them, such as `4:05`.
pub fn minutes_and_seconds(seconds: u64) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
