//! Where things are looked up: calculations, channels, limits, terms.

pub mod glossary;
pub mod reference;
pub mod sums;
