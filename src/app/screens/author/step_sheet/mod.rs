//! One step as it is written: what it says, reads, rests on, needs.

pub mod basis;
pub mod names;
pub mod repeat;
pub mod step;
pub mod step_more;
pub mod step_reading;
pub mod step_work;
pub mod target;
