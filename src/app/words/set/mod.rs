//! What belongs to the set in hand.

pub mod board;
pub mod changes;
pub mod faults;
pub mod papers;
pub mod photos;
pub mod pictures;
pub mod scan;
pub mod sounds;
pub mod substitution;
pub mod trace;
