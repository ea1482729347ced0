//! The sine fits of IEEE Std 1057, with three and with four parameters.

pub mod lines;
mod solve;

use crate::signal::fault::Unfit;
use lines::{Line, turn};
pub(super) use solve::solve;
use std::f64::consts::TAU;

/// It has come to rest once the phase at the ends of the record moves by no more, in radians.
const REST: f64 = 1e-9;

/// A start within a bin takes about five.
const MOST_ROUNDS: usize = 30;

/// The sine and the constant that come nearest to a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sine {
    /// The sine.
    pub line: Line,
    /// The constant.
    pub offset: f64,
}

/// The fit of three parameters: the frequency is known.
pub fn three(samples: &[f64], rate: f64, frequency: f64) -> Result<Sine, Unfit> {
    let found = lines::fit(samples, rate, &[frequency])?;
    let line = found.lines.first().ok_or(Unfit::TooNear)?;
    Ok(Sine {
        line: *line,
        offset: found.offset,
    })
}

/// The fit of four parameters, from a frequency within about one part of the record's length on.
pub fn four(samples: &[f64], rate: f64, near: f64) -> Result<Sine, Unfit> {
    let mut sine = three(samples, rate, near)?;
    let half = samples.len() as f64 / 2.0;
    for _ in 0..MOST_ROUNDS {
        let by = better(samples, rate, &mut sine).ok_or(Unfit::TooNear)?;
        if !by.is_finite() || !(0.0..rate / 2.0).contains(&sine.line.frequency) {
            break;
        }
        if by.abs() * half < REST {
            return Ok(sine);
        }
    }
    Err(Unfit::ToneAbsent {
        low: near,
        high: near,
    })
}

/// One round: the columns are those of the standard, the fourth being what the sine does when its
/// frequency changes. Gives the change of the step in radians.
fn better(samples: &[f64], rate: f64, sine: &mut Sine) -> Option<f64> {
    let step = TAU * sine.line.frequency / rate;
    let middle = (samples.len() as f64 - 1.0) / 2.0;
    let (a, b) = (sine.line.cosine, sine.line.sine);
    // By the time from the middle and in units of half the record the sums are of one size.
    let mut sums = [0.0; 10];
    let mut right = [0.0; 4];
    turn(samples.len(), step, |at, cos, sin| {
        let slope = (at as f64 - middle) / middle * (b * cos - a * sin);
        let sample = samples[at];
        sums[0] += cos * cos;
        sums[1] += sin * cos;
        sums[2] += sin * sin;
        sums[3] += cos;
        sums[4] += sin;
        sums[6] += slope * cos;
        sums[7] += slope * sin;
        sums[8] += slope;
        sums[9] += slope * slope;
        right[0] += sample * cos;
        right[1] += sample * sin;
        right[2] += sample;
        right[3] += sample * slope;
    });
    sums[5] = samples.len() as f64;
    let found = solve(square(&sums), right.to_vec())?;
    let by = found[3] / middle;
    sine.line = Line {
        frequency: (step + by) * rate / TAU,
        cosine: found[0],
        sine: found[1],
    };
    sine.offset = found[2];
    Some(by)
}

/// A symmetric matrix of four rows, of its lower half.
fn square(lower: &[f64; 10]) -> Vec<f64> {
    let at = |row: usize, column: usize| {
        let (row, column) = (row.max(column), row.min(column));
        lower[row * (row + 1) / 2 + column]
    };
    (0..16).map(|k| at(k / 4, k % 4)).collect()
}

impl Sine {
    /// What is left of the record without it.
    pub fn residue(&self, samples: &[f64], rate: f64) -> Vec<f64> {
        let lines = lines::Lines {
            offset: self.offset,
            lines: vec![self.line],
        };
        lines.residue(samples, rate)
    }
}
