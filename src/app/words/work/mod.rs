//! A step, its reading, and all that goes on around it.

pub mod first_use;
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
pub mod terms;
pub mod wait;
