//! One figure from several sets, each with its own uncertainty.

use crate::metrology::distribution::sample::squares_about_mean;
use crate::metrology::distribution::student;
use crate::metrology::inference::kindred::HALVINGS;
use crate::quantity::Fault;

/// What one set says, and its standard uncertainty.
#[derive(Clone, Copy, Debug)]
pub(super) struct Known {
    pub(super) value: f64,
    pub(super) doubt: f64,
}

/// What several sets say together.
pub(super) struct Pooled {
    pub(super) mean: f64,
    /// Standard uncertainty of the mean.
    pub(super) doubt: f64,
    /// Standard deviation of the sets themselves, as they differ by more than their uncertainties.
    pub(super) between: f64,
    /// Degrees of freedom of the three, as several sets that are hardly known count little.
    pub(super) freedom: f64,
}

impl Pooled {
    /// Weights 1/(u² + τ²), with the τ between the sets that makes Σ w·(x − mean)² = m − 1, or
    /// zero where that is less anyhow.
    /// Source: R. C. Paule and J. Mandel, 1982 (from memory).
    pub(super) fn of(sets: &[Known]) -> Pooled {
        let freedom = sets.len() as f64 - 1.0;
        let weighted = |between: f64| {
            // Where all is known without doubt and alike, any weight will do.
            let weight = |known: &Known| match known.doubt.powi(2) + between {
                variance if variance > 0.0 => 1.0 / variance,
                _ => f64::MAX.sqrt(),
            };
            let whole: f64 = sets.iter().map(weight).sum();
            let first = sets[0].value;
            let share = |known: &Known| weight(known) / whole * (known.value - first);
            let mean = first + sets.iter().map(share).sum::<f64>();
            let square = |known: &Known| weight(known) * (known.value - mean).powi(2);
            let squares = sets.iter().map(square).sum::<f64>();
            let weights = sets.iter().map(|known| (weight(known) / whole).powi(2));
            let count = 1.0 / weights.sum::<f64>();
            (mean, whole, squares, count)
        };
        let values: Vec<f64> = sets.iter().map(|known| known.value).collect();
        let (mut low, mut high) = (0.0, squares_about_mean(&values) / freedom);
        if weighted(low).2 > freedom {
            for _ in 0..HALVINGS {
                let middle = (low + high) / 2.0;
                match weighted(middle).2 > freedom {
                    true => low = middle,
                    false => high = middle,
                }
            }
        } else {
            high = 0.0;
        }
        let (mean, whole, _, count) = weighted(high);
        Pooled {
            mean,
            doubt: (1.0 / whole).sqrt(),
            between: high.sqrt(),
            freedom: (count - 1.0).max(1.0),
        }
    }

    /// How far from the mean one more set may be, at a coverage.
    pub(super) fn one_more(&self, coverage: f64) -> Result<f64, Fault> {
        let factor = student::coverage_factor(coverage, self.freedom)?;
        Ok(factor * self.between.hypot(self.doubt))
    }
}
