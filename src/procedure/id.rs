//! Names by which the parts of a procedure and a job refer to each other.

use crate::quantity::from_text;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::str::FromStr;
use std::sync::Arc;

/// A short name without control characters, such as `step-12`, `L4` or `counter`. Copies share
/// their text.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id(Arc<str>);

/// The longest id.
const MAX_LENGTH: usize = 64;

/// Why a text is no id.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IdError {
    /// Nothing, or nothing but spaces.
    Empty,
    /// More than 64 characters.
    TooLong,
    /// A line break or another control character, or a space at an end.
    Unprintable,
}

impl fmt::Display for IdError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            IdError::Empty => "A name is empty: give it at least one character",
            IdError::TooLong => "A name is longer than 64 characters: shorten it",
            IdError::Unprintable => {
                "A name has a line break, a control character or a space at its end: take it out"
            }
        })
    }
}

impl std::error::Error for IdError {}

impl FromStr for Id {
    type Err = IdError;

    fn from_str(text: &str) -> Result<Self, IdError> {
        if text.trim().is_empty() {
            return Err(IdError::Empty);
        }
        if text.chars().count() > MAX_LENGTH {
            return Err(IdError::TooLong);
        }
        if text.trim() != text || text.chars().any(char::is_control) {
            return Err(IdError::Unprintable);
        }
        Ok(Id(text.into()))
    }
}

/// What a name begins with that stands for a designator not known yet, as in `? VCO coil`.
pub const OPEN: char = '?';

impl Id {
    /// Whether it stands for a designator that is not known yet.
    pub fn is_open(&self) -> bool {
        self.0.starts_with(OPEN)
    }

    /// The text of the id.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Serialize for Id {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Id {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        from_text(deserializer)
    }
}
