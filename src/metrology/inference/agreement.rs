//! A second opinion: whether two results of the same thing agree within their uncertainties.

use crate::quantity::Fault;
use crate::quantity::fault::{finite, not_negative, positive};

/// A result with its expanded uncertainty, both in the unit without prefix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// The result.
    pub value: f64,
    /// Its expanded uncertainty U at 95 %.
    pub expanded: f64,
}

/// What two results say of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Agreement {
    /// Their difference is explained by their uncertainties: |Eₙ| ≤ 1.
    Agree,
    /// It is not: |Eₙ| > 1.
    Disagree,
}

/// Normalised error Eₙ of a result against a reference: (x−y)/√(Ux²+Uy²).
///
/// At least one uncertainty is above zero; a ratio without a unit.
/// Source: ISO/IEC 17043, Annex B (from memory), as providers of proficiency tests print it.
pub fn normalised_error(result: Measured, reference: Measured) -> Result<f64, Fault> {
    let difference =
        finite("The result", result.value)? - finite("The reference", reference.value)?;
    let joint = not_negative("The uncertainty", result.expanded)?
        .hypot(not_negative("The uncertainty", reference.expanded)?);
    Ok(difference / positive("The uncertainty of both results together", joint)?)
}

impl Agreement {
    /// The verdict on a normalised error; exactly 1 still agrees.
    ///
    /// Source: ISO/IEC 17043, Annex B (from memory).
    pub fn of(normalised_error: f64) -> Self {
        match normalised_error.abs() <= 1.0 {
            true => Agreement::Agree,
            false => Agreement::Disagree,
        }
    }
}
