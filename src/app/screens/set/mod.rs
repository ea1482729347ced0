//! What belongs to the set in hand: its faults, changes, photos and papers.

pub mod changes;
pub mod faults;
pub mod papers;
pub mod photos;
pub mod scan;
mod sounds;
pub mod substitution;
pub mod trace;
