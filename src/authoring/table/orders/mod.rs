//! What a row orders in its own words: to wait, to adjust, to repeat.

pub mod hold;
pub mod instruct;
pub mod repeat;
pub mod timer;
