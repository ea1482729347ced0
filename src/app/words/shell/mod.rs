//! What all screens share.

pub mod bench;
pub mod carry;
pub mod files;
pub mod find;
pub mod open_step;
pub mod parts;
pub mod slices;
