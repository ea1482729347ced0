//! The trade's arithmetic: plain functions in SI units without prefix.

pub mod colour;
pub mod discharge;
pub mod levels;
pub mod mismatch;
pub mod modulation;
pub mod preferred;
pub mod receiver;
pub mod stages;
