//! What of the frequency plan a step reads.

use crate::procedure::{Step, Target, cited};
use crate::radio::limits::Bound;

/// What of a plan a step reads.
pub(in crate::job) struct Part<'a> {
    /// In which mode.
    pub mode: &'a str,
    /// The oscillator; the air itself where there is none.
    pub oscillator: Option<&'a str>,
}

/// What a step reads of a plan, if it does.
pub(in crate::job) fn reads(step: &Step) -> Option<Part<'_>> {
    let oscillator = match step.work.target()? {
        Target::Oscillator { name, .. } => Some(name.as_str()),
        Target::Channel { .. } => None,
        Target::Limit { set, limit, .. } => {
            let (_, limit) = cited(set, limit).ok()?;
            // Of the published limits, those that are distances are counted from the channel.
            match limit.bound {
                Bound::WithinPpm(_) | Bound::Within(_) => None,
                Bound::AtMost(_)
                | Bound::Between(..)
                | Bound::BelowPower(_)
                | Bound::BelowPowerUpTo(..) => return None,
            }
        }
        Target::Fixed(_) | Target::Relative { .. } => return None,
    };
    Some(Part {
        mode: step.set_up.mode.as_deref()?,
        oscillator,
    })
}
