//! Why a target can't be worked out.

use crate::procedure::Id;
use crate::quantity::Unit;
use std::fmt;

/// Why a target gives no tolerance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TargetFault {
    /// The other step has no reading yet.
    Waiting(Id),
    /// The other step's reading and the offset don't go together.
    Units {
        /// The unit of the other step's reading.
        reading: Unit,
        /// The unit of the offset.
        offset: Unit,
    },
    /// Something that the target refers to isn't in the procedure; a sentence.
    Missing(String),
}

impl fmt::Display for TargetFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TargetFault::Waiting(id) => {
                write!(f, "its target is known when step “{id}” has its reading")
            }
            TargetFault::Units { reading, offset } => write!(
                f,
                "the offset of its target is in {} and can't be added to a reading in {}: give it in {} or in dB",
                offset.symbol(),
                reading.symbol(),
                reading.of_difference().symbol()
            ),
            TargetFault::Missing(sentence) => f.write_str(sentence),
        }
    }
}

pub(super) fn missing<T>(sentence: impl Into<String>) -> Result<T, TargetFault> {
    Err(TargetFault::Missing(sentence.into()))
}
