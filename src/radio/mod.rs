//! The trade's arithmetic: plain functions in SI units without prefix.

pub mod channels;
pub mod components;
pub mod conversion;
pub mod frequency;
pub mod levels;
pub mod limits;
pub mod mismatch;
pub mod modulation;
pub mod plan;
pub mod receiver;
pub mod stages;
pub mod sums;
