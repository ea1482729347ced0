//! What the drift of the readings shows.

use crate::metrology::inference::drift::{Drift, Steadiness};
use crate::quantity::Quantity;

/// What the readings say of the drift.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// Minutes since the first reading, and the readings in the unit without prefix.
    pub points: Vec<(f64, f64)>,
    /// How many of the latest of them the line goes through: those that tell the drift now.
    pub recent: usize,
    /// The line through those.
    pub drift: Drift,
    /// Change per minute.
    pub slope: Quantity,
    /// Its expanded uncertainty at 95 %.
    pub expanded: Quantity,
    /// What that says against the step's limit.
    pub steadiness: Steadiness,
}
