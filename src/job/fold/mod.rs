//! What follows from a procedure and a log, in one fold.

pub mod course;
pub mod in_force;
pub mod judging;
pub mod pause;
pub mod progress;
pub mod proof;
pub mod several;
pub mod standing;
pub mod wait;
pub mod way;
