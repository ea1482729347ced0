//! Mean and standard deviation of repeated readings, without loss of digits.

use crate::quantity::{Fault, Number, to_f64};
use bigdecimal::BigDecimal;
use num_traits::Zero;

/// What repeated readings tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Statistics {
    /// How many readings.
    pub count: usize,
    /// Their arithmetic mean.
    pub mean: f64,
    /// Their experimental standard deviation, with n−1.
    pub deviation: f64,
}

impl Statistics {
    /// Mean x̄ = Σx/n and experimental standard deviation s = √(Σ(x−x̄)²/(n−1)) of two or more
    /// readings.
    ///
    /// The sums are exact decimals, so that readings that differ in their last digits only lose
    /// nothing. Source: JCGM 100:2008, 4.2.1 and 4.2.2.
    pub fn of(readings: &[Number]) -> Result<Statistics, Fault> {
        let decimals: Vec<BigDecimal> = readings.iter().map(|n| n.decimal().clone()).collect();
        Statistics::of_decimals(&decimals)
    }

    /// The same of exact decimals.
    pub fn of_decimals(readings: &[BigDecimal]) -> Result<Statistics, Fault> {
        const LEAST: usize = 2;
        let count = readings.len();
        if count < LEAST {
            return Err(Fault::TooFew {
                what: "readings",
                count,
                least: LEAST,
            });
        }
        let n = BigDecimal::from(count as u64);
        let sum = total(readings.iter().cloned());
        let squares = total(readings.iter().map(BigDecimal::square));
        // n·Σx² − (Σx)², exact where floats would cancel.
        let spread = &n * squares - sum.square();
        let variance = to_f64(&spread) / (count as f64 * (count as f64 - 1.0));
        Ok(Statistics {
            count,
            mean: to_f64(&(sum / n)),
            deviation: variance.sqrt(),
        })
    }

    /// Standard uncertainty of the mean: s/√n.
    ///
    /// Source: JCGM 100:2008, 4.2.3.
    pub fn of_mean(&self) -> f64 {
        self.deviation / (self.count as f64).sqrt()
    }

    /// Degrees of freedom: n−1.
    ///
    /// Source: JCGM 100:2008, G.3.3.
    pub fn freedom(&self) -> f64 {
        self.count as f64 - 1.0
    }
}

fn total(values: impl Iterator<Item = BigDecimal>) -> BigDecimal {
    values.fold(BigDecimal::zero(), |sum, value| sum + value)
}
