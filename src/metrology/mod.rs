//! What a reading proves.

pub mod agreement;
pub mod coupling;
pub mod date;
pub mod decision;
pub mod drift;
pub mod instrument;
pub mod kindred;
mod law;
pub mod model;
pub mod normal;
pub mod outlier;
pub mod pull;
mod sample;
pub mod slip;
mod statistics;
pub mod student;
pub mod sums;
pub mod suspects;
mod tolerance;
pub mod uncertainty;

pub use statistics::Statistics;
pub use tolerance::{Limits, Margin, Place, Side, Tolerance, ToleranceFault, Verdict};
