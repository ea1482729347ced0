//! Pictures of the board and papers, with pins.

pub mod paper;
pub mod picture;
