//! The law of an error that is made of even ones within limits and of a rest.

use crate::metrology::distribution::student;
use crate::metrology::uncertainty::{Evaluation, Line, Shape, effective_freedom};
use crate::quantity::Fault;

/// The even errors are wide beside the rest from this ratio of half-width to deviation on.
const WIDE: f64 = 6.0;

/// How many parts of equal share the rest is cut into beside wide even errors.
const PARTS: usize = 100;

/// The law of an error about zero: evenly within ±wide, evenly within ±narrow, and Student's t
/// with a deviation and freedom, all independent.
pub(in crate::metrology) struct Law {
    wide: f64,
    narrow: f64,
    deviation: f64,
    freedom: f64,
    /// The middles of parts of the rest that have equal share, where the even errors are wide.
    rest: Vec<f64>,
}

impl Law {
    /// The law of a budget's lines. More than two even errors are rare: from the third on, the
    /// narrowest, they go into the rest by their variance.
    pub(in crate::metrology) fn of(lines: &[Line]) -> Result<Law, Fault> {
        let (mut even, mut rest): (Vec<&Line>, Vec<&Line>) =
            lines.iter().partition(|line| half_width(line) > 0.0);
        even.sort_by(|a, b| b.effect.total_cmp(&a.effect));
        rest.extend(even.drain(even.len().min(2)..));
        let deviation = rest
            .iter()
            .fold(0.0, |sum: f64, line| sum.hypot(line.effect));
        let half_width = |at: usize| even.get(at).map_or(0.0, |line| half_width(line));
        let freedom = effective_freedom(rest.iter().copied(), deviation).max(1.0);
        let is_wide = deviation > 0.0 && half_width(0) > WIDE * deviation;
        Ok(Law {
            wide: half_width(0),
            narrow: half_width(1),
            deviation,
            freedom,
            rest: match is_wide {
                true => parts(deviation, freedom)?,
                false => Vec::new(),
            },
        })
    }

    /// The share of errors below a value.
    pub(in crate::metrology) fn share_below(&self, error: f64) -> Result<f64, Fault> {
        if self.deviation == 0.0 {
            return Ok(self.share_of_even(error));
        }
        match self.rest.is_empty() {
            true => self.over_the_even(error),
            false => Ok(self.over_the_rest(error)),
        }
    }

    /// The share of the two even errors' sum below a value, from the area of a trapezium.
    fn share_of_even(&self, error: f64) -> f64 {
        let above = |from: f64| (error - from).max(0.0);
        let (outer, inner) = (self.wide + self.narrow, self.wide - self.narrow);
        if self.wide == 0.0 {
            return if error < 0.0 { 0.0 } else { 1.0 };
        }
        if self.narrow < 1e-9 * self.wide {
            return (0.5 + error / (2.0 * self.wide)).clamp(0.0, 1.0);
        }
        if error >= outer {
            return 1.0;
        }
        let area = above(-outer).powi(2) - above(-inner).powi(2) - above(inner).powi(2);
        (area / (8.0 * self.wide * self.narrow)).clamp(0.0, 1.0)
    }

    /// The mean of [`Law::share_of_even`] over the rest.
    fn over_the_rest(&self, error: f64) -> f64 {
        let shares = self
            .rest
            .iter()
            .map(|rest| self.share_of_even(error - rest));
        shares.sum::<f64>() / self.rest.len() as f64
    }

    /// The mean of the rest's share over the even errors.
    fn over_the_even(&self, error: f64) -> Result<f64, Fault> {
        let mut sum = 0.0;
        for (wide, wide_weight) in nodes() {
            for (narrow, narrow_weight) in nodes() {
                let even = wide * self.wide + narrow * self.narrow;
                let share = student::cdf((error - even) / self.deviation, self.freedom)?;
                sum += wide_weight * narrow_weight * share;
            }
        }
        Ok(sum)
    }
}

/// The middles of parts of equal share of Student's t with this deviation.
fn parts(deviation: f64, freedom: f64) -> Result<Vec<f64>, Fault> {
    let mut parts = Vec::with_capacity(PARTS);
    for part in 0..PARTS / 2 {
        let share = (part as f64 + 0.5) / PARTS as f64;
        let rest = deviation * student::quantile(share, freedom)?;
        parts.extend([rest, -rest]);
    }
    Ok(parts)
}

/// The half-width of an even error, in the result's unit; zero for any other.
fn half_width(line: &Line) -> f64 {
    let even = match line.contribution.evaluation {
        Evaluation::Resolution { step } => step / 2.0,
        Evaluation::Limits {
            half_width,
            shape: Shape::Rectangular,
        } => half_width,
        _ => 0.0,
    };
    even * line.contribution.sensitivity.abs()
}

/// Ten places between −1 and 1 with their weights, which add up to 1: Gauss–Legendre.
///
/// Source: M. Abramowitz and I. A. Stegun, table 25.4 (from memory); the tests hold it to the
/// moments of an even error.
fn nodes() -> impl Iterator<Item = (f64, f64)> {
    const HALF: [(f64, f64); 5] = [
        (0.148_874_338_981, 0.295_524_224_714),
        (0.433_395_394_129, 0.269_266_719_309),
        (0.679_409_568_299, 0.219_086_362_515),
        (0.865_063_366_688, 0.149_451_349_150),
        (0.973_906_528_517, 0.066_671_344_308),
    ];
    HALF.into_iter()
        .flat_map(|(place, weight)| [(place, weight / 2.0), (-place, weight / 2.0)])
}
