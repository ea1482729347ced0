//! Parts: their codes, preferred values, what they hold, and what may take their place.

pub mod colour;
pub mod discharge;
pub mod preferred;
pub mod substitution;
