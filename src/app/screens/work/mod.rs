//! Where the work goes on: a step with its reading, all steps, what is off, what is awaited.

mod first_use;
pub mod own;
pub mod passes;
pub mod plan;
pub mod put_back;
pub mod reading;
pub mod several;
pub mod socket;
pub mod speech;
pub mod step;
pub mod steps;
pub mod take_on;
pub mod tone;
pub mod wait;
