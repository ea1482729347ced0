//! Why nothing can be said of how adjusters interact.

use crate::quantity::Fault;
use std::fmt;

/// Why the readings don't support aims.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsupported {
    /// A reading was not looked at often enough, or not after each of the others was turned.
    TooFewLooks {
        /// Which reading, from 0.
        reading: usize,
        /// How many times it was looked at again with its own adjuster left alone.
        count: usize,
        /// How many are needed: one more than there are unknowns.
        least: usize,
    },
    /// Two or more adjusters were always turned together between looks at a reading.
    Entangled {
        /// Which reading, from 0.
        reading: usize,
    },
    /// A reading drifts from visit to visit by more than it scatters.
    Drifting {
        /// Which reading, from 0.
        reading: usize,
    },
    /// A reading does not move as earlier sets of the kind say, and this set's own readings don't
    /// support aims yet.
    Contradicted {
        /// Which reading, from 0.
        reading: usize,
        /// How many earlier sets say so.
        sets: usize,
    },
    /// Earlier sets of the kind tell where to leave each, but for a reading that was not looked at
    /// as it stands.
    NotSeen {
        /// Which reading, from 0.
        reading: usize,
        /// How many earlier sets there are.
        sets: usize,
    },
    /// What the adjusters do to each other doesn't stand out from the scatter of the readings.
    Scatter,
    /// Two or more adjusters do nearly the same to all readings.
    Alike,
    /// An adjuster was not turned yet, so that nobody knows what it does.
    NotTurned {
        /// Whose reading, from 0.
        reading: usize,
    },
    /// Not every reading has a target to both sides that is known.
    NoTargets,
    /// A value that makes no sense.
    Fault(Fault),
}

impl fmt::Display for Unsupported {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unsupported::TooFewLooks {
                reading,
                count,
                least,
            } => write!(
                f,
                "Reading {} was looked at again {count} of at least {least} times, and must be \
                 after each of the others was turned; set each to its own target once more, and \
                 read all before and after each turn.",
                reading + 1
            ),
            Unsupported::Entangled { reading } => write!(
                f,
                "Several adjusters were turned between two looks at reading {}, always in the \
                 same measure; look at it after each single turn.",
                reading + 1
            ),
            Unsupported::Drifting { reading } => write!(
                f,
                "Reading {} drifts from visit to visit; wait until the set has settled, then set \
                 each to its own target.",
                reading + 1
            ),
            Unsupported::Contradicted { reading, sets } => write!(
                f,
                "Reading {} does not move as in {sets} earlier jobs, so these are not gone by; \
                 set each to its own target, and read all before and after each turn.",
                reading + 1
            ),
            Unsupported::NotSeen { reading, sets } => write!(
                f,
                "Look at reading {} before any is turned: {sets} earlier jobs then tell where to \
                 leave each.",
                reading + 1
            ),
            Unsupported::Scatter => f.write_str(
                "What the adjusters do to each other is lost in the scatter of the readings; \
                 set each to its own target.",
            ),
            Unsupported::Alike => f.write_str(
                "Two adjusters do nearly the same to all readings, so no aim for both follows \
                 from them; leave one where it is and check its circuit.",
            ),
            Unsupported::NotTurned { reading } => write!(
                f,
                "What the adjuster of reading {} does is not known before it was turned; set each \
                 to its own target.",
                reading + 1
            ),
            Unsupported::NoTargets => f.write_str(
                "Not every reading has a target to both sides that is known by now, so there is \
                 nothing to aim at; set each as its step says.",
            ),
            Unsupported::Fault(fault) => fault.fmt(f),
        }
    }
}

impl std::error::Error for Unsupported {}

impl From<Fault> for Unsupported {
    fn from(fault: Fault) -> Self {
        Unsupported::Fault(fault)
    }
}
