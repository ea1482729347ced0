//! The sign between whole numbers and their decimals.

use serde::{Deserialize, Serialize};

/// The sign between whole digits and decimals, as the user's setting has it.
///
/// With `Comma` a point is understood too, since number keys send one; neither sign ever
/// groups digits, so a number can't be read in two ways.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DecimalSign {
    /// 16.4925
    #[default]
    Point,
    /// 16,4925
    Comma,
}

impl DecimalSign {
    /// The sign itself.
    pub const fn symbol(self) -> &'static str {
        match self {
            DecimalSign::Point => ".",
            DecimalSign::Comma => ",",
        }
    }
}
