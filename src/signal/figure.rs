//! A figure with how well it is known.

/// A value with its standard uncertainty, from the data it was taken from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty, in the same unit.
    pub standard: f64,
    /// The degrees of freedom of that; infinite where it is known well.
    pub freedom: f64,
}

impl Figure {
    /// A figure whose uncertainty is known well.
    pub fn new(value: f64, standard: f64) -> Figure {
        Figure {
            value,
            standard,
            freedom: f64::INFINITY,
        }
    }

    /// A figure that may be anywhere within so much to either side, evenly spread.
    pub fn within(value: f64, half: f64) -> Figure {
        Figure::new(value, half.abs() / 3f64.sqrt())
    }

    /// The mean of values that were taken one after the other.
    pub fn of_repeats(values: &[f64]) -> Option<Figure> {
        let count = values.len() as f64;
        if values.len() < 2 {
            return None;
        }
        let mean = values.iter().sum::<f64>() / count;
        let spread = values.iter().map(|each| (each - mean).powi(2)).sum::<f64>();
        Some(Figure {
            value: mean,
            standard: (spread / (count - 1.0) / count).sqrt(),
            freedom: count - 1.0,
        })
    }

    /// The standard uncertainty as a part of the value.
    pub fn relative(&self) -> f64 {
        self.standard / self.value.abs()
    }
}

/// Decibels of a ratio of powers.
pub fn decibels(ratio: f64) -> f64 {
    10.0 * ratio.log10()
}

/// The ratio of powers of decibels.
pub fn power_of(decibels: f64) -> f64 {
    10f64.powf(decibels / 10.0)
}

/// Decibels of a small relative change of power.
pub(super) fn decibels_of_change(relative: f64) -> f64 {
    10.0 / std::f64::consts::LN_10 * relative
}

/// The degrees of freedom of a sum of figures, each counted by a factor.
///
/// Source: Welch and Satterthwaite, JCGM 100:2008, G.4.1.
pub(super) fn freedom_of(parts: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (mut all, mut each) = (0.0, 0.0);
    for (variance, freedom) in parts {
        all += variance;
        each += variance * variance / freedom;
    }
    match each > 0.0 {
        true => all * all / each,
        false => f64::INFINITY,
    }
}

/// The least and the most of values.
pub(super) fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), each| {
        (low.min(each), high.max(each))
    })
}
