//! Why a reading proves nothing.

use crate::metrology::instrument::Instrument;
use crate::procedure::Id;
use crate::quantity::Fault;

/// Why nothing can be said of what a reading proves.
#[derive(Clone, Debug, PartialEq)]
pub enum Unproved {
    /// There is nothing to judge it by.
    NoTarget,
    /// The instrument in this role is not one of the kit.
    NoInstrument(Id),
    /// The instrument's figures don't cover the reading.
    NoAccuracy(Fault),
    /// What plays this role in the path takes away nobody knows how much.
    NoLoss(Id),
    /// How well that is known, of what plays this role in the path, is not stated.
    NoTolerance(Id),
}

impl std::fmt::Display for Unproved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Unproved::NoTarget => write!(f, "There is no target to judge it by"),
            Unproved::NoInstrument(role) => write!(
                f,
                "Conformity not shown: the accuracy of the {role} is not known. Choose an \
                 instrument for it"
            ),
            Unproved::NoAccuracy(fault) => {
                write!(f, "Conformity not shown: accuracy unknown. {fault}")
            }
            Unproved::NoTolerance(role) => write!(
                f,
                "Conformity not shown: accuracy unknown. How well the loss of the {role} is known \
                 is not stated. Enter it under Instruments, or choose another {role}"
            ),
            Unproved::NoLoss(role) => write!(f, "Not judged: {}", not_known(role)),
        }
    }
}

pub(in crate::job) fn of_kit<'a>(
    known: Option<&'a Instrument>,
    role: &Id,
) -> Result<&'a Instrument, Unproved> {
    known.ok_or_else(|| Unproved::NoInstrument(role.clone()))
}

/// Says that a loss is not known.
pub(in crate::job) fn not_known(role: &Id) -> String {
    format!("loss of the {role} not known")
}
