//! Calculations and tables.

pub mod reference;
pub mod sums;
