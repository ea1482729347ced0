//! What else adds to the uncertainty of a reading.

use crate::metrology::instrument::range::limits;
use crate::metrology::uncertainty::{Contribution, Evaluation, Shape};
use crate::quantity::{Number, Quantity, Scale, to_f64};
use bigdecimal::BigDecimal;
use serde::{Deserialize, Serialize};

/// What else a reading is uncertain by, beside the accuracy that the data sheet states: what the
/// calibration certificate says, or what stands between the test point and the instrument.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Further {
    /// What it comes from.
    pub from: Source,
    /// The unit of the readings that it is in.
    pub of: Scale,
    /// How much it is, to both sides.
    pub within: Share,
}

/// Where an uncertainty comes from that no data sheet of the instrument states.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Source {
    /// The certificate's expanded uncertainty, with its coverage factor k.
    Certificate {
        /// The coverage factor, above zero.
        coverage: Number,
    },
    /// The tolerance of the load that power or volts are read on.
    Load,
    /// The tolerance of a tap, attenuator or coupler in front of the instrument.
    Tap,
    /// Leads and connectors: what their loss may be off.
    Leads,
    /// Mismatch between the set and the instrument, as the largest error to one side.
    Mismatch,
    /// The samples that the device took itself, as a standard uncertainty. It stands in no document:
    /// it follows from the reading.
    #[serde(skip)]
    Samples,
}

/// A size, as a part of the reading or as it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Share {
    /// So many percent of the reading; not of a level in decibels.
    Percent(Number),
    /// An amount, such as decibels of a level.
    Amount(Quantity),
}

impl Further {
    /// How much it is at a reading in the unit without prefix: in the reading's own direction
    /// where it is a part of it, since errors that two readings share then go with them.
    pub(super) fn at(&self, reading: &BigDecimal) -> f64 {
        match &self.within {
            Share::Percent(percent) => to_f64(&(percent.decimal().abs() * reading)) / 100.0,
            Share::Amount(amount) => amount.base_f64().abs(),
        }
    }

    /// So much of it as a line of a budget.
    ///
    /// Source: JCGM 100:2008, 4.3.3 for a certificate, 4.3.7 for limits; the U shape of a mismatch
    /// whose phase is unknown is that of the documentation of the library GTC.
    pub(super) fn contribution(&self, size: f64) -> Contribution {
        let half_width = size.abs();
        let (name, evaluation) = match &self.from {
            Source::Certificate { coverage } => (
                "Certificate",
                Evaluation::Expanded {
                    uncertainty: half_width,
                    coverage: coverage.to_f64(),
                },
            ),
            Source::Load => ("Load", limits(half_width, Shape::Rectangular)),
            Source::Tap => ("Tap or attenuator", limits(half_width, Shape::Rectangular)),
            Source::Leads => (
                "Leads and connectors",
                limits(half_width, Shape::Rectangular),
            ),
            Source::Mismatch => ("Mismatch", limits(half_width, Shape::UShaped)),
            Source::Samples => (
                "Samples",
                Evaluation::Expanded {
                    uncertainty: half_width,
                    coverage: 1.0,
                },
            ),
        };
        Contribution::new(name, evaluation)
    }
}
