//! Tones of known frequencies, fitted all at once.

use super::solve::solve;
use crate::signal::fault::Unfit;
use std::f64::consts::TAU;

/// After so many samples the turning pointer is set anew, before rounding has moved it.
const FRESH: usize = 256;

/// A tone of a known frequency: cosine and sine by the time from the middle of the record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// In hertz.
    pub frequency: f64,
    /// The part that is greatest in the middle.
    pub cosine: f64,
    /// The part that rises in the middle.
    pub sine: f64,
}

impl Line {
    /// The peak value.
    pub fn amplitude(&self) -> f64 {
        self.cosine.hypot(self.sine)
    }

    /// The mean square.
    pub fn power(&self) -> f64 {
        self.amplitude().powi(2) / 2.0
    }
}

/// Tones and a constant that together come nearest to a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// The constant.
    pub offset: f64,
    /// The tones, as they were asked for.
    pub lines: Vec<Line>,
}

/// Least squares of tones at known frequencies and a constant: with one frequency the sine fit of
/// three parameters of IEEE Std 1057.
pub fn fit(samples: &[f64], rate: f64, frequencies: &[f64]) -> Result<Lines, Unfit> {
    let steps: Vec<f64> = frequencies.iter().map(|each| TAU * each / rate).collect();
    // By the time from the middle, cosines and sines have nothing in common.
    let mut cosines = vec![samples.iter().sum::<f64>()];
    let mut sines = Vec::with_capacity(steps.len());
    for step in &steps {
        let (cosine, sine) = projected(samples, *step);
        cosines.push(cosine);
        sines.push(sine);
    }
    let even: Vec<f64> = [&[0.0], steps.as_slice()].concat();
    let cosines = solve(products(samples.len(), &even, 1.0), cosines).ok_or(Unfit::TooNear)?;
    let sines = solve(products(samples.len(), &steps, -1.0), sines).ok_or(Unfit::TooNear)?;
    let (offset, cosines) = cosines.split_first().ok_or(Unfit::TooNear)?;
    let lines = frequencies.iter().zip(cosines.iter().zip(&sines));
    Ok(Lines {
        offset: *offset,
        lines: lines
            .map(|(frequency, (cosine, sine))| Line {
                frequency: *frequency,
                cosine: *cosine,
                sine: *sine,
            })
            .collect(),
    })
}

impl Lines {
    /// What is left of the record without them.
    pub fn residue(&self, samples: &[f64], rate: f64) -> Vec<f64> {
        let mut left: Vec<f64> = samples.iter().map(|each| each - self.offset).collect();
        for line in &self.lines {
            let count = left.len();
            turn(count, TAU * line.frequency / rate, |at, cosine, sine| {
                left[at] -= line.cosine * cosine + line.sine * sine;
            });
        }
        left
    }
}

/// The sums of a record with the cosine and the sine of a step in radians.
fn projected(samples: &[f64], step: f64) -> (f64, f64) {
    let (mut with_cosine, mut with_sine) = (0.0, 0.0);
    turn(samples.len(), step, |at, cosine, sine| {
        with_cosine += samples[at] * cosine;
        with_sine += samples[at] * sine;
    });
    (with_cosine, with_sine)
}

/// The sums of the products of cosines (`sign` 1) or sines (−1) with each other.
fn products(count: usize, steps: &[f64], sign: f64) -> Vec<f64> {
    let rows = steps.iter().flat_map(|a| steps.iter().map(move |b| (a, b)));
    rows.map(|(a, b)| (kernel(count, a - b) + sign * kernel(count, a + b)) / 2.0)
        .collect()
}

/// The sum of the cosines of a step over a record, by the time from its middle: Dirichlet's kernel.
fn kernel(count: usize, step: f64) -> f64 {
    let count = count as f64;
    let below = (step / 2.0).sin();
    match below.abs() < 1e-12 {
        true => count,
        false => (count * step / 2.0).sin() / below,
    }
}

/// Visits each sample with cosine and sine of its phase, which is zero in the middle.
pub(in crate::signal) fn turn(count: usize, step: f64, mut visit: impl FnMut(usize, f64, f64)) {
    let middle = (count as f64 - 1.0) / 2.0;
    let (by_sine, by_cosine) = step.sin_cos();
    for first in (0..count).step_by(FRESH) {
        let (mut sine, mut cosine) = (step * (first as f64 - middle)).sin_cos();
        for at in first..count.min(first + FRESH) {
            visit(at, cosine, sine);
            (cosine, sine) = (
                cosine * by_cosine - sine * by_sine,
                sine * by_cosine + cosine * by_sine,
            );
        }
    }
}
