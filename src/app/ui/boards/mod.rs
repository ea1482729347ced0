//! Pictures of boards and papers, with pins in them.

pub mod board;
pub mod paper_view;
pub mod picture;
pub mod picture_input;
pub mod pins;
