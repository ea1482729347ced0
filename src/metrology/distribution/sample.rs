//! Mean and squares of a few floats.

/// Arithmetic mean, counted from the first value so that large values keep their last digits.
pub(in crate::metrology) fn mean(values: &[f64]) -> f64 {
    let first = values.first().copied().unwrap_or_default();
    let sum: f64 = values.iter().map(|value| value - first).sum();
    first + sum / values.len() as f64
}

/// Sum of the squared distances from the mean.
pub(in crate::metrology) fn squares_about_mean(values: &[f64]) -> f64 {
    let centre = mean(values);
    values.iter().map(|value| (value - centre).powi(2)).sum()
}
