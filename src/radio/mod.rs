//! The trade's arithmetic: plain functions in SI units without prefix.

pub mod channels;
pub mod colour;
pub mod conversion;
pub mod discharge;
pub mod frequency;
pub mod levels;
pub mod limits;
pub mod mismatch;
pub mod modulation;
pub mod plan;
pub mod preferred;
pub mod receiver;
pub mod stages;
pub mod substitution;
pub mod sums;
