//! Where a job stands, as plain data: what the fold gives, and what can be asked of it.

pub mod figures;
pub mod group;
pub mod in_force;
pub mod noted;
pub mod passes;
pub mod pins;
pub mod second;
pub mod status;
pub mod step;
pub mod taken;
pub mod trace;
pub mod unproved;
pub mod way;
pub mod whole;
