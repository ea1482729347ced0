//! What follows from a procedure and a log, in one fold.

pub mod course;
pub mod in_force;
pub mod look_again;
pub mod passes;
pub mod pause;
pub mod progress;
pub mod proof;
pub mod put_back;
pub mod settling;
pub mod several;
pub mod socket;
pub mod wait;
pub mod way;
