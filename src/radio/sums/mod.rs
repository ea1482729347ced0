//! The catalogue of the trade's calculations, as data for one screen.

mod discharge;
mod frequency;
mod levels;
mod mismatch;
mod modulation;
mod parts;
mod receiver;
mod scales;
mod stages;

use crate::quantity::sum::Sum;

/// Every sum of the radio room, in the order of the catalogue.
pub fn all() -> impl Iterator<Item = &'static Sum> {
    [
        levels::SUMS,
        mismatch::SUMS,
        modulation::SUMS,
        receiver::SUMS,
        frequency::SUMS,
        stages::SUMS,
        discharge::SUMS,
        parts::SUMS,
    ]
    .into_iter()
    .flatten()
}
