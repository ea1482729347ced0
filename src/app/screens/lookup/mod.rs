//! Where things are looked up: calculations, channels, limits.

pub mod reference;
pub mod sums;
