//! Distributions, and what samples tell of theirs.

pub mod law;
pub mod normal;
pub mod outlier;
pub mod sample;
pub mod statistics;
pub mod student;
