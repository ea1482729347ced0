//! What of a form can't be read, and where that is typed.

use crate::app::ui::capitalised;
use crate::app::words::shared;
use std::fmt::Display;

/// A field that can't be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// The id of the field.
    pub field: String,
    /// What is wrong with it, as a sentence.
    pub said: String,
}

impl Misread {
    /// The field with this id can't be read, and why.
    pub fn of(field: impl Into<String>, why: impl Display) -> Self {
        Misread {
            field: field.into(),
            said: shared::sentence(capitalised(&why.to_string())),
        }
    }
}
