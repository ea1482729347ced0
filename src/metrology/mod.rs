//! What a reading proves.

pub mod date;
pub mod decision;
pub mod instrument;
pub mod normal;
mod statistics;
pub mod student;
pub mod sums;
mod tolerance;
pub mod uncertainty;

pub use statistics::Statistics;
pub use tolerance::{Limits, Margin, Place, Reference, Tolerance, ToleranceFault, Verdict};
