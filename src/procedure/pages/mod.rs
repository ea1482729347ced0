//! Pictures of the board and papers, with pins.

pub mod of_procedure;
pub mod paper;
pub mod picture;
