//! What a known input says of the sound device and of the set.

pub mod carrier;
pub mod volts;
