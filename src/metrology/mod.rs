//! What a reading proves.

pub mod date;
pub mod decision;
pub mod distribution;
pub mod inference;
pub mod instrument;
pub mod model;
pub mod sums;
mod tolerance;
pub mod uncertainty;

pub use distribution::statistics::Statistics;
pub use tolerance::{Limits, Margin, Place, Side, Tolerance, ToleranceFault, Verdict};
