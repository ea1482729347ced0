//! What a reading proves.

mod tolerance;

pub use tolerance::{Limits, Margin, Place, Reference, Tolerance, ToleranceFault, Verdict};
