//! A model worked through with random inputs (JCGM 101).

use crate::metrology::distribution::normal;
use crate::metrology::uncertainty::COVERAGE;

/// The fewest trials that tell two digits of an interval.
pub const LEAST_TRIALS: usize = 10_000;

/// The most trials: what JCGM 101:2008, 7.2.2, expects to be enough for 95 %.
pub const MOST_TRIALS: usize = 1_000_000;

/// Results of trials, in order of size.
#[derive(Clone, Debug)]
pub struct Trials {
    pub(super) results: Vec<f64>,
}

impl Trials {
    /// The mean of the results.
    pub fn mean(&self) -> f64 {
        self.results.iter().sum::<f64>() / self.results.len() as f64
    }

    /// The standard deviation of the results, which is the standard uncertainty.
    pub fn deviation(&self) -> f64 {
        let mean = self.mean();
        let squares = self.results.iter().map(|result| (result - mean).powi(2));
        (squares.sum::<f64>() / (self.results.len() as f64 - 1.0)).sqrt()
    }

    /// The interval that leaves 2.5 % of the results at either side.
    pub fn symmetric(&self) -> (f64, f64) {
        self.from((self.results.len() - self.within()) / 2)
    }

    /// The shortest interval with 95 % of the results.
    pub fn shortest(&self) -> (f64, f64) {
        let width = |from: &usize| self.results[from + self.within()] - self.results[*from];
        let starts = 0..self.results.len() - self.within();
        let shortest = starts.min_by(|a, b| width(a).total_cmp(&width(b)));
        self.from(shortest.unwrap_or(0))
    }

    fn within(&self) -> usize {
        (COVERAGE * self.results.len() as f64).round() as usize
    }

    fn from(&self, at: usize) -> (f64, f64) {
        (self.results[at], self.results[at + self.within()])
    }
}

/// Chance from a seed, the same on any machine: SplitMix64.
///
/// Source: G. L. Steele, D. Lea and C. H. Flood, 2014 (from memory).
pub(super) struct Chance(pub(super) u64);

impl Chance {
    /// Above 0 and below 1.
    pub(super) fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let a = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let b = (a ^ (a >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((b ^ (b >> 31)) >> 12) as f64 + 0.5) / (1u64 << 52) as f64
    }

    pub(super) fn normal(&mut self) -> f64 {
        normal::quantile(self.share()).unwrap_or(0.0)
    }
}
